/** One number of an estimate and the tree of how it came about. */
import type { Location } from 'vscode-languageserver-types';
import type { Category } from '../../../../schemas/kinds/shared.ts';
import type { BookFile } from '../../book/file.ts';
import type { JobEstimate } from '../../estimate/estimate.ts';
import type { Estimates } from '../../estimate/estimates.ts';
import { type Amount, type Format, lineOf, noteOf, plainFigure } from '../../pricing/amount.ts';
import type { Priced } from '../../pricing/model.ts';
import { printerFor } from '../../print/locale.ts';
import { sourceLocation } from '../spot.ts';

/** A number of a sale; the second word picks one of several. */
export type FigureKey =
  | 'total'
  | 'subtotal'
  | 'paid'
  | 'balance'
  | 'hours'
  | `category ${Category}`
  | `line ${number}`
  | `discount ${number}`
  | `tax ${number}`
  | `share ${number}`;

export interface FigureTree {
  readonly label: string;
  readonly value: string;
  /** ` = 13 × 13.50`; empty for what somebody wrote. */
  readonly formula: string;
  readonly note: string | undefined;
  /** Where it is written. */
  readonly place: Location | undefined;
  readonly of: readonly FigureTree[];
}

/** `sale`: as its view names it. */
export function figureTree(
  estimates: Estimates,
  file: BookFile,
  sale: string,
  key: string,
): FigureTree | undefined {
  const estimate = estimates.of(file);
  const priced = estimate && saleOf(estimate, sale);
  const amount = priced && amountOf(priced, key);
  if (!amount) return undefined;
  const { money } = printerFor(estimate);
  const format: Format = (value, measure) =>
    measure === 'money' ? money(value) : plainFigure(value, measure);
  return tree(amount, format, (source) => sourceLocation(estimates.book, file, source));
}

function saleOf(estimate: JobEstimate, sale: string): Priced | undefined {
  if (sale === 'teardown') return estimate.teardown?.teardown;
  if (sale === 'declined') return estimate.teardown?.declined;
  return estimate.options[Number(sale.split(' ')[1])]?.priced;
}

function amountOf(priced: Priced, key: string): Amount | undefined {
  const [what, which = ''] = key.split(' ');
  const at = /^\d+$/.test(which) ? Number(which) : -1;
  switch (what) {
    case 'total':
      return priced.total;
    case 'subtotal':
      return priced.subtotal;
    case 'paid':
      return priced.paid;
    case 'balance':
      return priced.balance;
    case 'hours':
      return priced.hoursSold;
    case 'category':
      return priced.subtotals.get(which as Category);
    case 'line':
      return priced.lines[at]?.net;
    case 'discount':
      return priced.discounts[at]?.amount;
    case 'tax':
      return priced.tax.rows[at]?.amount;
    case 'share':
      return priced.shares[at]?.total;
    default:
      return undefined;
  }
}

function tree(
  amount: Amount,
  format: Format,
  place: (source: Amount['source']) => Location | undefined,
): FigureTree {
  const value = format(amount.value, amount.measure);
  const bare = lineOf({ ...amount, note: undefined, source: undefined }, format);
  return {
    label: amount.label,
    value,
    formula: bare.slice(`${amount.label}: ${value}`.length),
    note: noteOf(amount),
    place: place(amount.source),
    of: amount.of.map((one) => tree(one, format, place)),
  };
}
