/**
 * Positioned nodes: what the reader makes of YAML text.
 *
 * Every offset counts UTF-16 units from the start of the *piece* of text that was read (an entry of a
 * catalog, usually), never from the start of the file: an edit elsewhere in the file then leaves the
 * nodes of this piece as they are. `syntax/file.ts` turns them into file positions.
 *
 * Scalars keep their text as typed. `0071`, `24E7`, `1_000`, `on`, `1:30` and `null` are text here;
 * what a text means (money, a date, a part number) is said by the declarations in `schemas/`, not by YAML.
 */
export interface Span {
  readonly start: number;
  readonly end: number;
}

export type ScalarStyle = 'plain' | 'single' | 'double' | 'literal' | 'folded';

export interface ScalarNode extends Span {
  readonly type: 'scalar';
  readonly text: string;
  readonly style: ScalarStyle;
}

/** A key with nothing after it (`cost:`), or a list dash with nothing after it. Zero width, where a value would go. */
export interface EmptyNode extends Span {
  readonly type: 'empty';
}

export interface PairNode extends Span {
  readonly key: ScalarNode;
  readonly value: Node;
}

export interface MapNode extends Span {
  readonly type: 'map';
  readonly flow: boolean;
  readonly pairs: readonly PairNode[];
}

export interface ListNode extends Span {
  readonly type: 'list';
  readonly flow: boolean;
  readonly items: readonly Node[];
}

export type Node = ScalarNode | EmptyNode | MapNode | ListNode;

/** Something wrong with the text as YAML, or with a YAML feature that shop books do not use. */
export interface SyntaxProblem extends Span {
  /** Stable code; each has a page in `explain`. */
  readonly code: string;
  /** What is wrong and what to do, one or two plain sentences. */
  readonly message: string;
}

export type Path = readonly (string | number)[];

/** Plain values for `schemas/` to judge: text leaves, `null` for empty, null-prototype objects, arrays. Of a name given twice the first counts. */
export type Plain = string | null | Plain[] | { [key: string]: Plain };

export function toPlain(node: Node): Plain {
  switch (node.type) {
    case 'scalar':
      return node.text;
    case 'empty':
      return null;
    case 'list':
      return node.items.map(toPlain);
    case 'map': {
      // A null prototype, so that `__proto__` and `constructor` are ordinary ids.
      const out: { [key: string]: Plain } = Object.create(null);
      for (const pair of node.pairs) if (!(pair.key.text in out)) out[pair.key.text] = toPlain(pair.value);
      return out;
    }
  }
}

/** Equal values; the order of names does not matter. */
export function samePlain(a: Plain, b: Plain): boolean {
  if (a === null || b === null || typeof a === 'string' || typeof b === 'string') return a === b;
  if (Array.isArray(a))
    return Array.isArray(b) && a.length === b.length && a.every((item, i) => samePlain(item, b[i]!));
  if (Array.isArray(b)) return false;
  const keys = Object.keys(a);
  return (
    keys.length === Object.keys(b).length &&
    keys.every((key) => Object.hasOwn(b, key) && samePlain(a[key]!, b[key]!))
  );
}

export function pairOf(node: Node, key: string): PairNode | undefined {
  return node.type === 'map' ? node.pairs.find((pair) => pair.key.text === key) : undefined;
}

/** The node at a path, or the nearest one above it that exists. */
export function nodeAt(root: Node, path: Path): Node {
  let node = root;
  for (const step of path) {
    const next = node.type === 'list' ? node.items[Number(step)] : pairOf(node, String(step))?.value;
    if (!next) return node;
    node = next;
  }
  return node;
}

/** The key's node at a path when the last step is a map key that exists. */
export function keyAt(root: Node, path: Path): ScalarNode | undefined {
  const last = path.at(-1);
  if (typeof last !== 'string') return undefined;
  return pairOf(nodeAt(root, path.slice(0, -1)), last)?.key;
}
