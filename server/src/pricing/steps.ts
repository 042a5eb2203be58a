/** Access steps: what operations share is done, and sold, once. */
import type { Operation, Step } from '../../../schemas/kinds/labor.ts';
import { type Decimal, ZERO } from '../../../schemas/values/decimal.ts';
import { type Context, entry } from './context.ts';

/** An access step with its hours for the unit family. */
export interface Access {
  readonly id: string;
  readonly step: Step;
  readonly hours: Decimal;
}

/** An operation that may carry steps. Those with a lower rank take theirs first. */
export interface Taker {
  readonly order: number;
  readonly operation: Operation;
  readonly rank: number;
}

/** Which operation carries a step, and which others need it as well. */
export interface Carried<T extends Taker> {
  readonly access: Access;
  readonly by: T;
  readonly others: readonly T[];
}

/**
 * The union of the access steps of all operations, each step carried by one of those that need it: the first by
 * rank, then by place on the job.
 */
export function shareSteps<T extends Taker>(context: Context, takers: readonly T[]): Carried<T>[] {
  const carried = new Map<string, { access: Access; by: T; others: T[] }>();
  for (const taker of takers.toSorted((a, b) => a.rank - b.rank || a.order - b.order)) {
    for (const access of accessOf(context, taker.operation)) {
      const known = carried.get(access.id);
      if (known) known.others.push(taker);
      else carried.set(access.id, { access, by: taker, others: [] });
    }
  }
  return [...carried.values()];
}

/** The steps of an operation and the steps those need, each once, what is needed first before what needs it. */
export function accessOf(context: Context, operation: Operation): Access[] {
  const found = new Map<string, Access | undefined>();
  const visit = (id: string): void => {
    if (found.has(id)) return;
    const step = context.catalog.step(id);
    if (!step) {
      context.complete = false;
      return;
    }
    found.set(id, undefined);
    for (const needed of step.needs ?? []) visit(needed);
    found.delete(id);
    found.set(id, { id, step, hours: hoursFor(context, step) ?? ZERO });
  };
  for (const id of operation.steps ?? []) visit(id);
  return [...found.values()].filter((access) => access !== undefined);
}

/** Hours by the unit family, else the general ones. */
export function hoursFor(
  context: Context,
  timed: Pick<Operation, 'hours' | 'hours-by'>,
): Decimal | undefined {
  const family = context.sale.unit;
  const own = family === undefined ? undefined : entry(timed['hours-by'], family);
  return own ?? timed.hours;
}
