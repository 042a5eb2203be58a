/** What is wrong with a value, as a shop's writer would say it: zod's issues in plain words, each at its own place. */
import type { z } from 'zod';
import type { Path } from '../../../schemas/problem.ts';
import { didYouMean } from '../../../schemas/values/words.ts';
import {
  alternativeFor,
  alternativesOf,
  childOf,
  isList,
  isObject,
  isRecord,
  leadOf,
  type Shape,
} from '../../../schemas/walk.ts';
import type { Plain } from '../syntax/node.ts';
import { shapeOf, valueAt } from './shape.ts';

/** One thing that is wrong, at a path of the value that was judged. */
export interface Leaf {
  readonly path: Path;
  readonly code: string;
  readonly message: string;
  /** The key is meant, not its value. */
  readonly onKey: boolean;
  readonly data?: Readonly<Record<string, unknown>>;
}

/** `plain` is the value that was judged, `schema` its declaration. */
export function leavesOf(
  issues: readonly z.core.$ZodIssue[],
  schema: z.ZodType,
  plain: Plain,
  above: Path = [],
): Leaf[] {
  return issues.flatMap((issue): Leaf[] => {
    const inside = issue.path as Path;
    const path = [...above, ...inside];
    const value = valueAt(plain, inside) as Plain | undefined;
    if (issue.code === 'invalid_key')
      return [leaf(path, 'wrong-value', issue.issues[0]?.message ?? issue.message, true)];
    if (value === undefined && issue.code !== 'custom')
      return [leaf(path, 'missing-field', `"${String(path.at(-1))}" is missing; it is needed here.`)];
    if (value === null) return [leaf(path, 'empty-value', emptyMessage(path))];
    switch (issue.code) {
      case 'invalid_union':
        return unionLeaves(schemaAt(schema, plain, inside)!, value!, path);
      case 'invalid_type':
        return [leaf(path, 'wrong-shape', wrongShape([wantedBy(issue.expected)], value!))];
      case 'too_small':
        return [leaf(path, 'empty-value', 'At least one is needed here.')];
      case 'invalid_value':
        return [wordLeaf(issue, path, value!)];
      default:
        return [leaf(path, codeOf(issue), issue.message)];
    }
  });
}

/** The declaration at a path of a value, its alternatives not yet settled. */
export function schemaAt(root: z.ZodType, plain: Plain, path: Path): z.ZodType | undefined {
  let schema: z.ZodType | undefined = root;
  let value: Plain | undefined = plain;
  for (const step of path) {
    const settled: z.ZodType | undefined = schema && alternativeFor(schema, shapeOf(value ?? null));
    schema = settled && childOf(settled, step);
    value = valueAt(value, [step]) as Plain | undefined;
  }
  return schema;
}

function unionLeaves(union: z.ZodType, value: Plain, path: Path): Leaf[] {
  const shape = shapeOf(value);
  const alternatives = alternativesOf(union);
  const leads = alternatives.filter(isObject).map(leadOf);
  if (shape.type === 'map' && leads.length > 1 && !shape.keys.some((key) => leads.includes(key)))
    return [unclear(leads, shape.keys, path)];
  const meant = alternativeFor(union, shape);
  const judged = meant?.safeParse(value);
  if (!meant || !judged?.error)
    return [leaf(path, 'wrong-shape', wrongShape(alternatives.map(wantedOf), value))];
  return leavesOf(judged.error.issues, meant, value, path);
}

function unclear(leads: readonly string[], keys: readonly string[], path: Path): Leaf {
  for (const key of keys) {
    const near = didYouMean(key, leads, 1)[0];
    if (near) {
      const message = `"${key}" is not a field that is known here. Did you mean "${near}"?`;
      return { ...leaf([...path, key], 'unknown-key', message, true), data: { replaceKey: near } };
    }
  }
  return leaf(
    path,
    'unclear-entry',
    `This does not say what it is. Begin it with one of: ${leads.join(', ')}.`,
  );
}

/** A value that is quoted in its message can be as long as a page. */
const LONGEST = 1000;

function leaf(path: Path, code: string, message: string, onKey = false): Leaf {
  const short = message.length > LONGEST ? `${message.slice(0, LONGEST - 1)}…` : message;
  return { path, code, message: short, onKey };
}

/** Refinements in `schemas/` may name a code of their own. */
function codeOf(issue: z.core.$ZodIssue): string {
  const code = issue.code === 'custom' ? issue.params?.code : undefined;
  return typeof code === 'string' ? code : 'wrong-value';
}

function wordLeaf(issue: z.core.$ZodIssueInvalidValue, path: Path, value: Plain): Leaf {
  if (typeof value !== 'string') return leaf(path, 'wrong-shape', wrongShape(['text'], value));
  const [only] = issue.values;
  return leaf(
    path,
    'wrong-word',
    issue.values.length === 1 ? `This has to be "${String(only)}".` : issue.message,
  );
}

function emptyMessage(path: Path): string {
  const last = path.at(-1);
  return typeof last === 'string'
    ? `"${last}" has nothing after it. Write a value, or remove the line.`
    : 'There is nothing after this dash. Write an item, or remove the line.';
}

const WRITE: Record<Shape['type'], string> = {
  map: 'fields of its own, such as "name: …", set in under it',
  list: 'a list: "- …" on lines of their own, or [a, b]',
  text: 'a single value on one line',
  empty: 'nothing',
};

const FOUND: Record<Shape['type'], string> = {
  map: 'Here are fields',
  list: 'Here is a list',
  text: 'Here is a single value',
  empty: 'Here is nothing',
};

function wrongShape(wanted: readonly Shape['type'][], value: Plain): string {
  const words = [...new Set(wanted)].map((shape) => WRITE[shape]).join(', or ');
  return `${FOUND[shapeOf(value).type]}; write ${words}.`;
}

function wantedOf(schema: z.ZodType): Shape['type'] {
  if (isObject(schema) || isRecord(schema)) return 'map';
  return isList(schema) ? 'list' : 'text';
}

function wantedBy(expected: string): Shape['type'] {
  if (expected === 'array') return 'list';
  return expected === 'object' || expected === 'record' ? 'map' : 'text';
}
