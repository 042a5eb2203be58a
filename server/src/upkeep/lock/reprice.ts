/** Giving a locked estimate the prices of another day: what it would come to, and whether its owner has to be asked. */
import type { IsoDate } from '../../../../schemas/values/dates.ts';
import type { BookFile } from '../../book/file.ts';
import type { Estimates } from '../../estimate/estimates.ts';
import type { TextChange } from '../../syntax/file.ts';
import { pricedWith } from '../jobs.ts';
import { driftOf, type JobDrift } from './drift.ts';
import { lockFigures } from './lock.ts';
import { lockChanges } from './write.ts';

export interface Repricing {
  readonly drift: JobDrift;
  /** None when nothing would change. Undefined where the text does not allow them. */
  readonly changes: TextChange[] | undefined;
}

/** Undefined for a job without a lock. */
export function repricing(estimates: Estimates, file: BookFile, on: IsoDate): Repricing | undefined {
  const drift = driftOf(estimates, file, on);
  if (!drift) return undefined;
  if (drift.options.every(({ lines }) => lines.length === 0)) return { drift, changes: [] };
  const fresh = pricedWith(estimates, file, { lock: undefined, 'priced-on': on });
  const teardown = estimates.of(file)?.teardown;
  return { drift, changes: lockChanges(file, lockFigures({ ...fresh, teardown }, on), true) };
}

/** The changes that lock a job at what it comes to now. */
export function locking(estimates: Estimates, file: BookFile, on: IsoDate): TextChange[] | undefined {
  const estimate = estimates.of(file);
  return estimate && lockChanges(file, lockFigures(estimate, on));
}
