/** How each requirement that is not met is told, in a shop's words. */
import type { Path, Problem, Severity } from '../../../../schemas/problem.ts';
import { ZERO } from '../../../../schemas/values/decimal.ts';
import type { Facts } from '../facts.ts';
import type { Asking, Catalog, Meeting, Requirement } from '../model.ts';
import { fillerNames, list, placeOf, relatedOf, roleNames, why } from '../say.ts';
import { isLaw } from './asking.ts';

function dataOf(requirement: Requirement, facts: Facts): Record<string, unknown> {
  return {
    requirement: requirement.id,
    roles: requirement.roles,
    fillers: requirement.fillers,
    rules: requirement.asked.filter((asking) => asking.by === 'rule').map((asking) => asking.id),
    ...(facts.input.option ? { option: facts.input.option.path } : {}),
  };
}

/** `asked`: every voice that asks for it, those of wider needs that it would meet as well. */
export function missingWork(
  requirement: Requirement,
  asked: readonly Asking[],
  facts: Facts,
  catalog: Catalog,
): Problem {
  const reused = requirement.roles.map((role) => facts.reused.get(role)).find(Boolean);
  return {
    code: 'missing-work',
    severity: 'error',
    message: `${missingWords(requirement, facts, catalog)} ${why(asked)} ${remedy(requirement, facts, catalog)}`,
    path: reused ?? placeOf(asked),
    ...(reused ? {} : { onKey: true }),
    related: relatedOf(asked),
    data: dataOf(requirement, facts),
  };
}

function missingWords(requirement: Requirement, facts: Facts, catalog: Catalog): string {
  const { roles, quantity, found, newOnly } = requirement;
  const name = roleNames(roles, catalog);
  if (quantity && found?.gt(ZERO)) return `${name}: ${found} of ${quantity} on the job.`;
  const there = roles.flatMap((role) => facts.roles.get(role) ?? [])[0];
  if (newOnly && there) {
    const is = there.condition ? `is ${there.condition}` : 'does not say that it is new';
    return `${name} has to be new, and ${there.line.name} ${is}.`;
  }
  const reused = roles.some((role) => facts.reused.has(role)) ? ' The job says that it is reused.' : '';
  return `${name} is required and missing.${reused}`;
}

function remedy(requirement: Requirement, facts: Facts, catalog: Catalog): string {
  const family = facts.unit?.name ?? facts.input.job.unit;
  const waive = requirement.asked.some(isLaw)
    ? '. The law asks for it, so no waiver lifts it.'
    : ', or write a waiver.';
  if (requirement.fillers.length > 0) return `Add ${fillerNames(requirement.fillers, catalog)}${waive}`;
  return `Nothing in the book fills this for ${family}: add a line with the role ${list(requirement.roles, 'or')}${waive}`;
}

export function advised(requirement: Requirement, facts: Facts, catalog: Catalog): Problem {
  const asked = requirement.asked;
  const offer = requirement.fillers.length > 0 ? ` Offer ${fillerNames(requirement.fillers, catalog)}.` : '';
  return {
    code: 'advised-work',
    severity: 'information',
    message: `${roleNames(requirement.roles, catalog)} is recommended. ${why(asked)}${offer}`,
    path: placeOf(asked),
    onKey: true,
    related: relatedOf(asked),
    data: dataOf(requirement, facts),
  };
}

export function forbidden(requirement: Requirement, there: Meeting, catalog: Catalog): Problem {
  const name = roleNames(requirement.roles, catalog);
  return {
    code: 'forbidden-work',
    severity: 'error',
    message: `${name} must not be on this job (${there.text}). ${why(requirement.asked)} Take it off.`,
    path: there.path,
    related: relatedOf(requirement.asked),
    data: { requirement: requirement.id, roles: requirement.roles },
  };
}

/** `instead`: the requirement of a new one, when that is missing too. */
export function reused(
  requirement: Requirement,
  there: Meeting,
  instead: Requirement | undefined,
  facts: Facts,
  catalog: Catalog,
): Problem {
  const others = instead?.asked.filter((one) => !requirement.asked.some(({ id }) => id === one.id)) ?? [];
  const asked = [...requirement.asked, ...others];
  const add = instead ? ` ${remedy(instead, facts, catalog)}` : '';
  return {
    code: 'forbidden-reuse',
    severity: 'error',
    message: `${roleNames(requirement.roles, catalog)} must not be reused here. ${why(asked)}${add}`,
    path: there.path,
    related: relatedOf(asked),
    data: { ...dataOf(instead ?? requirement, facts), requirement: requirement.id },
  };
}

export function missingRecord(requirement: Requirement, facts: Facts, catalog: Catalog): Problem {
  const kind = catalog.record(requirement.record!);
  const { completed, authorizations } = facts.input.job;
  const begun = authorizations?.some((one) => one.for !== 'diagnosis') ?? false;
  // On an estimate that nobody has agreed to, a record that comes with the work is not missing yet.
  const open: Severity = begun ? (kind?.early ? 'warning' : 'information') : 'hint';
  const severity: Severity = completed ? 'warning' : open;
  const when = completed
    ? 'is not on file'
    : kind?.early
      ? 'has to be on file before the unit is installed'
      : 'has to be on file before it leaves';
  return {
    code: 'missing-record',
    severity,
    message: `The record ${kind?.name ?? requirement.record} ${when}. ${why(requirement.asked)}`,
    path: completed ? ['completed'] : placeOf(requirement.asked),
    onKey: true,
    related: relatedOf(requirement.asked),
    data: { requirement: requirement.id, record: requirement.record },
  };
}

export function missingFinding(requirement: Requirement, catalog: Catalog): Problem {
  const finding = catalog.finding(requirement.finding!);
  const how = finding?.test ? ` How: ${finding.test.trim()}` : '';
  return {
    code: 'missing-finding',
    severity: 'error',
    message: `${finding?.name ?? requirement.finding} has to be looked at first. ${why(requirement.asked)}${how}`,
    path: placeOf(requirement.asked),
    onKey: true,
    related: relatedOf(requirement.asked),
    data: { requirement: requirement.id, finding: requirement.finding },
  };
}

export function wrongOrder(requirement: Requirement, facts: Facts, catalog: Catalog): Problem {
  const [first = '', next = ''] = requirement.roles;
  const path: Path = facts.roles.get(next)?.[0]?.line.path ?? ['lines'];
  return {
    code: 'wrong-order',
    severity: 'warning',
    message: `${roleNames([first], catalog)} comes before ${roleNames([next], catalog)}, and is listed after it. ${why(requirement.asked)} Move its line up.`,
    path,
    related: relatedOf(requirement.asked),
    data: { requirement: requirement.id, roles: requirement.roles },
  };
}

/** Two rules ask for opposite things: whatever the job does is wrong, so the rules have to be mended. */
export function disagreement(
  requirement: Requirement,
  all: readonly Requirement[],
  catalog: Catalog,
): Problem {
  const against = all.filter((one) => one.kind === 'forbids' && requirement.roles.includes(one.roles[0]!));
  const asked = [...requirement.asked, ...against.flatMap((one) => one.asked)];
  return {
    code: 'rules-disagree',
    severity: 'error',
    message: `${roleNames(requirement.roles, catalog)} is required (${list(requirement.asked.map((one) => one.name))}) and forbidden (${list(against.flatMap((one) => one.asked.map((asking) => asking.name)))}) on this job. Mend one of the rules.`,
    path: placeOf(asked),
    onKey: true,
    related: relatedOf(asked),
  };
}
