/**
 * An estimate as a table for spreadsheets: RFC 4180, with a mark that it is UTF-8. Text that a spreadsheet would take
 * for a formula begins with an apostrophe (OWASP, CSV injection); figures are ours and stay figures.
 */
import { type CastingContext, stringify } from 'csv-stringify/sync';
import { harmless } from '../../../schemas/exchange/spreadsheet.ts';
import type { JobEstimate, OptionEstimate } from '../estimate/estimate.ts';
import type { PricedLine } from '../pricing/model.ts';
import type { OwnFact } from '../work/own.ts';
import { type Printer, printerFor } from './locale.ts';
import { clean } from './render/markup.ts';
import { beforeTax, ownPrice } from './sheets/lines.ts';
import { ownOf } from './sheets/own.ts';

const COLUMNS = [
  'job',
  'option',
  'row',
  'id',
  'name',
  'category',
  'condition',
  'quantity',
  'unit',
  'hours',
  'each',
  'amount',
  'currency',
  'printed',
] as const;
type Column = (typeof COLUMNS)[number];
type Row = Partial<Record<Column, string>> & Record<string, string>;

/** Columns that hold figures; every other one holds what somebody has typed. */
const FIGURES: ReadonlySet<string> = new Set<Column>(['quantity', 'hours', 'each', 'amount']);

export function estimateCsv(estimate: JobEstimate): string {
  const printer = printerFor(estimate);
  const rows = estimate.options.flatMap((option) => optionRows(estimate, option, printer));
  return stringify(rows, {
    header: true,
    columns: [...COLUMNS, ...ownFields(estimate).map(ownColumn)],
    bom: true,
    record_delimiter: '\r\n',
    cast: { string: guarded },
  });
}

function guarded(value: string, { column, header }: CastingContext): string {
  const plain = clean(value);
  if (header || FIGURES.has(String(column))) return plain;
  return harmless(plain);
}

function optionRows(estimate: JobEstimate, option: OptionEstimate, printer: Printer): Row[] {
  const { priced } = option;
  const base = { job: estimate.job.id ?? '', option: option.id ?? '', currency: estimate.policy.currency };
  const sum = (row: string, name: string, value: Parameters<Printer['money']>[0]): Row => ({
    ...base,
    row,
    name,
    amount: value.toString(),
    printed: printer.money(value),
  });
  return [
    ...priced.lines.map((line) => ({ ...base, ...lineRow(line, printer), ...ownCells(option.own, line) })),
    ...priced.discounts.map((one) => sum('discount', one.name, one.amount.value.neg())),
    sum('before-tax', printer.say('before-tax'), beforeTax(priced)),
    ...priced.tax.rows.map((one) => sum('tax', one.name, one.amount.value)),
    sum('total', printer.say('total'), priced.total.value),
  ];
}

/** Fields of the shop that parts or operations have and other systems are given: a column each. */
function ownFields({ policy }: JobEstimate): string[] {
  return Object.entries(policy.shop.fields ?? {})
    .filter(
      ([, { print, on }]) => print?.includes('data') && (on.includes('part') || on.includes('operation')),
    )
    .map(([id]) => id);
}

const ownColumn = (field: string) => `own: ${field}`;

function ownCells(own: readonly OwnFact[], line: PricedLine): Record<string, string> {
  return Object.fromEntries(ownOf(own, line).map(({ field, typed }) => [ownColumn(field), typed]));
}

function lineRow(line: PricedLine, { money }: Printer): Row {
  const own = ownPrice(line);
  return {
    row: line.kind,
    id: line.id ?? '',
    name: line.name,
    category: line.category,
    condition: line.condition ?? '',
    quantity: line.quantity.value.toString(),
    unit: line.unit,
    hours: line.hoursSold.toString(),
    each: line.each?.value.toString() ?? '',
    amount: own.toString(),
    printed: money(own),
  };
}
