/** A price file taken in from the editor: the report, and the edits under the words by which a preview groups them. */
import type { PartKind } from '../../../../schemas/kinds/shared.ts';
import { type IsoDate, parseDate } from '../../../../schemas/values/dates.ts';
import type { Book } from '../../book/book.ts';
import { nameOf } from '../../book/paths.ts';
import { type EditGroup, priceEdits } from '../../upkeep/prices/apply.ts';
import { compare } from '../../upkeep/prices/compare.ts';
import { readPriceFile } from '../../upkeep/prices/intake.ts';
import { priceReport } from '../../upkeep/prices/report.ts';
import { headingsIn, kindOfAll } from '../../upkeep/prices/scope.ts';
import { reportMarkdown } from '../../upkeep/report/markdown.ts';
import { type BookEdit, EditCollector, Refusal } from '../edit.ts';

export interface PricesAsked {
  /** The price file, which need not lie in the book. */
  readonly uri: string;
  /** What it holds, in base64. */
  readonly bytes: string;
  /** Keep the old prices, and let the new ones hold from this day on. */
  readonly from?: string;
  /** Add new parts to this catalog, as parts of this kind. */
  readonly addNew?: { readonly catalog: string; readonly kind: PartKind };
}

export interface PricesFound {
  /** Markdown. */
  readonly report: string;
  /** How many rows are written without a question. */
  readonly plain: number;
  /** How many rows the preview asks about. */
  readonly doubtful: number;
  /** How many numbers are new. */
  readonly fresh: number;
  /** Where new ones would go, when the file is about one catalog; its kind, when all its parts are of one. */
  readonly catalog: { readonly uri: string; readonly name: string; readonly kind: PartKind | null } | null;
  readonly edits: number;
  readonly edit: BookEdit;
}

const LABEL: Record<EditGroup, string> = {
  'cost-up': 'Cost goes up',
  'cost-down': 'Cost goes down',
  list: 'List price',
  core: 'Core charge',
  superseded: 'Superseded',
  new: 'New part',
  doubtful: 'Doubtful: read the report, and tick what is meant',
};

/** Rows of a table in the report. */
const MOST = 500;

/** Yields how many of a hundred parts of the work are done. */
export function* prices(book: Book, asked: PricesAsked, today: IsoDate): Generator<number, PricesFound> {
  const from = asked.from === undefined ? undefined : dayOf(asked.from);
  const read = readPriceFile(
    Uint8Array.from(atob(asked.bytes), (sign) => sign.charCodeAt(0)),
    { known: headingsIn(book.filesOf('parts')) },
  );
  const name = nameOf(asked.uri);
  if (typeof read === 'string')
    throw new Refusal(
      `${name}: ${read.replace(/ Say it: (\w[\w-]*)=HEADING\.$/, ' Say it in the catalog: headings: { $1: HEADING }')}`,
    );
  yield 20;
  const found = yield* share(compare(book, read, { on: from ?? today }), 20, 70, read.rows.length);
  const file = asked.addNew && book.file(asked.addNew.catalog);
  const made = yield* share(
    priceEdits(book, found, {
      from,
      accepts: () => false,
      withDoubtful: true,
      newParts: file && asked.addNew ? { file, kind: asked.addNew.kind } : undefined,
    }),
    70,
    95,
    found.changes.length,
  );
  const collector = new EditCollector();
  for (const { file, piece, edits, group } of made.edits)
    collector.add(file, piece, edits, LABEL[group], group === 'doubtful');
  const doubtful = [...found.changes, ...(file ? found.fresh : [])].filter(
    ({ doubts, row }) => doubts.length > 0 && made.written.has(row.number),
  ).length;
  const [only, another] = found.catalogs;
  return {
    report: reportMarkdown(
      priceReport(book, found, {
        name,
        read,
        accepts: () => false,
        howToAccept: 'Tick in the preview what is meant.',
        most: MOST,
      }),
    ),
    plain: made.written.size - doubtful,
    doubtful,
    fresh: found.fresh.length,
    catalog:
      only && !another
        ? { uri: only.uri, name: nameOf(only.uri), kind: kindOfAll(book, only) ?? null }
        : null,
    edits: made.edits.length,
    edit: collector.edit,
  };
}

function* share<T>(steps: Generator<number, T>, from: number, to: number, all: number): Generator<number, T> {
  for (;;) {
    const step = steps.next();
    if (step.done) return step.value;
    yield from + Math.floor(((to - from) * Math.min(step.value, all)) / Math.max(1, all));
  }
}

function dayOf(text: string): IsoDate {
  const day = parseDate(text);
  if (!day.ok) throw new Refusal(day.message);
  return day.value;
}
