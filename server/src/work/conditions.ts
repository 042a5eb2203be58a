/** Conditions of rules, read once into tests that a job can be asked. */
import type { Condition, Finding } from '../../../schemas/kinds/rules.ts';
import type { Unit } from '../../../schemas/kinds/units.ts';
import { lastNormalStep, type Reading, readReading } from './readings.ts';

/** What a single test asks about a finding; all that is given has to hold of one reading. */
export interface FindingTest {
  readonly about: 'finding';
  readonly id: string;
  readonly finding: Finding;
  readonly is?: Reading | undefined;
  readonly atLeast?: Reading | undefined;
  readonly atMost?: Reading | undefined;
  readonly judged?: Condition['judged'];
  /** Whether the finding passes this test when it follows from others, without a reading of its own. */
  readonly whenImplied: boolean;
}

export type AtomKind =
  | 'role'
  | 'operation'
  | 'work'
  | 'reuse'
  | 'unit'
  | 'trait'
  | 'cooler'
  | 'bypass'
  | 'lining'
  | 'drive'
  | 'feature'
  | 'record'
  | 'option'
  | 'rule'
  | 'own';

/** A fact that a job has or has not. */
export interface AtomTest {
  readonly about: AtomKind;
  /** One of these. */
  readonly ids: readonly string[];
  /** Of a field of the shop: what it has to be. */
  readonly is?: string | undefined;
}

export type Test = FindingTest | AtomTest;

export type Node =
  | { readonly op: 'all' | 'any' | 'none'; readonly nodes: readonly Node[] }
  | { readonly op: 'test'; readonly test: Test }
  /** A condition with a mistake in it: a rule that has one is left out. */
  | { readonly op: 'broken' };

type Lookup = (id: string) => Finding | undefined;

export function readCondition(condition: Condition, lookup: Lookup): Node {
  const nodes: Node[] = [];
  for (const op of ['all', 'any', 'none'] as const) {
    const inner = condition[op];
    if (inner) nodes.push({ op, nodes: inner.map((one) => readCondition(one, lookup)) });
  }
  const finding = findingTest(condition, lookup);
  if (finding) nodes.push(finding);
  for (const [about, ids] of atomsOf(condition)) nodes.push({ op: 'test', test: { about, ids } });
  for (const [field, is] of Object.entries(condition.own ?? {}))
    nodes.push({ op: 'test', test: { about: 'own', ids: [field], is } });
  return nodes.length === 1 ? nodes[0]! : { op: 'all', nodes };
}

function atomsOf(condition: Condition): [AtomKind, readonly string[]][] {
  const lists: [AtomKind, readonly string[] | string | boolean | undefined][] = [
    ['role', condition.role],
    ['operation', condition.operation],
    ['work', condition.work],
    ['reuse', condition.reuse],
    ['unit', condition.unit],
    ['trait', condition.trait],
    ['cooler', condition.cooler],
    ['bypass', condition.bypass],
    ['lining', condition.lining],
    ['drive', condition.drive],
    ['feature', condition.feature],
    ['record', condition.record],
    ['option', condition.option],
    ['rule', condition.rule],
  ];
  return lists.flatMap(([about, value]) => {
    if (value === undefined) return [];
    if (typeof value === 'boolean') return [[about, [value ? 'yes' : 'no']]];
    return [[about, typeof value === 'string' ? [value] : value]];
  });
}

function findingTest(condition: Condition, lookup: Lookup): Node | undefined {
  const { finding: id, is, judged } = condition;
  const bounds = [is, condition['at-least'], condition['at-most']];
  if (id === undefined) return bounds.some(Boolean) || judged ? { op: 'broken' } : undefined;
  const finding = lookup(id);
  if (!finding) return { op: 'broken' };
  const [isRead, atLeast, atMost] = bounds.map((text) =>
    text === undefined ? undefined : readReading(finding, text),
  );
  for (const read of [isRead, atLeast, atMost]) if (read && !read.ok) return { op: 'broken' };
  const readings = {
    is: isRead?.ok ? isRead.value : undefined,
    atLeast: atLeast?.ok ? atLeast.value : undefined,
    atMost: atMost?.ok ? atMost.value : undefined,
  };
  const test = { about: 'finding' as const, id, finding, ...readings, judged };
  return { op: 'test', test: { ...test, whenImplied: holdsWhenImplied(test) } };
}

/**
 * A finding that follows from others is worse than normal, and no more is known of it: yes, or at least the first
 * word past normal, or beyond its limit.
 */
function holdsWhenImplied(test: Omit<FindingTest, 'whenImplied'>): boolean {
  if (test.judged && test.judged !== 'beyond') return false;
  if (test.finding.kind === 'yes-no') return (test.is === undefined || isYes(test.is)) && !test.atMost;
  if (test.is || test.atMost) return false;
  if (!test.atLeast) return true;
  return test.atLeast.kind === 'scale' && test.atLeast.step <= lastNormalStep(test.finding) + 1;
}

function isYes(reading: Reading): boolean {
  return reading.kind === 'yes-no' && reading.yes;
}

/** Whether a test asks for no more than that the finding is worse than normal. */
export function asksPlainly(test: FindingTest): boolean {
  return !test.is && !test.atLeast && !test.atMost && !test.judged;
}

/** The facts of a unit family that conditions ask for. */
export function unitAtoms(unit: Unit, id: string): [AtomKind, string][] {
  return [
    ['unit', id],
    ...(unit.traits ?? []).map((trait): [AtomKind, string] => ['trait', trait]),
    ...(unit.cooler
      ? ([
          ['cooler', unit.cooler.kind],
          ['bypass', unit.cooler.bypass ? 'yes' : 'no'],
        ] as [AtomKind, string][])
      : []),
    ...(unit['converter-lining'] ? [['lining', unit['converter-lining']] as [AtomKind, string]] : []),
  ];
}

export function isBroken(node: Node): boolean {
  return node.op === 'broken' || (node.op !== 'test' && node.nodes.some(isBroken));
}

export function testsOf(node: Node): Test[] {
  if (node.op === 'test') return [node.test];
  return node.op === 'broken' ? [] : node.nodes.flatMap(testsOf);
}
