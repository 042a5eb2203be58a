/** Rules that ask a job for opposite things. */
import type { Need } from '../../../../schemas/kinds/rules.ts';
import { list } from '../say.ts';
import type { World } from './logic.ts';
import { type EntryProblem, problemsOf } from './model.ts';
import { type Analysed, entails, neverTogether } from './rules.ts';

export function contradictions(rules: readonly Analysed[], world: World): EntryProblem[] {
  return [...requiredAndForbidden(rules, world), ...opposedOrders(rules, world)];
}

function requiredAndForbidden(rules: readonly Analysed[], world: World): EntryProblem[] {
  const forbidding = rules.filter(({ rule }) => rule.forbids?.length);
  return rules.flatMap((asking) =>
    (['requires', 'advises'] as const).flatMap((field) =>
      (asking.rule[field] ?? []).flatMap((need, index) => {
        const roles = rolesOf(need);
        return forbidding.flatMap((against) => {
          if (roles.length === 0 || !roles.every((role) => against.rule.forbids?.includes(role))) return [];
          return clash(asking, against, [field, index], roles, world);
        });
      }),
    ),
  );
}

export function rolesOf(need: Need): string[] {
  return [...(need.role ? [need.role] : []), ...(need['any-of'] ?? [])];
}

function clash(
  asking: Analysed,
  against: Analysed,
  path: (string | number)[],
  roles: readonly string[],
  world: World,
): EntryProblem[] {
  if (neverTogether(asking, against, world)) return [];
  const always = asking === against || entails(asking, against, world) || entails(against, asking, world);
  const verb = path[0] === 'advises' ? 'recommends' : 'requires';
  const how = always
    ? 'and one of the two holds whenever the other does'
    : 'and nothing in their conditions keeps them apart';
  const mend = always
    ? 'Mend one of them.'
    : 'Add a condition to one of them, unless both never meet in the shop.';
  return [
    problemsOf('rule', asking.id)(
      always ? 'rules-contradict' : 'rules-may-contradict',
      always ? 'error' : 'information',
      path,
      `This rule ${verb} ${list(roles, 'or')}, ${against === asking ? 'and forbids it as well' : `${against.id} forbids it, ${how}`}. ${mend}`,
      [{ kind: 'rule', id: against.id, message: 'forbids it' }],
    ),
  ];
}

/** One rule wants A before B, another B before A. */
function opposedOrders(rules: readonly Analysed[], world: World): EntryProblem[] {
  const orders = rules.flatMap((rule) =>
    (rule.rule.order ?? []).map((order, index) => ({ rule, order, index })),
  );
  return orders.flatMap((a, position) =>
    orders.slice(position).flatMap((b) => {
      const opposed = a.order.first === b.order.next && a.order.next === b.order.first;
      if (!opposed || neverTogether(a.rule, b.rule, world)) return [];
      const message = `This puts ${a.order.first} before ${a.order.next}, and ${b.rule.id} the other way round. Mend one of them.`;
      const related = [{ kind: 'rule' as const, id: b.rule.id, message: 'the other way round' }];
      return [
        problemsOf('rule', a.rule.id)('rules-contradict', 'error', ['order', a.index], message, related),
      ];
    }),
  );
}
