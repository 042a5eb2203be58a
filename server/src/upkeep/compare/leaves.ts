/** What differs between two values of one declaration, field by field, in the words of the declaration. */
import type { z } from 'zod';
import { type FieldMeta, metaOf } from '../../../../schemas/declare.ts';
import { alternativeFor, childOf, isObject, meaningOf } from '../../../../schemas/walk.ts';
import { shapeOf } from '../../book/shape.ts';
import { type Plain, samePlain } from '../../syntax/node.ts';

export interface Leaf {
  /** Titles of fields and ids of entries, from the outside in. */
  readonly words: readonly string[];
  /** Names of fields and ids, from the outside in. */
  readonly path: readonly string[];
  readonly meta: FieldMeta;
  /** As typed; undefined where it is not there. */
  readonly was: string | undefined;
  readonly now: string | undefined;
}

export function differingLeaves(
  schema: z.ZodType | undefined,
  was: Plain | undefined,
  now: Plain | undefined,
): Leaf[] {
  const leaves: Leaf[] = [];
  const visit = (
    declared: z.ZodType | undefined,
    a: Plain | undefined,
    b: Plain | undefined,
    path: readonly string[],
    words: readonly string[],
  ): void => {
    if (a !== undefined && b !== undefined && samePlain(a, b)) return;
    const shape = shapeOf(b ?? a ?? null);
    const meant = declared && alternativeFor(declared, shape);
    if (isGroup(a) || isGroup(b)) {
      const lists = Array.isArray(a) || Array.isArray(b);
      for (const step of stepsOf(a, b)) {
        const child = meant && childOf(meant, lists ? Number(step) : step);
        const title = meant && child && isObject(meant) ? metaOf(child).title : undefined;
        const word = title ?? (lists ? `no. ${Number(step) + 1}` : step);
        visit(child, at(a, step), at(b, step), [...path, step], [...words, word]);
      }
      return;
    }
    const meta = declared && meant ? meaningOf(declared, meant) : {};
    leaves.push({ words, path, meta, was: textOf(a), now: textOf(b) });
  };
  visit(schema, was, now, [], []);
  return leaves;
}

function isGroup(value: Plain | undefined): value is Plain[] | { [key: string]: Plain } {
  return value !== null && typeof value === 'object' && Object.keys(value).length > 0;
}

function stepsOf(a: Plain | undefined, b: Plain | undefined): string[] {
  return [...new Set([a, b].flatMap((one) => (isGroup(one) ? Object.keys(one) : [])))];
}

function at(value: Plain | undefined, step: string): Plain | undefined {
  if (!isGroup(value) || !Object.hasOwn(value, step)) return undefined;
  return (value as { [key: string]: Plain })[step];
}

function textOf(value: Plain | undefined): string | undefined {
  if (value === undefined) return undefined;
  return typeof value === 'string' ? value : value === null ? '' : JSON.stringify(value);
}
