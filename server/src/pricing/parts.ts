/** Part and fluid lines: the number that is sold, how many, at what price, and its core. */
import type { FillLine, PartLine } from '../../../schemas/kinds/lines.ts';
import { ONE, ZERO } from '../../../schemas/values/decimal.ts';
import { type Amount, nothing, product, rounded } from './amount.ts';
import { withEnding } from './bands.ts';
import { type Charge, charge } from './charge.ts';
import { type Context, entry, report } from './context.ts';
import { coreCharges } from './cores.ts';
import { contentsPrice } from './kits.ts';
import type { SaleLine } from './model.ts';
import { fillQuantity, soldBy, typedQuantity } from './quantity.ts';
import { type Chain, chainOf } from './supersession.ts';
import { type UnitPrice, unitPrice } from './unit-price.ts';

type From<L> = SaleLine & { readonly line: L };

/** A part line and, where it has one, its core charge. */
export function partLine(context: Context, from: From<PartLine>, order: number): Charge[] {
  const chain = sold(context, from);
  if (!chain) return [];
  const { line, path } = from;
  const quantity = typedQuantity(context, chain.part, line.quantity, chain.factor, path);
  if (line.supplied) return [supplied(from, chain, quantity, order)];

  const byContents =
    chain.part['kit-price'] === 'contents' && line.price === undefined && !locked(context, chain.id);
  const price = byContents
    ? contentsPrice(context, chain.id, chain.part, path)
    : unitPrice(context, chain.id, chain.part, line, path);
  const made = charge({ ...base(from, chain, order), kind: 'part', ...extended(context, quantity, price) });
  return [made, ...coreCharges(context, made, chain.part, price.core)];
}

/** A fill line: fluid by the capacity of the unit. */
export function fillLine(context: Context, from: From<FillLine>, order: number): Charge[] {
  const chain = sold(context, from);
  if (!chain) return [];
  const quantity = fillQuantity(context, chain.part, from.line, from.path);
  const price = unitPrice(context, chain.id, chain.part, from.line, from.path);
  if (!quantity) {
    context.complete = false;
    const unknown = nothing('Quantity', 'not known', { unit: soldBy(chain.part).plural });
    return [charge({ ...base(from, chain, order), kind: 'fill', ...extended(context, unknown, price) })];
  }
  return [charge({ ...base(from, chain, order), kind: 'fill', ...extended(context, quantity, price) })];
}

function sold(context: Context, { line, path }: From<PartLine | FillLine>): Chain | undefined {
  const chain = chainOf(context.catalog, line.part, context.on, (id) => locked(context, id));
  if (!chain || chain.broken) context.complete = false;
  if (!chain) return undefined;
  const numbers = chain.numbers.join(' → ');
  if (chain.cycle) {
    report(
      context,
      'error',
      'supersession-cycle',
      [...path, 'part'],
      `These numbers replace one another in a circle: ${numbers}. ${line.part} is priced as it is; take one of the replacements out.`,
      { related: [{ kind: 'part', id: line.part, message: 'The circle starts here.' }] },
    );
  } else if (chain.id !== line.part) {
    const pieces = chain.factor.eq(ONE) ? '' : `, ${chain.factor} for each`;
    const more = chain.needs.length > 0 ? ` It also needs: ${chain.needs.join('; ')}.` : '';
    report(
      context,
      'information',
      'part-superseded',
      [...path, 'part'],
      `${line.part} has been replaced: ${numbers}. ${chain.id} is sold${pieces}.${more}`,
      {
        tags: ['deprecated'],
        related: [{ kind: 'part', id: chain.id, message: 'The number that is sold.' }],
        data: { from: line.part, to: chain.id, factor: chain.factor.toString() },
      },
    );
  }
  return chain;
}

function locked(context: Context, id: string): boolean {
  return entry(context.sale.lock?.parts, id) !== undefined;
}

function base({ line, path, from }: From<PartLine | FillLine>, chain: Chain, order: number) {
  const { part, id, numbers, cycle } = chain;
  const category = part.kind === 'fluid' ? ('fluids' as const) : ('parts' as const);
  return {
    path,
    line,
    from,
    name: part.name,
    id,
    numbers: numbers.length > 1 && !cycle ? numbers : undefined,
    category,
    coverage: category,
    taxClass: part['tax-class'] ?? category,
    role: part.role,
    condition: ('condition' in line ? line.condition : undefined) ?? part.condition,
    unit: soldBy(part).id,
    order,
  };
}

/** Quantity times price, to the cent, and up to the ending where that is per line. */
function extended(context: Context, quantity: Amount, { each, ending, cost: costEach }: UnitPrice) {
  const cost = costEach && product('Cost', [quantity, costEach]);
  if (!each) return { quantity, each, amount: nothing('Amount', 'no price'), cost };
  const plain = rounded(product('Amount', [quantity, each]), context.places);
  const ends = ending !== undefined && quantity.value.gt(ZERO);
  const amount = ends ? rounded(withEnding('Amount', plain, ending), context.places) : plain;
  return { quantity, each, amount, cost };
}

function supplied(from: From<PartLine>, chain: Chain, quantity: Amount, order: number): Charge {
  return charge({
    ...base(from, chain, order),
    kind: 'part',
    quantity,
    amount: nothing('Amount', 'supplied by the customer'),
    cost: nothing('Cost', 'supplied by the customer'),
    suppliedByCustomer: true,
  });
}
