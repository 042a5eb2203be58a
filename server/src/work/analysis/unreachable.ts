/** Rules that no job can set off. */
import type { World } from './logic.ts';
import { type EntryProblem, problemsOf } from './model.ts';
import type { Analysed } from './rules.ts';

export function unreachableRules(rules: readonly Analysed[], world: World): EntryProblem[] {
  return rules
    .filter((rule) => world.never.has(rule.id))
    .map(({ id }) =>
      problemsOf('rule', id)(
        'unreachable-rule',
        'warning',
        ['when'],
        'No job can ever meet this condition: its parts exclude each other, or no unit family of the book fits them. Mend the condition or take the rule out.',
      ),
    );
}
