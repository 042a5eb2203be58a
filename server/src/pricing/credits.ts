/** A diagnosis that is taken off again, once, when the work it led to is bought on the same job. */
import { least, ONE } from '../../../schemas/values/decimal.ts';
import { given, product, rounded } from './amount.ts';
import { type Charge, reduce } from './charge.ts';
import { type Context, notBelowZero } from './context.ts';

export function creditDiagnosis(context: Context, charges: readonly Charge[]): Charge[] {
  const bought = new Map(
    charges.filter((one) => one.role !== undefined && isBought(one)).map((one) => [one.role, one]),
  );
  return charges.map((one) => {
    const credited =
      one.kind === 'labor' && one.id !== undefined && context.catalog.operation(one.id)?.credited;
    const work = credited ? bought.get(credited.role) : undefined;
    if (!credited || !work || work === one) return one;
    const source = { kind: 'operation', id: one.id!, field: 'credited' } as const;
    const share = least(ONE, notBelowZero(context, credited.share ?? ONE, [], 'The share credited'));
    return reduce(one, {
      kind: 'credited',
      name: `Credited: ${work.name}`,
      amount: rounded(
        product(`Credited: ${work.name}`, [
          given(one.name, one.net),
          given('Share', share, { measure: 'share', source }),
        ]),
        context.places,
      ),
      fundedBy: 'shop',
      taxed: false,
    });
  });
}

/** Sold here: not brought by the customer, not covered by something else, not given away. */
function isBought(one: Charge): boolean {
  const givenAway = one.line !== undefined && 'operation' in one.line && one.line['no-charge'] === true;
  return !one.suppliedByCustomer && !givenAway && one.kind !== 'core';
}
