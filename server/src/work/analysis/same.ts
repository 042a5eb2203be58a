/** Rules that say the same as another one. */
import type { Condition, Rule } from '../../../../schemas/kinds/rules.ts';
import { type EntryProblem, problemsOf } from './model.ts';
import type { Analysed } from './rules.ts';

export function sameRules(rules: readonly Analysed[]): EntryProblem[] {
  const first = new Map<string, string>();
  return rules.flatMap(({ id, rule }) => {
    const meaning = meaningOf(rule);
    const earlier = first.get(meaning);
    if (earlier === undefined) {
      first.set(meaning, id);
      return [];
    }
    const message = `${earlier} says the same: the same condition, and nothing asked for that is not asked for there. Take one of them out.`;
    const related = [{ kind: 'rule' as const, id: earlier, message: 'says the same' }];
    return [problemsOf('rule', id)('same-rule', 'warning', ['when'], message, related)];
  });
}

const WORDS: ReadonlySet<string> = new Set([
  'name',
  'because',
  'say',
  'basis',
  'source',
  'instead-of',
  'when',
]);

function meaningOf(rule: Rule): string {
  const effects = Object.entries(rule).filter(([field, value]) => !WORDS.has(field) && value !== undefined);
  return JSON.stringify([
    canonical(rule.when),
    effects.map(([field, value]) => [field, sorted(value)]).toSorted(),
  ]);
}

/** A condition without what does not change its meaning: the order of its parts, and an `all` around a single one. */
function canonical(condition: Condition): unknown {
  const { all, any, none, ...own } = condition;
  const parts = (list: readonly Condition[] | undefined) => sorted((list ?? []).map(canonical));
  const single = Object.entries(own).filter(([, value]) => value !== undefined);
  const plain = {
    ...Object.fromEntries(single),
    ...(any ? { any: parts(any) } : {}),
    ...(none ? { none: parts(none) } : {}),
  };
  const together = [...(Object.keys(plain).length > 0 || !all ? [plain] : []), ...(all ?? []).map(canonical)];
  return together.length === 1 ? sorted(together[0]) : { all: sorted(together) };
}

function sorted(value: unknown): unknown {
  if (Array.isArray(value))
    return value.map(sorted).toSorted((a, b) => (JSON.stringify(a) < JSON.stringify(b) ? -1 : 1));
  if (typeof value !== 'object' || value === null || 'toFixed' in value) return value;
  return Object.fromEntries(
    Object.entries(value)
      .filter(([, inner]) => inner !== undefined)
      .map(([key, inner]) => [key, sorted(inner)] as const)
      .toSorted(([a], [b]) => (a < b ? -1 : 1)),
  );
}
