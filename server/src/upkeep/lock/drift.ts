/** How far the book has moved away from a locked estimate: line by line, adding up to the difference of the totals. */
import type { Path } from '../../../../schemas/problem.ts';
import type { IsoDate } from '../../../../schemas/values/dates.ts';
import { type Decimal, sum, ZERO } from '../../../../schemas/values/decimal.ts';
import type { BookFile } from '../../book/file.ts';
import type { PricedJob } from '../../estimate/estimate.ts';
import type { Estimates } from '../../estimate/estimates.ts';
import { overAuthorized } from '../../estimate/papers.ts';
import type { Priced, PricedLine } from '../../pricing/model.ts';
import { jobOf, pricedWith } from '../jobs.ts';
import { WHOLE_JOB } from './lock.ts';

export interface DriftLine {
  /** Place in the job; empty for what is put on by itself, and for tax. */
  readonly path: Path;
  readonly what: string;
  readonly id: string | undefined;
  readonly was: Decimal;
  readonly now: Decimal;
}

export interface OptionDrift {
  readonly id: string | undefined;
  readonly name: string;
  readonly counted: boolean;
  /** The total that its owner holds: as kept with the lock, else as the lock prices it. */
  readonly presented: Decimal;
  /** The total by the prices of the book on the day asked about. */
  readonly today: Decimal;
  /** Lines that differ, the largest first; they add up to `today` less `presented`. */
  readonly lines: readonly DriftLine[];
}

export interface JobDrift {
  readonly file: BookFile;
  readonly locked: IsoDate;
  readonly on: IsoDate;
  readonly options: readonly OptionDrift[];
  /** Of the option that was chosen; the first, while there is a choice. */
  readonly counted: OptionDrift;
  /** Why re-pricing would need new consent; undefined where it would not. */
  readonly consent: string | undefined;
}

/** Undefined for jobs whose prices are not locked. */
export function driftOf(estimates: Estimates, file: BookFile, on: IsoDate): JobDrift | undefined {
  const { lock } = jobOf(file);
  if (!lock) return undefined;
  const kept = pricedWith(estimates, file, {});
  const fresh = pricedWith(estimates, file, { lock: undefined, 'priced-on': on });
  const options = kept.options.map((option, i): OptionDrift => {
    const now = fresh.options[i]!.priced;
    const presented = lock.totals?.[option.id ?? WHOLE_JOB] ?? option.priced.total.value;
    return {
      id: option.id,
      name: option.name,
      counted: option === kept.counted,
      presented,
      today: now.total.value,
      lines: linesOf(option.priced, now, presented),
    };
  });
  return {
    file,
    locked: lock.on,
    on,
    options,
    counted: options.find(({ counted }) => counted)!,
    consent: consentNeeded(fresh),
  };
}

export function differenceOf({ was, now }: Pick<DriftLine, 'was' | 'now'>): Decimal {
  return now.minus(was);
}

export function consentNeeded({ job, policy, counted }: PricedJob): string | undefined {
  return overAuthorized(job, policy, counted.priced)?.message;
}

/** What holds a total although no line shows it: tax, and what the lock has no price of. */
function linesOf(kept: Priced, fresh: Priced, presented: Decimal): DriftLine[] {
  const whole = (what: string, was: Decimal, now: Decimal): DriftLine => ({
    path: [],
    what,
    id: undefined,
    was,
    now,
  });
  return [
    ...paired(kept.lines, fresh.lines),
    ...(kept.tax.included ? [] : [whole('Tax', kept.tax.amount.value, fresh.tax.amount.value)]),
    whole('What a lock does not hold: hours, supplies, tax', presented, kept.total.value),
  ]
    .filter(({ was, now }) => !was.eq(now))
    .sort((a, b) => differenceOf(b).abs().cmp(differenceOf(a).abs()));
}

function paired(kept: readonly PricedLine[], fresh: readonly PricedLine[]): DriftLine[] {
  const now = keyed(fresh);
  const was = keyed(kept);
  return [...new Set([...was.keys(), ...now.keys()])].map((key) => {
    const [before, after] = [was.get(key), now.get(key)];
    const line = after ?? before!;
    return {
      path: line.path,
      what: line.name,
      id: line.id,
      was: before ? sum(before.nets) : ZERO,
      now: after ? sum(after.nets) : ZERO,
    };
  });
}

/** Lines by where they are written and what they are; the lines of one template call by what was asked for. */
function keyed(lines: readonly PricedLine[]) {
  const found = new Map<string, Pick<PricedLine, 'path' | 'name' | 'id'> & { nets: Decimal[] }>();
  for (const { path, kind, id, numbers, name, net } of lines) {
    const key = JSON.stringify([path, kind, numbers?.[0] ?? id ?? name]);
    const one = found.get(key);
    if (one) one.nets.push(net.value);
    else found.set(key, { path, name, id, nets: [net.value] });
  }
  return found;
}
