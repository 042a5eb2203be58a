/**
 * A node held against its declaration: typed value, problems with exact spans.
 *
 * What is wrong is taken out piece by piece and the rest is judged again, so that one bad line does not
 * take the job's other lines with it, nor one bad field its part.
 */
import type { z } from 'zod';
import { type FieldMeta, isOptional, metaOf } from '../../../schemas/declare.ts';
import type { Path, Problem } from '../../../schemas/problem.ts';
import { didYouMean } from '../../../schemas/values/words.ts';
import { alternativeFor, childOf, fieldsOf, isList, isRecord } from '../../../schemas/walk.ts';
import { keyAt, type Node, nodeAt, type Plain, type Span, toPlain } from '../syntax/node.ts';
import { type Leaf, leavesOf, schemaAt } from './issues.ts';
import { PARAMETER, type Visitor, visit } from './marks.ts';
import { shapeOf, valueAt } from './shape.ts';
import { isSound } from './sound.ts';
import { quoted } from './words.ts';

export { shapeOfNode } from './shape.ts';

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

/** `also` goes along on the walk over the node. */
export function judge(schema: z.ZodType, node: Node, also?: Pick<Visitor, 'value' | 'key'>): Judged {
  const judged = judgeValue(schema, node);
  return { ...judged, problems: together(walkProblems(schema, node, also), judged.problems) };
}

/** What is wrong with a node, when its value is not wanted yet. */
export function problemsIn(
  schema: z.ZodType,
  node: Node,
  also: Pick<Visitor, 'value' | 'key'>,
): readonly Located[] {
  const found = walkProblems(schema, node, also);
  return isSound(schema, node) ? found : together(found, judgeValue(schema, node).problems);
}

/** What the walk over a node shows: keys that nobody knows, and what is wrong inside templates. */
function walkProblems(
  schema: z.ZodType,
  node: Node,
  also?: Pick<Visitor, 'value' | 'key'>,
): readonly Located[] {
  const problems: Located[] = [];
  visit(schema, node, {
    ...also,
    key: (key, declared, meta, path) => {
      if (key.text === '__proto__') problems.push(forbiddenKey(key, path));
      also?.key?.(key, declared, meta, path);
    },
    unknown: (pair, object, path, leads) => {
      if (!pair.key.text.startsWith('x-')) problems.push(unknownKey(object, pair.key, path, leads));
    },
    templated: (part, filledIn, path) => {
      problems.push(...templateProblems(filledIn, part, path));
    },
  });
  return problems.length > 0 ? problems : NOTHING;
}

function together(walk: readonly Located[], value: readonly Located[]): readonly Located[] {
  if (walk.length === 0) return value;
  // A field that is there with a slip in its name is not told as missing as well.
  const slips = walk.flatMap(({ path, data }) =>
    data?.replaceKey === undefined ? [] : [JSON.stringify([...path.slice(0, -1), data.replaceKey])],
  );
  const rest = value.filter(
    ({ code, path }) => code !== 'missing-field' || !slips.includes(JSON.stringify(path)),
  );
  return [...walk, ...rest];
}

