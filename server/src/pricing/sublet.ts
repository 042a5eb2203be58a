/** Work bought from another shop, with its markup. Parts and labor stay apart, because tax may treat them apart. */
import type { SubletLine } from '../../../schemas/kinds/lines.ts';
import { type Decimal, ONE, spread, ZERO } from '../../../schemas/values/decimal.ts';
import { type Amount, given, named, nothing, portion, product, rounded, type Source } from './amount.ts';
import { markedUp } from './bands.ts';
import { type Charge, charge } from './charge.ts';
import { type Context, notBelowZero, report } from './context.ts';
import type { SaleLine } from './model.ts';
import { needReason } from './reasons.ts';
import type { Work } from './works.ts';

/** What the other shop bills us for one, and what we ask for it. */
interface Bought {
  readonly labor: Amount | undefined;
  readonly parts: Amount | undefined;
  readonly times: Decimal;
  /** Instead of cost and markup, each. */
  readonly price: Amount | undefined;
}

type Base = Pick<Charge, 'path' | 'line' | 'from' | 'name' | 'id' | 'role' | 'condition' | 'order'>;

export function subletLine(
  context: Context,
  from: SaleLine & { readonly line: SubletLine },
  order: number,
): Charge[] {
  const { line, path } = from;
  const cost = (field: 'labor-cost' | 'parts-cost', what: string): Amount | undefined =>
    costOf(context, line[field], what, { path: [...path, field] }, [...path, field]);
  return charges(
    context,
    {
      path,
      line,
      from: from.from,
      name: line.sublet,
      id: undefined,
      role: line.role,
      condition: line.condition,
      order,
    },
    {
      labor: cost('labor-cost', 'Cost of its labor'),
      parts: cost('parts-cost', 'Cost of its parts'),
      times: ONE,
      price: typedPrice(context, from, line),
    },
  );
}

/** An operation that is done by another shop. */
export function operationSublet(context: Context, { operation, from, id, order }: Work): Charge[] {
  const { labor, parts } = operation.sublet!;
  const source = { kind: 'operation', id, field: 'sublet' } as const;
  const flat =
    operation.price &&
    given('Flat price', notBelowZero(context, operation.price, [], operation.name), { source });
  return charges(
    context,
    {
      path: from.path,
      line: from.line,
      from: from.from,
      name: operation.name,
      id,
      role: operation.role,
      condition: undefined,
      order,
    },
    {
      labor: costOf(context, labor, 'Cost of its labor', source, []),
      parts: costOf(context, parts, 'Cost of its parts', source, []),
      times: from.line.quantity ?? ONE,
      price: typedPrice(context, from, from.line) ?? flat,
    },
  );
}

function charges(context: Context, base: Base, bought: Bought): Charge[] {
  const { labor, parts, price } = bought;
  if (!labor && !parts) return [unsplit(context, base, bought)];

  const sold = (cost: Amount | undefined, label: string): Amount | undefined =>
    cost && rounded(times(markedUpBy(context, cost, label), bought.times), context.places);
  const prices = price
    ? splitByCost(context, rounded(times(price, bought.times), context.places), parts, labor)
    : { parts: sold(parts, 'Parts'), labor: sold(labor, 'Labor') };
  if (!price && !context.shop.sublet) {
    report(
      context,
      'warning',
      'sublet-without-markup',
      base.path,
      'The shop has no rule for work bought from others, so it is sold at cost. Add `sublet` to shop.yaml, or a price with a reason here.',
    );
  }

  const both = parts !== undefined && labor !== undefined;
  const made: Charge[] = [];
  if (parts && prices.parts)
    made.push(one(base, bought, 'parts', prices.parts, times(parts, bought.times), both));
  if (labor && prices.labor)
    made.push(one(base, bought, 'labor', prices.labor, times(labor, bought.times), both));
  return made;
}

function one(
  base: Base,
  bought: Bought,
  of: 'parts' | 'labor',
  amount: Amount,
  cost: Amount,
  both: boolean,
): Charge {
  return charge({
    ...base,
    kind: 'sublet',
    name: both ? `${base.name}, ${of}` : base.name,
    category: 'sublet',
    coverage: 'sublet',
    taxClass: `sublet-${of}`,
    quantity: given('Times', bought.times, { measure: 'number' }),
    amount: named(of === 'parts' ? 'Parts' : 'Labor', amount),
    cost,
  });
}

function unsplit(context: Context, base: Base, { price, times: often }: Bought): Charge {
  if (!price) context.complete = false;
  report(
    context,
    'error',
    'sublet-not-split',
    base.path,
    price
      ? `Nobody can say how this is taxed: write what its labor and its parts cost, as labor-cost and parts-cost. It is taxed as parts until then.`
      : `There is no price here: write what its labor and its parts cost, as labor-cost and parts-cost.`,
  );
  return charge({
    ...base,
    kind: 'sublet',
    category: 'sublet',
    coverage: 'sublet',
    taxClass: 'sublet-parts',
    amount: price ? rounded(times(price, often), context.places) : nothing('Sublet', 'no cost said'),
  });
}

function markedUpBy(context: Context, cost: Amount, label: string): Amount {
  const rule = context.shop.sublet;
  return rule ? markedUp(label, rule, cost) : named(label, cost);
}

/** A price for the whole is parted as its costs are; where they are nothing, all of it is labor. */
function splitByCost(
  context: Context,
  price: Amount,
  parts: Amount | undefined,
  labor: Amount | undefined,
): { readonly parts: Amount | undefined; readonly labor: Amount | undefined } {
  if (!parts || !labor) return { parts: parts && price, labor: labor && price };
  const weights = [parts.value, labor.value];
  const nothingToGoBy = weights.every((weight) => weight.eq(ZERO));
  const [ofParts = ZERO, ofLabor = ZERO] = nothingToGoBy
    ? [ZERO, price.value]
    : spread(price.value, weights, context.places);
  return { parts: portion('Parts', ofParts, price), labor: portion('Labor', ofLabor, price) };
}

function times(amount: Amount, often: Decimal): Amount {
  return often.eq(ONE)
    ? amount
    : product(amount.label, [given('Times', often, { measure: 'number' }), amount]);
}

function costOf(
  context: Context,
  value: Decimal | undefined,
  label: string,
  source: Source,
  path: SaleLine['path'],
): Amount | undefined {
  return value && given(label, notBelowZero(context, value, path, 'This cost'), { source });
}

function typedPrice(
  context: Context,
  { path }: SaleLine,
  line: { readonly price?: Decimal | undefined; readonly reason?: string | undefined },
): Amount | undefined {
  if (line.price === undefined) return undefined;
  needReason(context, line.reason, path, 'price');
  return given('Price', notBelowZero(context, line.price, [...path, 'price'], 'This price'), {
    source: { path: [...path, 'price'] },
    note: line.reason ?? 'typed on the job',
  });
}
