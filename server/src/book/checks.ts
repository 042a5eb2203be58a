/** What is wrong between the entries of a book: ids that nobody defines, ids defined twice, chains that bite their tail, files that are not there. */
import type { RefKind } from '../../../schemas/declare.ts';
import type { Part } from '../../../schemas/kinds/parts.ts';
import { didYouMean } from '../../../schemas/values/words.ts';
import type { Node } from '../syntax/node.ts';
import { entriesOf } from '../syntax/piece.ts';
import type { Book } from './book.ts';
import { type Definition, declarationFor, type PieceFacts } from './facts.ts';
import type { BookFile } from './file.ts';
import type { Located } from './judge.ts';
import { marksOf, visit } from './marks.ts';
import { isInside, nameOf, relative, resolve } from './paths.ts';
import { keyFor } from './registry.ts';
import { extendedUri } from './shops.ts';

/** Pictures above this are not put on a page. */
const LARGEST_PICTURE = 20_000_000;

export const KIND_WORDS: Record<RefKind, string> = {
  shop: 'shop',
  rate: 'labor rate',
  schedule: 'price schedule',
  fee: 'fee',
  discount: 'discount',
  payer: 'payer',
  customer: 'customer',
  warranty: 'warranty plan',
  supplier: 'supplier',
  jurisdiction: 'jurisdiction',
  'tax-class': 'tax class',
  part: 'part',
  step: 'access step',
  operation: 'operation',
  adder: 'add-on',
  caution: 'caution',
  unit: 'unit family',
  'fluid-class': 'fluid class',
  trait: 'trait',
  role: 'role',
  finding: 'finding',
  rule: 'rule',
  record: 'record',
  template: 'template',
  parameter: 'parameter',
  job: 'job',
  option: 'option',
  case: 'case',
};

/** Problems of one piece that depend on the rest of the book. Spans in offsets of the piece. */
export function crossProblems(book: Book, facts: PieceFacts): Located[] {
  const problems: Located[] = [...book.priceFileProblems(facts)];
  const unknown = facts.uses.some((use) => !book.registry.resolve(use));
  const repeated = facts.definitions.some(
    (one) => !one.shared && book.registry.repeated.has(keyFor(one.kind, one.id)),
  );
  if (unknown || repeated || hasLocal(facts) || namesFiles(facts)) {
    for (const { declared, node, key } of declaredEntries(facts)) {
      problems.push(...markProblems(book, facts, declared, node));
      if (repeated) problems.push(...repeats(book, facts, key));
      problems.push(...fileProblems(book, facts.file, declared, node));
    }
  }
  for (const definition of facts.definitions) {
    if (definition.kind === 'part') problems.push(...chainProblems(book, definition));
  }
  if (facts.file.kind?.kind === 'shop') problems.push(...extendsProblems(book, facts));
  return problems;
}

function* declaredEntries(facts: PieceFacts) {
  const kind = facts.file.kind;
  if (!kind) return;
  for (const entry of entriesOf(facts.piece, facts.file.splitKeys)) {
    const declared = declarationFor(kind, entry);
    if (!declared || (declared.catalog && entry.value.type === 'empty')) continue;
    yield { declared: declared.schema, node: entry.value, key: entry.key };
  }
}

function hasLocal(facts: PieceFacts): boolean {
  const kind = facts.file.kind?.kind;
  return kind === 'job' || kind === 'template' || kind === 'cases';
}

function namesFiles(facts: PieceFacts): boolean {
  return facts.parts.some((one) => {
    if (one.section === undefined) return one.key === 'from' || one.key === 'extends';
    const value = one.value as { picture?: unknown } | undefined;
    return value?.picture !== undefined;
  });
}

function markProblems(
  book: Book,
  facts: PieceFacts,
  declared: Parameters<typeof marksOf>[0],
  node: Node,
): Located[] {
  const problems: Located[] = [];
  for (const mark of marksOf(declared, node)) {
    if (mark.is === 'definition') continue;
    if (mark.local) {
      const known = localIds(facts.file, mark.kinds[0]!);
      if (!known || known.includes(mark.id)) continue;
      problems.push(
        unknownId(mark, mark.kinds, known, `in this file (it has ${known.join(', ') || 'none'})`),
      );
      continue;
    }
    if (book.registry.resolve({ kinds: mark.kinds, id: mark.id })) continue;
    const candidates = mark.kinds.flatMap((kind) => [...book.registry.ids(kind)]);
    const count = candidates.length;
    problems.push(
      unknownId(
        mark,
        mark.kinds,
        candidates,
        `in the book at ${nameOf(book.root.slice(0, -1))} (${count} known)`,
      ),
    );
  }
  return problems;
}

/** Ids that only one file knows. Add-ons are looked up by the operation they belong to, so they are not judged here. */
function localIds(file: BookFile, kind: RefKind): readonly string[] | undefined {
  if (kind === 'option' && file.kind?.kind === 'job')
    return Object.keys((file.value.options as object | undefined) ?? {});
  if (kind === 'parameter' && file.kind?.kind === 'template') {
    return Object.keys((file.value.parameters as object | undefined) ?? {});
  }
  return undefined;
}

