/** A line on its way through the steps: priced, but not yet taxed or owned by anybody. */
import { type Decimal, ONE, ZERO } from '../../../schemas/values/decimal.ts';
import { type Amount, given, nothing } from './amount.ts';
import type { PricedLine, Reduction } from './model.ts';

export interface Charge extends Omit<PricedLine, 'net' | 'tax' | 'taxable' | 'owners'> {
  /** Amount less reductions so far. */
  readonly net: Decimal;
  /** Place among the sale's lines; what is put on by itself comes after them all. */
  readonly order: number;
  /** Settled by the core rules instead of the tax class. */
  readonly coreTaxed?: boolean;
  /** Labor: the rate that the whole line is priced at. */
  readonly rate?: string | undefined;
}

export const LAST = Number.POSITIVE_INFINITY;

type Given = 'kind' | 'path' | 'name' | 'category' | 'coverage' | 'taxClass' | 'amount' | 'order';

/** A charge with what is usual for everything that is not said. */
export function charge(from: Pick<Charge, Given> & Partial<Charge>): Charge {
  return {
    quantity: ONE_OF_IT,
    unit: 'each',
    reductions: [],
    hours: NO_HOURS,
    hoursSold: ZERO,
    steps: [],
    cost: undefined,
    suppliedByCustomer: false,
    optional: from.line?.optional === true,
    ...from,
    net: from.amount.value,
  };
}

/** The charge with something taken off; what would go below zero is the caller's to prevent. */
export function reduce(charge: Charge, reduction: Reduction): Charge {
  return {
    ...charge,
    reductions: [...charge.reductions, reduction],
    net: charge.net.minus(reduction.amount.value),
  };
}

/** What tax is counted on if the charge is taxed: its net and what was taken off without lowering the tax. */
export function taxBase(charge: Charge): Decimal {
  let base = charge.net;
  for (const { taxed, amount } of charge.reductions) if (taxed) base = base.plus(amount.value);
  return base;
}

const ONE_OF_IT: Amount = given('Quantity', ONE, { measure: 'number' });
const NO_HOURS: Amount = nothing('Hours', 'not labor', 'hours');
