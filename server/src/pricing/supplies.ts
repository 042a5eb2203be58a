/** Shop supplies: a share of a named base, with a least and a most, where the law lets it be a line. */
import { ZERO } from '../../../schemas/values/decimal.ts';
import { atLeast, atMost, given, product, rounded } from './amount.ts';
import { baseOf } from './bases.ts';
import { type Charge, charge, LAST } from './charge.ts';
import { type Context, money, notBelowZero, report, typedMoney } from './context.ts';

const NAME = 'Shop supplies';

export function supplies(context: Context, charges: readonly Charge[]): Charge[] {
  const rule = context.shop.supplies;
  if (!rule) return [];
  const base = baseOf(
    charges,
    rule.on,
    rule['after-discount'] === false ? 'before-discounts' : 'after-discounts',
  );
  if (base.value.eq(ZERO)) return [];

  const name = rule.name ?? NAME;
  const rate = notBelowZero(context, rule.rate, [], name);
  let amount = rounded(product(name, [base, given('Rate', rate, { measure: 'share' })]), context.places);
  if (rule.minimum !== undefined) {
    amount = atLeast(amount, given('Minimum', typedMoney(context, rule.minimum, [], name)));
  }
  if (rule.maximum !== undefined) {
    amount = atMost(amount, given('Maximum', typedMoney(context, rule.maximum, [], name)));
  }
  if (amount.value.eq(ZERO)) return [];

  if (context.jurisdiction?.supplies?.line === 'forbidden') {
    report(
      context,
      'error',
      'supplies-forbidden',
      [],
      `${context.jurisdiction.name} does not let a shop charge supplies as a general line, so ${money(context, amount.value)} of ${name} is left out. List what is used as parts, or set the rate in shop.yaml to 0%. Check your local rules.`,
    );
    return [];
  }
  return [
    charge({
      kind: 'supplies',
      path: [],
      name,
      category: 'supplies',
      coverage: 'supplies',
      taxClass: 'supplies',
      amount,
      order: LAST,
    }),
  ];
}
