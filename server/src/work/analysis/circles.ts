/** Rules that go round in a circle: through a `none`, in their order of work, or in whose place they stand. */

import { dependencyGraph } from '../compile.ts';
import type { RuleBook } from '../model.ts';
import { list } from '../say.ts';
import { stratify } from '../strata.ts';
import { type EntryProblem, problemsOf } from './model.ts';
import type { Analysed } from './rules.ts';

export function circles(book: RuleBook, rules: readonly Analysed[]): EntryProblem[] {
  return [...throughNone(book, rules), ...insteadOf(rules)];
}

function throughNone(book: RuleBook, rules: readonly Analysed[]): EntryProblem[] {
  return stratify(dependencyGraph(book, rules)).circles.flatMap((circle) => {
    const idsOf = (prefix: string) =>
      circle
        .filter((fact) => fact.startsWith(prefix))
        .map((fact) => fact.slice(prefix.length))
        .toSorted();
    const members = idsOf('rule:');
    const through = [...members, ...idsOf('finding:').map((id) => `finding ${id}`)];
    const message = `This rule hangs on its own opposite, through \`none\` (${list(through)}): it would hold exactly when it does not. It is left out until the circle is broken.`;
    const related = members.map((id) => ({ kind: 'rule' as const, id, message: 'in the same circle' }));
    return members.map((id) => problemsOf('rule', id)('rule-circle', 'error', ['when'], message, related));
  });
}

function insteadOf(rules: readonly Analysed[]): EntryProblem[] {
  const next = new Map(
    rules.flatMap(({ id, rule }) => (rule['instead-of'] ? [[id, rule['instead-of']] as const] : [])),
  );
  return rules.flatMap(({ id }) => {
    const seen = [id];
    for (let at = next.get(id); at !== undefined && !seen.includes(at); at = next.get(at)) seen.push(at);
    if (next.get(seen.at(-1)!) !== id) return [];
    const message = `These rules stand in each other's place (${list(seen)}), so none of them replaces another.`;
    return [problemsOf('rule', id)('replaced-in-circle', 'error', ['instead-of'], message)];
  });
}
