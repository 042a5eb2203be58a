/** Fees: once a job or for each of something sold, as a sum or a capped share, written as a line or put on by itself. */
import type { Fee } from '../../../schemas/kinds/shop.ts';
import type { Path } from '../../../schemas/problem.ts';
import { type Decimal, ONE, ZERO } from '../../../schemas/values/decimal.ts';
import { type Amount, atMost, given, nothing, product, rounded, sumOf } from './amount.ts';
import { applies } from './applies.ts';
import { baseOf } from './bases.ts';
import { type Charge, charge } from './charge.ts';
import { type Context, entry, money, notBelowZero, report, typedMoney } from './context.ts';
import type { SaleLine } from './model.ts';

/** A fee that is on the job. */
interface OnJob {
  readonly id: string;
  readonly fee: Fee;
  readonly path: Path;
  readonly from: SaleLine | undefined;
  readonly order: number;
}

/** All fees: those with an amount first, so that a share of fees has something to be taken of. */
export function fees(context: Context, charges: readonly Charge[]): Charge[] {
  const onJob = [...written(context), ...automatic(context, charges)];
  const fixed = onJob
    .filter(({ fee }) => fee.percent === undefined)
    .map((one) => feeCharge(context, charges, one));
  const shares = onJob
    .filter(({ fee }) => fee.percent !== undefined)
    .map((one) => feeCharge(context, [...charges, ...fixed], one));
  const made = [...fixed, ...shares];
  for (const one of onJob) {
    if (one.fee.waste)
      checkWaste(context, one, made.find(({ id, order }) => id === one.id && order === one.order)!, charges);
  }
  return made;
}

function written(context: Context): OnJob[] {
  const found: OnJob[] = [];
  context.sale.lines.forEach((from, order) => {
    if (!('fee' in from.line)) return;
    const fee = entry(context.shop.fees, from.line.fee);
    if (fee) found.push({ id: from.line.fee, fee, path: from.path, from, order });
    else context.complete = false;
  });
  return found;
}

/** Automatic fees whose conditions hold, in the order of their ids; one that is a line already is not put on again. */
function automatic(context: Context, charges: readonly Charge[]): OnJob[] {
  const lines = new Set(context.sale.lines.map(({ line }) => ('fee' in line ? line.fee : undefined)));
  return Object.entries(context.shop.fees ?? {})
    .filter(([id, fee]) => fee.automatic && !lines.has(id) && isDue(context, fee, charges))
    .toSorted(([a], [b]) => (a < b ? -1 : 1))
    .map(([id, fee], index) => ({ id, fee, path: [], from: undefined, order: LAST_FEES + index }));
}

/** Orders of automatic fees: after the sale's lines, each its own. */
const LAST_FEES = 1_000_000;

function isDue(context: Context, fee: Fee, charges: readonly Charge[]): boolean {
  const role = fee['with-role'];
  if (role !== undefined && !charges.some((one) => one.role === role && !one.suppliedByCustomer))
    return false;
  if (fee.each === 'unit-sold' && soldOf(charges, fee.role).eq(ZERO)) return false;
  return !fee.when || applies(context, fee.when) === 'yes';
}

/** How many selling units of a role are sold. */
function soldOf(charges: readonly Charge[], role: string | undefined): Decimal {
  return charges
    .filter(
      (one) => role !== undefined && one.role === role && one.kind !== 'core' && !one.suppliedByCustomer,
    )
    .reduce((count, one) => count.plus(one.quantity.value), ZERO);
}

