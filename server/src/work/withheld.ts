/** Warranty plans that cannot be given as the job stands, and what would bring them back. */
import type { Problem } from '../../../schemas/problem.ts';
import { uncuredCause } from './cause.ts';
import { roleName } from './evaluate.ts';
import { append, type Facts } from './facts.ts';
import type { HeldRule } from './fixpoint.ts';
import type { Asking, Catalog, Reason, Requirement, WithheldPlan } from './model.ts';
import { askedByRule } from './needs/asking.ts';
import { list, relatedOf, why } from './say.ts';

interface Withholding {
  readonly asking: Asking;
  readonly restoredBy: readonly string[];
  /** Another problem tells of it already. */
  readonly told: boolean;
}

export interface Withheld {
  readonly plans: readonly WithheldPlan[];
  readonly problems: readonly Problem[];
}

export function withheldPlans(
  facts: Facts,
  held: readonly HeldRule[],
  requirements: readonly Requirement[],
  catalog: Catalog,
): Withheld {
  const byPlan = new Map<string, Withholding[]>();
  for (const rule of held) {
    const plans = rule.compiled.rule.withholds ?? [];
    const withholding = plans.length > 0 ? withholdingOf(rule, facts, requirements, catalog) : undefined;
    if (withholding) for (const plan of plans) append(byPlan, plan, withholding);
  }
  const promised = facts.input.plan;
  const cause = uncuredCause(facts, catalog);
  if (promised && cause)
    append(byPlan, promised.id, { asking: cause.asking, restoredBy: [cause.cure], told: true });

  const plans = [...byPlan].map(([plan, from]): WithheldPlan => {
    return {
      plan,
      promised: plan === promised?.id,
      asked: from.map((one) => one.asking),
      restoredBy: [...new Set(from.flatMap((one) => one.restoredBy))],
    };
  });
  const untold = (byPlan.get(promised?.id ?? '') ?? []).filter((one) => !one.told);
  return { plans, problems: promised && untold.length > 0 ? [problemOf(promised, untold, catalog)] : [] };
}

function withholdingOf(
  rule: HeldRule,
  facts: Facts,
  requirements: readonly Requirement[],
  catalog: Catalog,
): Withholding | undefined {
  const asking = askedByRule(rule);
  const asked = requirements.filter((one) => one.asked.some((by) => by.by === 'rule' && by.id === rule.id));
  if (!asksForAnything(rule)) return { asking, restoredBy: wantedBy(rule.reasons), told: false };
  const unmet = asked.filter((one) => one.state !== 'met' && !isPending(one, facts));
  if (unmet.length === 0) return undefined;
  const told = unmet.every(
    (one) => one.state === 'missing' && one.kind !== 'advises' && one.kind !== 'record',
  );
  return { asking, restoredBy: unmet.map((one) => subjectOf(one, catalog)), told };
}

function asksForAnything({ compiled: { rule } }: HeldRule): boolean {
  const asks = [
    rule.requires,
    rule.advises,
    rule.forbids,
    rule['forbids-reuse'],
    rule['needs-record'],
    rule['needs-finding'],
    rule.order,
  ];
  return asks.some((list) => list && list.length > 0);
}

/** A record comes with the work: until that is done, it is not missing. */
function isPending(requirement: Requirement, facts: Facts): boolean {
  return requirement.kind === 'record' && requirement.state === 'missing' && !facts.input.job.completed;
}

function wantedBy(reasons: readonly Reason[]): string[] {
  return reasons.flatMap((reason) => (reason.wanted ? [reason.wanted] : []));
}

function subjectOf(requirement: Requirement, catalog: Catalog): string {
  const { kind, record, finding, roles } = requirement;
  if (record) return `the record ${catalog.record(record)?.name ?? record}`;
  if (finding) return `a reading of ${catalog.finding(finding)?.name ?? finding}`;
  const names = roles.map((role) => roleName(catalog, role));
  if (kind === 'forbids') return `no ${list(names, 'or')}`;
  if (kind === 'reuse') return `no reuse of ${list(names, 'or')}`;
  return kind === 'order' ? `${names[0]} before ${names[1]}` : list(names, 'or');
}

function problemOf(
  promised: NonNullable<Facts['input']['plan']>,
  untold: readonly Withholding[],
  catalog: Catalog,
): Problem {
  const asked = untold.map((one) => one.asking);
  const restoredBy = [...new Set(untold.flatMap((one) => one.restoredBy))];
  const back = restoredBy.length > 0 ? ` It comes back with ${list(restoredBy)}.` : ' Choose another plan.';
  return {
    code: 'withheld-warranty',
    severity: 'error',
    message: `The warranty ${catalog.warranty(promised.id)?.name ?? promised.id} cannot be given. ${why(asked)}${back}`,
    path: promised.path,
    related: relatedOf(asked),
    data: { plan: promised.id },
  };
}
