/** A comparison in the words of the shop: as a report to read, and as rows for a spreadsheet or another program. */
import type { Part } from '../../../../schemas/kinds/parts.ts';
import { type Decimal, dec } from '../../../../schemas/values/decimal.ts';
import type { Book } from '../../book/book.ts';
import type { Definition } from '../../book/facts.ts';
import { nameOf } from '../../book/paths.ts';
import { placeIn } from '../jobs.ts';
import { tableCsv } from '../report/csv.ts';
import { type Cell, type Column, cell, plural, type Report, type Table } from '../report/report.ts';
import type { LeftOut } from './apply.ts';
import type { Comparison, FigureChange, NewPart, PriceChange } from './compare.ts';
import type { Field } from './headings.ts';
import { FIGURES, type PriceRows } from './intake.ts';

export interface Shown {
  /** Of the price file. */
  readonly name: string;
  readonly read: PriceRows;
  readonly accepts: (number: string) => boolean;
  /** How a doubtful row is taken over all the same. */
  readonly howToAccept: string;
  /** Rows of a table that are shown; the rest is counted. */
  readonly most: number;
}

type Sort =
  | 'cost-up'
  | 'cost-down'
  | 'list'
  | 'core'
  | 'superseded'
  | 'held-back'
  | 'blocked'
  | 'new'
  | 'gone'
  | 'unread';

const SEPARATOR: Readonly<Record<string, string>> = {
  ',': 'commas',
  ';': 'semicolons',
  '\t': 'tabs',
  '|': 'bars',
};
const ENCODING = {
  'utf-8': 'UTF-8',
  'utf-16le': 'UTF-16',
  'utf-16be': 'UTF-16',
  'windows-1252': 'Windows-1252',
} as const;

export function priceReport(book: Book, found: Comparison, shown: Shown): Report {
  const { held, blocked, clear, fresh } = sorted(found, shown.accepts);
  const figures = clear.flatMap((change) => change.figures.map((figure) => ({ change, figure })));
  const up = figures.filter(({ figure }) => figure.figure === 'cost' && !isDown(figure));
  const down = figures.filter(({ figure }) => figure.figure === 'cost' && isDown(figure));
  const list = figures.filter(({ figure }) => figure.figure === 'list');
  const core = figures.filter(({ figure }) => figure.figure === 'core');
  const superseded = clear.filter(({ successor }) => successor !== undefined);
  const whole = [
    table('Held back', HELD, held, (one) => heldRow(one, shown), shown.howToAccept),
    table('Not taken over', REASON, blocked, (one) => [
      ...partCells(one),
      at(shown, one.row.line),
      cell(one.blocked!),
    ]),
    table('Cost goes up', PRICE, up, figureRow),
    table('Cost goes down', PRICE, down, figureRow),
    table('Core charge', PRICE, core, figureRow),
    table('List price', PRICE, list, figureRow),
    table('Superseded', SUPERSEDED, superseded, (one) => [...partCells(one), cell(one.successor!)]),
    table('New in the price file', NEW, fresh, newRow),
    table('Gone from the price file', GONE, found.gone, (one) => goneRow(book, one)),
    table('Rows that were not read', UNREAD, found.unread, ({ number, line, message }) => [
      cell(number),
      at(shown, line),
      cell(message),
    ]),
  ];
  return {
    title: `${shown.name} against the shop book`,
    lead: lead(found, shown, whole),
    tables: whole.map((one) => one.table),
  };

  function table<T>(
    title: string,
    columns: Column[],
    rows: readonly T[],
    row: (one: T) => Cell[],
    advice = '',
  ) {
    const first = rows.length > shown.most ? `The first ${shown.most} of ${rows.length}.` : '';
    const note = `${first} ${advice}`.trim() || undefined;
    const made: Table = { title, note, columns, rows: rows.slice(0, shown.most).map(row) };
    return { count: rows.length, table: made };
  }
}

