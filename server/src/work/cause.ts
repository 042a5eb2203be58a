/** The cause of failure: found, proved and cured, so that the unit does not come back. */
import type { Problem } from '../../../schemas/problem.ts';
import type { Derived } from './evaluate.ts';
import { roleName } from './evaluate.ts';
import type { Facts } from './facts.ts';
import type { Asking, Catalog, Requirement } from './model.ts';

/** A cause outside the unit that nothing on the job cures. */
export function uncuredCause(facts: Facts, catalog: Catalog): { asking: Asking; cure: string } | undefined {
  const { cause } = facts.input.job;
  if (!cause?.outside) return undefined;
  // Free words say where it lies and how that was proved; a role has to be on the job.
  const isRole = cause.cured !== undefined && catalog.role(cause.cured) !== undefined;
  if (cause.cured !== undefined && (!isRole || facts.roles.has(cause.cured))) return undefined;
  const cure = cause.cured === undefined ? 'what cures the outside cause' : roleName(catalog, cause.cured);
  const text = `cause of failure: ${cause.what.trim()}`;
  return {
    cure,
    asking: {
      by: 'rule',
      id: 'cause',
      name: 'outside cause not cured',
      because: 'A cause outside the unit that is left in place brings the unit back.',
      reasons: [{ kind: 'cause', id: 'cause', text, path: ['cause'], because: [] }],
    },
  };
}

export function causeProblems(
  facts: Facts,
  derived: Derived,
  requirements: readonly Requirement[],
  catalog: Catalog,
): Problem[] {
  const { cause } = facts.input.job;
  if (!cause) return [];
  const problems: Problem[] = [];
  const uncured = uncuredCause(facts, catalog);
  // Where a rule asks for the cure as well, that tells of it.
  const isTold = requirements.some((one) => one.state === 'missing' && one.roles.includes(cause.cured ?? ''));
  if (uncured && !isTold) {
    const add =
      cause.cured === undefined
        ? 'Write in `cured` what stops it: a role on the job, or the proof that it lies elsewhere.'
        : `Add ${uncured.cure}, or write where else the cause is cured.`;
    problems.push({
      code: 'cause-not-cured',
      severity: 'warning',
      message: `The cause lies outside the unit, and nothing on the job cures it. ${add}${facts.input.plan ? ' Until then the warranty cannot be given.' : ''}`,
      path: ['cause', ...(cause.cured === undefined ? [] : ['cured'])],
      onKey: cause.cured === undefined,
    });
  }
  const { finding } = cause;
  if (finding !== undefined && !facts.readings.has(finding) && !derived.findings.has(finding)) {
    problems.push({
      code: 'cause-not-found',
      severity: 'warning',
      message: `${catalog.finding(finding)?.name ?? finding} is named as the cause, but the job has no such finding. Add it to the findings with its reading.`,
      path: ['cause', 'finding'],
    });
  }
  if (cause['third-party'] && !cause.pictures?.length && !hasPictures(facts, finding)) {
    problems.push({
      code: 'cause-without-picture',
      severity: 'warning',
      message:
        'The cause is laid to earlier work by someone else. Keep a picture of it: add one under `pictures`.',
      path: ['cause', 'third-party'],
    });
  }
  return problems;
}

function hasPictures(facts: Facts, finding: string | undefined): boolean {
  const stated = finding === undefined ? undefined : facts.input.job.findings?.[finding];
  return typeof stated === 'object' && Boolean(stated.pictures?.length);
}
