/** A comparison in the words of the shop: a report to read. */
import type { Decimal } from '../../../../schemas/values/decimal.ts';
import type { Book } from '../../book/book.ts';
import type { Definition } from '../../book/facts.ts';
import { nameOf } from '../../book/paths.ts';
import { placeIn } from '../jobs.ts';
import { type Cell, type Column, cell, plural, type Report, type Table } from '../report/report.ts';
import type { Comparison, FigureChange, NewPart, PriceChange } from './compare.ts';
import { amount, isChange, isDown, nameIn, percentOf, sorted } from './entries.ts';
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

function percent(share: Decimal | undefined): string {
  if (share === undefined) return '';
  const text = percentOf(share);
  return `${text.startsWith('-') ? '' : '+'}${text}%`;
}
