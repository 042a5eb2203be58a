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
  readonly coreTaxed: boolean | undefined;
  /** Labor: the rate that the whole line is priced at. */
  readonly rate: string | undefined;
}

export const LAST = Number.POSITIVE_INFINITY;

type Told = 'kind' | 'path' | 'name' | 'category' | 'coverage' | 'taxClass' | 'amount' | 'order';

/** A charge with what is usual for everything that is not said. Every charge has the same shape, which keeps it fast. */
export function charge(from: Pick<Charge, Told> & Partial<Charge>): Charge {
  return {
    kind: from.kind,
    path: from.path,
    line: from.line,
    from: from.from,
    name: from.name,
    id: from.id,
    numbers: from.numbers,
    category: from.category,
    coverage: from.coverage,
    taxClass: from.taxClass,
    role: from.role,
    condition: from.condition,
    quantity: from.quantity ?? ONE_OF_IT,
    unit: from.unit ?? 'each',
    each: from.each,
    amount: from.amount,
    reductions: NOT_REDUCED,
    net: from.amount.value,
    hours: from.hours ?? NO_HOURS,
    hoursSold: from.hoursSold ?? ZERO,
    steps: from.steps ?? NO_STEPS,
    includedIn: from.includedIn,
    cost: from.cost,
    suppliedByCustomer: from.suppliedByCustomer ?? false,
    optional: from.line?.optional === true,
    order: from.order,
    coreTaxed: from.coreTaxed,
    rate: from.rate,
  };
}

const NOT_REDUCED: Charge['reductions'] = [];
const NO_STEPS: Charge['steps'] = [];

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

/** The charge's net as a term of a sum. */
export function nettingTo({ name, net }: Charge): Amount {
  return given(name, net);
}
