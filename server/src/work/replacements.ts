/** Parts that are replaced for a reason that is none. */
import type { Replacement } from '../../../schemas/kinds/rules.ts';
import type { Problem } from '../../../schemas/problem.ts';
import type { Derived } from './evaluate.ts';
import { roleName } from './evaluate.ts';
import type { Facts, LineFill } from './facts.ts';
import type { Catalog, Requirement } from './model.ts';
import { list } from './say.ts';

/**
 * A line is at fault when the finding it names is no reason, or when it names none and all that the job has found are
 * such findings. What a rule requires, and what comes in a kit, needs no reason of its own.
 */
export function replacementProblems(
  facts: Facts,
  derived: Derived,
  replacements: Iterable<Replacement>,
  requirements: readonly Requirement[],
  catalog: Catalog,
): Problem[] {
  const found = (id: string) => isFound(id, facts, derived);
  const required = new Set(requirements.filter((one) => one.kind === 'requires').flatMap((one) => one.roles));
  return [...replacements].flatMap((replacement) => {
    const { role, accepted } = replacement;
    const no = replacement['not-accepted'] ?? [];
    if (required.has(role) || accepted.some(found)) return [];
    return (facts.roles.get(role) ?? []).flatMap(({ how, line }: LineFill): Problem[] => {
      const named = line.for === undefined ? no.filter(found) : no.filter((id) => id === line.for);
      if (how !== 'itself' || named.length === 0) return [];
      const nameOf = (id: string) => catalog.finding(id)?.name ?? id;
      const because = replacement.because ? ` ${replacement.because.trim()}` : '';
      return [
        {
          code: 'no-reason-to-replace',
          severity: 'warning',
          message: `${list(named.map(nameOf))} alone is no reason to replace ${roleName(catalog, role)}.${because} Reasons are: ${list(accepted.map(nameOf), 'or')}.`,
          path: line.path,
          related: named.map((id) => ({ kind: 'finding', id, message: nameOf(id) })),
        },
      ];
    });
  });
}

/** Worse than normal now, by an earlier record, or because it follows from others. */
function isFound(id: string, facts: Facts, derived: Derived): boolean {
  const readings = [...(facts.readings.get(id) ?? []), ...facts.superseded.filter((one) => one.id === id)];
  return derived.findings.has(id) || readings.some((one) => one.verdict.judged === 'beyond');
}

/** Lines that say which finding calls for them, when the job has no such finding. */
export function lineReasonProblems(facts: Facts, derived: Derived, catalog: Catalog): Problem[] {
  return facts.input.lines.flatMap((line): Problem[] => {
    const id = line.for;
    const finding = id === undefined ? undefined : catalog.finding(id);
    if (id === undefined || !finding || isFound(id, facts, derived)) return [];
    const readings = facts.readings.get(id);
    if (readings?.some((one) => one.verdict.judged === 'unjudged')) return [];
    const state = readings ? `is normal here (${readings[0]!.text})` : 'is not among the findings of the job';
    return [
      {
        code: 'reason-not-found',
        severity: 'warning',
        message: `${line.name} is on the job for ${finding.name}, which ${state}. Name the finding that calls for it, or take the line off.`,
        path: line.path,
        related: [{ kind: 'finding', id, message: finding.name }],
      },
    ];
  });
}
