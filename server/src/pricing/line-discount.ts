/** A percentage off a line, before anything is taken off the job. */
import { least, ONE, ZERO } from '../../../schemas/values/decimal.ts';
import { given, product, rounded } from './amount.ts';
import { type Charge, reduce } from './charge.ts';
import { type Context, notBelowZero, report } from './context.ts';

export function lineDiscount(context: Context, one: Charge): Charge {
  const percent = one.line && 'discount' in one.line ? one.line.discount : undefined;
  if (percent === undefined || one.kind === 'core' || one.amount.value.eq(ZERO)) return one;
  const path = [...one.path, 'discount'];
  const share = given('Line discount', least(ONE, notBelowZero(context, percent, path, 'This discount')), {
    measure: 'share',
    source: { path },
  });
  if (percent.gt(ONE)) {
    report(
      context,
      'error',
      'discount-over-100',
      path,
      'A line discount of more than 100% would make the price negative; 100% is taken off.',
    );
  }
  return reduce(one, {
    kind: 'line-discount',
    name: 'Line discount',
    amount: rounded(product('Line discount', [one.amount, share]), context.places),
    fundedBy: 'shop',
    taxed: false,
  });
}
