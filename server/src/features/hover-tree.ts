/** How an amount came about, as a table: what, how much, from what. */
import type { Location } from 'vscode-languageserver-types';
import type { Decimal } from '../../../schemas/values/decimal.ts';
import {
  type Amount,
  type Format,
  lineOf,
  type Measure,
  plainFigure,
  type Source,
} from '../pricing/amount.ts';
import type { Printer } from '../print/locale.ts';
import type { Block, Cell } from './hover-blocks.ts';

/** Rows beyond this are told by the shop sheet, not by a hover. */
const MOST_ROWS = 40;

/** `whereIs`: where a figure is written, for the rows to lead there. */
export function treeTable(
  amounts: readonly Amount[],
  printer: Printer,
  whereIs: (source: Source | undefined) => Location | undefined,
): Block[] {
  const format: Format = (value: Decimal, measure: Measure) =>
    measure === 'money' ? printer.money(value) : plainFigure(value, measure);
  const rows: Cell[][] = [];
  const visit = (one: Amount, depth: number): void => {
    const figure = format(one.value, one.measure);
    const start = `${one.label}: ${figure}`;
    const how = lineOf(one, format).slice(start.length);
    const lead = '· '.repeat(depth);
    const at = rows.length < MOST_ROWS ? whereIs(one.source) : undefined;
    rows.push([at ? { lead, text: one.label, at } : lead + one.label, figure, how.replace(/^[ ,=]+/, '')]);
    for (const child of one.of) visit(child, depth + 1);
  };
  for (const amount of amounts) visit(amount, 0);
  if (rows.length === 0) return [];
  const more = rows.length - MOST_ROWS;
  return [
    { is: 'table', head: ['', 'Amount', 'From'], rows: rows.slice(0, MOST_ROWS) },
    ...(more > 0 ? [{ is: 'text', text: `… and ${more} more rows.`, ours: true } as const] : []),
  ];
}
