/** A supplier's price file held against the book: what is new, what is gone, what costs another price. */
import type { Part } from '../../../../schemas/kinds/parts.ts';
import type { Path } from '../../../../schemas/problem.ts';
import type { IsoDate } from '../../../../schemas/values/dates.ts';
import { type Decimal, ZERO } from '../../../../schemas/values/decimal.ts';
import { parseSellingUnit, type SellingUnit } from '../../../../schemas/values/selling.ts';
import type { Book } from '../../book/book.ts';
import type { Definition } from '../../book/facts.ts';
import type { BookFile } from '../../book/file.ts';
import { doubtsAbout } from './doubts.ts';
import { figureOf, measureOf } from './figures.ts';
import { FIGURES, type Figure, type PriceRow, type PriceRows, type Unread } from './intake.ts';
import { PartNumbers } from './match.ts';

/** Between two of these, whoever runs a comparison may stop it. */
const STRIDE = 512;

export interface FigureChange {
  readonly figure: Figure;
  readonly old: Decimal | undefined;
  readonly now: Decimal;
  /** Of the old figure, as a fraction; undefined when there was none. */
  readonly share: Decimal | undefined;
  /** Where the old one is written, below the entry; where the new one belongs. */
  readonly path: Path;
}

/** What a row changes about a part. */
export interface PriceChange {
  readonly row: PriceRow;
  readonly definition: Definition;
  readonly part: Part;
  readonly guessed: boolean;
  readonly figures: readonly FigureChange[];
  /** The number that takes its place now, as the book spells it when it knows it. */
  readonly successor: string | undefined;
  /** Held back until somebody says that it is meant. */
  readonly doubts: readonly string[];
  /** Cannot be taken over from here, meant or not. */
  readonly blocked: string | undefined;
}

export interface NewPart {
  readonly row: PriceRow;
  readonly doubts: readonly string[];
}

export interface Comparison {
  readonly on: IsoDate;
  /** Largest change of cost first. */
  readonly changes: readonly PriceChange[];
  readonly fresh: readonly NewPart[];
  /** Parts of the catalogs that the file is about, which it no longer has. */
  readonly gone: readonly Definition[];
  /** Rows that say what the book says. */
  readonly same: number;
  readonly unread: readonly Unread[];
  /** The catalogs that the file is about. */
  readonly catalogs: readonly BookFile[];
}

export interface Scope {
  /** Only parts of these files; of all catalogs, when left out. */
  readonly files?: ReadonlySet<BookFile> | undefined;
  /** Prices in force on this day are compared. */
  readonly on: IsoDate;
}

/** Yields how many rows are done, and returns the comparison. */
export function* compare(
  book: Book,
  { rows, unread }: Pick<PriceRows, 'rows' | 'unread'>,
  { files, on }: Scope,
): Generator<number, Comparison> {
  const numbers = new PartNumbers(book, files ?? new Set(book.filesOf('parts')));
  const told = [...unread];
  const changes: PriceChange[] = [];
  const fresh: NewPart[] = [];
  const seen = new Map<string, PriceRow>();
  const matched = new Set<Definition>();
  const guesses: { row: PriceRow; definition: Definition; twice: string[] }[] = [];
  let same = 0;
  const take = (row: PriceRow, definition: Definition, guessed: boolean, twice: readonly string[]): void => {
    const part = book.value('part', definition.id) as Part | undefined;
    matched.add(definition);
    if (!part) {
      told.push({ ...row, message: `The entry ${definition.id} has errors; mend it first.` });
      return;
    }
    const change = changeOf(book, numbers, { row, definition, part, guessed, on, twice });
    if (change) changes.push(change);
    else same++;
  };
  const again = repeats(rows);
  for (const [i, row] of rows.entries()) {
    if (i % STRIDE === 0) yield i;
    const first = seen.get(row.number);
    if (first) {
      if (!alike(first, row))
        told.push({ ...row, message: `The number is on line ${first.line} already, with other figures.` });
      continue;
    }
    seen.set(row.number, row);
    const twice = again.has(row.number) ? ['the file has the number twice, with other figures'] : [];
    const found = numbers.find(row.number);
    const [one, two] = found;
    if (!one) fresh.push(newPart(row, twice));
    else if (two)
      told.push({
        ...row,
        message: `It can be ${found.map(({ definition }) => definition.id).join(' or ')}. Say whose file this is, or correct the number.`,
      });
    else if (one.guessed) guesses.push({ row, definition: one.definition, twice });
    else take(row, one.definition, false, twice);
  }
  // A guess counts only while no row names the part itself.
  for (const { row, definition, twice } of guesses) {
    if (matched.has(definition)) fresh.push(newPart(row, twice));
    else take(row, definition, true, twice);
  }
  const catalogs = catalogsOf(numbers.parts, matched, files);
  const about = new Set(catalogs);
  return {
    on,
    changes: changes.sort(byCost),
    fresh,
    gone: numbers.parts.filter(
      (one) => about.has(one.facts.file) && !matched.has(one) && !isDiscontinued(book, one),
    ),
    same,
    unread: told.sort((a, b) => a.line - b.line),
    catalogs,
  };
}