function lead(
  { same, catalogs, on }: Comparison,
  { read }: Shown,
  tables: readonly { readonly count: number; readonly table: Table }[],
): string[] {
  const heads = [...read.headings].map(([field, heading]) => `${FIELD_WORD[field]} under "${heading}"`);
  const counts = tables
    .filter(({ count }) => count > 0)
    .map(({ count, table }) => `${table.title}: ${count}.`);
  const about = catalogs.map(({ uri }) => nameOf(uri)).join(', ');
  const separator = SEPARATOR[read.delimiter] ?? read.delimiter;
  const comma = read.decimal === ',' ? ', decimal comma' : '';
  return [
    `${plural(read.rows.length, 'row')} (${ENCODING[read.encoding]}, separated by ${separator}${comma}): ${heads.join(', ')}.`,
    about === ''
      ? 'No catalog of the book has at least half of its parts in this file.'
      : `It is about ${about}.`,
    [`${plural(same, 'row says', 'rows say')} what the book says on ${on}.`, ...counts].join(' '),
  ];
}

const FIELD_WORD: Readonly<Record<Field, string>> = {
  number: 'number',
  name: 'name',
  cost: 'cost',
  list: 'list price',
  core: 'core charge',
  unit: 'unit',
  'superseded-by': 'successor',
};

function sorted({ changes, fresh }: Comparison, accepts: (number: string) => boolean) {
  const doubtful = ({ doubts, row }: PriceChange | NewPart) => doubts.length > 0 && !accepts(row.number);
  const open = changes.filter(({ blocked }) => blocked === undefined);
  return {
    held: [...open.filter(doubtful), ...fresh.filter(doubtful)],
    blocked: changes.filter(({ blocked }) => blocked !== undefined),
    clear: open.filter((one) => !doubtful(one)),
    fresh: fresh.filter((one) => !doubtful(one)),
  };
}

function isChange(one: PriceChange | NewPart): one is PriceChange {
  return 'definition' in one;
}

const NUMBER: Column = { head: 'Number' };
const NAME: Column = { head: 'Name' };
const LINE: Column = { head: 'Line' };
const figureColumn = (head: string): Column => ({ head, figure: true });

const HELD = [NUMBER, NAME, { head: 'Change' }, LINE, { head: 'Why' }];
const REASON = [NUMBER, NAME, LINE, { head: 'Why' }];
const PRICE = [NUMBER, NAME, figureColumn('Now'), figureColumn('New'), figureColumn('Change')];
const SUPERSEDED = [NUMBER, NAME, { head: 'By' }];
const NEW = [NUMBER, NAME, figureColumn('Cost'), figureColumn('List'), figureColumn('Core')];
const GONE = [NUMBER, NAME, { head: 'Catalog' }];
const UNREAD = [NUMBER, LINE, { head: 'Why' }];

function at({ name }: Shown, line: number): Cell {
  return cell(`${name}:${line}`);
}

function partCells({ definition, part }: PriceChange): Cell[] {
  return [
    cell(definition.id, placeIn(definition.facts.file, ['parts', definition.id])),
    cell(part.name ?? ''),
  ];
}

function figureRow({ change, figure }: { change: PriceChange; figure: FigureChange }): Cell[] {
  return [
    ...partCells(change),
    cell(figure.old === undefined ? '' : amount(figure.old)),
    cell(amount(figure.now)),
    cell(percent(figure.share)),
  ];
}

function heldRow(one: PriceChange | NewPart, shown: Shown): Cell[] {
  const { row, doubts } = one;
  const head = isChange(one)
    ? [cell(row.number), cell(one.part.name ?? '')]
    : [cell(row.number), cell(row.name ?? '')];
  const change = isChange(one)
    ? one.figures.map(changeText).join(', ')
    : `new, ${row.cost ? `cost ${amount(row.cost)}` : 'no cost'}`;
  return [...head, cell(change), at(shown, row.line), cell(doubts.join('; '))];
}

function changeText({ figure, old, now }: FigureChange): string {
  return `${figure} ${old ? `${amount(old)} to ` : ''}${amount(now)}`;
}

function newRow({ row }: NewPart): Cell[] {
  return [
    cell(row.number),
    cell(row.name ?? ''),
    ...FIGURES.map((figure) => cell(row[figure] === undefined ? '' : amount(row[figure]))),
  ];
}

function goneRow(book: Book, { id, facts }: Definition): Cell[] {
  return [cell(id, placeIn(facts.file, ['parts', id])), cell(nameIn(book, id)), cell(nameOf(facts.file.uri))];
}

function nameIn(book: Book, id: string): string {
  return (book.value('part', id) as Part | undefined)?.name ?? '';
}

