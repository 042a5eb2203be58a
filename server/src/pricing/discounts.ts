/**
 * Discounts of the job, in order. A sum, or the sum that a percent comes to, is spread in proportion over the lines
 * that it is on, to the cent; no line goes below zero, and no part below its cost unless the discount may.
 */
import type { Category } from '../../../schemas/kinds/shared.ts';
import type { Discount } from '../../../schemas/kinds/shop.ts';
import type { Path } from '../../../schemas/problem.ts';
import { type Decimal, greatest, least, round, spread, sum, ZERO } from '../../../schemas/values/decimal.ts';
import { type Amount, atMost, given, portion, product, rounded, type Source, sumOf } from './amount.ts';
import { type Charge, nettingTo, reduce } from './charge.ts';
import { type Context, entry, money, notBelowZero, report, typedMoney } from './context.ts';
import type { PricedDiscount } from './model.ts';

interface Wanted {
  readonly index: number;
  readonly path: Path;
  readonly discount: Discount;
  /** Where its figure is written. */
  readonly source: Source;
}

export interface Discounted {
  readonly charges: readonly Charge[];
  readonly discounts: readonly PricedDiscount[];
}

/** Discounts on supplies or fees wait until those are counted; all others come before them. */
export function waitsForFees({ discount }: Pick<Wanted, 'discount'>): boolean {
  return discount.on.includes('supplies') || discount.on.includes('fees');
}

/** The customer's standing discount and those of the job, in order, without those that have ended. */
export function wantedDiscounts(context: Context): Wanted[] {
  const wanted: Wanted[] = [];
  const add = (path: Path, discount: Discount | undefined, source: Source = { path }): void => {
    if (discount) wanted.push({ index: wanted.length, path, discount, source });
    else context.complete = false;
  };
  const addById = (path: Path, id: string): void =>
    add(path, entry(context.shop.discounts, id), { kind: 'discount', id });
  const { customer, discounts = [] } = context.sale;
  const ids = discounts.map((one) =>
    typeof one === 'string' ? one : 'discount' in one ? one.discount : undefined,
  );
  if (customer?.discount !== undefined && !ids.includes(customer.discount)) {
    addById(['customer'], customer.discount);
  }
  discounts.forEach((one, index) => {
    const path = ['discounts', index];
    if (typeof one === 'string') addById(path, one);
    else if ('discount' in one) add(path, changed(entry(context.shop.discounts, one.discount), one));
    else add(path, one);
  });
  return wanted;
}

function changed(
  shops: Discount | undefined,
  here: { readonly percent?: Decimal | undefined; readonly amount?: Decimal | undefined },
): Discount | undefined {
  if (!shops || (here.percent === undefined && here.amount === undefined)) return shops;
  return { ...shops, percent: here.percent, amount: here.amount };
}

export function takeDiscounts(
  context: Context,
  charges: readonly Charge[],
  wanted: readonly Wanted[],
): Discounted {
  let left = charges;
  const discounts: PricedDiscount[] = [];
  for (const one of wanted) {
    const taken = takeOne(context, left, one);
    if (!taken) continue;
    left = taken.charges;
    discounts.push(taken.discount);
  }
  return { charges: left, discounts };
}