/** Numbers that stand in the file more than once, not always with the same figures. */
function repeats(rows: readonly PriceRow[]): ReadonlySet<string> {
  const first = new Map<string, PriceRow>();
  const found = new Set<string>();
  for (const row of rows) {
    const before = first.get(row.number);
    if (!before) first.set(row.number, row);
    else if (!alike(before, row)) found.add(row.number);
  }
  return found;
}

function alike(a: PriceRow, b: PriceRow): boolean {
  return (
    FIGURES.every((one) => a[one]?.toString() === b[one]?.toString()) &&
    a.unit === b.unit &&
    a.successor === b.successor
  );
}

const EACH = (parseSellingUnit('each') as { value: SellingUnit }).value;

interface Pairing extends Pick<PriceChange, 'row' | 'definition' | 'part' | 'guessed'> {
  readonly on: IsoDate;
  readonly twice: readonly string[];
}

function changeOf(
  book: Book,
  numbers: PartNumbers,
  { row, definition, part, guessed, on, twice }: Pairing,
): PriceChange | undefined {
  const measure = measureOf(part, row, EACH);
  const figures = measure.as === 'other' ? [] : figureChanges(part, row, on, measure.as === 'pack');
  const successor = successorOf(numbers, row, part);
  if (figures.length === 0 && successor === undefined && measure.as !== 'other') return undefined;
  const before = { cost: undefined, list: undefined, core: undefined } as Record<Figure, Decimal | undefined>;
  for (const figure of FIGURES) before[figure] = figureOf(part, figure, on).value;
  const after = { ...before };
  for (const { figure, now } of figures) after[figure] = now;
  // What a whole pack costs is not to be held against the list price and the core of one.
  const doubts =
    measure.as === 'pack'
      ? doubtsAbout({ ...NO_FIGURES, cost: part.pack?.cost }, { ...NO_FIGURES, cost: after.cost })
      : doubtsAbout(before, after);
  const guess = guessed ? [`only like ${definition.id} in the book`] : [];
  return {
    row,
    definition,
    part,
    guessed,
    figures,
    successor,
    doubts: [...guess, ...twice, ...doubts],
    blocked:
      measure.as === 'other'
        ? `The file prices one ${measure.file.id}, the book one ${measure.book.id}. Change the unit in the book first.`
        : blockedBy(book, definition),
  };
}

const NO_FIGURES = { cost: undefined, list: undefined, core: undefined };

function figureChanges(part: Part, row: PriceRow, on: IsoDate, pack: boolean): FigureChange[] {
  return FIGURES.flatMap((figure): FigureChange[] => {
    const now = row[figure];
    if (now === undefined || (pack && figure !== 'cost')) return [];
    const { value: old, path } = pack
      ? { value: part.pack!.cost, path: ['pack', 'cost'] }
      : figureOf(part, figure, on);
    if (old ? old.eq(now) : figure === 'core' && now.eq(ZERO)) return [];
    const share = old && !old.eq(ZERO) ? now.minus(old).div(old) : undefined;
    return [{ figure, old, now, share, path }];
  });
}

function successorOf(numbers: PartNumbers, row: PriceRow, part: Part): string | undefined {
  if (row.successor === undefined) return undefined;
  const [found] = numbers.find(row.successor);
  const id = found && !found.guessed ? found.definition.id : row.successor;
  return part['superseded-by']?.part === id ? undefined : id;
}

function blockedBy(book: Book, { row, id }: Definition): string | undefined {
  if (row !== undefined)
    return 'The part is drawn from a price file. Put the new file in its place, or name the new one under `from`.';
  return book.registry.definitions('part', id).length > 1
    ? 'The number is in the book more than once.'
    : undefined;
}

function newPart(row: PriceRow, twice: readonly string[]): NewPart {
  const doubts = doubtsAbout(NO_FIGURES, row);
  return { row, doubts: [...twice, ...doubts] };
}

/** Those that were named; else those of which the file has at least half. */
function catalogsOf(
  parts: readonly Definition[],
  matched: ReadonlySet<Definition>,
  named: ReadonlySet<BookFile> | undefined,
): BookFile[] {
  if (named) return [...named];
  const counts = new Map<BookFile, { all: number; found: number }>();
  for (const one of parts) {
    const count = counts.get(one.facts.file) ?? { all: 0, found: 0 };
    count.all++;
    if (matched.has(one)) count.found++;
    counts.set(one.facts.file, count);
  }
  return [...counts].filter(([, { all, found }]) => found * 2 >= all).map(([file]) => file);
}

function isDiscontinued(book: Book, { id }: Definition): boolean {
  return (book.value('part', id) as Part | undefined)?.status === 'discontinued';
}

/** Largest change of the cost first, up before down; then by number. */
function byCost(a: PriceChange, b: PriceChange): number {
  const [x, y] = [costShare(a), costShare(b)];
  return y.abs().cmp(x.abs()) || y.cmp(x) || (a.definition.id < b.definition.id ? -1 : 1);
}

function costShare({ figures }: PriceChange): Decimal {
  return figures.find(({ figure }) => figure === 'cost')?.share ?? ZERO;
}
