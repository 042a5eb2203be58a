/** The price of the warranty plan that goes with the sale. */
import { ZERO } from '../../../schemas/values/decimal.ts';
import { type Amount, given, product, rounded, sumOf } from './amount.ts';
import { baseOf } from './bases.ts';
import { type Charge, charge, LAST } from './charge.ts';
import { type Context, entry, notBelowZero } from './context.ts';

/** A share of parts and labor after discounts, a sum, or both; nothing for a plan that is included. */
export function warrantyPrice(context: Context, charges: readonly Charge[]): Charge[] {
  const id = context.sale.warranty;
  if (id === undefined) return [];
  const plan = entry(context.shop.warranties, id);
  if (!plan) {
    context.complete = false;
    return [];
  }
  const source = { kind: 'warranty', id } as const;
  const terms: Amount[] = [];
  if (plan.percent !== undefined) {
    const share = given('Percent', notBelowZero(context, plan.percent, [], plan.name), {
      measure: 'share',
      source,
    });
    terms.push(product(plan.name, [baseOf(charges, ['parts', 'labor']), share]));
  }
  if (plan.amount !== undefined) {
    terms.push(given(plan.name, notBelowZero(context, plan.amount, [], plan.name), { source }));
  }
  const amount = rounded(terms.length === 1 ? terms[0]! : sumOf(plan.name, terms), context.places);
  if (amount.value.eq(ZERO)) return [];
  return [
    charge({
      kind: 'warranty',
      path: [],
      name: plan.name,
      id,
      category: 'fees',
      coverage: 'fees',
      taxClass: plan['tax-class'] ?? 'fees',
      amount,
      order: LAST,
    }),
  ];
}
