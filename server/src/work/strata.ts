/**
 * The order in which rules are asked. What a `none` looks at has to be settled before the rule that says it, so rules
 * and the findings that follow from them are put into strata; a circle through a `none` has no such order.
 */
import type { FindingTest, Node } from './conditions.ts';
import { atomKey } from './triggers.ts';

export interface Dependency {
  readonly on: string;
  readonly negative: boolean;
}

/** The derived facts (findings, rules) that a condition hangs on, and whether through a `none`. */
export function dependenciesOf(node: Node, negative = false): Dependency[] {
  if (node.op === 'broken') return [];
  if (node.op !== 'test') {
    const inside = node.op === 'none' ? !negative : negative;
    return node.nodes.flatMap((inner) => dependenciesOf(inner, inside));
  }
  const { test } = node;
  if (test.about === 'rule') return test.ids.map((id) => ({ on: atomKey('rule', id), negative }));
  return test.about === 'finding' && (test as FindingTest).whenImplied
    ? [{ on: atomKey('finding', test.id), negative }]
    : [];
}

export type Graph = ReadonlyMap<string, readonly Dependency[]>;

export interface Strata {
  /** By fact, from 0; facts that hang on nothing are in 0. */
  readonly of: ReadonlyMap<string, number>;
  /** Facts that hang on each other through a `none`, each circle a list. */
  readonly circles: readonly (readonly string[])[];
}

export function stratify(graph: Graph): Strata {
  const components = componentsOf(graph);
  const componentOf = new Map(
    components.flatMap((members, index) => members.map((member) => [member, index] as const)),
  );
  const of = new Map<string, number>();
  const circles: string[][] = [];
  // Components come out with what they hang on first.
  for (const [index, members] of components.entries()) {
    const inside = (dependency: Dependency) => componentOf.get(dependency.on) === index;
    const dependencies = members.flatMap((member) => graph.get(member) ?? []);
    if (dependencies.some((dependency) => dependency.negative && inside(dependency))) circles.push(members);
    let stratum = 0;
    for (const dependency of dependencies) {
      if (inside(dependency)) continue;
      stratum = Math.max(stratum, (of.get(dependency.on) ?? 0) + (dependency.negative ? 1 : 0));
    }
    for (const member of members) of.set(member, stratum);
  }
  return { of, circles };
}

/** Strongly connected components, each after those it hangs on (Tarjan), without recursion so that depth is free. */
function componentsOf(graph: Graph): string[][] {
  const index = new Map<string, number>();
  const low = new Map<string, number>();
  const open: string[] = [];
  const isOpen = new Set<string>();
  const components: string[][] = [];
  for (const root of graph.keys()) {
    if (index.has(root)) continue;
    const work = [{ node: root, next: 0 }];
    while (work.length > 0) {
      const top = work.at(-1)!;
      const { node } = top;
      if (top.next === 0) {
        index.set(node, index.size);
        low.set(node, index.get(node)!);
        open.push(node);
        isOpen.add(node);
      }
      const dependency = graph.get(node)?.[top.next];
      if (dependency) {
        top.next += 1;
        if (!index.has(dependency.on)) work.push({ node: dependency.on, next: 0 });
        else if (isOpen.has(dependency.on))
          low.set(node, Math.min(low.get(node)!, index.get(dependency.on)!));
        continue;
      }
      work.pop();
      const parent = work.at(-1)?.node;
      if (parent !== undefined) low.set(parent, Math.min(low.get(parent)!, low.get(node)!));
      if (low.get(node) !== index.get(node)) continue;
      const members = open.splice(open.lastIndexOf(node));
      for (const member of members) isOpen.delete(member);
      components.push(members);
    }
  }
  return components;
}
