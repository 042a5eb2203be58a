/**
 * A node held against its declaration: typed value, problems with exact spans.
 *
 * What is wrong is taken out piece by piece and the rest is judged again, so that one bad line does not
 * take the job's other lines with it, nor one bad field its part.
 */
import { z } from 'zod';
import { isOptional, metaOf } from '../../../schemas/declare.ts';
import type { Path, Problem } from '../../../schemas/problem.ts';
import { didYouMean } from '../../../schemas/values/words.ts';
import {
  alternativeFor,
  alternativesOf,
  bare,
  childOf,
  fieldsOf,
  type Shape,
} from '../../../schemas/walk.ts';
import { keyAt, type Node, nodeAt, type Plain, type Span, toPlain } from '../syntax/node.ts';

export type Located = Problem & Span;

export interface Judged {
  /** Undefined when nothing could be saved. */
  readonly value: unknown;
  readonly problems: readonly Located[];
  /** What was taken out, as paths of the text; deeper list positions in `value` have moved up by it. */
  readonly dropped: readonly Path[];
}

const NOTHING: readonly never[] = [];
const ROUNDS = 12;

export function judge(schema: z.ZodType, node: Node): Judged {
  const plain = toPlain(node);
  const unknown = unknownKeys(schema, node);
  const first = schema.safeParse(plain);
  if (first.success) return { value: first.data, problems: unknown, dropped: NOTHING };

  const problems = [...unknown];
  const dropped: Path[] = [];
  let attempt: z.ZodSafeParseResult<unknown> = first;
  for (let round = 0; round < ROUNDS && !attempt.success; round++) {
    const bad: Path[] = [];
    for (const issue of leafIssues(attempt.error.issues, schema, plain)) {
      const path = originalPath(issue.path, dropped);
      problems.push(located(node, issue, path, schema));
      const removable = removablePath(schema, plain, path);
      if (removable) bad.push(removable);
    }
    const fresh = bad.filter((path) => !dropped.some((other) => startsWith(path, other)));
    if (fresh.length === 0) break;
    for (const path of fresh) {
      if (!dropped.some((other) => startsWith(path, other))) dropped.push(path);
    }
    attempt = schema.safeParse(without(plain, dropped));
  }
  return { value: attempt.success ? attempt.data : undefined, problems: distinct(problems), dropped };
}

/** A path of the judged value as a path of the text: list positions count what was taken out. */
export function originalPath(path: Path, dropped: readonly Path[]): Path {
  if (dropped.length === 0) return path;
  const out: (string | number)[] = [];
  for (const step of path) {
    if (typeof step !== 'number') {
      out.push(step);
      continue;
    }
    const gone = dropped
      .filter((d) => d.length === out.length + 1 && startsWith(d, out) && typeof d[out.length] === 'number')
      .map((d) => d[out.length] as number)
      .sort((a, b) => a - b);
    let index = step;
    for (const at of gone) if (at <= index) index++;
    out.push(index);
  }
  return out;
}

interface Leaf {
  readonly path: Path;
  readonly code: string;
  readonly message: string;
  readonly onKey: boolean;
}

function leafIssues(
  issues: readonly z.core.$ZodIssue[],
  schema: z.ZodType,
  plain: Plain,
  above: Path = [],
): Leaf[] {
  return issues.flatMap((issue) => {
    const path: Path = [...above, ...(issue.path as (string | number)[])];
    const value = valueAt(plain, path.slice(above.length));
    switch (issue.code) {
      case 'invalid_union':
        return unionLeaves(issue, schema, value, path, plain, above);
      case 'invalid_key':
        return [leaf(path, 'wrong-value', issue.issues[0]?.message ?? issue.message, true)];
      case 'invalid_type':
        return [typeLeaf(issue, path, value)];
      case 'too_small':
        return [leaf(path, 'empty-value', 'At least one is needed here.')];
      case 'invalid_value':
        return [leaf(path, 'wrong-word', value === null ? emptyMessage(path) : wordMessage(issue, value))];
      default:
        return [leaf(path, 'wrong-value', issue.message)];
    }
  });
}

function leaf(path: Path, code: string, message: string, onKey = false): Leaf {
  return { path, code, message, onKey };
}

