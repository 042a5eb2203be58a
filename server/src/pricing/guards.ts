/** What is wrong with a sale as a whole once everything is priced: parts below cost, too little fluid. */
import { type Decimal, ONE, roundUpTo, ZERO } from '../../../schemas/values/decimal.ts';
import { compareQuantity, convert, type Quantity } from '../../../schemas/values/quantity.ts';
import type { Charge } from './charge.ts';
import { type Context, money, report } from './context.ts';
import { soldBy } from './quantity.ts';

/** Parts and fluids that sell for less than they cost, whoever is to blame: price, schedule or discount. */
export function warnBelowCost(context: Context, charges: readonly Charge[]): void {
  const forbidden = context.jurisdiction?.['parts-at-least-cost'] === true;
  for (const one of charges) {
    if (one.category !== 'parts' && one.category !== 'fluids') continue;
    if (!one.cost || one.suppliedByCustomer || !one.each) continue;
    const explained = one.line !== undefined && 'reason' in one.line && one.line.reason !== undefined;
    if (explained && !forbidden) continue;
    const brings = one.reductions.reduce(
      (net, { fundedBy, kind, amount }) =>
        fundedBy === 'third-party' || kind === 'payer-terms' ? net.plus(amount.value) : net,
      one.net,
    );
    if (brings.gte(one.cost.value)) continue;
    const figures = `${one.name} costs ${money(context, one.cost.value)} and sells for ${money(context, brings)}`;
    report(
      context,
      forbidden ? 'error' : 'warning',
      'part-below-cost',
      one.path,
      forbidden
        ? `${figures}; ${context.jurisdiction!.name} does not allow parts below cost. Raise the price or take the discount off. Check your local rules.`
        : `${figures}. Raise the price, or say why in \`reason\`.`,
    );
  }
}

/** Work after which the unit is filled from empty. */
const EMPTIES = new Set(['teardown', 'bench', 'reassembly']);

/** An opened unit takes its dry fill: a service fill leaves fluid that nobody is billed for. */
export function warnOfShortFill(context: Context, charges: readonly Charge[]): void {
  const dry = context.unit?.capacities?.dry;
  const opened = charges.some(
    ({ line }) =>
      line && 'operation' in line && EMPTIES.has(context.catalog.operation(line.operation)?.work ?? ''),
  );
  if (!dry || !opened) return;
  const fluids = charges.filter((one) => isFluidOfUnit(context, one));
  const [first] = fluids;
  if (!first?.each) return;
  const unit = soldBy(context.catalog.part(first.id!)!).unit!;
  const sold = fluids.reduce((all, one) => all.plus(volumeIn(context, one, unit)), ZERO);
  const filled: Quantity = { amount: sold, unit };
  if (compareQuantity(filled, dry) >= 0) return;
  const short: Decimal = roundUpTo(convert(dry, unit).amount, ONE).minus(sold);
  report(
    context,
    'warning',
    'fill-short',
    first.path,
    `${context.unit!.name} is opened on this job and takes ${dry.amount} ${dry.unit.symbol} when it is empty, but only ${sold} ${unit.symbol} is sold: ${short} ${unit.symbol}, ${money(context, short.times(first.each.value))}, is not billed. Use \`fill: dry\`.`,
    { data: { short: short.toString(), unit: unit.id } },
  );
}

function isFluidOfUnit(context: Context, one: Charge): boolean {
  if (one.category !== 'fluids' || one.id === undefined) return false;
  const part = context.catalog.part(one.id);
  const fits = part?.['fluid-class'] === undefined || part['fluid-class'] === context.unit?.['fluid-class'];
  return part !== undefined && fits && soldBy(part).unit?.dimension === 'volume';
}

function volumeIn(context: Context, one: Charge, unit: Quantity['unit']): Decimal {
  const own = soldBy(context.catalog.part(one.id!)!).unit!;
  return convert({ amount: one.quantity.value, unit: own }, unit).amount;
}
