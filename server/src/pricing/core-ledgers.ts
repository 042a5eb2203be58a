/** Two ledgers of cores: what customers get back from us, and what we get back from suppliers. */
import type { CoreReturn } from '../../../schemas/kinds/job.ts';
import { addDays } from '../../../schemas/values/dates.ts';
import { type Decimal, dec, least, ONE, round, ZERO } from '../../../schemas/values/decimal.ts';
import { type Amount, difference, given, nothing, product, rounded, sumOf } from './amount.ts';
import type { Charge } from './charge.ts';
import { type Context, entry, money, notBelowZero, report } from './context.ts';
import { corePolicy, coreTaxOf } from './cores.ts';
import type { CoreEntry, Priced } from './model.ts';
import type { TaxedLine } from './tax.ts';

type Ledger = CoreReturn['ledger'];

/** An entry while returns are booked on it. */
interface Open {
  readonly entry: Omit<CoreEntry, 'returned' | 'credit' | 'taxBack' | 'settled' | 'open'>;
  readonly charge: Charge;
  /** The tax on the deposit goes back with it. */
  readonly refundsTax: boolean;
  returned: Decimal;
  settled: Decimal;
  /** Deposit of what came back, whatever was credited of it. */
  closed: Decimal;
  readonly credits: Amount[];
  readonly taxes: Amount[];
}

export function coreLedgers(context: Context, lines: readonly TaxedLine[]): Priced['cores'] {
  const cores = lines.filter(({ charge }) => charge.kind === 'core');
  const customer = cores
    .filter(({ charge }) => ['charged', 'when-late'].includes(corePolicy(context, charge)))
    .map((line) => customerEntry(context, line));
  const supplier = cores.map(({ charge }) => supplierEntry(context, charge));
  (context.sale.cores ?? []).forEach((back, index) => {
    if (back.returned === undefined) return;
    book(context, back.ledger === 'customer' ? customer : supplier, back, index);
  });
  return { customer: customer.map(closed), supplier: supplier.map(closed) };
}

function customerEntry(context: Context, { charge, owners }: TaxedLine): Open {
  const days = context.shop.estimates?.['core-days'];
  const { completed } = context.sale;
  const tax = coreTaxOf(context, charge.condition);
  return opened(context, charge, {
    tax: owners.reduce((all, owner) => all.plus(owner.tax), ZERO),
    days,
    dueBy: days === undefined || completed === undefined ? undefined : addDays(completed, days),
    refundsTax: tax?.['refund-tax'] === true,
  });
}

function supplierEntry(context: Context, charge: Charge): Open {
  const supplier = context.catalog.part(charge.id!)?.supplier;
  const days = supplier === undefined ? undefined : entry(context.shop.suppliers, supplier)?.['core-days'];
  const ordered = context.sale.authorized ?? context.on;
  return opened(context, charge, {
    tax: ZERO,
    days,
    dueBy: days === undefined ? undefined : addDays(ordered, days),
    refundsTax: false,
    supplier,
  });
}

function opened(
  context: Context,
  charge: Charge,
  more: {
    tax: Decimal;
    days: number | undefined;
    dueBy: CoreEntry['dueBy'];
    refundsTax: boolean;
    supplier?: string | undefined;
  },
): Open {
  const { refundsTax, ...rest } = more;
  return {
    entry: {
      path: charge.path,
      part: charge.id!,
      name: charge.name,
      policy: corePolicy(context, charge),
      quantity: charge.quantity.value,
      each: charge.each!.value,
      deposit: rounded(product('Deposit', [charge.quantity, charge.each!]), context.places),
      ...rest,
    },
    charge,
    refundsTax,
    returned: ZERO,
    settled: ZERO,
    closed: ZERO,
    credits: [],
    taxes: [],
  };
}