function isDown({ share }: FigureChange): boolean {
  return share?.lt(dec('0')) ?? false;
}

function amount(value: Decimal): string {
  return value.toFixed(Math.max(2, value.toString().split('.')[1]?.length ?? 0));
}

const HUNDRED = dec('100');

function percent(share: Decimal | undefined): string {
  if (share === undefined) return '';
  const text = share.times(HUNDRED).toFixed(1);
  return `${text.startsWith('-') ? '' : '+'}${text}%`;
}

export interface PriceEntry {
  readonly what: Sort;
  /** As the price file has it; the book's, for a part that is gone from it. */
  readonly number: string;
  readonly line: number | null;
  /** The number in the book. */
  readonly part: string | null;
  readonly name: string;
  readonly figure: 'cost' | 'list' | 'core' | null;
  /** Exact digits, in the shop's currency. */
  readonly old: string | null;
  readonly new: string | null;
  /** Of the old one, to one decimal. */
  readonly percent: string | null;
  readonly note: string;
}

/** Every finding as one flat row: a changed figure each, a number that is new, gone, held back or not read. */
export function priceEntries(
  book: Book,
  found: Comparison,
  accepts: (number: string) => boolean,
  leftOut: readonly LeftOut[] = [],
): PriceEntry[] {
  const { held, blocked, clear, fresh } = sorted(found, accepts);
  const refused = new Map(leftOut.map((one) => [one.number, one.why]));
  const ofChange = (change: PriceChange, what?: Sort, note = ''): PriceEntry[] => {
    const { row, definition, part } = change;
    const base = { number: row.number, line: row.line, part: definition.id, name: part.name ?? '' };
    const figures = change.figures.map(
      ({ figure, old, now, share }): PriceEntry => ({
        ...base,
        what: what ?? (figure === 'cost' ? (share?.lt(dec('0')) ? 'cost-down' : 'cost-up') : figure),
        figure,
        old: old === undefined ? null : amount(old),
        new: amount(now),
        percent: share === undefined ? null : share.times(HUNDRED).toFixed(1),
        note,
      }),
    );
    const next: PriceEntry[] =
      change.successor === undefined
        ? []
        : [{ ...base, ...NOTHING, what: what ?? 'superseded', new: change.successor, note }];
    const rows = [...figures, ...next];
    return rows.length > 0 ? rows : [{ ...base, ...NOTHING, what: what ?? 'blocked', note }];
  };
  const ofNew = ({ row }: NewPart, what: Sort, note = ''): PriceEntry => ({
    ...NOTHING,
    what,
    number: row.number,
    line: row.line,
    part: null,
    name: row.name ?? '',
    figure: row.cost ? 'cost' : null,
    new: row.cost ? amount(row.cost) : null,
    note,
  });
  return [
    ...held.flatMap((one) =>
      isChange(one)
        ? ofChange(one, 'held-back', one.doubts.join('; '))
        : [ofNew(one, 'held-back', one.doubts.join('; '))],
    ),
    ...blocked.flatMap((one) => ofChange(one, 'blocked', one.blocked)),
    ...clear.flatMap((one) => ofChange(one, undefined, refused.get(one.row.number) ?? '')),
    ...fresh.map((one) => ofNew(one, 'new', refused.get(one.row.number) ?? '')),
    ...found.gone.map(
      ({ id }): PriceEntry => ({
        ...NOTHING,
        what: 'gone',
        number: id,
        line: null,
        part: id,
        name: nameIn(book, id),
        note: '',
      }),
    ),
    ...found.unread.map(
      ({ number, line, message }): PriceEntry => ({
        ...NOTHING,
        what: 'unread',
        number,
        line,
        part: null,
        name: '',
        note: message,
      }),
    ),
  ];
}

const NOTHING = { figure: null, old: null, new: null, percent: null };

const COLUMNS = [
  'what',
  'number',
  'line',
  'part',
  'name',
  'figure',
  'old',
  'new',
  'percent',
  'note',
] as const;

export function priceCsv(entries: readonly PriceEntry[]): string {
  const rows = entries.map((entry) =>
    Object.fromEntries(COLUMNS.map((column) => [column, String(entry[column] ?? '')])),
  );
  return tableCsv(COLUMNS, rows, ['line', 'old', 'percent']);
}
