/**
 * Tax: each line by its class in the jurisdiction, at the rates in force on the pricing date. Tax is rounded half up
 * to the cent once on the invoice or on every line, rates added first or each by itself; whoever is exempt owes none.
 */
import { type Decimal, least, ONE, round, spread, sum, ZERO } from '../../../schemas/values/decimal.ts';
import { type Amount, given, nothing, portion, product, quotient, rounded, sumOf } from './amount.ts';
import { type Charge, reduce } from './charge.ts';
import type { Context } from './context.ts';
import type { Owner, PricedTax, TaxRow } from './model.ts';
import type { Owned, Terms } from './payers.ts';
import { classTaxer } from './tax-classes.ts';
import { exemption, type Rate, ratesInForce } from './tax-rates.ts';

/** A line with its owners, and the tax that each of them owes on it. */
export interface TaxedLine {
  readonly charge: Charge;
  readonly owners: readonly Owner[];
}

export interface Taxed {
  readonly lines: readonly TaxedLine[];
  readonly tax: PricedTax;
}

export function tax(context: Context, owned: readonly Owned[], payers: readonly Terms[]): Taxed {
  const rates = ratesInForce(context);
  const included = context.shop.tax?.prices === 'inclusive';
  const isExempt = exemption(context, payers);
  const taxableBy = classTaxer(
    context,
    owned.map(({ charge }) => charge),
  );

  const counted = owned.map((one): Counted => {
    const shares = ownersTaxable(taxableBy(one.charge), one, context.places);
    const due = one.owners.map(({ payer }, at) => (isExempt(payer) ? ZERO : shares[at]!));
    const spared = one.owners.map(({ payer }, at) => (isExempt(payer) ? shares[at]! : ZERO));
    return included ? withoutTaxInside(context, one, due, spared, rates) : { ...one, due };
  });
  const method = { rates, included, each: context.shop.tax?.stack === 'each', places: context.places };
  return context.shop.tax?.rounding === 'line' ? byLine(counted, method) : byInvoice(counted, payers, method);
}

interface Counted extends Owned {
  /** What each owner is taxed on. */
  readonly due: readonly Decimal[];
}

interface Method {
  readonly rates: readonly Rate[];
  readonly included: boolean;
  /** Each rate is rounded by itself. */
  readonly each: boolean;
  readonly places: number;
}

/** Splits what is taxable of a line as the line itself is split. */
function ownersTaxable(taxable: Decimal, { charge, owners }: Owned, places: number): Decimal[] {
  if (taxable.eq(charge.net)) return owners.map(({ net }) => net);
  if (charge.net.eq(ZERO)) return owners.map((_, at) => (at === 0 ? taxable : ZERO));
  return spread(
    taxable,
    owners.map(({ net }) => net),
    places,
  );
}

function taxableOf(lines: readonly Counted[]): Amount {
  return sumOf(
    'Taxable',
    lines.map(({ charge, due }) => given(charge.name, sum(due))),
  );
}

function byInvoice(lines: readonly Counted[], payers: readonly Terms[], method: Method): Taxed {
  const taxable = taxableOf(lines);
  const { amount, rows } = taxOn(taxable, method);

  // First over payers and customer, then over the lines of each, so that each one's tax is that of its own sum.
  const byOwner = new Map<string | undefined, { line: number; owner: number; due: Decimal }[]>(
    [undefined, ...payers.map(({ id }) => id)].map((id) => [id, []]),
  );
  lines.forEach(({ owners, due }, line) => {
    owners.forEach(({ payer }, owner) => {
      byOwner.get(payer)!.push({ line, owner, due: due[owner]! });
    });
  });
  const groups = [...byOwner.values()];
  const perGroup = portions(
    amount.value,
    groups.map((cells) => sum(cells.map(({ due }) => due))),
    method.places,
  );
  const taxes = lines.map(({ owners }) => owners.map(() => ZERO));
  groups.forEach((cells, at) => {
    const perCell = portions(
      perGroup[at]!,
      cells.map(({ due }) => due),
      method.places,
    );
    cells.forEach(({ line, owner }, position) => {
      taxes[line]![owner] = perCell[position]!;
    });
  });
  return {
    lines: lines.map((line, at) => withTax(line, taxes[at]!)),
    tax: { taxable, rows, amount, included: method.included },
  };
}

