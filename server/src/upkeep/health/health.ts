/** What a shop admin would want to know about a book that is not wrong, but not well kept either. */
import type { IsoDate } from '../../../../schemas/values/dates.ts';
import type { Estimates } from '../../estimate/estimates.ts';
import { lookAlikes } from './duplicates.ts';
import type { Finding } from './finding.ts';
import { thinMargins } from './margins.ts';
import { neverPriced, oldPrices, pricedBelowCost } from './prices.ts';
import { replacedAndNamed } from './replaced.ts';
import { brokenTemplates } from './templates.ts';
import { unused } from './unused.ts';

export interface HealthOptions {
  readonly on: IsoDate;
  /** Prices older than this many months are told. */
  readonly months: number;
}

export interface Health {
  readonly findings: readonly Finding[];
  /** Parts whose prices bear no date, so that nobody can say how old they are. */
  readonly undated: number;
}

/** Bit by bit, so that a program that answers others can pause between. */
export function* health(estimates: Estimates, { on, months }: HealthOptions): Generator<void, Health> {
  const { book } = estimates;
  const findings: Finding[] = [...pricedBelowCost(book, on)];
  yield;
  findings.push(...(yield* thinMargins(estimates)));
  findings.push(...neverPriced(book));
  yield;
  findings.push(...brokenTemplates(estimates));
  yield;
  findings.push(...replacedAndNamed(book, on));
  yield;
  const old = oldPrices(book, on, months);
  findings.push(...old.findings, ...lookAlikes(book));
  yield;
  findings.push(...unused(book));
  return { findings, undated: old.undated };
}
