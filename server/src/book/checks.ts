/** What is wrong between the entries of a book: ids that nobody defines, ids defined twice, chains that bite their tail, files that are not there. */
import type { z } from 'zod';
import { metaOf, type RefKind } from '../../../schemas/declare.ts';
import type { Part } from '../../../schemas/kinds/parts.ts';
import type { Path } from '../../../schemas/problem.ts';
import { type Node, nodeAt, type Span } from '../syntax/node.ts';
import { type Entry, entriesOf } from '../syntax/piece.ts';
import type { Book } from './book.ts';
import { type Definition, declarationFor, type PieceFacts, prefixOf } from './facts.ts';
import type { BookFile } from './file.ts';
import type { Located } from './judge.ts';
import { type Mark, marksOf, PARAMETER, visit } from './marks.ts';
import { ownProblems } from './own-fields.ts';
import { isInside, relative, resolve } from './paths.ts';
import { priceFileProblem } from './price-file.ts';
import { referenceProblems } from './references.ts';
import { keyFor } from './registry.ts';
import { extendedUri } from './shops.ts';
import { KIND_WORDS, quoted } from './words.ts';

export { KIND_WORDS } from './words.ts';

/** Pictures above this are not put on a page. */
const LARGEST_PICTURE = 20_000_000;

const NOTHING: readonly never[] = [];
/** Rows of a price file in trouble that are told one by one. */
const TOLD = 20;

/** Problems of one piece that depend on the rest of the book, worked out afresh. Spans in offsets of the piece. */
export function crossProblems(book: Book, facts: PieceFacts): readonly Located[] {
  const { kind } = facts.file;
  if (!kind || !needsText(book, facts)) return NOTHING;
  const problems: Located[] = [...book.priceFileProblems(facts), ...repeatedRows(book, facts)];
  for (const entry of entriesOf(facts.piece, facts.file.splitKeys)) {
    const declared = declarationFor(kind, entry);
    if (!declared || (declared.catalog && entry.value.type === 'empty')) continue;
    const marks = marksOf(declared.schema, entry.value);
    const prefix = prefixOf(entry);
    for (const problem of [
      ...marks.flatMap((mark) => referenceProblems(book, facts.file, entry.value, mark)),
      ...fileProblems(book, facts.file, declared.schema, entry.value),
      ...(marks.some(namesOwnField) ? ownProblems(book, facts.file, declared.schema, entry.value) : NOTHING),
    ])
      problems.push({ ...problem, path: [...prefix, ...problem.path] });
    problems.push(...repeats(book, facts, definingPlaces(declared.key, entry, marks)));
    problems.push(...chainProblems(book, facts, entry));
    if (kind.kind === 'shop' && entry.key.text === 'extends')
      problems.push(...extendsProblems(book, facts.file, entry));
  }
  return problems;
}

function namesOwnField(mark: Mark): boolean {
  return mark.is === 'reference' && mark.kinds[0] === 'field';
}

/** Whether the text has to be read again; most pieces say nothing that could be wrong elsewhere. */
function needsText(book: Book, facts: PieceFacts): boolean {
  return (
    facts.looksAround ||
    facts.uses.some((use) => !book.registry.resolve(use)) ||
    facts.definitions.some(({ kind, id }) => book.registry.repeated.has(keyFor(kind, id))) ||
    isSuperseded(facts)
  );
}

/** Whether a part of the piece names a part that takes its place. */
export function isSuperseded(facts: PieceFacts): boolean {
  return (
    facts.uses.some((use) => use.kinds.includes('part')) &&
    facts.definitions.some(
      (one) => one.kind === 'part' && (one.value as Part | undefined)?.['superseded-by'] !== undefined,
    )
  );
}

interface Place extends Span {
  readonly kind: RefKind;
  readonly id: string;
  readonly path: Path;
  readonly onKey: boolean;
}

/** Where an entry brings ids into being that the whole book knows. */
function definingPlaces(key: z.ZodType | undefined, entry: Entry, marks: readonly Mark[]): Place[] {
  const path = prefixOf(entry);
  const inside = marks
    .filter((mark) => mark.is === 'definition' && !mark.local)
    .map((mark) => ({ ...mark, kind: mark.kinds[0]!, path: [...path, ...mark.path] }));
  const kind = key && metaOf(key).defines;
  const { start, end, text } = entry.key;
  return kind ? [{ kind, id: text, path, onKey: true, start, end }, ...inside] : inside;
}

function repeats(book: Book, facts: PieceFacts, places: readonly Place[]): Located[] {
  return places.flatMap(({ kind, id, path, onKey, start, end }): Located[] => {
    // Twice in the text of one file is a duplicate key, which the reader tells already.
    const others = elsewhere(book.registry.repeated.get(keyFor(kind, id)) ?? NOTHING, facts.file);
    if (others.length === 0) return [];
    const where = wheresAre(book, others);
    return [
      {
        code: 'defined-twice',
        severity: 'error',
        message: `The ${KIND_WORDS[kind]} "${id}" is also in ${where}. Keep one of them, or give one another id.`,
        path,
        onKey,
        start,
        end,
        related: others
          .slice(0, NAMED)
          .map((other) => ({ kind: other.kind, id: other.id, message: 'also here' })),
      },
    ];
  });
}

