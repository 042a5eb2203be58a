/**
 * Texts of which something else in the book says whether they are ids, and of what: the values that a line gives for a
 * template's parameters (`with:`), a parameter's own default and choices, values of fields that the shop declares.
 */
import type { z } from 'zod';
import type { RefKind } from '../../../schemas/declare.ts';
import { NAMEABLE, type Nameable, type OwnField } from '../../../schemas/kinds/own.ts';
import type { Template } from '../../../schemas/kinds/template.ts';
import type { Path } from '../../../schemas/problem.ts';
import type { Book } from '../book/book.ts';
import { PARAMETER, visit } from '../book/marks.ts';
import { type Node, nodeAt, pairOf, type ScalarNode } from '../syntax/node.ts';

export interface Argument {
  readonly node: ScalarNode;
  readonly path: Path;
  /** What it may name. */
  readonly kinds: readonly RefKind[];
  /** The template's parameter, or the field, whose type decides; undefined when `kinds` is certain. */
  readonly of:
    | { readonly template: string; readonly parameter: string }
    | { readonly field: string }
    | undefined;
}

const NAMED = Object.keys(NAMEABLE) as Nameable[];

/** Types of a parameter that make its value an id. */
const ID_TYPES: readonly RefKind[] = ['part', 'operation'];

export function argumentsIn(schema: z.ZodType, root: Node): Argument[] {
  const found: Argument[] = [];
  const add = (node: Node | undefined, path: Path, kinds: readonly RefKind[], of?: Argument['of']) => {
    if (node?.type === 'scalar' && !PARAMETER.test(node.text)) found.push({ node, path, kinds, of });
  };
  visit(schema, root, {
    key: (key, _schema, meta, path) => {
      const value = nodeAt(root, path);
      if (meta.refers === 'field') add(value, path, NAMED, { field: key.text });
      if (meta.refers === 'parameter') {
        const template = textOf(nodeAt(root, path.slice(0, -2)), 'template');
        if (template !== undefined) add(value, path, ID_TYPES, { template, parameter: key.text });
      }
      if (meta.defines === 'parameter') {
        const type = textOf(value, 'type');
        const kinds = ID_TYPES.filter((one) => one === type);
        if (kinds.length === 0) return;
        add(pairOf(value, 'default')?.value, [...path, 'default'], kinds);
        const choices = pairOf(value, 'choices')?.value;
        if (choices?.type !== 'list') return;
        for (const [i, item] of choices.items.entries()) add(item, [...path, 'choices', i], kinds);
      }
    },
  });
  return found;
}

/** What the value of a parameter or a field names; undefined when it is no id. */
export function argumentKind(book: Book, of: NonNullable<Argument['of']>): RefKind | undefined {
  if ('field' in of) return (book.value('field', of.field) as OwnField | undefined)?.names;
  const template = book.value('template', of.template) as Template | undefined;
  const type = template?.parameters?.[of.parameter]?.type;
  return ID_TYPES.find((one) => one === type);
}

function textOf(node: Node, key: string): string | undefined {
  const value = pairOf(node, key)?.value;
  return value?.type === 'scalar' ? value.text : undefined;
}
