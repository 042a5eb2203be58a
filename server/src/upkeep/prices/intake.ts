/** A price file as a supplier sends it: bytes to rows of figures, and what could not be read. */
import { type Decimal, dec } from '../../../../schemas/values/decimal.ts';
import { parseMoney } from '../../../../schemas/values/money.ts';
import { parseSellingUnit, type SellingUnit } from '../../../../schemas/values/selling.ts';
import { OVERFLOWS } from '../../book/price-file.ts';
import { amountIn, decimalMarkOf, type Encoding, type Row, tableOf, textOf } from '../../book/price-table.ts';
import { columnsIn, type Field, type Headings, headingProblem, isHead } from './headings.ts';

/** Said by whoever takes the file in; what is left out is found. */
export interface Form {
  readonly headings?: Headings;
  /** How suppliers of the book head their columns; the first that fits the file counts where `headings` is silent. */
  readonly known?: readonly Headings[];
  readonly delimiter?: string | undefined;
  readonly encoding?: Encoding | undefined;
  readonly decimal?: '.' | ',' | undefined;
}

export const FIGURES = ['cost', 'list', 'core'] as const;
export type Figure = (typeof FIGURES)[number];

/** Figures are exact, in the shop's currency, for one of `unit` as the supplier sells it. */
export interface PriceRow {
  /** As typed, in the supplier's spelling. */
  readonly number: string;
  /** Line of the file on which it ends, from 1. */
  readonly line: number;
  readonly name: string | undefined;
  readonly cost: Decimal | undefined;
  readonly list: Decimal | undefined;
  readonly core: Decimal | undefined;
  readonly unit: SellingUnit | undefined;
  /** The number that took its place. */
  readonly successor: string | undefined;
}

export interface Unread {
  readonly number: string;
  readonly line: number;
  readonly message: string;
}

export interface PriceRows {
  readonly encoding: Encoding;
  readonly delimiter: string;
  readonly decimal: '.' | ',';
  /** The heading of each field that the file has. */
  readonly headings: ReadonlyMap<Field, string>;
  readonly rows: readonly PriceRow[];
  readonly unread: readonly Unread[];
}

/** Characters at the top of a file in which its headings are looked for. */
const TOP = 20_000;

/** The rows of a price file, or in plain words what keeps it from being read. */
export function readPriceFile(bytes: Uint8Array, form: Form = {}): PriceRows | string {
  const read = textOf(bytes, form.encoding, form.encoding === undefined);
  if (!read) return `The price file is not ${form.encoding} text. Leave the encoding out to have it found.`;
  const top = read.text.slice(0, TOP).toLowerCase();
  const fits = (one: Headings) =>
    Object.values(one).every((heading) => heading === undefined || top.includes(heading.toLowerCase()));
  const stated = { ...form.known?.find(fits), ...form.headings };
  const table = tableOf(read.text, (record) => isHead(record, stated), form.delimiter);
  if (typeof table === 'string') return table;
  const problem = headingProblem(table.head.record, stated);
  if (problem) return problem;
  const columns = columnsIn(table.head.record, stated);
  const decimal =
    form.decimal ??
    decimalMarkOf(
      table.rows.flatMap(({ record }) => FIGURES.flatMap((field) => record[columns.get(field) ?? -1] ?? [])),
    );
  const rows: PriceRow[] = [];
  const unread: Unread[] = [];
  for (const row of table.rows) {
    const made = rowIn(row, columns, decimal);
    if ('message' in made) unread.push(made);
    else rows.push(made);
  }
  return {
    encoding: read.encoding,
    delimiter: table.delimiter,
    decimal,
    headings: new Map([...columns].map(([field, index]) => [field, table.head.record[index]!])),
    rows,
    unread,
  };
}

function rowIn(row: Row, columns: ReadonlyMap<Field, number>, decimal: '.' | ','): PriceRow | Unread {
  const { record, line } = row;
  const cell = (field: Field): string | undefined => record[columns.get(field) ?? -1] || undefined;
  const number = cell('number') ?? '';
  const fail = (message: string): Unread => ({ number, line, message });
  if (number === '') return fail('There is no part number.');
  if (row.overflows) return fail(OVERFLOWS);
  const figures: { [F in Figure]?: Decimal } = {};
  for (const field of FIGURES) {
    const read = figureIn(cell(field), decimal);
    if (typeof read === 'string') return fail(`${field}: ${read}`);
    if (read) figures[field] = read;
  }
  const typedUnit = cell('unit');
  const unit = typedUnit === undefined ? undefined : parseSellingUnit(typedUnit);
  if (unit && !unit.ok) return fail(`unit: ${unit.message}`);
  const successor = cell('superseded-by');
  return {
    number,
    line,
    name: cell('name'),
    cost: figures.cost,
    list: figures.list,
    core: figures.core,
    unit: unit?.value,
    successor: successor === number ? undefined : successor,
  };
}

/** Ways to leave a figure out. */
const NO_FIGURE = /^(-+|–|—|n\/?a\.?|none)$/i;
/** `(4.10)` and `4.10-`: how ledgers write an amount below zero. */
const LEDGER_MINUS = /^\((.*)\)$|^(.*\d)\s*-$/;

function figureIn(cell: string | undefined, decimal: '.' | ','): Decimal | string | undefined {
  if (cell === undefined || NO_FIGURE.test(cell)) return undefined;
  const ledger = LEDGER_MINUS.exec(cell);
  const digits = amountIn(ledger?.[1] ?? ledger?.[2] ?? cell, decimal);
  const parsed = parseMoney(digits, 2, { fine: true });
  if (!parsed.ok) return parsed.message;
  return ledger ? parsed.value.times(dec('-1')) : parsed.value;
}