/** Of repeated definitions those that are not in the text of a file; asked by each of them, so kept. */
function elsewhere(repeated: readonly Definition[], file: BookFile): readonly Definition[] {
  let byFile = keptElsewhere.get(repeated);
  if (!byFile) {
    byFile = new Map();
    keptElsewhere.set(repeated, byFile);
  }
  let others = byFile.get(file);
  if (!others) {
    others = repeated.filter((one) => one.row !== undefined || one.facts.file !== file);
    byFile.set(file, others);
  }
  return others;
}

const keptElsewhere = new WeakMap<readonly Definition[], Map<BookFile, readonly Definition[]>>();

/** Rows of a price file whose numbers other price files have as well. What the text has is told there. */
function repeatedRows(book: Book, facts: PieceFacts): Located[] {
  const { repeated } = book.registry;
  if (repeated.size === 0) return [];
  const problems: Located[] = [];
  for (const row of book.priceRows(facts)) {
    const others = (repeated.get(keyFor(row.kind, row.id)) ?? NOTHING).filter(
      (one) => one.row !== undefined && one.facts.piece !== facts.piece,
    );
    if (others.length === 0) continue;
    const where = wheresAre(book, others);
    const message = `The part "${row.id}" of line ${row.row} is also in ${where}. Keep one of them.`;
    problems.push(priceFileProblem(facts, 'defined-twice', 'file', message));
    if (problems.length === TOLD) break;
  }
  return problems;
}

/** Places that are named one by one; more say nothing new. */
const NAMED = 10;

function wheresAre(book: Book, others: readonly Definition[]): string {
  const named = others.slice(0, NAMED).map((one) => whereIs(book, one));
  const more = others.length - named.length;
  return [...named, ...(more > 0 ? [`${more} more places`] : [])].join(' and ');
}

function whereIs(book: Book, { facts: { file }, row }: Definition): string {
  const name = relative(book.root, file.uri);
  return row === undefined ? name : `the price file of ${name}, line ${row}`;
}

/** A chain of superseded numbers that comes back to where it began. */
function chainProblems(book: Book, facts: PieceFacts, entry: Entry): Located[] {
  const first = entry.key.text;
  if (entry.section !== 'parts' || book.definition('part', first)?.facts !== facts) return [];
  const seen = [first];
  for (let next = successor(book, first); next !== undefined; next = successor(book, next)) {
    if (next === first) {
      const { start, end } = nodeAt(entry.value, ['superseded-by', 'part']);
      return [
        {
          code: 'supersession-cycle',
          severity: 'error',
          message: `These numbers replace one another in a circle: ${[...seen, next].join(' → ')}. Take one of the replacements out.`,
          path: ['parts', first, 'superseded-by', 'part'],
          start,
          end,
        },
      ];
    }
    if (seen.includes(next)) return [];
    seen.push(next);
  }
  return [];
}

function successor(book: Book, part: string): string | undefined {
  return (book.value('part', part) as Part | undefined)?.['superseded-by']?.part;
}

function extendsProblems(book: Book, file: BookFile, { value }: Entry): Located[] {
  if (value.type !== 'scalar') return [];
  const path = value.text;
  const at = (message: string): Located[] => [
    {
      code: 'shop-extends',
      severity: 'error',
      message,
      path: ['extends'],
      start: value.start,
      end: value.end,
    },
  ];
  const uri = extendedUri(file);
  const under = uri === undefined ? undefined : book.file(uri);
  if (!under)
    return at(`There is no file "${path}" in this book. Looked at ${uri ? relative(book.root, uri) : path}.`);
  if (under.kind?.kind !== 'shop')
    return at(`"${path}" is not a shop file; only a shop file can be extended.`);
  const chain = [file];
  for (let next: BookFile | undefined = under; next; ) {
    if (next === file) {
      const names = [...chain, next].map((one) => relative(book.root, one.uri)).join(' → ');
      return at(`These shop files extend one another in a circle: ${names}. Take one "extends" away.`);
    }
    if (chain.includes(next)) return [];
    chain.push(next);
    const more = extendedUri(next);
    next = more === undefined ? undefined : book.file(more);
  }
  return [];
}

/** Pictures and videos that are named but not there. Price files and shop files have checks of their own. */
function fileProblems(book: Book, file: BookFile, declared: z.ZodType, node: Node): Located[] {
  const problems: Located[] = [];
  visit(declared, node, {
    value: (at, _schema, meta, path, templated) => {
      if (at.type !== 'scalar' || (meta.file !== 'picture' && meta.file !== 'video')) return;
      if (templated && PARAMETER.test(at.text)) return;
      const message = missingFile(book, file, at.text);
      if (message)
        problems.push({
          code: 'file-missing',
          severity: 'warning',
          message,
          path,
          start: at.start,
          end: at.end,
        });
    },
  });
  return problems;
}

function missingFile(book: Book, file: BookFile, path: string): string | undefined {
  const uri = resolve(file.uri, path);
  if (uri === undefined || !isInside(book.root, uri))
    return `${quoted(path)} lies outside the shop book. Copy the file into the book and name it from here.`;
  const size = book.host.size(uri, book.root);
  if (size === undefined) return `There is no file ${quoted(path)}. Looked at ${relative(book.root, uri)}.`;
  if (size > LARGEST_PICTURE)
    return `${quoted(path)} is larger than 20 MB; make a smaller copy for the estimate.`;
  return undefined;
}
