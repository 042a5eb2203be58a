/** A comparison made into edits of the catalogs: only what changes is written, all else stays byte for byte. */
import type { PartKind } from '../../../../schemas/kinds/shared.ts';
import type { IsoDate } from '../../../../schemas/values/dates.ts';
import { ZERO } from '../../../../schemas/values/decimal.ts';
import type { Book } from '../../book/book.ts';
import type { BookFile } from '../../book/file.ts';
import { editsAt } from '../../book/piece-edits.ts';
import { insertItem, insertPair, setValue, type TextEdit } from '../../syntax/edit.ts';
import type { Plain } from '../../syntax/node.ts';
import type { Piece } from '../../syntax/piece.ts';
import { writePair } from '../../syntax/write.ts';
import type { Comparison, FigureChange, NewPart, PriceChange } from './compare.ts';
import { type Digits, digitEdits, digitsFor } from './digits.ts';
import { rowInForce } from './figures.ts';
import { FIGURES } from './intake.ts';

const STRIDE = 256;

export interface Intake {
  /** Write the new prices into the history of each part, from this day on; else in place of the old ones. */
  readonly from?: IsoDate | undefined;
  /** Whether a doubtful row is meant, by the supplier's number. */
  readonly accepts: (number: string) => boolean;
  /** Where new parts go, and what sort they are; left out, they are only told. */
  readonly newParts?: { readonly file: BookFile; readonly kind: PartKind } | undefined;
  /** Also the edits of doubtful rows, marked as such: for a preview in which each is confirmed or not. */
  readonly withDoubtful?: boolean;
}

/** What edits are grouped under. */
export type EditGroup = 'cost-up' | 'cost-down' | 'list' | 'core' | 'superseded' | 'new' | 'doubtful';

export interface PriceEdit {
  readonly file: BookFile;
  readonly piece: Piece;
  readonly edits: readonly TextEdit[];
  readonly group: EditGroup;
}

export interface LeftOut {
  readonly number: string;
  readonly line: number;
  /** `told`: the comparison says so already. */
  readonly told: boolean;
  readonly why: string;
}

export interface PriceEdits {
  readonly edits: readonly PriceEdit[];
  /** Numbers whose row is written. */
  readonly written: ReadonlySet<string>;
  readonly leftOut: readonly LeftOut[];
}

/** Yields how many changes are done, and returns the edits. */
export function* priceEdits(
  book: Book,
  { changes, fresh, on }: Comparison,
  intake: Intake,
): Generator<number, PriceEdits> {
  // Of edits at one place the inner ones come first: rows of a history, then fields of the entry, then entries.
  const edits: PriceEdit[] = [];
  const successors: PriceEdit[] = [];
  const written = new Set<string>();
  const leftOut: LeftOut[] = [];
  const leave = ({ row: { number, line } }: NewPart | PriceChange, why: string, told = false) =>
    leftOut.push({ number, line, told, why });
  const digits: { change: PriceChange; all: Digits[]; group: EditGroup | undefined }[] = [];
  const meant = (one: NewPart | PriceChange): 'plain' | 'doubtful' | undefined => {
    if (one.doubts.length === 0 || intake.accepts(one.row.number)) return 'plain';
    if (intake.withDoubtful) return 'doubtful';
    leave(one, one.doubts.join('; '), true);
    return undefined;
  };

  const added = intake.newParts
    ? fresh.flatMap((one) => {
        const sort = meant(one);
        return sort === undefined ? [] : [{ one, sort }];
      })
    : [];
  const successions = new Successions(book, new Set(added.map(({ one }) => one.row.number)));

  for (const [i, change] of changes.entries()) {
    if (i % STRIDE === 0) yield i;
    if (change.blocked !== undefined) {
      leave(change, change.blocked, true);
      continue;
    }
    const sort = meant(change);
    if (sort === undefined) continue;
    const group = sort === 'doubtful' ? sort : undefined;
    if (change.successor !== undefined) {
      const made = successorEdits(change, successions, intake.from);
      if (typeof made === 'string') leave(change, made);
      else {
        successors.push({ ...made, group: group ?? 'superseded' });
        written.add(change.row.number);
      }
    }
    if (change.figures.length === 0) continue;
    if (intake.from === undefined) {
      digits.push({
        change,
        all: change.figures.map((one) => ({ ...one, id: change.definition.id })),
        group,
      });
      continue;
    }
    const made = datedEdits(change, intake.from, on);
    if (typeof made === 'string') leave(change, made);
    else {
      edits.push(...made.map((one) => ({ ...one, group: group ?? groupOf(change.figures[0]!) })));
      written.add(change.row.number);
    }
  }

  const byFile = Map.groupBy(digits, ({ change }) => change.definition.facts.file);
  for (const [file, ones] of byFile) {
    const results = yield* digitEdits(
      file,
      ones.flatMap(({ all }) => all),
    );
    for (const { change, all, group } of ones) {
      for (const [at, one] of all.entries()) {
        const made = results.get(one);
        if (!made) leave(change, unwritable(change));
        else {
          edits.push({ file, ...made, group: group ?? groupOf(change.figures[at]!) });
          written.add(change.row.number);
        }
      }
    }
  }

  edits.push(...successors);
  for (const { one, sort } of added) {
    const { file, kind } = intake.newParts!;
    const made = newEntry(file, kind, one, successions);
    if (!made) leave(one, `The file ${file.uri} has no list of parts to add it to.`);
    else {
      edits.push({ file, ...made, group: sort === 'doubtful' ? sort : 'new' });
      written.add(one.row.number);
    }
  }
  return { edits, written, leftOut };
}

function groupOf({ figure, share }: FigureChange): EditGroup {
  if (figure !== 'cost') return figure;
  return share?.lt(ZERO) ? 'cost-down' : 'cost-up';
}

