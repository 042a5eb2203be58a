/** The catalogs as they would read with a price file taken over, for whoever asks what that would do. */
import type { IsoDate } from '../../../../schemas/values/dates.ts';
import type { Book } from '../../book/book.ts';
import { priceEdits } from './apply.ts';
import { compare } from './compare.ts';
import { readPriceFile } from './intake.ts';
import { headingsIn } from './scope.ts';
import { changedTexts } from './texts.ts';

export interface PricedTexts {
  /** By URI; only catalogs that would change. */
  readonly texts: ReadonlyMap<string, string>;
  readonly written: number;
  /** Rows that are doubtful or cannot be taken over; they count as they are in the book. */
  readonly leftOut: number;
}

/** In place of the prices in force on a day; or in plain words why the file cannot be read. */
export function pricedTexts(book: Book, bytes: Uint8Array, on: IsoDate): PricedTexts | string {
  const read = readPriceFile(bytes, { known: headingsIn(book.filesOf('parts')) });
  if (typeof read === 'string') return read;
  const found = finished(compare(book, read, { on }));
  const { edits, written, leftOut } = finished(priceEdits(book, found, { accepts: () => false }));
  return { texts: changedTexts(edits), written: written.size, leftOut: leftOut.length };
}

function finished<T>(steps: Generator<unknown, T>): T {
  for (;;) {
    const step = steps.next();
    if (step.done) return step.value;
  }
}
