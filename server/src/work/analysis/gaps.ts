/** Work that a rule can ask for and the book does not sell. */
import type { Need } from '../../../../schemas/kinds/rules.ts';
import type { Unit } from '../../../../schemas/kinds/units.ts';
import { type Node, testsOf } from '../conditions.ts';
import { roleName } from '../evaluate.ts';
import type { Filler } from '../model.ts';
import { list } from '../say.ts';
import { rolesOf } from './contradictions.ts';
import { canHold, type World } from './logic.ts';
import { type AnalysisCatalog, type EntryProblem, problemsOf } from './model.ts';
import { type Analysed, appliesTo } from './rules.ts';

export function catalogGaps(
  rules: readonly Analysed[],
  world: World,
  catalog: AnalysisCatalog,
): EntryProblem[] {
  return rules
    .filter((rule) => !world.never.has(rule.id))
    .flatMap((rule) => [...unfilledNeeds(rule, world, catalog), ...unsoldRoles(rule, world, catalog)]);
}

function unfilledNeeds(rule: Analysed, world: World, catalog: AnalysisCatalog): EntryProblem[] {
  const reachable = world.units.filter(([, unit]) => canHoldFor(rule, unit, world));
  return (['requires', 'advises'] as const).flatMap((field) =>
    (rule.rule[field] ?? []).flatMap((need, index) => {
      const roles = rolesOf(need);
      const lacking = reachable.filter(([id, unit]) => isGap(need, roles, id, unit, catalog));
      if (lacking.length === 0) return [];
      const names = list(lacking.map(([, unit]) => unit.name));
      const wanted = `${list(
        roles.map((role) => roleName(catalog, role)),
        'or',
      )}${need.condition === 'new' ? ' (new)' : ''}`;
      const message = `Nothing in the book fills ${wanted} for ${names}, so a job that needs it could not be completed. Add a part or an operation with the role, or list the family's \`components\` without it.`;
      const related = lacking.map(([id, unit]) => ({ kind: 'unit' as const, id, message: unit.name }));
      return [
        problemsOf('rule', rule.id)(
          'catalog-gap',
          field === 'requires' ? 'warning' : 'information',
          [field, index],
          message,
          related,
        ),
      ];
    }),
  );
}

function canHoldFor(rule: Analysed, unit: Unit, world: World): boolean {
  if (!appliesTo(rule, unit)) return false;
  return rule.conjunctions?.some((one) => canHold(one, world, (other) => other === unit)) ?? true;
}

function isGap(
  need: Need,
  roles: readonly string[],
  id: string,
  unit: Unit,
  catalog: AnalysisCatalog,
): boolean {
  const asked = roles.filter(
    (role) => !unit.components || catalog.role(role)?.of !== 'part' || unit.components.includes(role),
  );
  const meets = ({ kind, id: filler }: Filler) =>
    need.condition !== 'new' ||
    kind === 'operation' ||
    [undefined, 'new'].includes(catalog.part(filler)?.condition);
  return asked.length > 0 && !asked.some((role) => catalog.fillers(role, id).some(meets));
}

/** Roles in conditions that only a line which names them itself can bring onto a job. */
function unsoldRoles({ id, when }: Analysed, world: World, catalog: AnalysisCatalog): EntryProblem[] {
  const sold = (role: string) => world.units.some(([unit]) => catalog.fillers(role, unit).length > 0);
  const unsold = [...rolesIn(when)].filter(
    (role) => catalog.role(role) && world.units.length > 0 && !sold(role),
  );
  return unsold.map((role) =>
    problemsOf('rule', id)(
      'role-not-sold',
      'information',
      ['when'],
      `Nothing in the book has the role ${role}, so only a line that names it itself can meet this condition.`,
      [{ kind: 'role', id: role, message: roleName(catalog, role) }],
    ),
  );
}

function rolesIn(node: Node): Set<string> {
  return new Set(testsOf(node).flatMap((test) => (test.about === 'role' ? test.ids : [])));
}
