/** Hours of an operation and what they cost: its own time, its add-ons and the steps it carries, by rate. */
import { ONE, sum, ZERO } from '../../../schemas/values/decimal.ts';
import { type Amount, given, nothing, product, sumOf } from './amount.ts';
import { type Context, entry, notBelowZero, report } from './context.ts';
import { warnOfOverlap } from './overlap.ts';
import { needReason } from './reasons.ts';
import { type Carried, hoursFor } from './steps.ts';
import type { Work } from './works.ts';

/** Hours at one rate; `rate` is undefined where nothing names one. */
export interface Group {
  readonly rate: string | undefined;
  readonly hours: Amount[];
}

/** The operation's own time and add-ons at its rate, and each access step at its own rate or at that one. */
export function byRate(
  work: Work,
  own: Amount,
  adders: readonly Amount[],
  carried: readonly Carried<Work>[],
): Group[] {
  const times = timesOf(work);
  const repeated = (hours: Amount): Amount =>
    times.value.eq(ONE) ? hours : product(hours.label, [times, hours], { measure: 'hours' });
  const main: Group = { rate: work.operation.rate, hours: [own, ...adders].map(repeated) };
  const groups = [main];
  for (const { access } of carried) {
    const rate = access.step.rate ?? main.rate;
    let group = groups.find((one) => one.rate === rate);
    if (!group) {
      group = { rate, hours: [] };
      groups.push(group);
    }
    group.hours.push(
      given(access.step.name, access.hours, { measure: 'hours', source: { kind: 'step', id: access.id } }),
    );
  }
  const sold = groups.filter((group) => sum(group.hours.map((one) => one.value)).gt(ZERO));
  return sold.length > 0 ? sold : [main];
}

/** How often an operation is done; its access is done once. */
export function timesOf({ from: { line, path } }: Work): Amount {
  return given('Times', line.quantity ?? ONE, { measure: 'number', source: { path: [...path, 'quantity'] } });
}

export function hourly(context: Context, work: Work, groups: readonly Group[]): Amount {
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
  if (locked) {
    const path = ['lock', 'rates', id];
    const value = notBelowZero(context, locked, path, 'This locked rate');
    return given('Rate', value, { source: { path }, note: 'locked price' });
  }
  const rate = entry(context.shop.rates, id);
  return (
    rate && given('Rate', notBelowZero(context, rate.hourly, [], rate.name), { source: { kind: 'rate', id } })
  );
}

/** What the hours cost the shop. Not known where a rate does not say, or where a price has no hours behind it. */
export function costOf(context: Context, work: Work, groups: readonly Group[]): Amount | undefined {
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
  if (costs.length === 0 && work.way === 'fixed') return undefined;
  return costs.length === 1 ? costs[0]! : sumOf('Labor cost', costs);
}

export function ownHours(context: Context, work: Work, steps: readonly Carried<Work>[]): Amount {
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
  const priced = work.way === 'fixed' || work.way === 'sublet';
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
  return nothing('Own hours', priced ? 'none said' : 'none of its own', 'hours');
}
