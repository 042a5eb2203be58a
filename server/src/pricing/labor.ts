/**
 * Labor: own hours of each operation, the union of the access steps of all of them, add-ons by condition of the
 * vehicle; hours times rate, flat prices, minimums. What another operation on the job includes costs nothing.
 */
import { ONE, ZERO } from '../../../schemas/values/decimal.ts';
import { addersOf } from './adders.ts';
import { type Amount, atLeast, given, nothing, product, rounded, sumOf } from './amount.ts';
import { type Charge, charge } from './charge.ts';
import { type Context, entry, money, notBelowZero, report, typedMoney } from './context.ts';
import { byRate, costOf, type Group, hourly, ownHours, rateOf, timesOf } from './hours.ts';
import type { SharedStep } from './model.ts';
import { warnOfRepeats } from './overlap.ts';
import { needReason } from './reasons.ts';
import { type Carried, hoursFor, shareSteps } from './steps.ts';
import { operationSublet } from './sublet.ts';
import { type Work, worksOf } from './works.ts';

export interface Labor {
  /** By place among the sale's lines. */
  readonly charges: ReadonlyMap<number, readonly Charge[]>;
  readonly shared: readonly SharedStep[];
}

export function labor(context: Context): Labor {
  const works = worksOf(context);
  const steps = shareSteps(
    context,
    works.filter((work) => work.way !== 'included'),
  );
  warnOfRepeats(context, works);
  return {
    charges: new Map(works.map((work) => [work.order, chargesOf(context, work, steps)])),
    shared: steps.filter((one) => one.others.length > 0).map((one) => shared(context, one)),
  };
}

function chargesOf(context: Context, work: Work, steps: readonly Carried<Work>[]): Charge[] {
  if (work.way === 'included') return [included(context, work)];
  const done = timed(context, work, steps);
  if (work.way === 'given-away') return [givenAway(done)];
  if (work.way === 'fixed') return [atFixedPrice(context, work, done)];
  if (work.way === 'hours') return [byTheHour(context, work, done)];
  const bought = operationSublet(context, work);
  return done.hours.value.gt(ZERO) ? [...bought, byTheHour(context, work, done)] : bought;
}

/** What is done on a line, before it is priced. */
interface Done {
  readonly base: ReturnType<typeof baseOf> & Pick<Charge, 'hours' | 'steps' | 'cost'>;
  readonly hours: Amount;
  readonly groups: readonly Group[];
}

function timed(context: Context, work: Work, steps: readonly Carried<Work>[]): Done {
  const carried = steps.filter((one) => one.by === work);
  const groups = byRate(work, ownHours(context, work, steps), addersOf(context, work), carried);
  const all = groups.flatMap((group) => group.hours);
  const hours = sumOf('Hours', all, { measure: 'hours' });
  const cost = costOf(context, work, groups);
  return {
    base: { ...baseOf(work), hours, steps: carried.map((one) => one.access.id), cost },
    hours,
    groups,
  };
}

function givenAway({ base, hours }: Done): Charge {
  return charge({ ...base, amount: nothing('Labor', 'no charge'), quantity: hours, unit: 'hour' });
}

function atFixedPrice(context: Context, work: Work, { base, hours }: Done): Charge {
  const each = fixedPrice(context, work);
  const quantity = timesOf(work);
  const amount = rounded(quantity.value.eq(ONE) ? each : product('Labor', [quantity, each]), context.places);
  return charge({
    ...base,
    quantity,
    each,
    amount: withMinimum(context, work, amount),
    hoursSold: hours.value,
  });
}

function byTheHour(context: Context, work: Work, { base, hours, groups }: Done): Charge {
  const amount = rounded(hourly(context, work, groups), context.places);
  return charge({
    ...base,
    quantity: hours,
    unit: 'hour',
    each: groups.length === 1 ? rateOf(context, groups[0]!.rate) : undefined,
    rate: work.operation.rate,
    amount: withMinimum(context, work, amount),
    hoursSold: hours.value,
  });
}

function baseOf(work: Work) {
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

function fixedPrice(context: Context, work: Work): Amount {
  const { line, path } = work.from;
  if (line.price === undefined) {
    const locked = entry(context.sale.lock?.operations, work.id);
    if (locked) {
      const at = ['lock', 'operations', work.id];
      const value = notBelowZero(context, locked, at, 'This locked price');
      return given('Flat price', value, { source: { path: at }, note: 'locked price' });
    }
    const price = notBelowZero(context, work.operation.price ?? ZERO, [], work.operation.name);
    return given('Flat price', price, { source: { kind: 'operation', id: work.id, field: 'price' } });
  }
  needReason(context, line.reason, path, 'price');
  return given('Price', notBelowZero(context, line.price, [...path, 'price'], 'This price'), {
    source: { path: [...path, 'price'] },
    note: line.reason ?? 'typed on the job',
  });
}

function withMinimum(context: Context, work: Work, amount: Amount): Amount {
  const minimum = work.operation.minimum;
  if (minimum === undefined || work.from.line.price !== undefined) return amount;
  const source = { kind: 'operation', id: work.id, field: 'minimum' } as const;
  return atLeast(
    amount,
    given('Minimum charge', typedMoney(context, minimum, [], 'Minimum charge'), { source }),
  );
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
    ...baseOf(work),
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