function unknownId(
  span: { start: number; end: number; id: string; path: Located['path']; onKey: boolean },
  kinds: readonly RefKind[],
  candidates: readonly string[],
  looked: string,
): Located {
  const near = didYouMean(span.id, candidates);
  const word = kinds.map((kind) => KIND_WORDS[kind]).join(' or ');
  return {
    code: 'unknown-reference',
    severity: 'error',
    message: `There is no ${word} "${span.id}" ${looked}.${near.length > 0 ? ` Did you mean ${near.map((one) => `"${one}"`).join(' or ')}?` : ''}`,
    path: span.path,
    onKey: span.onKey,
    start: span.start,
    end: span.end,
    data: { kinds: [...kinds], id: span.id, near },
  };
}

function repeats(
  book: Book,
  facts: PieceFacts,
  key: { text: string; start: number; end: number },
): Located[] {
  return facts.definitions.flatMap((definition): Located[] => {
    const all = book.registry.repeated.get(keyFor(definition.kind, definition.id));
    if (!all || definition.shared || definition.row !== undefined) return [];
    // Twice in one file is a duplicate key, which the reader tells already.
    const others = all.filter((other) => other !== definition && other.facts.file !== facts.file);
    if (others.length === 0) return [];
    const where = others.map((other) => relative(book.root, other.facts.file.uri)).join(', ');
    const span = definition.id === key.text ? key : (facts.file.spotOf(['id']) ?? key);
    return [
      {
        code: 'defined-twice',
        severity: 'error',
        message: `The ${KIND_WORDS[definition.kind]} "${definition.id}" is also in ${where}. Keep one of them, or give one another number.`,
        path: [],
        onKey: true,
        start: span.start,
        end: span.end,
        related: others.map((other) => ({ kind: other.kind, id: other.id, message: 'also here' })),
      },
    ];
  });
}

/** A chain of superseded numbers that comes back to where it began. */
function chainProblems(book: Book, definition: Definition): Located[] {
  const start = definition.value as Part | undefined;
  if (!start?.['superseded-by'] || definition.row !== undefined) return [];
  const seen = [definition.id];
  for (let next: string | undefined = start['superseded-by'].part; next !== undefined; ) {
    if (next === definition.id) {
      const path = ['parts', definition.id, 'superseded-by', 'part'];
      const spot = definition.facts.file.spotOf(path);
      return [
        {
          code: 'supersession-cycle',
          severity: 'error',
          message: `These numbers supersede one another in a circle: ${[...seen, next].join(' -> ')}. Take one "superseded-by" away.`,
          path,
          start: spot?.start ?? 0,
          end: spot?.end ?? 0,
        },
      ];
    }
    if (seen.includes(next)) return [];
    seen.push(next);
    next = (book.value('part', next) as Part | undefined)?.['superseded-by']?.part;
  }
  return [];
}

function extendsProblems(book: Book, facts: PieceFacts): Located[] {
  const path = facts.parts.find((one) => one.section === undefined && one.key === 'extends')?.value;
  if (typeof path !== 'string') return [];
  const spot = facts.file.spotOf(['extends']);
  const at = (message: string): Located[] => [
    {
      code: 'shop-extends',
      severity: 'error',
      message,
      path: ['extends'],
      start: spot?.start ?? 0,
      end: spot?.end ?? 0,
    },
  ];
  const uri = extendedUri(facts.file);
  const under = uri === undefined ? undefined : book.file(uri);
  if (!under)
    return at(`There is no file "${path}" in this book. Looked at ${uri ? relative(book.root, uri) : path}.`);
  if (under.kind?.kind !== 'shop')
    return at(`"${path}" is not a shop file; only a shop file can be extended.`);
  const chain = [facts.file];
  for (let next: BookFile | undefined = under; next; ) {
    if (chain.includes(next)) {
      const names = [...chain, next].map((file) => relative(book.root, file.uri)).join(' -> ');
      return at(`These shop files extend one another in a circle: ${names}. Take one "extends" away.`);
    }
    chain.push(next);
    const more = extendedUri(next);
    next = more === undefined ? undefined : book.file(more);
  }
  return [];
}

/** Pictures and videos that are named but not there. Price files and shop files have checks of their own. */
function fileProblems(
  book: Book,
  file: BookFile,
  declared: Parameters<typeof visit>[0],
  node: Node,
): Located[] {
  const problems: Located[] = [];
  visit(declared, node, {
    value: (at, _schema, meta, path) => {
      if (at.type !== 'scalar' || (meta.file !== 'picture' && meta.file !== 'video')) return;
      const add = (message: string) =>
        problems.push({
          code: 'file-missing',
          severity: 'warning',
          message,
          path,
          start: at.start,
          end: at.end,
        });
      const uri = resolve(file.uri, at.text);
      if (uri === undefined || !isInside(book.root, uri)) {
        add(`"${at.text}" lies outside the shop book. Copy the file into the book and name it from here.`);
        return;
      }
      const size = book.host.size(uri);
      if (size === undefined) add(`There is no file "${at.text}". Looked at ${relative(book.root, uri)}.`);
      else if (size > LARGEST_PICTURE)
        add(`"${at.text}" is larger than 20 MB; make a smaller copy for the estimate.`);
    },
  });
  return problems;
}
