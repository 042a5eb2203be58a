/** Where a node brings ids into being and where it names them, as the declarations say. */
import type { z } from 'zod';
import { type FieldMeta, metaOf, type RefKind } from '../../../schemas/declare.ts';
import type { Path } from '../../../schemas/problem.ts';
import { alternativeFor, bare, childOf, keyOf } from '../../../schemas/walk.ts';
import type { Node, ScalarNode, Span } from '../syntax/node.ts';
import { shapeOfNode } from './judge.ts';

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

export interface Visitor {
  /** A single value, or an empty place where one belongs. */
  value?(node: Node, schema: z.ZodType, meta: FieldMeta, path: Path, templated: boolean): void;
  key?(node: ScalarNode, schema: z.ZodType, meta: FieldMeta, path: Path): void;
}

/** Walks a node beside its declaration. */
export function visit(schema: z.ZodType, root: Node, visitor: Visitor): void {
  const at = (declared: z.ZodType, node: Node, path: Path, inTemplate: boolean): void => {
    const templated = inTemplate || metaOf(declared).templated !== undefined;
    const meant = alternativeFor(declared, shapeOfNode(node));
    if (!meant) return;
    if (node.type === 'scalar' || node.type === 'empty') {
      // A field may say more than the alternative inside it: the outer words count.
      visitor.value?.(node, meant, { ...metaOf(meant), ...metaOf(declared) }, path, templated);
      return;
    }
    if (node.type === 'list') {
      const item = childOf(meant, 0);
      if (item) for (const [i, child] of node.items.entries()) at(item, child, [...path, i], templated);
      return;
    }
    const keys = keyOf(meant);
    const keyMeta = keys && metaOf(keys);
    for (const pair of node.pairs) {
      const below = [...path, pair.key.text];
      if (keys && keyMeta) visitor.key?.(pair.key, keys, keyMeta, below);
      const child = childOf(meant, pair.key.text);
      if (child) at(child, pair.value, below, templated);
    }
  };
  at(bare(schema), root, [], false);
}

export function marksOf(schema: z.ZodType, root: Node): Mark[] {
  const marks: Mark[] = [];
  const add = (node: ScalarNode, meta: FieldMeta, path: Path, onKey: boolean, templated: boolean) => {
    const parameter = templated && PARAMETER.exec(node.text);
    const kinds = parameter ? (['parameter'] as const) : kindsOf(meta);
    if (kinds.length === 0) return;
    marks.push({
      is: !parameter && meta.defines ? 'definition' : 'reference',
      kinds,
      id: parameter ? parameter[1]! : node.text,
      path,
      onKey,
      local: Boolean(parameter) || meta.local === true,
      shared: meta.shared === true,
      start: node.start,
      end: node.end,
    });
  };
  visit(schema, root, {
    value: (node, _schema, meta, path, templated) => {
      if (node.type === 'scalar') add(node, meta, path, false, templated);
    },
    key: (node, _schema, meta, path) => add(node, meta, path, true, false),
  });
  return marks;
}

function kindsOf(meta: FieldMeta): readonly RefKind[] {
  if (meta.defines) return [meta.defines];
  if (!meta.refers) return [];
  return typeof meta.refers === 'string' ? [meta.refers] : meta.refers;
}
