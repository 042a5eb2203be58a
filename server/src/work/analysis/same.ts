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

/** What a condition asks, one thing at a time and in no order. */
function canonical(condition: Condition): unknown {
  const parts = partsOf(condition);
  return parts.length === 1 ? parts[0] : { all: sorted(parts) };
}

function partsOf(condition: Condition): unknown[] {
  const { all, any, none, finding, is, 'at-least': atLeast, 'at-most': atMost, judged, ...facts } = condition;
  const each = (list: readonly Condition[]) => sorted(list.map(canonical));
  return [
    ...(finding === undefined ? [] : [{ finding, is, atLeast, atMost, judged }]),
    ...Object.entries(facts).flatMap(([key, value]) => (value === undefined ? [] : [{ [key]: value }])),
    ...(any ? [{ any: each(any) }] : []),
    ...(none ? [{ none: each(none) }] : []),
    ...(all ?? []).flatMap(partsOf),
  ].map(sorted);
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