function feeCharge(
  context: Context,
  charges: readonly Charge[],
  { id, fee, path, from, order }: OnJob,
): Charge {
  const typed = from && 'fee' in from.line ? from.line.quantity : undefined;
  const counted = fee.each === 'unit-sold' ? soldOf(charges, fee.role) : ONE;
  const quantity = given('Quantity', typed ?? counted, {
    measure: 'number',
    ...(typed === undefined ? {} : { source: { path: [...path, 'quantity'] } }),
  });
  const each = priceOf(context, id, fee, charges, path);
  const whole = each
    ? rounded(product(fee.name, [quantity, each]), context.places)
    : nothing(fee.name, 'no figure');
  const most = fee.maximum && given('Maximum', typedMoney(context, fee.maximum, [], fee.name));
  const amount = most ? atMost(whole, most) : whole;
  return charge({
    kind: 'fee',
    path,
    line: from?.line,
    from: from?.from,
    name: fee.name,
    id,
    category: 'fees',
    coverage: 'fees',
    taxClass: fee['tax-class'] ?? 'fees',
    quantity,
    each,
    amount,
    cost: fee.cost && product('Cost', [quantity, given('Cost', fee.cost, { source: { kind: 'fee', id } })]),
    order,
  });
}

function priceOf(
  context: Context,
  id: string,
  fee: Fee,
  charges: readonly Charge[],
  path: Path,
): Amount | undefined {
  const source = { kind: 'fee', id } as const;
  const terms: Amount[] = [];
  const locked = entry(context.sale.lock?.fees, id);
  if (locked) {
    const at = ['lock', 'fees', id];
    const value = notBelowZero(context, locked, at, 'This locked fee');
    terms.push(given(fee.name, value, { source: { path: at }, note: 'locked price' }));
  } else if (fee.amount !== undefined) {
    terms.push(given(fee.name, notBelowZero(context, fee.amount, [], fee.name), { source }));
  }
  if (fee.percent !== undefined) {
    const share = given('Percent', notBelowZero(context, fee.percent, [], fee.name), {
      measure: 'share',
      source,
    });
    terms.push(product(fee.name, [baseOf(charges, fee.on ?? []), share]));
  }
  if (terms.length > 0) return terms.length === 1 ? terms[0]! : sumOf(fee.name, terms);
  context.complete = false;
  report(
    context,
    'error',
    'fee-without-figure',
    path,
    `${fee.name} has neither an amount nor a percent, so it is counted as 0. Give the fee one in shop.yaml.`,
    { related: [{ kind: 'fee', id, message: 'It has no figure.' }] },
  );
  return undefined;
}

/** What the law asks of fees for hazardous waste. */
function checkWaste(
  context: Context,
  { id, fee, path }: OnJob,
  made: Charge,
  charges: readonly Charge[],
): void {
  const rule = context.jurisdiction?.waste;
  const related = [{ kind: 'fee', id, message: 'The fee.' }] as const;
  const place = context.jurisdiction?.name;
  if (rule?.['needs-epa-id'] && context.shop['epa-id'] === undefined) {
    report(
      context,
      'error',
      'waste-fee-without-epa-id',
      path,
      `${place} asks for the EPA identification number beside ${fee.name}. Write \`epa-id\` in shop.yaml. Check your local rules.`,
      { related },
    );
  }
  if (rule?.['at-cost'] && !made.cost) {
    report(
      context,
      'error',
      'waste-fee-above-cost',
      path,
      `${place} allows ${fee.name} only up to its documented cost, and the fee says none. Write its \`cost\` in shop.yaml. Check your local rules.`,
      { related },
    );
  } else if (rule?.['at-cost'] && made.cost && made.amount.value.gt(made.cost.value)) {
    report(
      context,
      'error',
      'waste-fee-above-cost',
      path,
      `${place} allows ${fee.name} only up to its documented cost of ${money(context, made.cost.value)}; ${money(context, made.amount.value)} is charged. Lower the fee. Check your local rules.`,
      { related },
    );
  }
  const work = charges.filter((one) => one.category === 'labor');
  if (work.length > 0 && charges.every((one) => one.coverage === 'diagnosis')) {
    report(
      context,
      'warning',
      'waste-fee-on-diagnosis',
      path,
      `${fee.name} is charged on a job that holds only diagnosis, which leaves no waste. Take it out.`,
      { related },
    );
  }
}
