/** A book in memory that takes a price file in. Parts, numbers and prices are invented. */
import { type IsoDate, isoDate } from '../../../schemas/values/dates.ts';
import type { Book } from '../../../server/src/book/book.ts';
import { type Intake, type PriceEdits, priceEdits } from '../../../server/src/upkeep/prices/apply.ts';
import { type Comparison, compare, type Scope } from '../../../server/src/upkeep/prices/compare.ts';
import { type Form, readPriceFile } from '../../../server/src/upkeep/prices/intake.ts';
import { changedTexts } from '../../../server/src/upkeep/prices/texts.ts';
import { ROOT } from '../book/told.ts';

export const TODAY: IsoDate = isoDate('2026-06-01');

export function done<T>(steps: Generator<number, T>): T {
  for (;;) {
    const step = steps.next();
    if (step.done) return step.value;
  }
}

export function compared(book: Book, csv: string, scope: Partial<Scope> = {}, form?: Form): Comparison {
  const read = readPriceFile(new TextEncoder().encode(csv), form);
  if (typeof read === 'string') throw new Error(read);
  return done(compare(book, read, { on: TODAY, ...scope }));
}

export interface TakenIn extends PriceEdits {
  /** By name of the file; those that do not change are left out. */
  readonly texts: Readonly<Record<string, string>>;
}

export function takenIn(book: Book, found: Comparison, intake: Partial<Intake> = {}): TakenIn {
  const made = done(priceEdits(book, found, { accepts: () => false, ...intake }));
  const texts = [...changedTexts(made.edits)].map(([uri, text]) => [uri.slice(ROOT.length), text]);
  return { ...made, texts: Object.fromEntries(texts) };
}

/** The lines that are not in the other text as often, as `-old` and `+new`. */
export function difference(before: string, after: string): string[] {
  const [old, now] = [before.split('\n'), after.split('\n')];
  return [...without(old, now).map((line) => `-${line}`), ...without(now, old).map((line) => `+${line}`)];
}

function without(lines: readonly string[], others: readonly string[]): string[] {
  const left = [...others];
  return lines.filter((line) => {
    const at = left.indexOf(line);
    if (at >= 0) left.splice(at, 1);
    return at < 0;
  });
}

/**
 * A catalog as years of hands have left it: comments everywhere, odd indents, every quoting, CRLF; a price file that
 * changes each third part; and the catalog as it has to read then.
 */
export function weathered(count: number): { yaml: string; csv: string; expected: string } {
  const old: string[] = [
    '# Catalog of the shop\r\nkind: parts\r\n',
    "supplier: 'north'   # who sends it\r\n\r\nparts:\r\n",
  ];
  const now = [...old];
  const rows = ['Item;Net;List;Core'];
  for (let i = 0; i < count; i++) {
    const id = `N-${String(i).padStart(5, '0')}`;
    const pad = ' '.repeat(4 + (i % 5) * 2);
    const quote = ['', "'", '"'][(i % 7) % 3]!;
    const shapes: ((cost: string) => string)[] = [
      (cost) =>
        `  # ${id}: 12.50 by telephone\r\n  ${id}:\r\n${pad}name: "Part ${i}" # 12.50\r\n${pad}kind: soft\r\n${pad}cost:   ${cost}   # was 12.50\r\n\r\n`,
      (cost) => `  '${id}': { name: Part ${i}, kind: 'soft', cost: ${cost}, list: 40.00 } # in one line\r\n`,
      (cost) =>
        `  ${id}:\r\n\r\n${pad}# note: 12.50\r\n${pad}kind: hard\r\n${pad}name: 'It''s part ${i}'\r\n${pad}prices:\r\n${pad}- { from: 2020-01-01, cost: 12.50 }\r\n${pad}-   from: 2026-01-01\r\n${pad}    cost: ${cost}  # since\r\n${pad}note: |\r\n${pad}  cost: 12.50\r\n`,
      (cost) =>
        `  "${id}":\r\n${pad}kind: converter\r\n${pad}core: 4.00\r\n${pad}cost: ${cost}\r\n${pad}x-bin: 12.50\r\n${pad}name: Part ${i}\r\n  # end of ${id}\r\n`,
    ];
    const shape = shapes[i % 4]!;
    const cost = i % 3 === 0 ? '13.75' : '12.50';
    old.push(shape(`${quote}12.50${quote}`));
    now.push(shape(`${quote}${cost}${quote}`));
    rows.push(`${id};${cost};;`);
  }
  return { yaml: old.join(''), csv: rows.join('\n'), expected: now.join('') };
}
