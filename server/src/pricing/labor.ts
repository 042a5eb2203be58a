/**
 * Labor: own hours of each operation, the union of the access steps of all of them, add-ons by condition of the
 * vehicle; hours times rate, flat prices, minimums. What another operation on the job includes costs nothing.
 */
import type { Operation } from '../../../schemas/kinds/labor.ts';
import type { OperationLine } from '../../../schemas/kinds/lines.ts';
import { type Decimal, ONE, sum, ZERO } from '../../../schemas/values/decimal.ts';
import { addersOf } from './adders.ts';
import { type Amount, atLeast, given, nothing, product, rounded, sumOf } from './amount.ts';
import { type Charge, charge } from './charge.ts';
import { type Context, entry, money, notBelowZero, report } from './context.ts';
import { inclusions } from './includes.ts';
import type { SaleLine, SharedStep } from './model.ts';
import { needReason } from './reasons.ts';
import { type Carried, hoursFor, shareSteps, type Taker } from './steps.ts';
import { operationSublet } from './sublet.ts';

/** An operation on the job, with the way it is priced. */
export interface Work extends Taker {
  readonly from: SaleLine & { readonly line: OperationLine };
  readonly id: string;
  readonly way: 'fixed' | 'hours' | 'given-away' | 'included' | 'sublet';
  /** The operation on the job that covers it. */
  readonly includedIn: string | undefined;
}

/** A fixed price covers its steps whoever else needs them; what is given away carries only what nobody pays for. */
const RANK: Record<Work['way'], number> = { fixed: 0, hours: 1, 'given-away': 2, included: 3, sublet: 3 };

export interface Labor {
  /** By place among the sale's lines. */
  readonly charges: ReadonlyMap<number, readonly Charge[]>;
  readonly shared: readonly SharedStep[];
}

export function labor(context: Context): Labor {
  const works = worksOf(context);
  const steps = shareSteps(
    context,
    works.filter((work) => RANK[work.way] < 3),
  );
  warnOfRepeats(context, works);
  return {
    charges: new Map(works.map((work) => [work.order, chargesOf(context, work, steps)])),
    shared: steps.filter((one) => one.others.length > 0).map((one) => shared(context, one)),
  };
}

function worksOf(context: Context): Work[] {
  const known: { order: number; from: Work['from']; operation: Operation; id: string }[] = [];
  context.sale.lines.forEach((from, order) => {
    if (!('operation' in from.line)) return;
    const operation = context.catalog.operation(from.line.operation);
    if (operation) known.push({ order, from: from as Work['from'], operation, id: from.line.operation });
    else context.complete = false;
  });
  const includedIn = inclusions(
    context.catalog,
    known.map((one) => one.id),
  );
  return known.map((one) => {
    const way = wayOf(one.from.line, one.operation, includedIn.has(one.id));
    return { ...one, way, rank: RANK[way], includedIn: includedIn.get(one.id) };
  });
}

function wayOf(line: OperationLine, operation: Operation, included: boolean): Work['way'] {
  if (included) return 'included';
  if (line['no-charge']) return 'given-away';
  if (operation.sublet) return 'sublet';
  return line.price !== undefined || (operation.price !== undefined && line.hours === undefined)
    ? 'fixed'
    : 'hours';
}

function chargesOf(context: Context, work: Work, steps: readonly Carried<Work>[]): Charge[] {
  if (work.way === 'sublet') return operationSublet(context, work);
  if (work.way === 'included') return [included(context, work)];

  const carried = steps.filter((one) => one.by === work);
  const times = work.from.line.quantity ?? ONE;
  const own = ownHours(context, work, steps);
  const groups = byRate(context, work, own, addersOf(context, work), carried, times);
  const hours = sumOf(
    'Hours',
    groups.flatMap((group) => group.hours),
    { measure: 'hours' },
  );
  const priced = { ...base(work), hours, steps: carried.map((one) => one.access.id) };
  const cost = costOf(context, groups);

  if (work.way === 'given-away') {
    return [charge({ ...priced, amount: nothing('Labor', 'no charge'), cost, quantity: hours, unit: 'hour' })];
  }
  const hoursSold = hours.value;
  if (work.way === 'fixed') {
    const each = fixedPrice(context, work);
    const quantity = given('Times', times, { measure: 'number', source: { path: work.from.path } });
    const amount = rounded(
      times.eq(ONE) ? each : product('Labor', [quantity, each]),
      context.places,
    );
    return [charge({ ...priced, quantity, each, amount: withMinimum(work, amount), hoursSold, cost })];
  }

  const amount = rounded(hourly(context, work, groups), context.places);
  const only = groups.length === 1 ? rateOf(context, groups[0]!.rate) : undefined;
  return [
    charge({
      ...priced,
      quantity: hours,
      unit: 'hour',
      ...(only ? { each: only } : {}),
      rate: work.operation.rate,
      amount: withMinimum(work, amount),
      hoursSold,
      cost,
    }),
  ];
}