function takeOne(
  context: Context,
  charges: readonly Charge[],
  wanted: Wanted,
): { readonly charges: readonly Charge[]; readonly discount: PricedDiscount } | undefined {
  const { index, path, discount } = wanted;
  const on = charges.filter((one) => discount.on.includes(one.category) && one.net.gt(ZERO));
  const full = fullAmount(context, on, wanted);
  if (discount.expires !== undefined && discount.expires < context.on) {
    report(
      context,
      'warning',
      'discount-expired',
      path,
      `${discount.name} ended on ${discount.expires}; prices here are those of ${context.on}, so its ${money(context, full.value)} is not taken off.`,
    );
    return undefined;
  }

  const fundedBy = discount['funded-by'] ?? 'shop';
  const rooms = on.map((one) => roomOf(context, one, discount, fundedBy));
  const room = given('Room', sum(rooms), { note: 'down to zero, and to the cost of parts' });
  const amount = atMost(full, room);
  if (amount !== full) warnOfCut(context, path, discount, full.value, amount.value);

  const shares = fill(amount.value, on, rooms, context.places);
  const shareOf = new Map(on.map((one, at) => [one, shares[at]!]));
  const taxed = fundedBy === 'third-party' && context.jurisdiction?.coupons !== 'after';
  return {
    charges: charges.map((one) => {
      const share = shareOf.get(one);
      if (!share?.gt(ZERO)) return one;
      const portionOf = share.eq(amount.value) ? amount : portion(discount.name, share, amount);
      return reduce(one, {
        kind: 'job-discount',
        name: discount.name,
        amount: portionOf,
        fundedBy,
        taxed,
        discount: index,
      });
    }),
    discount: { name: discount.name, path, fundedBy, amount, spread: byCategory(on, shares) },
  };
}

function fullAmount(context: Context, on: readonly Charge[], { discount, path, source }: Wanted): Amount {
  const terms: Amount[] = [];
  if (discount.percent !== undefined) {
    const percent = notBelowZero(context, discount.percent, path, discount.name);
    const base = sumOf('What it is on', on.map(nettingTo));
    const share = given('Percent', percent, { measure: 'share', source });
    terms.push(rounded(product(discount.name, [base, share]), context.places));
  }
  if (discount.amount !== undefined) {
    terms.push(given(discount.name, typedMoney(context, discount.amount, path, discount.name), { source }));
  }
  if (terms.length === 0) {
    report(
      context,
      'error',
      'discount-without-figure',
      path,
      `${discount.name} has neither a percent nor an amount, so nothing is taken off. Give it one.`,
    );
  }
  return terms.length === 1 ? terms[0]! : sumOf(discount.name, terms);
}

/** How much can come off a line. Who pays the shop back does not take it below cost. */
function roomOf(
  context: Context,
  one: Charge,
  discount: Discount,
  fundedBy: 'shop' | 'third-party',
): Decimal {
  const isPart = one.category === 'parts' || one.category === 'fluids';
  const guarded = !discount['below-cost'] || context.jurisdiction?.['parts-at-least-cost'] === true;
  if (!isPart || fundedBy === 'third-party' || !guarded || !one.cost) return one.net;
  return greatest(ZERO, one.net.minus(round(one.cost.value, context.places, 'up')));
}

/** Splits a sum in proportion to the lines; what finds no room on one goes to the others. */
function fill(total: Decimal, on: readonly Charge[], rooms: readonly Decimal[], places: number): Decimal[] {
  const taken = on.map(() => ZERO);
  let left = total;
  while (left.gt(ZERO)) {
    const open = on.map((_, at) => at).filter((at) => rooms[at]!.gt(taken[at]!));
    const shares = spread(
      left,
      open.map((at) => on[at]!.net),
      places,
    );
    open.forEach((at, position) => {
      const fits = least(shares[position]!, rooms[at]!.minus(taken[at]!));
      taken[at] = taken[at]!.plus(fits);
      left = left.minus(fits);
    });
  }
  return taken;
}

function byCategory(on: readonly Charge[], shares: readonly Decimal[]): Map<Category, Decimal> {
  const found = new Map<Category, Decimal>();
  on.forEach((one, at) => {
    if (shares[at]!.gt(ZERO)) found.set(one.category, (found.get(one.category) ?? ZERO).plus(shares[at]!));
  });
  return found;
}

function warnOfCut(context: Context, path: Path, discount: Discount, full: Decimal, given: Decimal): void {
  const parts = discount.on.some((category) => category === 'parts' || category === 'fluids');
  const why = parts ? 'a line below zero or a part below its cost' : 'a line below zero';
  report(
    context,
    'warning',
    'discount-cut',
    path,
    `${discount.name} of ${money(context, full)} would take ${why}: only ${money(context, given)} is taken off.`,
  );
}
