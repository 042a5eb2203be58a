/** What a sale costs, in order: each step is a function of its own, and every amount keeps how it came about. */
import { CATEGORIES, type Category } from '../../../schemas/kinds/shared.ts';
import { ZERO } from '../../../schemas/values/decimal.ts';
import { type Amount, difference, given, named, sumOf } from './amount.ts';
import type { Charge } from './charge.ts';
import { beginContext, type Context } from './context.ts';
import { coreLedgers, creditsDue } from './core-ledgers.ts';
import { creditDiagnosis } from './credits.ts';
import { takeDiscounts, waitsForFees, wantedDiscounts } from './discounts.ts';
import { fees } from './fees.ts';
import { warnBelowCost, warnOfShortFill } from './guards.ts';
import { inside } from './inside.ts';
import { warnOfKitContents } from './kits.ts';
import { type Labor, labor } from './labor.ts';
import { lineDiscount } from './line-discount.ts';
import { rateMinimums } from './minimums.ts';
import type { Catalog, Policy, Priced, PricedLine, Sale, SaleLine } from './model.ts';
import { otherLine } from './others.ts';
import { fillLine, partLine } from './parts.ts';
import { allot, payersOf } from './payers.ts';
import { shares } from './shares.ts';
import { subletLine } from './sublet.ts';
import { supplies } from './supplies.ts';
import { type TaxedLine, tax } from './tax.ts';
import { warrantyPrice } from './warranty.ts';

/**
 * Prices a sale. Pure: the same sale, book and policy give the same answer. Bad figures never throw; they are
 * reported, and what has no price leaves the answer `complete: false`.
 *
 * Money is rounded, half up, in these places and no others: the price of one, the amount of a line (its parts and
 * labor, where it is bought from others), a line discount, what is credited, a percentage discount as a whole (then
 * spread to the cent), supplies, the taxable part of a prorated line, tax, what a payer allows, core credits, and
 * figures for the inside sheet. Sums typed finer than the currency are rounded where they are split.
 */
export function price(sale: Sale, catalog: Catalog, policy: Policy): Priced {
  const context = beginContext(sale, catalog, policy);

  const work = labor(context);
  const written = sale.lines.flatMap((line, order) => chargesOf(context, line, order, work));
  const sold = creditDiagnosis(
    context,
    [...written, ...rateMinimums(context, written)].map((one) => lineDiscount(context, one)),
  );
  warnOfKitContents(context, sold);
  warnOfShortFill(context, sold);

  const wanted = wantedDiscounts(context);
  const early = takeDiscounts(
    context,
    sold,
    wanted.filter((one) => !waitsForFees(one)),
  );
  const added = [...supplies(context, early.charges), ...warrantyPrice(context, early.charges)];
  const extra = [...added, ...fees(context, [...early.charges, ...added])].map((one) =>
    lineDiscount(context, one),
  );
  const late = takeDiscounts(context, inOrder([...early.charges, ...extra]), wanted.filter(waitsForFees));
  const discounts = [...early.discounts, ...late.discounts];

  const payers = payersOf(context);
  const allotted = allot(context, late.charges, payers);
  const taxed = tax(context, allotted.owned, payers);
  warnBelowCost(
    context,
    taxed.lines.map(({ charge }) => charge),
  );
  const cores = coreLedgers(context, taxed.lines);
  const each = shares(context, payers, allotted, taxed, cores.customer);

  const lines = taxed.lines.map(finished);
  const subtotal = sumOf(
    'Subtotal',
    lines.map(({ name, net }) => named(name, net)),
  );
  const total = taxed.tax.included ? subtotal : sumOf('Total', [subtotal, taxed.tax.amount]);
  const paid = sumOf(
    'Paid',
    (sale.deposits ?? []).map(({ on, amount }) => given(`Paid on ${on}`, amount)),
  );
  const figures = inside(context, lines, taxed.tax.included);
  return {
    lines,
    subtotals: subtotals(sold, extra),
    discounts,
    subtotal,
    tax: taxed.tax,
    total,
    shares: each,
    cores,
    paid,
    balance: difference('Balance', total, [paid, creditsDue(cores.customer)]),
    hoursSold: figures.hoursSold,
    sharedSteps: work.shared,
    inside: figures,
    complete: context.complete,
    problems: context.problems,
  };
}

/** What a written line turns into. Fees wait until what they are counted on is known. */
function chargesOf(context: Context, from: SaleLine, order: number, work: Labor): readonly Charge[] {
  const { line } = from;
  if ('fill' in line) return fillLine(context, { ...from, line }, order);
  if ('part' in line) return partLine(context, { ...from, line }, order);
  if ('operation' in line) return work.charges.get(order) ?? [];
  if ('sublet' in line) return subletLine(context, { ...from, line }, order);
  if ('other' in line) return [otherLine(context, { ...from, line }, order)];
  return [];
}

function inOrder(charges: readonly Charge[]): Charge[] {
  return charges.toSorted((a, b) => (a.order === b.order ? 0 : a.order < b.order ? -1 : 1));
}

/** By category: lines after line discounts and credits, before discounts of the job. */
function subtotals(sold: readonly Charge[], extra: readonly Charge[]): Map<Category, Amount> {
  const all = inOrder([...sold, ...extra]);
  return new Map(
    (Object.keys(CATEGORIES) as Category[]).map((category) => {
      const terms = all.filter((one) => one.category === category && !one.net.eq(ZERO));
      return [category, sumOf(category, terms.map(netOf))];
    }),
  );
}

function netOf({ name, amount, reductions }: Charge): Amount {
  if (reductions.length === 0) return named(name, amount);
  return difference(
    name,
    amount,
    reductions.map((one) => named(one.name, one.amount)),
  );
}

function finished({ charge, owners }: TaxedLine): PricedLine {
  let taxable = ZERO;
  let tax = ZERO;
  for (const owner of owners) {
    taxable = taxable.plus(owner.taxable);
    tax = tax.plus(owner.tax);
  }
  return { ...charge, net: netOf(charge), taxable, tax, owners };
}