function base(work: Work) {
  const { operation, from, id, order, includedIn } = work;
  const coverage =
    operation.work === 'diagnosis' || operation.work === 'programming' ? operation.work : ('labor' as const);
  return {
    kind: 'labor' as const,
    path: from.path,
    line: from.line,
    from: from.from,
    name: operation.name,
    id,
    category: 'labor' as const,
    coverage,
    taxClass: operation['tax-class'] ?? (operation.work === 'diagnosis' ? 'diagnosis' : 'labor'),
    role: operation.role,
    order,
    includedIn,
  };
}

/** Hours at one rate; `rate` is undefined where nothing names one. */
interface Group {
  readonly rate: string | undefined;
  readonly hours: Amount[];
}

/** The operation's own time and add-ons at its rate, and each access step at its own rate or at that one. */
function byRate(
  context: Context,
  work: Work,
  own: Amount,
  adders: readonly Amount[],
  carried: readonly Carried<Work>[],
  times: Decimal,
): Group[] {
  const repeated = (hours: Amount): Amount =>
    times.eq(ONE)
      ? hours
      : product(hours.label, [given('Times', times, { measure: 'number' }), hours], { measure: 'hours' });
  const main: Group = { rate: work.operation.rate, hours: [own, ...adders].map(repeated) };
  const groups = [main];
  for (const { access } of carried) {
    const rate = access.step.rate ?? main.rate;
    let group = groups.find((one) => one.rate === rate);
    if (!group) groups.push((group = { rate, hours: [] }));
    group.hours.push(
      given(access.step.name, access.hours, { measure: 'hours', source: { kind: 'step', id: access.id } }),
    );
  }
  const sold = groups.filter((group) => sum(group.hours.map((one) => one.value)).gt(ZERO));
  return sold.length > 0 ? sold : [main];
}

function hourly(context: Context, work: Work, groups: readonly Group[]): Amount {
  const amounts = groups.map((group) => {
    const hours = sumOf('Hours', group.hours, { measure: 'hours' });
    if (hours.value.eq(ZERO)) return nothing('Labor', 'no hours');
    const rate = rateOf(context, group.rate);
    if (rate) return product('Labor', [hours, rate]);
    context.complete = false;
    if (group.rate === undefined) {
      report(
        context,
        'error',
        'operation-without-rate',
        work.from.path,
        `${work.operation.name} has ${hours.value} h but no labor rate, so it is counted as 0. Give the operation a rate or a flat price.`,
        { related: [{ kind: 'operation', id: work.id, message: 'It names no rate.' }] },
      );
    }
    return nothing('Labor', 'no labor rate');
  });
  return amounts.length === 1 ? amounts[0]! : sumOf('Labor', amounts);
}

/** The price of an hour: as locked with the estimate, else the shop's. */
export function rateOf(context: Context, id: string | undefined): Amount | undefined {
  if (id === undefined) return undefined;
  const locked = entry(context.sale.lock?.rates, id);
  if (locked) return given('Rate', locked, { source: { path: ['lock', 'rates', id] }, note: 'locked price' });
  const rate = entry(context.shop.rates, id);
  return rate && given('Rate', notBelowZero(context, rate.hourly, [], rate.name), { source: { kind: 'rate', id } });
}

function costOf(context: Context, groups: readonly Group[]): Amount | undefined {
  const costs: Amount[] = [];
  for (const group of groups) {
    const hours = sumOf('Hours', group.hours, { measure: 'hours' });
    const hourCost = group.rate === undefined ? undefined : entry(context.shop.rates, group.rate)?.cost;
    if (hours.value.eq(ZERO)) continue;
    if (!hourCost || group.rate === undefined) return undefined;
    costs.push(
      product('Labor cost', [
        hours,
        given('Cost of an hour', hourCost, { source: { kind: 'rate', id: group.rate, field: 'cost' } }),
      ]),
    );
  }
  return costs.length === 1 ? costs[0]! : sumOf('Labor cost', costs);
}

function ownHours(context: Context, work: Work, steps: readonly Carried<Work>[]): Amount {
  const { line, path } = work.from;
  const book = hoursFor(context, work.operation);
  if (line.hours !== undefined) {
    needReason(context, line.reason, path, 'hours');
    warnOfOverlap(context, work, book ?? ZERO, line.hours, steps);
    return given('Own hours', line.hours, {
      measure: 'hours',
      source: { path: [...path, 'hours'] },
      note: line.reason ?? 'typed on the job',
    });
  }
  const source = { kind: 'operation', id: work.id } as const;
  if (book) return given('Own hours', book, { measure: 'hours', source });
  const priced = work.way === 'fixed';
  if (!priced && (work.operation['hours-by'] !== undefined || !work.operation.steps?.length)) {
    context.complete = false;
    const family = context.unit?.name ?? context.sale.unit;
    report(
      context,
      'error',
      'hours-missing',
      path,
      `${work.operation.name} has neither hours${family ? ` for ${family}` : ''} nor a flat price, so its own time is counted as 0. Add hours to the operation, or hours with a reason to this line.`,
      { related: [{ kind: 'operation', id: work.id, message: 'Its hours are missing.' }] },
    );
  }
  return nothing('Own hours', priced ? 'none said; the price is fixed' : 'none of its own', 'hours');
}

