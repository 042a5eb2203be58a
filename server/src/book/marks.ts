/** Walking a node beside its declaration, and what the walk finds: ids that are brought into being, ids that are named. */
import type { z } from 'zod';
import { type FieldMeta, metaOf, type RefKind } from '../../../schemas/declare.ts';
import type { Path } from '../../../schemas/problem.ts';
import {
  alternativeFor,
  alternativesOf,
  childOf,
  isObject,
  keyOf,
  leadOf,
  meaningOf,
} from '../../../schemas/walk.ts';
import type { EmptyNode, MapNode, Node, PairNode, ScalarNode, Span } from '../syntax/node.ts';
import { shapeOfNode } from './shape.ts';

export interface Mark extends Span {
  readonly is: 'definition' | 'reference';
  /** What the id can name; the first that knows it counts. */
  readonly kinds: readonly RefKind[];
  readonly id: string;
  readonly path: Path;
  readonly onKey: boolean;
  /** Known only within its file. */
  readonly local: boolean;
  readonly shared: boolean;
}

/** A text that stands for a template's parameter: `$converter`. */
export const PARAMETER = /^\$([A-Za-z][\w-]*)$/;

/** What to do on the way. */
export interface Visitor {
  /** A single value, or an empty place where one belongs. */
  value?(
    node: ScalarNode | EmptyNode,
    schema: z.ZodType,
    meta: FieldMeta,
    path: Path,
    templated: boolean,
  ): void;
  /** A key that is an id or a word, not a field. */
  key?(node: ScalarNode, schema: z.ZodType, meta: FieldMeta, path: Path): void;
  /** A key that is not a field of the map it stands in. `leads`: the fields that would make the map another alternative. */
  unknown?(pair: PairNode, object: z.ZodObject, path: Path, leads: readonly string[]): void;
  /** A place whose text may hold parameters; what is inside is walked as well. */
  templated?(node: Node, schema: z.ZodType, path: Path): void;
}

/** Walks a node beside its declaration. */
export function visit(schema: z.ZodType, root: Node, visitor: Visitor): void {
  const at = (declared: z.ZodType, node: Node, path: Path, inTemplate: boolean): void => {
    const filledIn = inTemplate ? undefined : metaOf(declared).templated;
    if (filledIn) visitor.templated?.(node, filledIn, path);
    const templated = inTemplate || filledIn !== undefined;
    const alternatives = alternativesOf(declared);
    const meant = alternatives.length === 1 ? alternatives[0]! : alternativeFor(declared, shapeOfNode(node));
    if (!meant) return;
    switch (node.type) {
      case 'scalar':
      case 'empty':
        visitor.value?.(node, meant, meaningOf(declared, meant), path, templated);
        return;
      case 'list': {
        const item = childOf(meant, 0);
        if (item) for (const [i, child] of node.items.entries()) at(item, child, [...path, i], templated);
        return;
      }
      case 'map': {
        const keys = keyOf(meant);
        for (const pair of node.pairs) {
          const below = [...path, pair.key.text];
          if (keys) visitor.key?.(pair.key, keys, metaOf(keys), below);
          const child = childOf(meant, pair.key.text);
          if (child) at(child, pair.value, below, templated);
          else if (isObject(meant)) unknown(meant, alternatives, node, pair, below);
        }
      }
    }
  };
  const unknown = (
    meant: z.ZodObject,
    alternatives: readonly z.ZodType[],
    node: MapNode,
    pair: PairNode,
    path: Path,
  ): void => {
    const leads = alternatives.filter(isObject).map(leadOf);
    // Where it cannot be told which alternative is meant, that is said once, and not of every key again.
    if (leads.length > 1 && !node.pairs.some(({ key }) => leads.includes(key.text))) return;
    visitor.unknown?.(pair, meant, path, leads);
  };
  at(schema, root, [], false);
}

export function marksOf(schema: z.ZodType, root: Node): Mark[] {
  const marks: Mark[] = [];
  visit(
    schema,
    root,
    markCollector((mark) => marks.push(mark)),
  );
  return marks;
}

/** The part of a walk that finds marks. */
export function markCollector(found: (mark: Mark) => void): Required<Pick<Visitor, 'value' | 'key'>> {
  const add = (node: ScalarNode, meta: FieldMeta, path: Path, onKey: boolean, templated: boolean) => {
    const parameter = templated && node.text.startsWith('$') ? PARAMETER.exec(node.text) : null;
    const kinds = parameter ? PARAMETERS : kindsOf(meta);
    if (kinds.length === 0 || node.text.trim() === '') return;
    const defines = !parameter && meta.defines !== undefined;
    if (!parameter && !defines && meta.choices && Object.hasOwn(meta.choices, node.text)) return;
    found({
      is: defines ? 'definition' : 'reference',
      kinds,
      id: parameter ? parameter[1]! : node.text,
      path,
      onKey,
      local: parameter !== null || meta.local === true,
      shared: meta.shared === true,
      start: node.start,
      end: node.end,
    });
  };
  return {
    value: (node, _schema, meta, path, templated) => {
      if (node.type === 'scalar') add(node, meta, path, false, templated);
    },
    key: (node, _schema, meta, path) => add(node, meta, path, true, false),
  };
}

const NONE: readonly RefKind[] = [];
const PARAMETERS: readonly RefKind[] = ['parameter'];
const single = new Map<RefKind, readonly RefKind[]>();

function kindsOf(meta: FieldMeta): readonly RefKind[] {
  const named = meta.defines ?? meta.refers;
  if (named === undefined) return NONE;
  if (typeof named !== 'string') return named;
  let kinds = single.get(named);
  if (!kinds) {
    kinds = [named];
    single.set(named, kinds);
  }
  return kinds;
}
