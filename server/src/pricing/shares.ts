/** What each one pays in the end: its lines and their tax, deductible and limit, what has been paid, the balance. */
import { type Decimal, least, spread, ZERO } from '../../../schemas/values/decimal.ts';
import { type Amount, difference, given, sumOf } from './amount.ts';
import { type Context, money, report, typedMoney } from './context.ts';
import type { CoreEntry, Share } from './model.ts';
import type { Allotted, Terms } from './payers.ts';
import type { Taxed } from './tax.ts';

interface Owed {
  readonly net: Decimal;
  readonly tax: Decimal;
}

export function shares(
  context: Context,
  payers: readonly Terms[],
  { allowed }: Allotted,
  taxed: Taxed,
  cores: readonly CoreEntry[],
): Share[] {
  const owed = (payer: string | undefined): Owed => owedBy(taxed, payer);
  const credits = creditsByOwner(context, taxed, cores);
  const paid = paidBy(context, payers);
  const { included } = taxed.tax;

  const others = payers.map((payer): Share => {
    const { net, tax } = owed(payer.id);
    const lines = sameSum('Lines', allowed.get(payer.id) ?? [], net);
    const gross = included ? lines : sumOf('Lines and tax', [lines, given('Tax', tax)]);
    const cap = (value: Decimal | undefined, what: string): Decimal | undefined =>
      value && typedMoney(context, value, payer.path, what);
    const deductible = least(cap(payer.deductible, 'This deductible') ?? ZERO, gross.value);
    const left = gross.value.minus(deductible);
    const overLimit = left.minus(least(left, cap(payer.limit, 'This limit') ?? left));
    const total = difference('Total', gross, [
      given('Deductible', deductible),
      given('Over its limit', overLimit),
    ]);
    checkApproval(context, payer, total.value);
    return {
      payer: payer.id,
      name: payer.name,
      net: lines,
      tax,
      deductible,
      overLimit,
      total,
      ...settled(total, paid.get(payer.id) ?? ZERO, credits.get(payer.id) ?? ZERO),
    };
  });
  return [customerShare(context, owed(undefined).tax, taxed, others, paid, credits), ...others];
}

type Sums = ReadonlyMap<string | undefined, Decimal>;

function customerShare(
  context: Context,
  tax: Decimal,
  taxed: Taxed,
  others: readonly Share[],
  paid: Sums,
  credits: Sums,
): Share {
  const deductible = others.reduce((all, one) => all.plus(one.deductible), ZERO);
  const overLimit = others.reduce((all, one) => all.plus(one.overLimit), ZERO);
  const own = taxed.lines.flatMap(({ charge, owners }) =>
    owners.filter((one) => one.payer === undefined).map((one) => given(charge.name, one.net)),
  );
  const lines = sumOf('Lines', own);
  const total = sumOf(
    'Total',
    [
      lines,
      ...(taxed.tax.included ? [] : [given('Tax', tax)]),
      ...others.map((one) => given(`Deductible, ${one.name}`, one.deductible)),
      ...others.map((one) => given(`Over the limit of ${one.name}`, one.overLimit)),
    ].filter(({ value }) => !value.eq(ZERO)),
  );
  return {
    name: context.sale.customer?.name ?? 'Customer',
    net: lines,
    tax,
    deductible,
    overLimit,
    total,
    ...settled(total, paid.get(undefined) ?? ZERO, credits.get(undefined) ?? ZERO),
  };
}

function owedBy(taxed: Taxed, payer: string | undefined): Owed {
  let net = ZERO;
  let tax = ZERO;
  for (const { owners } of taxed.lines) {
    for (const owner of owners) {
      if (owner.payer !== payer) continue;
      net = net.plus(owner.net);
      tax = tax.plus(owner.tax);
    }
  }
  return { net, tax };
}

/** The terms as a sum, when they do add up to it; tax taken out of a price that holds it is one more term. */
function sameSum(label: string, terms: readonly Amount[], value: Decimal): Amount {
  const sum = sumOf(label, terms);
  if (sum.value.eq(value)) return sum;
  return difference(label, sum, [given('Tax not due', sum.value.minus(value))]);
}

function settled(total: Amount, paid: Decimal, credit: Decimal): Pick<Share, 'paid' | 'balance'> {
  const received = given('Paid', paid);
  const less = credit.eq(ZERO) ? [received] : [received, given('Core credits due', credit)];
  return { paid: received, balance: difference('Balance', total, less) };
}

/** A core credit goes back to whoever paid the deposit. */
function creditsByOwner(context: Context, taxed: Taxed, cores: readonly CoreEntry[]): Sums {
  const found = new Map<string | undefined, Decimal>();
  const entries = [...cores];
  for (const { charge, owners } of taxed.lines) {
    if (charge.kind !== 'core') continue;
    const at = entries.findIndex((one) => one.path === charge.path && one.part === charge.id);
    if (at < 0) continue;
    const [{ credit, taxBack, settled }] = entries.splice(at, 1) as [CoreEntry];
    const due = credit.value.plus(taxBack.value).minus(settled);
    if (due.eq(ZERO)) continue;
    const portions = spread(
      due,
      owners.map(({ net }) => net),
      context.places,
    );
    owners.forEach(({ payer }, index) => {
      found.set(payer, (found.get(payer) ?? ZERO).plus(portions[index]!));
    });
  }
  return found;
}

function paidBy(context: Context, payers: readonly Terms[]): Sums {
  const found = new Map<string | undefined, Decimal>();
  (context.sale.deposits ?? []).forEach(({ amount, by }, index) => {
    const payer = payers.find(({ id }) => id === by)?.id;
    if (by !== undefined && payer === undefined) {
      report(
        context,
        'warning',
        'deposit-by-stranger',
        ['deposits', index, 'by'],
        `${money(context, amount)} was paid by ${by}, who is not among the payers of the job; it is counted as the customer's. Add the payer, or take \`by\` out.`,
      );
    }
    found.set(payer, (found.get(payer) ?? ZERO).plus(amount));
  });
  return found;
}

function checkApproval(context: Context, payer: Terms, total: Decimal): void {
  const { path, name, approved } = payer;
  if (payer.needsPurchaseOrder && payer.purchaseOrder === undefined) {
    report(
      context,
      'warning',
      'purchase-order-missing',
      path,
      `${name} pays only with a purchase order. Ask for its number and write it as \`purchase-order\`.`,
    );
  }
  const limit = payer['approval-limit'];
  if (approved !== undefined && total.gt(approved)) {
    report(
      context,
      'warning',
      'payer-approval-exceeded',
      path,
      `${name} has approved ${money(context, approved)}; its share is now ${money(context, total)}. Ask it for the other ${money(context, total.minus(approved))}.`,
    );
  } else if (approved === undefined && limit !== undefined && total.gt(limit)) {
    report(
      context,
      'warning',
      'payer-approval-needed',
      path,
      `The share of ${name} is ${money(context, total)}, above the ${money(context, limit)} that it pays without being asked. Ask it, and write what it has \`approved\`.`,
    );
  }
}