function unwritable({ definition }: PriceChange): string {
  return `The entry ${definition.id} is written in a way that cannot be changed from here. Change it by hand.`;
}

type Placed = Omit<PriceEdit, 'group'>;

function pathOf({ definition }: PriceChange): readonly [string, string] {
  return ['parts', definition.id];
}

/** A row at the end of the part's history, with all that the history says on that day; or why that cannot be. */
function datedEdits(change: PriceChange, from: IsoDate, on: IsoDate): Placed[] | string {
  const { part, figures, definition } = change;
  const { file } = definition.facts;
  if (part.cost === undefined && part.pack?.cost !== undefined)
    return 'The part is priced by the pack, which has no history. Take its price over without a day.';
  const history = part.prices ?? [];
  const later = history.find((row) => row.from > from);
  if (later)
    return `The history of ${definition.id} has prices from ${later.from} already. Change it by hand.`;
  const at = history.findIndex((row) => row.from === from);
  if (at >= 0) {
    const made = figures.map(
      (one) =>
        editsAt(file, [...pathOf(change), 'prices', at, one.figure], (...place) =>
          setValue(...place, digitsFor(one.now)),
        ) ??
        editsAt(file, [...pathOf(change), 'prices', at], (...place) =>
          insertPair(...place, one.figure, digitsFor(one.now)),
        ),
    );
    return made.every((one) => one !== undefined)
      ? made.map((one) => ({ file, ...one }))
      : unwritable(change);
  }
  const row = rowInForce(part, on);
  const until = row === undefined ? undefined : history[row]!.until;
  if (until !== undefined && until >= from)
    return `The prices of ${definition.id} hold until ${until}. End them the day before ${from}, then take the file in again.`;
  const entry: { [key: string]: Plain } = { from };
  for (const figure of [...FIGURES, 'price'] as const) {
    const now = figures.find((one) => one.figure === figure);
    const kept = row === undefined ? undefined : history[row]![figure];
    if (now) entry[figure] = digitsFor(now.now);
    else if (kept !== undefined) entry[figure] = digitsFor(kept);
  }
  const made =
    history.length > 0
      ? editsAt(file, [...pathOf(change), 'prices'], (...place) => insertItem(...place, entry))
      : editsAt(file, pathOf(change), (...place) => insertPair(...place, 'prices', [entry]));
  return made ? [{ file, ...made }] : unwritable(change);
}

function successorEdits(
  change: PriceChange,
  successions: Successions,
  from: IsoDate | undefined,
): Placed | string {
  const { part, definition, successor } = change;
  const next = successor!;
  const { file } = definition.facts;
  const refused = successions.add(definition.id, next);
  if (refused !== undefined) return refused;
  const path = pathOf(change);
  const made =
    part['superseded-by'] === undefined
      ? editsAt(file, path, (...place) =>
          insertPair(...place, 'superseded-by', from === undefined ? { part: next } : { part: next, from }),
        )
      : editsAt(file, [...path, 'superseded-by', 'part'], (...place) => setValue(...place, next));
  return made ? { file, ...made } : unwritable(change);
}

/** Numbers and what takes their place, in the book and by what is being written. */
class Successions {
  readonly #book: Book;
  readonly #coming: ReadonlySet<string>;
  readonly #added = new Map<string, string>();

  /** `coming`: new parts that are added with it. */
  constructor(book: Book, coming: ReadonlySet<string>) {
    this.#book = book;
    this.#coming = coming;
  }

  /** What speaks against it; undefined when it is taken. */
  add(id: string, next: string): string | undefined {
    if (!this.#coming.has(next) && !this.#book.definition('part', next))
      return `${next}, which takes its place, is not in the book. Add it first.`;
    const passed = new Set<string>();
    for (let at: string | undefined = next; at !== undefined && !passed.has(at); at = this.#after(at)) {
      if (at === id)
        return `${next}, which takes its place, is itself superseded by ${id}. Put that right by hand.`;
      passed.add(at);
    }
    this.#added.set(id, next);
    return undefined;
  }

  #after(id: string): string | undefined {
    return (
      this.#added.get(id) ??
      (this.#book.value('part', id) as PriceChange['part'] | undefined)?.['superseded-by']?.part
    );
  }
}

/** Behind the last entry of the catalog. */
function newEntry(
  file: BookFile,
  kind: PartKind,
  { row }: NewPart,
  successions: Successions,
): Omit<Placed, 'file'> | undefined {
  const value: { [key: string]: Plain } = { name: row.name ?? row.number, kind };
  for (const figure of FIGURES) {
    const now = row[figure];
    if (now !== undefined) value[figure] = digitsFor(now);
  }
  if (row.unit && row.unit.id !== 'each') value.unit = row.unit.id;
  if (row.successor !== undefined && successions.add(row.number, row.successor) === undefined)
    value['superseded-by'] = { part: row.successor };
  const entries = [...file.source.pieces()].filter((piece) => piece.section === 'parts');
  const last = entries.at(-1);
  if (!last) return editsAt(file, ['parts'], (...place) => insertPair(...place, row.number, value));
  const eol = /\r\n|\n|\r/.exec(last.text)?.[0] ?? '\n';
  // Apart from the entry above it, where entries are.
  const apart = entries.at(-2)?.text.endsWith(eol + eol) && !last.text.endsWith(eol + eol) ? eol : '';
  const lead = (/[\r\n]$/.test(last.text) ? '' : eol) + apart;
  const text = `${lead}${' '.repeat(last.indent)}${writePair(row.number, value, { column: last.indent, eol, flow: false })}${eol}`;
  return { piece: last, edits: [{ start: last.text.length, end: last.text.length, text }] };
}
