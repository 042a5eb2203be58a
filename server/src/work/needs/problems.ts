/** Requirements that are not met, each as one problem in a shop's words. */
import type { Path, Problem, Severity } from '../../../../schemas/problem.ts';
import type { Facts } from '../facts.ts';
import type { Catalog, Meeting, Requirement } from '../model.ts';
import { fillerNames, list, placeOf, relatedOf, roleNames, why } from '../say.ts';
import { isLaw } from './asking.ts';

export function requirementProblems(
  requirements: readonly Requirement[],
  facts: Facts,
  catalog: Catalog,
): Problem[] {
  const standing = new Set(
    requirements
      .filter((one) => one.kind === 'forbids' && one.state !== 'waived')
      .map((one) => one.roles[0]!),
  );
  const required = requirements.filter((one) => one.kind === 'requires' && one.state !== 'waived');
  const disagreeing = new Set(
    required.filter((one) => one.roles.every((role) => standing.has(role))).flatMap((one) => one.roles),
  );
  const lacking = required.filter((one) => one.state === 'missing');
  return requirements.flatMap((requirement) => {
    const role = requirement.roles[0] ?? '';
    if (requirement.kind === 'requires' && disagreeing.has(role))
      return [disagreement(requirement, requirements, catalog)];
    if (requirement.kind === 'forbids' && disagreeing.has(role)) return [];
    if (requirement.state === 'waived') return unsigned(requirement, facts, catalog);
    if (requirement.state === 'met') return onlyOptional(requirement, facts, catalog);
    return problemOf(requirement, lacking, facts, catalog);
  });
}

function problemOf(
  requirement: Requirement,
  lacking: readonly Requirement[],
  facts: Facts,
  catalog: Catalog,
): Problem[] {
  switch (requirement.kind) {
    case 'requires': {
      // What a narrower need asks for already meets this one as well: one thing is missing, not two.
      const covered = lacking.some((one) => one !== requirement && isNarrower(one, requirement));
      return covered ? [] : [missingWork(requirement, lacking, facts, catalog)];
    }
    case 'advises': {
      const asked = lacking.some((one) => one.roles.some((role) => requirement.roles.includes(role)));
      return asked ? [] : [advised(requirement, facts, catalog)];
    }
    case 'forbids':
      return requirement.by.map((there) => forbidden(requirement, there, catalog));
    case 'reuse': {
      return requirement.by.map((there) => reused(requirement, there, catalog));
    }
    case 'record':
      return requirement.state === 'missing' ? [missingRecord(requirement, facts, catalog)] : [];
    case 'finding':
      return [missingFinding(requirement, catalog)];
    case 'order':
      return [wrongOrder(requirement, facts, catalog)];
  }
}

function isNarrower(a: Requirement, b: Requirement): boolean {
  return a.roles.length < b.roles.length && a.roles.every((role) => b.roles.includes(role));
}

function dataOf(requirement: Requirement, facts: Facts): Record<string, unknown> {
  return {
    requirement: requirement.id,
    roles: requirement.roles,
    fillers: requirement.fillers,
    rules: requirement.asked.filter((asking) => asking.by === 'rule').map((asking) => asking.id),
    ...(facts.input.option ? { option: facts.input.option.path } : {}),
  };
}

function missingWork(
  requirement: Requirement,
  lacking: readonly Requirement[],
  facts: Facts,
  catalog: Catalog,
): Problem {
  const wider = lacking.filter((one) => isNarrower(requirement, one)).flatMap((one) => one.asked);
  const asked = [
    ...requirement.asked,
    ...wider.filter((one) => !requirement.asked.some(({ id }) => id === one.id)),
  ];
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
  if (quantity && found?.gt(quantity.minus(quantity))) return `${name}: ${found} of ${quantity} on the job.`;
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
    ? ' The law asks for it, so no waiver lifts it.'
    : ', or write a waiver.';
  if (requirement.fillers.length > 0) return `Add ${fillerNames(requirement.fillers, catalog)}${waive}`;
  return `Nothing in the book fills this for ${family}: add a line with the role ${list(requirement.roles, 'or')}${waive}`;
}

function advised(requirement: Requirement, facts: Facts, catalog: Catalog): Problem {
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

function forbidden(requirement: Requirement, there: Meeting, catalog: Catalog): Problem {
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

function reused(requirement: Requirement, there: Meeting, catalog: Catalog): Problem {
  return {
    code: 'forbidden-reuse',
    severity: 'error',
    message: `${roleNames(requirement.roles, catalog)} must not be reused here. ${why(requirement.asked)}`,
    path: there.path,
    related: relatedOf(requirement.asked),
    data: { requirement: requirement.id, roles: requirement.roles },
  };
}

function missingRecord(requirement: Requirement, facts: Facts, catalog: Catalog): Problem {
  const kind = catalog.record(requirement.record!);
  const { completed, authorizations } = facts.input.job;
  const begun = authorizations?.some((one) => one.for !== 'diagnosis') ?? false;
  const severity: Severity = completed || (kind?.early && begun) ? 'warning' : 'information';
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

function missingFinding(requirement: Requirement, catalog: Catalog): Problem {
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

function wrongOrder(requirement: Requirement, facts: Facts, catalog: Catalog): Problem {
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
function disagreement(requirement: Requirement, all: readonly Requirement[], catalog: Catalog): Problem {
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

/** Required work on a line that the owner may leave out. */
function onlyOptional(requirement: Requirement, facts: Facts, catalog: Catalog): Problem[] {
  if (requirement.kind !== 'requires') return [];
  const lines = requirement.roles.flatMap((role) => facts.roles.get(role) ?? []).map((fill) => fill.line);
  if (lines.length === 0 || lines.some((line) => !line.optional)) return [];
  return [
    {
      code: 'required-but-optional',
      severity: 'warning',
      message: `${lines[0]!.name} is marked optional, but ${roleNames(requirement.roles, catalog)} is required. ${why(requirement.asked)} Take the mark off, or write a waiver if it is declined.`,
      path: lines[0]!.path,
      related: relatedOf(requirement.asked),
    },
  ];
}

/** What is required is declined on paper: the paper is worth its signature. */
function unsigned(requirement: Requirement, facts: Facts, catalog: Catalog): Problem[] {
  if (requirement.kind === 'advises' || requirement.kind === 'record') return [];
  return requirement.by.flatMap(({ how, path }) => {
    const waiver = how === 'waiver' ? facts.input.job.waivers?.[Number(path[1])] : undefined;
    if (!waiver || waiver.signed) return [];
    const subject = roleNames(requirement.roles, catalog) || requirement.finding || '';
    const message = `${waiver.by} declined ${subject} without a signature. Have the waiver signed and write signed: yes.`;
    return [{ code: 'unsigned-waiver', severity: 'warning', message, path }];
  });
}