function byLine(lines: readonly Counted[], method: Method): Taxed {
  const taxes = lines.map(({ charge, due }) => taxOn(given(charge.name, sum(due)), method));
  const amount = sumOf(
    'Tax',
    taxes.map((one) => one.amount),
    { note: 'rounded on every line' },
  );
  const rows = method.rates.map((rate, index): TaxRow => {
    const onLines = taxes.map((one) => one.rows[index]!.amount);
    return { name: rate.name, rate: rate.rate, amount: sumOf(rate.name, onLines) };
  });
  const taxable = taxableOf(lines);
  return {
    lines: lines.map((line, at) => withTax(line, portions(taxes[at]!.amount.value, line.due, method.places))),
    tax: { taxable, rows, amount, included: method.included },
  };
}

/** Like `spread`, but nothing is split over nothing. */
function portions(total: Decimal, weights: readonly Decimal[], places: number): Decimal[] {
  return total.eq(ZERO) ? weights.map(() => ZERO) : spread(total, weights, places);
}

function withTax({ charge, owners, due }: Counted, taxes: readonly Decimal[]): TaxedLine {
  return {
    charge,
    owners: owners.map((owner, at) => ({ ...owner, taxable: due[at]!, tax: taxes[at]! })),
  };
}

/** Tax on one sum: the place where tax is rounded. */
function taxOn(
  taxable: Amount,
  { rates, included, each, places }: Method,
): { amount: Amount; rows: TaxRow[] } {
  if (rates.length === 0 || taxable.value.eq(ZERO)) {
    const none = nothing('Tax', rates.length === 0 ? 'no tax' : 'nothing taxable');
    return { amount: none, rows: rates.map(({ name, rate }) => ({ name, rate, amount: none })) };
  }
  const figures = rates.map(({ name, rate }) => given(name, rate, { measure: 'share' }));
  const all = figures.length === 1 ? figures[0]! : sumOf('Rates', figures, { measure: 'share' });
  const on = (rate: Amount, label: string): Amount => {
    const exact = product(label, [taxable, rate]);
    const inside = included
      ? quotient(label, exact, given('Price with tax', ONE.plus(all.value), { measure: 'share' }), {
          note: 'the tax inside the price',
        })
      : exact;
    return rounded(inside, places);
  };

  if (each) {
    const amounts = figures.map((rate, at) => on(rate, rates[at]!.name));
    return { amount: sumOf('Tax', amounts), rows: rowsOf(rates, amounts) };
  }
  const amount = on(all, 'Tax');
  const shares = portions(
    amount.value,
    rates.map(({ rate }) => rate),
    places,
  );
  return {
    amount,
    rows: rowsOf(
      rates,
      shares.map((share, at) => portion(rates[at]!.name, share, amount)),
    ),
  };
}

function rowsOf(rates: readonly Rate[], amounts: readonly Amount[]): TaxRow[] {
  return rates.map(({ name, rate }, at) => ({ name, rate, amount: amounts[at]! }));
}

/** Prices hold the tax: an owner who owes none pays the price without it. */
function withoutTaxInside(
  context: Context,
  one: Owned,
  due: readonly Decimal[],
  spared: readonly Decimal[],
  rates: readonly Rate[],
): Counted {
  const all = sum(rates.map(({ rate }) => rate));
  const inside = spared.map((taxable, at) =>
    least(one.owners[at]!.net, round(taxable.times(all).div(ONE.plus(all)), context.places)),
  );
  const off = sum(inside);
  if (off.eq(ZERO)) return { ...one, due };
  return {
    charge: reduce(one.charge, {
      kind: 'tax-not-due',
      name: 'Tax not due',
      amount: given('Tax not due', off, { note: 'tax inside the price of one who is exempt' }),
      fundedBy: 'shop',
      taxed: false,
    }),
    owners: one.owners.map((owner, at) => ({ ...owner, net: owner.net.minus(inside[at]!) })),
    due,
  };
}
