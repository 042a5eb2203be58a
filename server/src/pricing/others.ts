/** Parts and services that are in no catalog. */
import type { OtherLine } from '../../../schemas/kinds/lines.ts';
import { ONE, ZERO } from '../../../schemas/values/decimal.ts';
import { given, nothing, product, rounded } from './amount.ts';
import { type Charge, charge } from './charge.ts';
import { type Context, notBelowZero } from './context.ts';
import type { SaleLine } from './model.ts';

export function otherLine(
  context: Context,
  { line, path, from }: SaleLine & { readonly line: OtherLine },
  order: number,
): Charge {
  const { category } = line;
  const quantity = given('Quantity', line.quantity ?? ONE, {
    measure: 'number',
    source: { path: [...path, 'quantity'] },
  });
  const price = notBelowZero(context, line.price, [...path, 'price'], 'This price');
  const each = given('Price each', price, { source: { path: [...path, 'price'] } });
  const hours =
    category === 'labor' && line.hours !== undefined
      ? product('Hours', [quantity, given('Hours', line.hours, { measure: 'hours' })], { measure: 'hours' })
      : nothing('Hours', 'none said', 'hours');
  return charge({
    kind: 'other',
    path,
    line,
    from,
    name: line.other,
    category,
    coverage: category,
    taxClass: line['tax-class'] ?? category,
    role: line.role,
    condition: line.condition,
    quantity,
    each,
    amount: rounded(product('Amount', [quantity, each]), context.places),
    hours,
    hoursSold: price.gt(ZERO) ? hours.value : ZERO,
    cost:
      line.cost &&
      product('Cost', [
        quantity,
        given('Cost', notBelowZero(context, line.cost, [...path, 'cost'], 'This cost'), {
          source: { path: [...path, 'cost'] },
        }),
      ]),
    order,
  });
}
