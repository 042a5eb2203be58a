/** Which facts a job must have, at least one of them, before a condition can hold: rules are looked up by these. */
import type { AtomKind, Node, Test } from './conditions.ts';

export function atomKey(about: AtomKind | 'finding', id: string): string {
  return `${about}:${id}`;
}

export function keysOf(test: Test): readonly string[] {
  return test.about === 'finding'
    ? [atomKey('finding', test.id)]
    : test.ids.map((id) => atomKey(test.about, id));
}

/** Undefined when the condition can hold of a job that has nothing. */
export function triggersOf(node: Node): readonly string[] | undefined {
  // Two texts may be the same value of a field of the shop, so such a rule is always asked.
  if (node.op === 'test') return node.test.about === 'own' ? undefined : keysOf(node.test);
  if (node.op === 'broken') return [];
  if (node.op === 'none') return undefined;
  const inner = node.nodes.map(triggersOf);
  if (node.op === 'any')
    return inner.every((keys) => keys !== undefined) ? [...new Set(inner.flat())] : undefined;
  const useful = inner.filter((keys) => keys !== undefined);
  return useful.toSorted((a, b) => costOf(a) - costOf(b))[0];
}

/** What every job has makes a poor trigger. */
const COMMON: ReadonlySet<string> = new Set([
  'unit',
  'trait',
  'cooler',
  'bypass',
  'lining',
  'drive',
  'option',
  'work',
]);

function costOf(keys: readonly string[]): number {
  return keys.reduce((cost, key) => cost + (COMMON.has(key.slice(0, key.indexOf(':'))) ? 100 : 1), 0);
}