function fixedPrice(context: Context, work: Work): Amount {
  const { line, path } = work.from;
  if (line.price === undefined) {
    const price = notBelowZero(context, work.operation.price ?? ZERO, [], work.operation.name);
    return given('Flat price', price, { source: { kind: 'operation', id: work.id, field: 'price' } });
  }
  needReason(context, line.reason, path, 'price');
  return given('Price', notBelowZero(context, line.price, [...path, 'price'], 'This price'), {
    source: { path: [...path, 'price'] },
    note: line.reason ?? 'typed on the job',
  });
}

function withMinimum(work: Work, amount: Amount): Amount {
  const minimum = work.operation.minimum;
  if (minimum === undefined || work.from.line.price !== undefined) return amount;
  const source = { kind: 'operation', id: work.id, field: 'minimum' } as const;
  return atLeast(amount, given('Minimum charge', minimum, { source }));
}

function included(context: Context, work: Work): Charge {
  const covering = context.catalog.operation(work.includedIn!)!;
  const hours = work.from.line.hours ?? hoursFor(context, work.operation) ?? ZERO;
  const rate = rateOf(context, work.operation.rate)?.value ?? ZERO;
  const alone = work.from.line.price ?? work.operation.price ?? hours.times(rate);
  report(
    context,
    'warning',
    'operation-included',
    work.from.path,
    `${work.operation.name} is part of ${covering.name}, which is on the job: its ${money(context, alone)} is not billed. Take this line out.`,
    {
      related: [{ kind: 'operation', id: work.includedIn!, message: 'It includes this work.' }],
      tags: ['unnecessary'],
      data: { operation: work.id, includedIn: work.includedIn!, amount: alone.toString() },
    },
  );
  return charge({
    ...base(work),
    amount: nothing('Labor', `part of ${covering.name}`),
    unit: 'hour',
    quantity: nothing('Hours', `part of ${covering.name}`, 'hours'),
    cost: nothing('Labor cost', `part of ${covering.name}`),
  });
}

function shared(context: Context, { access, by, others }: Carried<Work>): SharedStep {
  const saved = others.map((other) => {
    const hours = given(access.step.name, access.hours, { measure: 'hours' });
    const rate = rateOf(context, access.step.rate ?? other.operation.rate) ?? nothing('Rate', 'none');
    return rounded(product(`Not counted again for ${other.operation.name}`, [hours, rate]), context.places);
  });
  return {
    step: access.id,
    name: access.step.name,
    hours: access.hours,
    carriedBy: by.from.path,
    alsoNeededBy: others.map((other) => other.from.path),
    saved: sumOf('Not counted again', saved),
  };
}

/** Typed hours that look like the operation's time on its own, access included, while another line bills the access. */
function warnOfOverlap(
  context: Context,
  work: Work,
  book: Decimal,
  typed: Decimal,
  steps: readonly Carried<Work>[],
): void {
  const twice = steps.filter((one) => one.by !== work && one.others.includes(work));
  const hours = sum(twice.map((one) => one.access.hours));
  if (hours.eq(ZERO) || typed.lt(book.plus(hours))) return;
  const rate = rateOf(context, work.operation.rate)?.value ?? ZERO;
  const names = twice.map((one) => one.access.step.name).join(', ');
  report(
    context,
    'warning',
    'labor-overlap',
    [...work.from.path, 'hours'],
    `${typed} h looks like the time of ${work.operation.name} on its own: ${hours} h of it (${names}) is billed with ${twice[0]!.by.operation.name} already, so ${money(context, hours.times(rate))} is billed twice. Leave the hours out, or write ${typed.minus(hours)}.`,
    { data: { hours: typed.minus(hours).toString() } },
  );
}

function warnOfRepeats(context: Context, works: readonly Work[]): void {
  const seen = new Map<string, Work>();
  for (const work of works) {
    if (work.way === 'included' || work.way === 'given-away') continue;
    const first = seen.get(work.id);
    if (!first) {
      seen.set(work.id, work);
      continue;
    }
    report(
      context,
      'warning',
      'operation-twice',
      work.from.path,
      `${work.operation.name} is on the job twice, and its own time is billed twice. Take one of the lines out, or write how often it is done as its quantity.`,
      { data: { operation: work.id, first: [...first.from.path] } },
    );
  }
}