/** Books what came back on the entries of its part, the first ones first. */
function book(context: Context, ledger: readonly Open[], back: CoreReturn, index: number): void {
  const path = ['cores', index];
  let left = dec(String(back.quantity ?? 1));
  for (const open of ledger) {
    if (!left.gt(ZERO) || !isOf(open.charge, back.part)) continue;
    const taken = least(left, open.entry.quantity.minus(open.returned));
    if (!taken.gt(ZERO)) continue;
    bookOn(context, open, back, taken, path);
    left = left.minus(taken);
  }
  if (left.gt(ZERO)) {
    const whose = back.ledger === 'customer' ? 'charged to the customer' : 'owed to a supplier';
    report(
      context,
      'error',
      'core-return-unmatched',
      path,
      `More cores of ${back.part} came back than were ${whose}: ${left} too many. Correct the quantity, the part or the ledger.`,
    );
  }
  if (share(back).lt(ONE) && back.reason === undefined) {
    report(
      context,
      'warning',
      'core-credit-without-reason',
      path,
      `The core of ${back.part} is not credited in full. Say why in \`reason\`.`,
    );
  }
}

function bookOn(
  context: Context,
  open: Open,
  back: CoreReturn,
  taken: Decimal,
  path: readonly (string | number)[],
): void {
  const { deposit, each, dueBy, tax, quantity } = open.entry;
  const credited = given('Credited', notBelowZero(context, share(back), path, 'This credit'), {
    measure: 'share',
    source: { path },
    ...(back.reason === undefined ? {} : { note: back.reason }),
  });
  const whole = given(
    'Core charge',
    taken.eq(quantity) ? deposit.value : round(each.times(taken), context.places),
  );
  const taxOnIt = given(
    'Tax on it',
    deposit.value.eq(ZERO) ? ZERO : tax.times(whole.value).div(deposit.value),
  );
  open.returned = open.returned.plus(taken);
  open.closed = open.closed.plus(whole.value);
  const late = dueBy !== undefined && back.returned! > dueBy;
  if (late) warnOfLate(context, open, back, whole.value, path);
  // Nothing was charged that could go back.
  if (open.entry.policy === 'when-late' && back.ledger === 'customer') return;

  // Where prices hold the tax, the deposit without it goes back, and the tax as the jurisdiction says.
  const charged =
    context.shop.tax?.prices === 'inclusive'
      ? difference('Core charge without tax', whole, [taxOnIt])
      : whole;
  const credit = rounded(product('Credit', [charged, credited]), context.places);
  open.credits.push(credit);
  let returned = credit.value;
  if (open.refundsTax) {
    const back = rounded(product('Tax', [taxOnIt, credited]), context.places);
    open.taxes.push(back);
    returned = returned.plus(back.value);
  }
  if (back.credited !== undefined) open.settled = open.settled.plus(returned);
}

function share(back: CoreReturn): Decimal {
  return least(ONE, back.credit ?? ONE);
}

function isOf({ id, numbers }: Charge, part: string): boolean {
  return id === part || numbers?.includes(part) === true;
}

function closed({ entry, returned, settled, closed, credits, taxes }: Open): CoreEntry {
  const none = (label: string): Amount => nothing(label, 'nothing came back');
  return {
    ...entry,
    returned,
    credit: credits.length > 0 ? sumOf('Credit', credits) : none('Credit'),
    taxBack: taxes.length > 0 ? sumOf('Tax that goes back', taxes) : none('Tax that goes back'),
    settled,
    open: entry.deposit.value.minus(closed),
  };
}

function warnOfLate(
  context: Context,
  { entry }: Open,
  back: CoreReturn,
  amount: Decimal,
  path: readonly (string | number)[],
): void {
  const whose: Record<Ledger, string> = {
    customer:
      entry.policy === 'when-late'
        ? `${money(context, amount)} falls due by the shop's policy`
        : 'say whether it is still credited',
    supplier: `the supplier may keep the ${money(context, amount)}`,
  };
  report(
    context,
    'warning',
    'core-late',
    path,
    `The core of ${back.part} came back on ${back.returned}, after ${entry.dueBy}: ${whose[back.ledger]}.`,
  );
}

/** Credits and tax of the customer's ledger that have not been handed over. */
export function creditsDue(entries: readonly CoreEntry[]): Amount {
  return sumOf(
    'Core credits due',
    entries.map(({ name, credit, taxBack, settled }) =>
      given(name, credit.value.plus(taxBack.value).minus(settled)),
    ),
  );
}