function unionLeaves(
  issue: z.core.$ZodIssueInvalidUnion,
  root: z.ZodType,
  value: Plain | undefined,
  path: Path,
  plain: Plain,
  above: Path,
): Leaf[] {
  const union = schemaAt(root, plain, path.slice(above.length), false);
  if (value === undefined || !union) return [leaf(path, 'missing-field', missingMessage(path))];
  const alternatives = alternativesOf(union);
  const meant = alternativeFor(union, shapeOf(value));
  const index = meant ? alternatives.indexOf(meant) : -1;
  const errors = index >= 0 ? issue.errors[index] : undefined;
  if (!meant || !errors || errors.length === 0) {
    return [leaf(path, 'wrong-shape', wrongShape(alternatives.map(wantedOf), value))];
  }
  return leafIssues(errors, meant, value ?? null, path);
}

function typeLeaf(issue: z.core.$ZodIssueInvalidType, path: Path, value: Plain | undefined): Leaf {
  if (value === undefined) return leaf(path, 'missing-field', missingMessage(path));
  if (value === null) return leaf(path, 'empty-value', emptyMessage(path));
  const wanted: Shape['type'] =
    issue.expected === 'array'
      ? 'list'
      : issue.expected === 'object' || issue.expected === 'record'
        ? 'map'
        : 'text';
  return leaf(path, 'wrong-shape', wrongShape([wanted], value));
}

function missingMessage(path: Path): string {
  return `"${String(path.at(-1))}" is missing; it is needed here.`;
}

function emptyMessage(path: Path): string {
  const last = path.at(-1);
  return typeof last === 'string'
    ? `"${last}" has nothing after it. Write a value, or remove the line.`
    : 'There is nothing after this dash. Write an item, or remove the line.';
}

function wordMessage(issue: z.core.$ZodIssueInvalidValue, value: Plain | undefined): string {
  if (typeof value !== 'string') return wrongShape(['text'], value ?? null);
  if (issue.values.length === 1) return `This has to be "${String(issue.values[0])}".`;
  return issue.message;
}

const SHAPE_WORDS: Record<Shape['type'], string> = {
  map: 'fields of its own, such as "name: …" indented under it',
  list: 'a list: "- …" on lines of their own, or [a, b]',
  text: 'a single value on one line',
  empty: 'nothing',
};

const FOUND_WORDS: Record<Shape['type'], string> = {
  map: 'fields',
  list: 'a list',
  text: 'a single value',
  empty: 'nothing',
};

function wrongShape(wanted: readonly Shape['type'][], value: Plain): string {
  const words = [...new Set(wanted)].map((shape) => SHAPE_WORDS[shape]).join(', or ');
  return `Here is ${FOUND_WORDS[shapeOf(value).type]}; write ${words}.`;
}

function wantedOf(schema: z.ZodType): Shape['type'] {
  if (schema instanceof z.ZodObject || schema instanceof z.ZodRecord) return 'map';
  return schema instanceof z.ZodArray ? 'list' : 'text';
}

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

function valueAt(plain: Plain, path: Path): Plain | undefined {
  let value: Plain | undefined = plain;
  for (const step of path) {
    if (value === null || typeof value !== 'object') return undefined;
    value = (value as Record<string | number, Plain>)[step];
  }
  return value;
}

/** The declaration at a path; with `choose`, alternatives are settled at the last step as well. */
function schemaAt(root: z.ZodType, plain: Plain, path: Path, choose: boolean): z.ZodType | undefined {
  let schema: z.ZodType | undefined = root;
  let value: Plain | undefined = plain;
  for (const step of path) {
    const settled: z.ZodType | undefined = schema && alternativeFor(schema, shapeOf(value ?? null));
    schema = settled && childOf(settled, step);
    value = valueAt(value ?? null, [step]);
  }
  return schema && choose ? alternativeFor(schema, shapeOf(value ?? null)) : schema;
}

/** The nearest place at or above a path that can be left out without breaking what is above it. */
function removablePath(root: z.ZodType, plain: Plain, path: Path): Path | undefined {
  for (let length = path.length; length > 0; length--) {
    const parent = schemaAt(root, plain, path.slice(0, length - 1), true);
    if (!parent) continue;
    if (parent instanceof z.ZodArray || parent instanceof z.ZodRecord) return path.slice(0, length);
    const child = childOf(parent, path[length - 1]!);
    if (child && isOptional(child) && valueAt(plain, path.slice(0, length)) !== undefined)
      return path.slice(0, length);
  }
  return undefined;
}

