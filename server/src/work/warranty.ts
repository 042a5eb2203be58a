/** The plan that an option promises: when it ends, what it hangs on, what it leaves to the customer. */
import type { Warranty } from '../../../schemas/kinds/shop.ts';
import type { Problem } from '../../../schemas/problem.ts';
import type { IsoDate } from '../../../schemas/values/dates.ts';
import { ZERO } from '../../../schemas/values/decimal.ts';
import type { Quantity } from '../../../schemas/values/quantity.ts';
import { type TermState, termEnd, whicheverFirst } from '../../../schemas/values/term.ts';
import type { Facts } from './facts.ts';
import type { Catalog, Requirement, WarrantyReport, WithheldPlan } from './model.ts';
import { money } from './say.ts';

/** Where a plan starts to count. */
export interface PlanStart {
  readonly completed: IsoDate;
  readonly odometer?: Quantity | undefined;
}

function termOf(plan: Warranty, { completed, odometer }: PlanStart) {
  return { start: completed, months: plan.months, odometer, distance: plan.distance };
}

/** Whether a plan is in force on a day and at a reading, months or distance, whichever comes first. */
export function planInForce(
  plan: Warranty,
  start: PlanStart,
  claim: { date: IsoDate; odometer?: Quantity | undefined },
): TermState {
  return whicheverFirst(termOf(plan, start), claim);
}

export function warrantyReport(
  facts: Facts,
  requirements: readonly Requirement[],
  withheld: readonly WithheldPlan[],
  catalog: Catalog,
): WarrantyReport | undefined {
  const { plan: promised, labor, job } = facts.input;
  const plan = promised && catalog.warranty(promised.id);
  if (!plan) return undefined;
  const unproven = requirements.filter(
    (one) => one.record !== undefined && one.state !== 'met' && plan.requires?.includes(one.record),
  );
  const odometer = job.vehicle?.['odometer-out'] ?? job.vehicle?.odometer;
  return {
    plan: promised.id,
    withheld: withheld.some((one) => one.plan === promised.id),
    unproven: unproven.map((one) => one.record!),
    ends: job.completed && termEnd(termOf(plan, { completed: job.completed, odometer })),
    laborNotCovered: plan.covers === 'parts-only' ? labor : undefined,
  };
}

export function warrantyProblems(facts: Facts, catalog: Catalog): Problem[] {
  const { plan: promised, labor, job } = facts.input;
  const plan = promised && catalog.warranty(promised.id);
  if (!plan) return [];
  const problems: Problem[] = [];
  if (plan.covers === 'parts-only' && labor?.gt(ZERO)) {
    problems.push({
      code: 'labor-not-covered',
      severity: 'information',
      message: `${plan.name} covers parts only: on a claim the customer pays the labor, ${money(labor, facts.input)} at today's price. Show that on the option before it is chosen.`,
      path: promised.path,
      data: { labor: labor.toString() },
    });
  }
  if (job.completed && plan.distance && !job.vehicle?.['odometer-out'] && !job.vehicle?.odometer) {
    problems.push({
      code: 'warranty-without-start',
      severity: 'warning',
      message: `${plan.name} ends after a distance, but no odometer reading says where it starts. Write \`odometer-out\` at the vehicle.`,
      path: ['vehicle'],
      onKey: true,
    });
  }
  return problems;
}
