/** What a percentage is taken of: named categories, before or after discounts. */
import type { Category } from '../../../schemas/kinds/shared.ts';
import type { Decimal } from '../../../schemas/values/decimal.ts';
import { type Amount, given, sumOf } from './amount.ts';
import type { Charge } from './charge.ts';

/** The charges of some categories, added up. */
export function baseOf(
  charges: readonly Charge[],
  categories: readonly Category[],
  counted: 'before-discounts' | 'after-discounts' = 'after-discounts',
): Amount {
  const figureOf = counted === 'after-discounts' ? ({ net }: Charge) => net : beforeDiscounts;
  const on = charges.filter((one) => categories.includes(one.category));
  return sumOf(
    `Base: ${categories.join(', ')}`,
    on.map((one) => given(one.name, figureOf(one))),
    { note: counted === 'after-discounts' ? 'after discounts' : 'before discounts' },
  );
}

/** The line with its discounts put back; what is credited stays off, because it is not billed at all. */
function beforeDiscounts(one: Charge): Decimal {
  return one.reductions.reduce(
    (net, { kind, amount }) =>
      kind === 'line-discount' || kind === 'job-discount' ? net.plus(amount.value) : net,
    one.net,
  );
}
