/**
 * Who pays: each payer in the job's order takes the lines that it covers, under its own hours, rate and limits; what
 * it does not allow is the customer's, or the shop's own loss. Every cent of every line has exactly one owner.
 */
import type { JobPayer } from '../../../schemas/kinds/job.ts';
import type { Payer } from '../../../schemas/kinds/shop.ts';
import type { Path } from '../../../schemas/problem.ts';
import { type Decimal, least, ONE, spread, sum, ZERO } from '../../../schemas/values/decimal.ts';
import { type Amount, atMost, given, product, quotient, rounded, sumOf } from './amount.ts';
import { type Charge, reduce } from './charge.ts';
import { type Context, entry, notBelowZero, report, typedMoney } from './context.ts';

/** A payer of the job, the shop's terms narrowed by the job's. */
export interface Terms extends Omit<Payer, 'purchase-order'> {
  readonly id: string;
  readonly path: Path;
  readonly needsPurchaseOrder: boolean;
  readonly purchaseOrder: string | undefined;
  readonly approved: Decimal | undefined;
}

export function payersOf(context: Context): Terms[] {
  const found: Terms[] = [];
  (context.sale.payers ?? []).forEach((job, index) => {
    const path = ['payers', index];
    const shops = entry(context.shop.payers, job.payer);
    if (!shops) context.complete = false;
    else if (found.some((one) => one.id === job.payer)) {
      report(
        context,
        'error',
        'payer-twice',
        path,
        `${shops.name} is among the payers twice; only the first counts. Take one out.`,
      );
    } else found.push(narrowed(job, shops, path));
  });
  return found;
}

function narrowed(job: JobPayer, shops: Payer, path: Path): Terms {
  const { payer: id, 'purchase-order': purchaseOrder, approved, claim: _claim, ...own } = job;
  const said = Object.fromEntries(Object.entries(own).filter(([, value]) => value !== undefined));
  const { 'purchase-order': needsPurchaseOrder = false, ...terms } = shops;
  return { ...terms, ...said, id, path, needsPurchaseOrder, purchaseOrder, approved };
}

/** A line with the money that each owner owes for it; the owner without `payer` is the customer. */
export interface Owned {
  readonly charge: Charge;
  readonly owners: readonly { readonly payer?: string; readonly net: Decimal }[];
}

export interface Allotted {
  readonly owned: readonly Owned[];
  /** By payer: the amounts that make up its lines. */
  readonly allowed: ReadonlyMap<string, readonly Amount[]>;
}

export function allot(context: Context, charges: readonly Charge[], payers: readonly Terms[]): Allotted {
  warnOfStrangers(context, charges, payers);
  const lines: Line[] = charges.map((charge) => ({ charge, left: charge.net, owners: [] }));
  const allowed = new Map(payers.map((payer) => [payer.id, takeLines(context, lines, payer)]));
  return {
    owned: lines.map(({ charge, left, owners }) => ({
      charge,
      owners: left.gt(ZERO) || owners.length === 0 ? [{ net: left }, ...owners] : owners,
    })),
    allowed,
  };
}

/** A line while payers take from it. */
interface Line {
  charge: Charge;
  left: Decimal;
  readonly owners: { readonly payer: string; readonly net: Decimal }[];
}

function takeLines(context: Context, lines: readonly Line[], payer: Terms): Amount[] {
  const covered = lines.filter(({ charge, left }) => left.gt(ZERO) && covers(payer, charge));
  const byHours = covered.filter(({ charge }) => charge.category === 'labor' && charge.hoursSold.gt(ZERO));
  const goods = covered.filter(({ charge }) => charge.coverage === 'parts');
  const inFull = covered.filter((line) => !byHours.includes(line) && !goods.includes(line));

  const amounts = inFull.map(({ charge, left }) => given(charge.name, left));
  if (byHours.length > 0)
    amounts.push(take(byHours, laborAllowed(context, byHours, payer), payer, context.places));
  if (goods.length > 0) amounts.push(take(goods, partsAllowed(context, goods, payer), payer, context.places));
  for (const line of inFull) own(line, payer, line.left);
  return amounts;
}