function without(plain: Plain, dropped: readonly Path[], above: Path = []): Plain {
  if (plain === null || typeof plain === 'string') return plain;
  const gone = (step: string | number) => dropped.some((path) => samePath(path, [...above, step]));
  if (Array.isArray(plain)) {
    return plain.flatMap((item, i) => (gone(i) ? [] : [without(item, dropped, [...above, i])]));
  }
  const out: Record<string, Plain> = Object.create(null);
  for (const [key, value] of Object.entries(plain)) {
    if (!gone(key)) out[key] = without(value, dropped, [...above, key]);
  }
  return out;
}

function startsWith(path: Path, start: Path): boolean {
  return start.length <= path.length && start.every((step, i) => path[i] === step);
}

function samePath(a: Path, b: Path): boolean {
  return a.length === b.length && startsWith(a, b);
}

function located(node: Node, issue: Leaf, path: Path, schema: z.ZodType): Located {
  const at = issue.code === 'missing-field' ? path.slice(0, -1) : path;
  const target =
    issue.onKey || issue.code === 'missing-field' ? (keyAt(node, at) ?? headOf(node, at)) : nodeAt(node, at);
  const hint = issue.code === 'missing-field' ? fieldHint(schema, toPlain(node), path) : '';
  return {
    code: issue.code,
    severity: 'error',
    message: issue.message + hint,
    path,
    start: target.start,
    end: target.end,
  };
}

/** For something missing from a list item or a whole entry: its first key, which is easier to see than all of it. */
function headOf(node: Node, path: Path): Span {
  const target = nodeAt(node, path);
  return target.type === 'map' && target.pairs[0] ? target.pairs[0].key : target;
}

function fieldHint(schema: z.ZodType, plain: Plain, path: Path): string {
  const child = schemaAt(schema, plain, path, false);
  const meta = child && metaOf(child);
  if (!meta?.title) return '';
  const meaning = lowerFirst(meta.description ?? '').replace(/\.$/, '');
  return ` ${meta.title}: ${meaning}${meta.example ? `, such as ${meta.example}` : ''}.`;
}

function lowerFirst(text: string): string {
  return /^[A-Z][a-z' ]/.test(text) ? text[0]!.toLowerCase() + text.slice(1) : text;
}

function distinct(problems: readonly Located[]): Located[] {
  const seen = new Set<string>();
  return problems.filter((problem) => {
    const key = `${problem.code} ${problem.start} ${problem.end} ${problem.message}`;
    return !seen.has(key) && seen.add(key);
  });
}

/** Keys that no declaration knows. Those that begin with `x-` are the shop's own and pass. */
function unknownKeys(schema: z.ZodType, root: Node): Located[] {
  const problems: Located[] = [];
  const visit = (declared: z.ZodType, node: Node, path: Path): void => {
    if (node.type === 'scalar' || node.type === 'empty') return;
    const meant = alternativeFor(declared, shapeOfNode(node));
    if (!meant) return;
    if (node.type === 'list') {
      const item = childOf(meant, 0);
      if (item) for (const [i, child] of node.items.entries()) visit(item, child, [...path, i]);
      return;
    }
    for (const pair of node.pairs) {
      const key = pair.key.text;
      const child = childOf(meant, key);
      if (child) visit(child, pair.value, [...path, key]);
      else if (meant instanceof z.ZodObject && !key.startsWith('x-'))
        problems.push(unknownKey(meant, pair.key, key, path));
    }
  };
  visit(bare(schema), root, []);
  return problems;
}

function unknownKey(object: z.ZodObject, span: Span, key: string, path: Path): Located {
  const known = [...fieldsOf(object).keys()];
  const near = didYouMean(key, known, 1)[0];
  const advice = near
    ? `Did you mean "${near}"?`
    : `Known here: ${known.slice(0, 12).join(', ')}${known.length > 12 ? ', …' : ''}. Your own fields begin with "x-".`;
  return {
    code: 'unknown-key',
    severity: 'error',
    message: `"${key}" is not a field that is known here. ${advice}`,
    path: [...path, key],
    onKey: true,
    start: span.start,
    end: span.end,
    data: near ? { replaceKey: near } : {},
  };
}
