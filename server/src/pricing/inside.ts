/** Figures for the shop alone: cost, gross profit, effective labor rate, each against the shop's floors. */
import { type Decimal, ZERO } from '../../../schemas/values/decimal.ts';
import { type Amount, difference, given, named, quotient, rounded, sumOf } from './amount.ts';
import { type Context, HUNDRED, money, report } from './context.ts';
import type { Inside, PricedLine } from './model.ts';

export function inside(context: Context, lines: readonly PricedLine[], taxIncluded: boolean): Inside {
  const sold = lines.filter(({ category }) => category !== 'cores');
  const saleOf = (line: PricedLine): Amount => given(line.name, soldFor(line, taxIncluded));
  const labor = sold.filter(({ category }) => category === 'labor');
  const sale = sumOf('Sale', sold.map(saleOf));
  const laborSale = sumOf('Labor sale', labor.map(saleOf));
  const hoursSold = sumOf(
    'Hours sold',
    labor
      .filter((line) => line.hoursSold.gt(ZERO))
      .map((line) => given(line.name, line.hoursSold, { measure: 'hours' })),
    { measure: 'hours' },
  );
  const costs = sold.flatMap(({ cost, name }) => (cost ? [named(name, cost)] : []));
  const cost = rounded(sumOf('Cost', costs), context.places);
  const profit = difference('Gross profit', sale, [cost]);
  const perHour = (label: string, of: Amount): Amount | undefined =>
    hoursSold.value.gt(ZERO) ? rounded(quotient(label, of, hoursSold), context.places) : undefined;
  const figures: Inside = {
    sale,
    cost,
    costKnown: sold.every((line) => line.cost !== undefined || !hasCost(line)),
    profit,
    profitShare: sale.value.gt(ZERO)
      ? rounded(quotient('Gross profit, share', profit, sale, { measure: 'share' }), SHARE_PLACES)
      : undefined,
    profitPerHour: perHour('Gross profit per hour', profit),
    laborSale,
    hoursSold,
    effectiveRate: perHour('Effective labor rate', laborSale),
  };
  holdAgainstFloors(context, figures);
  return figures;
}

/** A share of 0.5811 is shown as 58.11%. */
const SHARE_PLACES = 4;

/** What the shop gets for a line: without tax, and with what a third party pays back. */
function soldFor({ net, tax, reductions }: PricedLine, taxIncluded: boolean): Decimal {
  let value = net.value;
  for (const { fundedBy, amount } of reductions) {
    if (fundedBy === 'third-party') value = value.plus(amount.value);
  }
  return taxIncluded ? value.minus(tax) : value;
}

/** Parts, work and what is bought cost something, so that a cost nobody has said is missing. */
function hasCost({ kind, amount, hours }: PricedLine): boolean {
  if (kind === 'supplies' || kind === 'fee' || kind === 'warranty' || kind === 'minimum') return false;
  return amount.value.gt(ZERO) || hours.value.gt(ZERO);
}

function holdAgainstFloors(context: Context, { profitShare, effectiveRate }: Inside): void {
  const floors = context.shop.floors;
  const least = floors?.['gross-profit'];
  if (least !== undefined && profitShare?.value.lt(least)) {
    report(
      context,
      'warning',
      'profit-below-floor',
      [],
      `Gross profit is ${percent(profitShare)} of the sale; the shop's floor is ${least.times(HUNDRED)}%. Look at the inside sheet for what pulls it down.`,
    );
  }
  const rate = floors?.['effective-rate'];
  if (rate !== undefined && effectiveRate?.value.lt(rate)) {
    report(
      context,
      'warning',
      'rate-below-floor',
      [],
      `An hour sold brings ${money(context, effectiveRate.value)}; the shop's floor is ${money(context, rate)}. Look for labor that is discounted, flat or given away.`,
    );
  }
}

function percent({ value }: Amount): string {
  return `${value.times(HUNDRED)}%`;
}
