/** Ids that are named but nobody defines: in the book, in the file, in the operation or template they belong to. */
import type { RefKind } from '../../../schemas/declare.ts';
import type { Operation } from '../../../schemas/kinds/labor.ts';
import type { Path } from '../../../schemas/problem.ts';
import { didYouMean } from '../../../schemas/values/words.ts';
import { type Node, nodeAt, pairOf } from '../syntax/node.ts';
import type { Book } from './book.ts';
import type { BookFile } from './file.ts';
import type { Located } from './judge.ts';
import { type Mark, PARAMETER } from './marks.ts';
import { nameOf } from './paths.ts';
import { KIND_WORDS, quoted } from './words.ts';

/** `node` is the value that the mark was found in. */
export function referenceProblems(book: Book, file: BookFile, node: Node, mark: Mark): Located[] {
  if (mark.is === 'definition') return [];
  if (!mark.local) return bookProblems(book, mark);
  const kind = mark.kinds[0]!;
  if (kind === 'adder' || (kind === 'parameter' && mark.onKey)) return ownedProblems(book, node, mark, kind);
  // A case's options come from the job it starts from as well, which is looked at when the case is run.
  if (file.kind?.kind === 'cases') return [];
  const known = localIds(file, kind);
  return known.includes(mark.id)
    ? []
    : [unknownId(mark, `This file has no ${KIND_WORDS[kind]} ${quoted(mark.id)}`, known)];
}

function bookProblems(book: Book, mark: Mark): Located[] {
  if (book.registry.resolve(mark)) return [];
  const word = mark.kinds.map((kind) => KIND_WORDS[kind]).join(' or ');
  const where = `in the book at ${nameOf(book.root.slice(0, -1))}`;
  return [
    problem(
      mark,
      `There is no ${word} ${quoted(mark.id)} ${where}.`,
      book.registry.near(mark.kinds, mark.id),
    ),
  ];
}

/** Add-ons belong to the operation of their line, parameters to the template of theirs. */
function ownedProblems(book: Book, node: Node, mark: Mark, kind: RefKind): Located[] {
  const owner = kind === 'adder' ? 'operation' : 'template';
  const named = pairOf(nodeAt(node, mark.path.slice(0, -2)), owner)?.value;
  if (named?.type !== 'scalar' || PARAMETER.test(named.text)) return [];
  const known = owner === 'operation' ? addersOf(book, named.text) : parametersOf(book, named.text);
  if (!known || known.includes(mark.id)) return [];
  return [
    unknownId(mark, `The ${owner} "${named.text}" has no ${KIND_WORDS[kind]} ${quoted(mark.id)}`, known),
  ];
}

/** Undefined when the operation is not there, or too broken to tell. */
function addersOf(book: Book, operation: string): readonly string[] | undefined {
  const definition = book.definition('operation', operation);
  const part = definition?.facts.parts.find((one) => one.section === 'operations' && one.key === operation);
  const value = part?.value as Operation | undefined;
  if (!part || !value) return undefined;
  const broken = part.dropped.filter(isAdder).map((path) => String(path[1]));
  return [...Object.keys(value.adders ?? {}), ...broken];
}

function isAdder(path: Path): boolean {
  return path[0] === 'adders' && path.length === 2;
}

function parametersOf(book: Book, template: string): readonly string[] | undefined {
  const file = book.definition('template', template)?.facts.file;
  return file && localIds(file, 'parameter');
}

/** Ids of a kind that only this file knows. */
function localIds(file: BookFile, kind: RefKind): readonly string[] {
  const ids = new Set<string>();
  for (const { definitions } of file.facts())
    for (const one of definitions) if (one.local && one.kind === kind) ids.add(one.id);
  return [...ids];
}

function unknownId(mark: Mark, what: string, known: readonly string[]): Located {
  const has = known.length > 0 ? `It has: ${known.join(', ')}.` : 'It has none.';
  return problem(mark, `${what}. ${has}`, didYouMean(mark.id, known));
}

function problem(mark: Mark, message: string, near: readonly string[]): Located {
  const meant = near.map((one) => `"${one}"`).join(' or ');
  return {
    code: 'unknown-reference',
    severity: 'error',
    message: near.length > 0 ? `${message} Did you mean ${meant}?` : message,
    path: mark.path,
    onKey: mark.onKey,
    start: mark.start,
    end: mark.end,
    data: { kinds: [...mark.kinds], id: mark.id, near: [...near] },
  };
}
