/** The least that labor at a rate costs on one job, made up by a line of its own. */
import type { Coverage } from '../../../schemas/kinds/shared.ts';
import { ZERO } from '../../../schemas/values/decimal.ts';
import { difference, given, nothing, rounded, sumOf } from './amount.ts';
import { type Charge, charge, LAST } from './charge.ts';
import { type Context, entry } from './context.ts';

export function rateMinimums(context: Context, charges: readonly Charge[]): Charge[] {
  const byRate = new Map<string, Charge[]>();
  for (const one of charges) {
    if (one.rate === undefined || one.amount.value.eq(ZERO)) continue;
    const same = byRate.get(one.rate);
    if (same) same.push(one);
    else byRate.set(one.rate, [one]);
  }
  return [...byRate].flatMap(([id, sold]) => {
    const rate = entry(context.shop.rates, id);
    if (rate?.minimum === undefined) return [];
    const labor = sumOf(
      `Labor at ${rate.name}`,
      sold.map((one) => one.amount),
    );
    if (labor.value.gte(rate.minimum)) return [];
    const minimum = given('Minimum charge', rate.minimum, { source: { kind: 'rate', id, field: 'minimum' } });
    const name = `Minimum charge, ${rate.name}`;
    return [
      charge({
        kind: 'minimum',
        path: [],
        name,
        category: 'labor',
        coverage: sameOrLabor(sold.map((one) => one.coverage)),
        taxClass: sold[0]!.taxClass,
        amount: rounded(difference(name, minimum, [labor]), context.places),
        cost: nothing('Cost', 'no work of its own'),
        order: LAST,
      }),
    ];
  });
}

/** A minimum belongs to what it was charged for: diagnosis, when nothing but diagnosis was done at the rate. */
function sameOrLabor(coverages: readonly Coverage[]): Coverage {
  return coverages.every((one) => one === coverages[0]) ? coverages[0]! : 'labor';
}
