/** Requirements that are not met, one problem for each thing that is missing. */
import type { Problem } from '../../../../schemas/problem.ts';
import type { Facts } from '../facts.ts';
import type { Catalog, Requirement } from '../model.ts';
import { relatedOf, roleNames, why } from '../say.ts';
import {
  advised,
  disagreement,
  forbidden,
  missingFinding,
  missingRecord,
  missingWork,
  reused,
  wrongOrder,
} from './messages.ts';

/** Requirements that bear on each other: what one of them tells, another need not tell again. */
interface Together {
  readonly forbids: readonly Requirement[];
  /** Required although each of its roles is forbidden. */
  readonly disputed: readonly Requirement[];
  readonly lacking: readonly Requirement[];
  readonly reused: readonly Requirement[];
}

export function requirementProblems(
  requirements: readonly Requirement[],
  facts: Facts,
  catalog: Catalog,
): Problem[] {
  const standing = (kind: Requirement['kind']) =>
    requirements.filter((one) => one.kind === kind && one.state !== 'waived');
  const forbids = standing('forbids');
  const isForbidden = (role: string) => forbids.some((one) => one.roles.includes(role));
  const required = standing('requires');
  const disputed = required.filter((one) => one.roles.every(isForbidden));
  const together: Together = {
    forbids,
    disputed,
    lacking: required.filter((one) => one.state === 'missing' && !disputed.includes(one)),
    reused: standing('reuse').filter((one) => one.state === 'broken'),
  };
  return requirements.flatMap((requirement) => problemsOf(requirement, together, facts, catalog));
}

function problemsOf(requirement: Requirement, together: Together, facts: Facts, catalog: Catalog): Problem[] {
  const { kind, state, by } = requirement;
  if (together.disputed.includes(requirement)) return [disagreement(requirement, together.forbids, catalog)];
  if (state === 'waived') return [];
  if (state === 'met') return kind === 'requires' ? onlyOptional(requirement, facts, catalog) : [];
  if (state === 'missing' && hangsOnLacking(requirement, together)) return [];
  switch (kind) {
    case 'requires':
      return isToldElsewhere(requirement, together)
        ? []
        : [lackingWork(requirement, together, facts, catalog)];
    case 'advises': {
      const isRequired = together.lacking.some((one) => shareRole(one, requirement));
      return isRequired ? [] : [advised(requirement, facts, catalog)];
    }
    case 'forbids': {
      const disputed = together.disputed.some((one) => shareRole(one, requirement));
      return disputed ? [] : by.map((there) => forbidden(requirement, there, catalog));
    }
    case 'reuse': {
      const instead = together.lacking.find((one) => one.roles.length === 1 && shareRole(one, requirement));
      return by.map((there) => reused(requirement, there, instead, facts, catalog));
    }
    case 'record':
      return state === 'missing' ? [missingRecord(requirement, facts, catalog)] : [];
    case 'finding':
      return [missingFinding(requirement, catalog)];
    case 'order':
      return [wrongOrder(requirement, facts, catalog)];
  }
}

function shareRole(a: Requirement, b: Requirement): boolean {
  return a.roles.some((role) => b.roles.includes(role));
}

function isNarrower(a: Requirement, b: Requirement): boolean {
  return a.roles.length < b.roles.length && a.roles.every((role) => b.roles.includes(role));
}

/** What a narrower need asks for meets this one as well; a part that may not be reused is told where it says so. */
function isToldElsewhere(requirement: Requirement, { lacking, reused }: Together): boolean {
  if (lacking.some((one) => isNarrower(one, requirement))) return true;
  return requirement.roles.length === 1 && reused.some((one) => shareRole(one, requirement));
}

/** Asked for only because something is absent that is told as missing: adding that settles both. */
function hangsOnLacking({ asked, roles }: Requirement, { lacking }: Together): boolean {
  const absent = lacking.flatMap((one) => one.roles).filter((role) => !roles.includes(role));
  return asked.every(({ reasons }) =>
    reasons.some((reason) => reason.kind === 'absent' && reason.wanted && absent.includes(reason.id)),
  );
}

function lackingWork(
  requirement: Requirement,
  { lacking }: Together,
  facts: Facts,
  catalog: Catalog,
): Problem {
  const wider = lacking.filter((one) => isNarrower(requirement, one)).flatMap((one) => one.asked);
  const others = wider.filter((one) => !requirement.asked.some(({ id }) => id === one.id));
  return missingWork(requirement, [...requirement.asked, ...others], facts, catalog);
}

/** Required work on a line that the owner may leave out. */
function onlyOptional(requirement: Requirement, facts: Facts, catalog: Catalog): Problem[] {
  const fills = requirement.roles.flatMap((role) => facts.roles.get(role) ?? []);
  const first = fills[0]?.line;
  if (!first || fills.some(({ line }) => !line.optional)) return [];
  // Parts of work that is optional itself go with it.
  if (requirement.asked.every(({ by, id }) => by === 'operation' && facts.operations.get(id)?.optional))
    return [];
  return [
    {
      code: 'required-but-optional',
      severity: 'warning',
      message: `${first.name} is marked optional, but ${roleNames(requirement.roles, catalog)} is required. ${why(requirement.asked)} Take the mark off, or write a waiver if it is declined.`,
      path: first.path,
      related: relatedOf(requirement.asked),
    },
  ];
}