/** The value alone, without its keys that nobody knows. */
export function judgeValue(schema: z.ZodType, node: Node): Judged {
  const plain = toPlain(node);
  let attempt = schema.safeParse(plain);
  if (attempt.success) return { value: attempt.data, problems: NOTHING, dropped: NOTHING };

  const problems: Located[] = [];
  const taken = new Taken();
  let left = plain;
  for (let round = 0; round < ROUNDS && !attempt.success; round++) {
    const before = taken.paths.length;
    const given = [...taken.paths];
    for (const leaf of leavesOf(attempt.error.issues, schema, left)) {
      const path = originalPath(leaf.path, given);
      // What a map or a list lacks because something was taken out of it has been told already.
      if (!given.some((out) => startsWith(out, path)))
        problems.push(located(node, leaf, path, schema, plain));
      const bad = removablePath(schema, plain, path);
      if (bad) taken.add(bad);
    }
    if (taken.paths.length === before) break;
    left = taken.without(plain);
    attempt = schema.safeParse(left);
  }
  return {
    value: attempt.success ? attempt.data : undefined,
    problems: distinct(problems),
    dropped: taken.paths,
  };
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

function startsWith(path: Path, start: Path): boolean {
  return start.length <= path.length && start.every((step, i) => path[i] === step);
}

/** Places that are taken out of a value. */
class Taken {
  readonly paths: Path[] = [];
  readonly #tree: Branch = new Map();

  /** Nothing happens when the place lies in one that is out already. */
  add(path: Path): void {
    let branch = this.#tree;
    for (const [i, step] of path.entries()) {
      const next = branch.get(step);
      if (next === 'out') return;
      if (i === path.length - 1) {
        branch.set(step, 'out');
        this.paths.push(path);
      } else if (next) branch = next;
      else {
        const fresh: Branch = new Map();
        branch.set(step, fresh);
        branch = fresh;
      }
    }
  }

  without(plain: Plain, branch: Branch = this.#tree): Plain {
    if (plain === null || typeof plain === 'string') return plain;
    if (Array.isArray(plain)) {
      return plain.flatMap((item, i) => {
        const below = branch.get(i);
        if (below === 'out') return [];
        return [below ? this.without(item, below) : item];
      });
    }
    const out: Record<string, Plain> = Object.create(null);
    for (const [key, value] of Object.entries(plain)) {
      const below = branch.get(key);
      if (below !== 'out') out[key] = below ? this.without(value, below) : value;
    }
    return out;
  }
}

type Branch = Map<string | number, Branch | 'out'>;

/** The nearest place at or above a path that can be left out without breaking what is above it. */
function removablePath(root: z.ZodType, plain: Plain, path: Path): Path | undefined {
  for (let length = path.length; length > 0; length--) {
    const above = path.slice(0, length - 1);
    const declared = schemaAt(root, plain, above);
    const parent = declared && alternativeFor(declared, shapeOf((valueAt(plain, above) ?? null) as Plain));
    if (!parent) continue;
    if (isList(parent) || isRecord(parent)) return path.slice(0, length);
    const child = childOf(parent, path[length - 1]!);
    if (child && isOptional(child) && valueAt(plain, path.slice(0, length)) !== undefined)
      return path.slice(0, length);
  }
  return undefined;
}

/** What is wrong with text that may hold parameters, as far as it can be told before they are filled in. */
function templateProblems(filledIn: z.ZodType, node: Node, above: Path): Located[] {
  return judgeValue(filledIn, node)
    .problems.filter(({ path }) => {
      const at = nodeAt(node, path);
      return !(at.type === 'scalar' && PARAMETER.test(at.text));
    })
    .map((problem) => ({ ...problem, path: [...above, ...problem.path] }));
}

function located(node: Node, leaf: Leaf, path: Path, schema: z.ZodType, plain: Plain): Located {
  const missing = leaf.code === 'missing-field';
  const hint = missing ? fieldHint(schema, plain, path) : '';
  const { start, end } = spanOf(node, missing ? path.slice(0, -1) : path, leaf.onKey || missing);
  return { ...leaf, severity: 'error', message: leaf.message + hint, path, start, end };
}

/** A place as it is underlined: a key, a single value, or the first key of what runs over several lines. */
function spanOf(node: Node, path: Path, onKey: boolean): Span {
  const key = keyAt(node, path);
  if (onKey && key) return key;
  const target = nodeAt(node, path);
  if (target.type === 'empty') return key ?? target;
  return (target.type === 'map' || target.type === 'list') && !target.flow ? headOf(target) : target;
}

function headOf(node: Node): Span {
  if (node.type === 'map') return node.pairs[0]?.key ?? node;
  if (node.type === 'list' && !node.flow) return node.items[0] ? headOf(node.items[0]) : node;
  return node;
}

function fieldHint(schema: z.ZodType, plain: Plain, path: Path): string {
  const child = schemaAt(schema, plain, path);
  return child ? hintOf(metaOf(child)) : '';
}

/** What a field is for, as a sentence after another. */
export function hintOf({ title, description = '', example }: FieldMeta): string {
  if (!title) return '';
  const meaning = lowerFirst(description).replace(/\.$/, '');
  return ` ${title}: ${meaning}${example ? `, such as ${example}` : ''}.`;
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

function unknownKey(
  object: z.ZodObject,
  span: Span & { text: string },
  path: Path,
  leads: readonly string[],
): Located {
  const key = span.text;
  const known = [...fieldsOf(object).keys()];
  const near = didYouMean(key, known, 1)[0];
  const said = `${quoted(key)} is not a field that is known here.`;
  const message = leads.includes(key)
    ? `One entry cannot have both "${known[0]}" and "${key}". Give each an entry of its own.`
    : near
      ? `${said} Did you mean "${near}"?`
      : `${said} ${knownHere(known)} Your own fields begin with "x-".`;
  return onKey('unknown-key', message, span, path, near ? { replaceKey: near } : {});
}

/** The fields that may stand at a place, as a sentence. */
export function knownHere(known: readonly string[]): string {
  return `Known here: ${known.slice(0, 12).join(', ')}${known.length > 12 ? ', …' : ''}.`;
}

/** zod passes over this key without a word. */
function forbiddenKey(span: Span, path: Path): Located {
  const message = '"__proto__" is a word that programs keep for themselves; choose another id.';
  return onKey('wrong-value', message, span, path);
}

function onKey(code: string, message: string, span: Span, path: Path, data = {}): Located {
  const { start, end } = span;
  return { code, severity: 'error', message, path, onKey: true, start, end, data };
}
