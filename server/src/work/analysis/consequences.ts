/** What follows for sure from facts that hold together, and whether they can bear it. */
import type { AtomTest, FindingTest } from '../conditions.ts';
import { asksForWorse, type Conjunction, entails, type Literal, type World } from './logic.ts';

interface Certain {
  /** Findings that follow from others. */
  readonly findings: Set<string>;
  readonly rules: Set<string>;
}

/** Whether nothing that the conjunction excludes follows from it. */
export function allowsConsequences(conjunction: Conjunction, world: World): boolean {
  const certain = certainOf(conjunction, world);
  return !conjunction.some(({ test, negative }) => {
    if (!negative) return false;
    if (test.about === 'finding') return test.whenImplied && certain.findings.has(test.id);
    return test.about === 'rule' && test.ids.some((id) => certain.rules.has(id));
  });
}

function certainOf(conjunction: Conjunction, world: World): Certain {
  const certain: Certain = { findings: new Set(), rules: new Set() };
  const follow = (ids: readonly string[] | undefined): void => {
    for (const id of ids ?? []) {
      if (certain.findings.has(id)) continue;
      certain.findings.add(id);
      follow(world.findings.get(id)?.implies);
    }
  };
  for (const { test, negative } of conjunction) {
    if (!negative && test.about === 'finding' && asksForWorse(test)) follow(test.finding.implies);
  }
  for (let grown = true; grown; ) {
    const fresh = world.deriving.filter(
      (rule) =>
        !certain.rules.has(rule.id) &&
        rule.conjunctions.some((one) => one.every((literal) => isCertain(literal, conjunction, certain))),
    );
    for (const { id, implies } of fresh) {
      certain.rules.add(id);
      follow(implies);
    }
    grown = fresh.length > 0;
  }
  return certain;
}

function isCertain(literal: Literal, conjunction: Conjunction, certain: Certain): boolean {
  const { test, negative } = literal;
  if (test.about === 'finding') {
    if (!negative && test.whenImplied && certain.findings.has(test.id)) return true;
    return conjunction.some((known) => {
      if (known.negative !== negative || known.test.about !== 'finding' || known.test.id !== test.id)
        return false;
      const [from, to]: FindingTest[] = negative ? [test, known.test] : [known.test, test];
      return entails(from!, to!);
    });
  }
  if (!negative && test.about === 'rule' && test.ids.some((id) => certain.rules.has(id))) return true;
  return conjunction.some((known) => {
    if (known.negative !== negative || known.test.about !== test.about) return false;
    if ((known.test as AtomTest).is !== (test as AtomTest).is) return false;
    const [from, to] = negative ? [test, known.test] : [known.test, test];
    return (from as typeof test).ids.every((id) => (to as typeof test).ids.includes(id));
  });
}