function covers(payer: Terms, { line, coverage, category }: Charge): boolean {
  // A core deposit comes back to whoever gave it: a line's own payer does not take it over with the part.
  if (line && 'payer' in line && line.payer !== undefined && category !== 'cores')
    return line.payer === payer.id;
  if (line && 'customer-pays' in line && line['customer-pays']) return false;
  return payer.covers === undefined || payer.covers.includes(coverage);
}

/** Covered labor: the hours allowed at the rate allowed, and never more than the price. */
function laborAllowed(context: Context, lines: readonly Line[], payer: Terms): Amount {
  const price = sumOf(
    'Labor covered',
    lines.map(({ charge, left }) => given(charge.name, left)),
  );
  const { rate, hours: limit } = payer;
  if (rate === undefined && limit === undefined) return price;

  const sold = given('Hours covered', sum(lines.map(hoursLeft)), { measure: 'hours' });
  const source = { path: payer.path };
  const hours =
    limit === undefined ? sold : atMost(sold, given('Allowed hours', limit, { measure: 'hours', source }));
  const exact =
    rate === undefined
      ? quotient('Labor allowed', product('Labor covered', [price, hours]), sold)
      : product('Labor allowed', [
          hours,
          given('Allowed rate', notBelowZero(context, rate, payer.path, 'This rate'), { source }),
        ]);
  return atMost(rounded(exact, context.places), price);
}

/** Hours of what an earlier payer has left of the line. */
function hoursLeft({ charge, left }: Line): Decimal {
  return left.eq(charge.net) ? charge.hoursSold : charge.hoursSold.times(left).div(charge.net);
}

/** Covered parts, less the payer's discount, up to its limit. */
function partsAllowed(context: Context, lines: readonly Line[], payer: Terms): Amount {
  const price = sumOf(
    'Parts covered',
    lines.map(({ charge, left }) => given(charge.name, left)),
  );
  const { 'parts-discount': discount, 'parts-limit': limit } = payer;
  const source = { path: payer.path };
  let allowed: Amount = price;
  if (discount !== undefined) {
    const kept = ONE.minus(least(ONE, notBelowZero(context, discount, payer.path, 'This discount')));
    const share = given('Share after parts discount', kept, { measure: 'share', source });
    allowed = rounded(product('Parts allowed', [price, share]), context.places);
  }
  if (limit === undefined) return allowed;
  return atMost(
    allowed,
    given('Parts limit', typedMoney(context, limit, payer.path, 'This limit'), { source }),
  );
}

/** Spreads what is allowed over the lines, so that none is paid above its price. */
function take(lines: readonly Line[], allowed: Amount, payer: Terms, places: number): Amount {
  const full = sum(lines.map(({ left }) => left));
  const shares = allowed.value.eq(full)
    ? lines.map(({ left }) => left)
    : spread(
        allowed.value,
        lines.map(({ left }) => left),
        places,
      );
  lines.forEach((line, at) => {
    own(line, payer, shares[at]!);
  });
  return allowed;
}

function own(line: Line, payer: Terms, net: Decimal): void {
  if (net.gt(ZERO)) line.owners.push({ payer: payer.id, net });
  line.left = line.left.minus(net);
  if (payer.gap !== 'shop' || line.left.eq(ZERO)) return;
  line.charge = reduce(line.charge, {
    kind: 'payer-terms',
    name: `Not allowed by ${payer.name}`,
    amount: given(`Not allowed by ${payer.name}`, line.left, { note: 'the shop bears it' }),
    fundedBy: 'shop',
    taxed: false,
  });
  line.left = ZERO;
}

/** A line may name a payer that is not on the job: the customer pays it then, which nobody meant. */
function warnOfStrangers(context: Context, charges: readonly Charge[], payers: readonly Terms[]): void {
  const told = new Set<string>();
  for (const { line, path } of charges) {
    const named = line && 'payer' in line ? line.payer : undefined;
    if (named === undefined || payers.some(({ id }) => id === named) || told.has(path.join('/'))) continue;
    const shops = entry(context.shop.payers, named);
    told.add(path.join('/'));
    if (!shops) continue;
    report(
      context,
      'error',
      'line-payer-not-on-job',
      [...path, 'payer'],
      `${shops.name} is to pay this line but is not among the payers of the job, so the customer pays it. Add it under \`payers\`.`,
      { data: { payer: named } },
    );
  }
}
