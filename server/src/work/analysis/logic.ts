/**
 * What can be proven about conditions without a job. Every claim here is one-sided: a condition that is said never to
 * hold never does, while one about which nothing is said may still not.
 */
import { type Finding, OPTION_KINDS } from '../../../../schemas/kinds/rules.ts';
import { DRIVES } from '../../../../schemas/kinds/shared.ts';
import type { Unit } from '../../../../schemas/kinds/units.ts';
import {
  type AtomKind,
  type AtomTest,
  asksPlainly,
  type FindingTest,
  type Node,
  type Test,
  unitAtoms,
} from '../conditions.ts';
import { passesReading } from '../evaluate.ts';
import { compareReadings, lastNormalStep, type Reading } from '../readings.ts';
import { allowsConsequences } from './consequences.ts';

export interface Literal {
  readonly test: Test;
  readonly negative: boolean;
}
export type Conjunction = readonly Literal[];

/** What the book says that bears on whether facts go together. */
export interface World {
  readonly units: readonly (readonly [string, Unit])[];
  readonly findings: ReadonlyMap<string, Finding>;
  /** Rules that findings follow from, on every family. */
  readonly deriving: readonly Deriving[];
  /** Findings that can follow from others. */
  readonly implied: ReadonlySet<string>;
  /** Rules known never to hold. */
  readonly never: ReadonlySet<string>;
}

export interface Deriving {
  readonly id: string;
  readonly conjunctions: readonly Conjunction[];
  readonly implies: readonly string[];
}

export const MOST_CONJUNCTIONS = 512;

/** The condition, or its opposite, as a choice of conjunctions; undefined when there are too many to look at. */
export function conjunctionsOf(node: Node, negative = false): Conjunction[] | undefined {
  if (node.op === 'broken') return undefined;
  if (node.op === 'test') return [[{ test: node.test, negative }]];
  const inside = node.op === 'none' ? !negative : negative;
  const inner = node.nodes.map((one) => conjunctionsOf(one, inside));
  if (inner.some((one) => one === undefined)) return undefined;
  const parts = inner as Conjunction[][];
  // Not any is all of the opposites, and not all is any of them.
  const together = node.op === 'any' ? negative : !negative;
  return together ? parts.reduce<Conjunction[] | undefined>(product, [[]]) : withinLimit(parts.flat());
}

/** Every choice from the one with every choice from the other. */
export function product(
  a: readonly Conjunction[] | undefined,
  b: readonly Conjunction[] | undefined,
): Conjunction[] | undefined {
  if (!a || !b || a.length * b.length > MOST_CONJUNCTIONS) return undefined;
  return a.flatMap((left) => b.map((right) => [...left, ...right]));
}

function withinLimit(all: Conjunction[]): Conjunction[] | undefined {
  return all.length > MOST_CONJUNCTIONS ? undefined : all;
}

/** Whether nothing proves that these facts exclude each other, for some unit family that `allows` lets through. */
export function canHold(conjunction: Conjunction, world: World, allows: (unit: Unit) => boolean): boolean {
  return (
    findingsGoTogether(conjunction, world) &&
    atomsGoTogether(conjunction, world) &&
    choiceGoesTogether(conjunction, 'drive', Object.keys(DRIVES)) &&
    choiceGoesTogether(conjunction, 'option', Object.keys(OPTION_KINDS)) &&
    someUnitFits(conjunction, world, allows) &&
    allowsConsequences(conjunction, world)
  );
}

function findingsGoTogether(conjunction: Conjunction, world: World): boolean {
  const byFinding = new Map<string, { test: FindingTest; negative: boolean }[]>();
  for (const { test, negative } of conjunction) {
    if (test.about === 'finding')
      byFinding.set(test.id, [...(byFinding.get(test.id) ?? []), { test, negative }]);
  }
  return [...byFinding].every(([id, literals]) => {
    const { finding } = literals[0]!.test;
    return finding.kind === 'measurement'
      ? measurementGoesTogether(literals)
      : someReadingFits(literals, world.implied.has(id));
  });
}

type FindingLiteral = { readonly test: FindingTest; readonly negative: boolean };

