/** The shape of a value, which tells the alternative of a declaration that it is meant to be. */
import type { Path } from '../../../schemas/problem.ts';
import type { Shape } from '../../../schemas/walk.ts';
import type { Node, Plain } from '../syntax/node.ts';

export function shapeOf(value: Plain): Shape {
  if (value === null) return { type: 'empty' };
  if (typeof value === 'string') return { type: 'text' };
  if (Array.isArray(value)) return { type: 'list' };
  return { type: 'map', keys: Object.keys(value) };
}

export function shapeOfNode(node: Node): Shape {
  switch (node.type) {
    case 'map':
      return { type: 'map', keys: node.pairs.map((pair) => pair.key.text) };
    case 'list':
      return { type: 'list' };
    case 'scalar':
      return { type: 'text' };
    case 'empty':
      return { type: 'empty' };
  }
}

/** What lies at a path; undefined when there is nothing, also for the names every JavaScript object answers to. */
export function valueAt(value: unknown, path: Path): unknown {
  let at = value;
  for (const step of path) {
    if (at === null || typeof at !== 'object' || !Object.hasOwn(at, step)) return undefined;
    at = (at as Record<string | number, unknown>)[step];
  }
  return at;
}
