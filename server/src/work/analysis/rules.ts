/** Rules as the analysis sees them: their conditions, whether they can hold, whether one entails another. */
import type { Rule } from '../../../../schemas/kinds/rules.ts';
import type { Unit } from '../../../../schemas/kinds/units.ts';
import { dependencyGraph, replacedRules } from '../compile.ts';
import { isBroken, type Node, readCondition } from '../conditions.ts';
import type { RuleBook } from '../model.ts';
import { stratify } from '../strata.ts';
import { atomKey } from '../triggers.ts';
import {
  type Conjunction,
  canHold,
  conjunctionsOf,
  MOST_CONJUNCTIONS,
  product,
  type World,
} from './logic.ts';

export interface Analysed {
  readonly id: string;
  readonly rule: Rule;
  readonly when: Node;
  /** Undefined when there are too many to look at. */
  readonly conjunctions: readonly Conjunction[] | undefined;
  /** It hangs on its own opposite and is left out. */
  readonly circling: boolean;
  /** Another rule stands in its place, except where a unit family says otherwise. */
  readonly replaced: boolean;
}

/** Rules whose conditions can be read; the others are told of by their values. */
export function analysedRules(book: RuleBook): Analysed[] {
  const whole = [...book.rules].flatMap(([id, rule]) => {
    const when = readCondition(rule.when, (finding) => book.findings.get(finding));
    return isBroken(when) ? [] : [{ id, rule, when, own: conjunctionsOf(when) }];
  });
  const own = new Map(whole.map((one) => [one.id, one.own]));
  const inCircle = new Set(stratify(dependencyGraph(book, whole)).circles.flat());
  const isCircling = (id: string) => inCircle.has(atomKey('rule', id));
  const replaced = replacedRules(whole.filter(({ id }) => !isCircling(id)));
  return whole.map(({ id, rule, when }) => {
    const conjunctions = withRules(own.get(id), own, [id]);
    return { id, rule, when, conjunctions, circling: isCircling(id), replaced: replaced.has(id) };
  });
}

type Choices = readonly Conjunction[] | undefined;

/** Where a conjunction asks for another rule, what that rule asks for holds as well. */
function withRules(choices: Choices, own: ReadonlyMap<string, Choices>, seen: readonly string[]): Choices {
  const unfolded = choices?.flatMap((conjunction) => {
    let all: readonly Conjunction[] = [conjunction];
    for (const { test, negative } of conjunction) {
      const id = test.about === 'rule' && !negative ? test.ids[0]! : undefined;
      if (id === undefined || seen.includes(id)) continue;
      all = product(all, withRules(own.get(id), own, [...seen, id])) ?? all;
    }
    return all;
  });
  return unfolded && unfolded.length > MOST_CONJUNCTIONS ? choices : unfolded;
}

export function appliesTo({ id, replaced }: Analysed, unit: Unit): boolean {
  return unit.rules?.[id]?.applies ?? !replaced;
}

/** A rule that another one replaces, or that no family wants, is off on purpose. */
export function isSetAside(rule: Analysed, { units }: World): boolean {
  return units.length > 0 ? units.every(([, unit]) => !appliesTo(rule, unit)) : rule.replaced;
}

/** Whether it is proven that the rule never holds. */
export function neverHolds(rule: Analysed, world: World): boolean {
  return provenNever(rule.conjunctions, world, (unit) => appliesTo(rule, unit));
}

/** Whether it is proven that two rules never hold of one job. */
export function neverTogether(a: Analysed, b: Analysed, world: World): boolean {
  const both = product(a.conjunctions, b.conjunctions);
  return provenNever(both, world, (unit) => appliesTo(a, unit) && appliesTo(b, unit));
}

/** Whether it is proven that the second holds wherever the first does. */
export function entails(a: Analysed, b: Analysed, world: World): boolean {
  const apart = product(a.conjunctions, conjunctionsOf(b.when, true));
  const everywhere = world.units.every(([, unit]) => !appliesTo(a, unit) || appliesTo(b, unit));
  return everywhere && provenNever(apart, world, () => true);
}

function provenNever(
  conjunctions: readonly Conjunction[] | undefined,
  world: World,
  allows: (unit: Unit) => boolean,
): boolean {
  return conjunctions !== undefined && !conjunctions.some((one) => canHold(one, world, allows));
}