/** A yes-no or a scale has one reading, so every reading it can have is tried. */
function someReadingFits(literals: readonly FindingLiteral[], implied: boolean): boolean {
  const { finding } = literals[0]!.test;
  const readings: (Reading | undefined)[] = [undefined];
  if (finding.kind === 'yes-no') readings.push({ kind: 'yes-no', yes: true }, { kind: 'yes-no', yes: false });
  else readings.push(...(finding.scale ?? []).map((_, step): Reading => ({ kind: 'scale', step })));
  return readings.some((reading) =>
    (implied ? [false, true] : [false]).some((follows) =>
      literals.every(({ test, negative }) => {
        const passes = (reading !== undefined && passesAlone(test, reading)) || (follows && test.whenImplied);
        return passes !== negative;
      }),
    ),
  );
}

function passesAlone(test: FindingTest, reading: Reading): boolean {
  const { finding, id } = test;
  const normal =
    reading.kind === 'yes-no'
      ? !reading.yes
      : reading.kind === 'scale' && reading.step <= lastNormalStep(finding);
  const verdict = { judged: normal ? ('normal' as const) : ('beyond' as const), text: '' };
  return passesReading(test, { finding, id, text: '', path: [], reading, verdict });
}

/** A measurement may have several readings, so only a demand against its own opposite is a contradiction. */
function measurementGoesTogether(literals: readonly FindingLiteral[]): boolean {
  const wanted = literals.filter((one) => !one.negative).map((one) => one.test);
  const excluded = literals.filter((one) => one.negative).map((one) => one.test);
  if (wanted.some(({ atLeast, atMost }) => atLeast && atMost && compareReadings(atLeast, atMost) > 0))
    return false;
  return !wanted.some((want) => excluded.some((exclude) => entails(want, exclude)));
}

/** Whether a reading that passes the one test passes the other as well. */
export function entails(a: FindingTest, b: FindingTest): boolean {
  const beyond = asksForWorse(a);
  if (asksPlainly(b)) return beyond;
  if (b.judged && a.judged !== b.judged && !(b.judged === 'beyond' && beyond)) return false;
  const lowFits = !b.atLeast || [a.atLeast, a.is].some((low) => low && compareReadings(low, b.atLeast!) >= 0);
  const highFits =
    !b.atMost || [a.atMost, a.is].some((high) => high && compareReadings(high, b.atMost!) <= 0);
  const exactFits = !b.is || (a.is !== undefined && compareReadings(a.is, b.is) === 0);
  return lowFits && highFits && exactFits;
}

/** Whether only what is worse than normal passes. */
export function asksForWorse(test: FindingTest): boolean {
  const { finding, is, atLeast } = test;
  if (asksPlainly(test) || test.judged === 'beyond') return true;
  if (finding.kind === 'yes-no') return is?.kind === 'yes-no' && is.yes;
  return [is, atLeast].some((one) => one?.kind === 'scale' && one.step > lastNormalStep(finding));
}

const SET_FACTS: ReadonlySet<AtomKind> = new Set([
  'role',
  'operation',
  'work',
  'reuse',
  'feature',
  'record',
  'rule',
]);

/** Facts that a job has or has not, each by itself. */
function atomsGoTogether(conjunction: Conjunction, world: World): boolean {
  const has = new Set<string>();
  const hasNot = new Set<string>();
  for (const { test, negative } of conjunction) {
    if (test.about === 'finding' || !SET_FACTS.has(test.about)) continue;
    for (const id of test.ids) (negative ? hasNot : has).add(`${test.about}:${id}`);
    if (test.about === 'rule' && !negative && test.ids.some((id) => world.never.has(id))) return false;
  }
  return ![...has].some((key) => hasNot.has(key));
}

/** Facts of which a job has one or none: how it is driven, the kind of option. */
function choiceGoesTogether(conjunction: Conjunction, about: AtomKind, words: readonly string[]): boolean {
  const literals = conjunction.filter((literal) => literal.test.about === about);
  return [...words, undefined].some((word) =>
    literals.every(
      ({ test, negative }) => (word !== undefined && (test as AtomTest).ids.includes(word)) !== negative,
    ),
  );
}

const UNIT_FACTS: ReadonlySet<string> = new Set(['unit', 'trait', 'cooler', 'bypass', 'lining']);

function someUnitFits(conjunction: Conjunction, { units }: World, allows: (unit: Unit) => boolean): boolean {
  if (units.length === 0) return true;
  const literals = conjunction.filter((literal) => UNIT_FACTS.has(literal.test.about));
  return units.some(([id, unit]) => {
    if (!allows(unit)) return false;
    const facts = new Set(unitAtoms(unit, id).map(([about, fact]) => `${about}:${fact}`));
    return literals.every(({ test, negative }) => {
      return (test as AtomTest).ids.some((fact) => facts.has(`${test.about}:${fact}`)) !== negative;
    });
  });
}
