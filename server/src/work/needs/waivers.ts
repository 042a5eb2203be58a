/** Waivers: what they set aside, whether they are signed, and whether they can. */
import type { Problem } from '../../../../schemas/problem.ts';
import type { Facts } from '../facts.ts';
import type { Catalog, Requirement, WithheldPlan } from '../model.ts';
import { list, roleNames } from '../say.ts';
import { isLaw } from './asking.ts';

export function waiverProblems(
  requirements: readonly Requirement[],
  withheld: readonly WithheldPlan[],
  facts: Facts,
  catalog: Catalog,
): Problem[] {
  return (facts.input.job.waivers ?? []).flatMap((waiver, index): Problem[] => {
    const path = ['waivers', index];
    const waived = requirements.filter(({ by }) =>
      by.some((one) => one.how === 'waiver' && one.path[1] === index),
    );
    const name = (one: Requirement) => subject(one, catalog);
    const weighty = waived.filter((one) => one.kind !== 'advises' || withholds(one, withheld));
    const problems: Problem[] = [];
    if (weighty.length > 0 && !waiver.signed) {
      const plans = withheld.filter((plan) => weighty.some((one) => withholds(one, [plan])));
      const names = plans.map(({ plan }) => catalog.warranty(plan)?.name ?? plan);
      const effect = plans.length > 0 ? ` It costs the warranty ${list(names, 'and')}.` : '';
      problems.push({
        code: 'unsigned-waiver',
        severity: 'warning',
        message: `${waiver.by} declined ${list(weighty.map(name))} without a signature.${effect} Have it signed and write \`signed: yes\`.`,
        path,
      });
    }
    const lawful = requirements.filter(
      (one) =>
        one.state !== 'met' && one.state !== 'waived' && one.asked.some(isLaw) && concerns(waiver, one),
    );
    if (lawful.length > 0) {
      problems.push({
        code: 'waiver-against-law',
        severity: 'warning',
        message: `A waiver does not lift what the law asks for: ${list(lawful.map(name))}.`,
        path,
      });
    }
    return problems;
  });
}

function withholds(requirement: Requirement, withheld: readonly WithheldPlan[]): boolean {
  return withheld.some((plan) =>
    plan.asked.some((asking) =>
      requirement.asked.some((one) => one.by === asking.by && one.id === asking.id),
    ),
  );
}

type Waiver = NonNullable<Facts['input']['job']['waivers']>[number];

function concerns(waiver: Waiver, { roles, record, asked }: Requirement): boolean {
  if (waiver.record !== undefined) return waiver.record === record;
  if (waiver.role !== undefined) return roles.includes(waiver.role);
  return asked.some((asking) => asking.by === 'rule' && asking.id === waiver.rule);
}

function subject({ roles, record, finding }: Requirement, catalog: Catalog): string {
  if (record) return catalog.record(record)?.name ?? record;
  if (finding) return catalog.finding(finding)?.name ?? finding;
  return roleNames(roles, catalog);
}
