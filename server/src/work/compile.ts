/** The rules of a book, read once for all jobs. */
import type { Finding, Rule } from '../../../schemas/kinds/rules.ts';
import type { Unit } from '../../../schemas/kinds/units.ts';
import { asksPlainly, isBroken, type Node, readCondition, testsOf } from './conditions.ts';
import { append, type LimitOf } from './facts.ts';
import { readLimit } from './limits.ts';
import type { RuleBook } from './model.ts';
import { type Dependency, dependenciesOf, stratify } from './strata.ts';
import { atomKey, keysOf, triggersOf } from './triggers.ts';

export interface CompiledRule {
  readonly id: string;
  readonly rule: Rule;
  readonly when: Node;
  readonly stratum: number;
  /** Another rule stands in its place, unless a unit family says that this one applies. */
  readonly replaced: boolean;
}

export interface RuleSet {
  readonly book: RuleBook;
  /** By id, so that the order they are written in never matters. */
  readonly rules: readonly CompiledRule[];
  readonly strata: number;
  /** Indexes of the rules that a fact can set off. */
  readonly setOffBy: ReadonlyMap<string, readonly number[]>;
  /** Rules that can hold of a job that has nothing. */
  readonly always: readonly number[];
  /** Indexes of the rules that look at a finding or a rule, for when one comes to hold. */
  readonly lookingAt: ReadonlyMap<string, readonly number[]>;
  /** Rules that are not asked, because their conditions have a mistake or go round in a circle. */
  readonly leftOut: readonly { readonly id: string; readonly why: 'mistake' | 'circle' }[];
  /** Measurements that some rule wants judged. */
  readonly judged: ReadonlySet<string>;
  readonly limitOf: LimitOf;
}

export function compile(book: RuleBook): RuleSet {
  const lookup = (id: string) => book.findings.get(id);
  const read = [...book.rules]
    .toSorted(([a], [b]) => (a < b ? -1 : 1))
    .map(([id, rule]) => ({ id, rule, when: readCondition(rule.when, lookup) }));
  const whole = read.filter(({ when }) => !isBroken(when));
  const { of, circles } = stratify(dependencyGraph(book, whole));
  const circling = new Set(circles.flat());
  const sound = whole.filter(({ id }) => !circling.has(atomKey('rule', id)));
  const replaced = replacedRules(sound);
  const rules = sound.map((one): CompiledRule => {
    return { ...one, stratum: of.get(atomKey('rule', one.id)) ?? 0, replaced: replaced.has(one.id) };
  });

  const setOffBy = new Map<string, number[]>();
  const lookingAt = new Map<string, number[]>();
  const always: number[] = [];
  const judged = new Set<string>();
  for (const [index, { when }] of rules.entries()) {
    const triggers = triggersOf(when);
    if (!triggers) always.push(index);
    for (const key of triggers ?? []) append(setOffBy, key, index);
    for (const key of new Set(testsOf(when).flatMap(keysOf))) append(lookingAt, key, index);
    for (const test of testsOf(when)) {
      if (test.about === 'finding' && (test.judged || asksPlainly(test))) judged.add(test.id);
    }
  }
  return {
    book,
    rules,
    strata: Math.max(0, ...rules.map((rule) => rule.stratum)) + 1,
    setOffBy,
    always,
    lookingAt,
    leftOut: read
      .filter(({ id }) => !rules.some((rule) => rule.id === id))
      .map(({ id, when }) => ({ id, why: isBroken(when) ? 'mistake' : 'circle' })),
    judged,
    limitOf: limitReader(lookup),
  };
}

/** Rules hang on what they look at; a finding hangs on the rules and findings that it follows from. */
export function dependencyGraph(book: RuleBook, rules: readonly { id: string; rule: Rule; when: Node }[]) {
  const graph = new Map<string, Dependency[]>();
  const from = (fact: string, on: string) => append(graph, fact, { on, negative: false });
  for (const { id, rule, when } of rules) {
    const key = atomKey('rule', id);
    graph.set(key, dependenciesOf(when));
    for (const finding of rule.implies ?? []) from(atomKey('finding', finding), key);
  }
  for (const [id, finding] of book.findings) {
    for (const implied of finding.implies ?? []) from(atomKey('finding', implied), atomKey('finding', id));
  }
  return graph;
}

/** Rules in whose place another one stands. Two that replace each other replace nothing. */
export function replacedRules(rules: readonly { id: string; rule: Rule }[]): Set<string> {
  const replacers = new Map<string, string[]>();
  for (const { id, rule } of rules) {
    if (rule['instead-of'] !== undefined) append(replacers, rule['instead-of'], id);
  }
  const endsAbove = (id: string, seen: readonly string[]): boolean => {
    if (seen.includes(id)) return false;
    const above = replacers.get(id);
    return !above || above.some((replacer) => endsAbove(replacer, [...seen, id]));
  };
  return new Set([...replacers.keys()].filter((id) => endsAbove(id, [])));
}

/** Limit tables are read when first asked for; a unit that is edited is another object. */
function limitReader(lookup: (id: string) => Finding | undefined): LimitOf {
  const read = new WeakMap<Unit, Map<string, ReturnType<typeof readLimit> | undefined>>();
  return (unit, id) => {
    let tables = read.get(unit);
    if (!tables) {
      tables = new Map();
      read.set(unit, tables);
    }
    if (!tables.has(id)) {
      const limit = unit.limits?.[id];
      const finding = lookup(id);
      tables.set(id, limit && finding && readLimit(limit, finding, lookup));
    }
    return tables.get(id);
  };
}
