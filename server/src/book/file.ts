/** A file of the book: its text as pieces, and what each piece says. */
import type { KindDeclaration } from '../../../schemas/declare.ts';
import { KINDS, kindByName } from '../../../schemas/index.ts';
import type { Path } from '../../../schemas/problem.ts';
import { didYouMean } from '../../../schemas/values/words.ts';
import { catalogsOf, fieldsOf } from '../../../schemas/walk.ts';
import { SourceFile, type TextChange } from '../syntax/file.ts';
import { keyAt, type Node, nodeAt, type ScalarNode, type Span } from '../syntax/node.ts';
import { entriesOf, entryOf, type Piece } from '../syntax/piece.ts';
import { factsOf, type Part, type PieceFacts, UsePool } from './facts.ts';
import { hintOf, type Located } from './judge.ts';
import { nameOf } from './paths.ts';

export interface Change {
  readonly removed: readonly PieceFacts[];
  readonly added: readonly PieceFacts[];
}

/** A place in a file: a span of one of its pieces. */
export interface Spot extends Span {
  readonly piece: Piece;
}

const NO_KEYS: ReadonlySet<string> = new Set();
const catalogKeys = new Map(
  KINDS.map((kind) => [kind, new Set(catalogsOf(kind.schema).map((field) => field.key))]),
);

export class BookFile {
  readonly uri: string;
  readonly uses = new UsePool();
  #source: SourceFile;
  #kind: KindDeclaration | undefined;
  #facts = new Map<Piece, PieceFacts>();
  /** Pieces that have problems of their own; so that a file's problems can be listed without visiting every piece. */
  #troubled = new Set<PieceFacts>();
  #lookingAround = new Set<PieceFacts>();
  #value: Record<string, unknown> | undefined;

  private constructor(uri: string, text: string) {
    this.uri = uri;
    this.#kind = kindOf(uri, text);
    this.#source = SourceFile.open(uri, text, this.splitKeys);
    for (const piece of this.#source.pieces()) this.#add(piece);
  }

  static open(uri: string, text: string): BookFile {
    return new BookFile(uri, text);
  }

  get source(): SourceFile {
    return this.#source;
  }

  get kind(): KindDeclaration | undefined {
    return this.#kind;
  }

  get splitKeys(): ReadonlySet<string> {
    return (this.#kind && catalogKeys.get(this.#kind)) ?? NO_KEYS;
  }

  /** In the order of the file. */
  *facts(): IterableIterator<PieceFacts> {
    for (const piece of this.#source.pieces()) {
      const facts = this.#facts.get(piece);
      if (facts) yield facts;
    }
  }

  factsAt(piece: Piece): PieceFacts | undefined {
    return this.#facts.get(piece);
  }

  get troubled(): ReadonlySet<PieceFacts> {
    return this.#troubled;
  }

  /** Pieces that name files, or things that only their file knows; found without visiting every piece. */
  get lookingAround(): ReadonlySet<PieceFacts> {
    return this.#lookingAround;
  }

  edit(changes: readonly TextChange[] | string): Change {
    const before = this.#source;
    this.#source = before.edit(changes);
    const { removed, added } = this.#source.changedFrom(before);
    const mayDiffer = removed.some(namesKind) || added.some(namesKind);
    if (mayDiffer && kindOf(this.uri, this.#source.text()) !== this.#kind) return this.#reopen();
    if (removed.length > 0 || added.length > 0) this.#value = undefined;
    return {
      removed: removed.flatMap((piece) => this.#remove(piece)),
      added: added.flatMap((piece) => this.#add(piece)),
    };
  }

  /** The whole file as one value, for kinds that are not catalogs; fields that are too broken are left out. */
  get value(): Record<string, unknown> {
    if (!this.#value) {
      const value: Record<string, unknown> = {};
      for (const part of this.#topParts()) if (part.value !== undefined) value[part.key] ??= part.value;
      this.#value = value;
    }
    return this.#value;
  }

  /** What was taken out of a top-level field while it was judged. */
  droppedOf(key: string): readonly Path[] {
    for (const part of this.#topParts()) if (part.key === key) return part.dropped;
    return [];
  }

  /** The place of a path of the file; the nearest place above it that exists. */
  spotOf(path: Path, onKey = false): Spot | undefined {
    const found = this.entryAt(path);
    if (!found) {
      const first = this.#source.at(0);
      return { piece: first, start: first.head, end: firstLineEnd(first) };
    }
    const { piece, key, value, rest } = found;
    if (rest.length === 0 && onKey) return { piece, start: key.start, end: key.end };
    const target = (onKey && keyAt(value, rest)) || nodeAt(value, rest);
    if (target.type === 'map' || target.type === 'list') {
      const head = headOf(target) ?? key;
      return { piece, start: head.start, end: head.end };
    }
    if (target.type === 'empty') {
      const label = keyAt(value, rest) ?? key;
      return { piece, start: label.start, end: label.end };
    }
    return { piece, start: target.start, end: target.end };
  }

  /** The entry that a path leads into, and what is left of the path inside its value. */
  entryAt(path: Path): { piece: Piece; key: Span; value: Node; rest: Path } | undefined {
    const [first, second] = path;
    if (typeof first !== 'string') return undefined;
    const inCatalog = this.splitKeys.has(first) && typeof second === 'string';
    const section = inCatalog ? first : undefined;
    const name = inCatalog ? (second as string) : first;
    for (const piece of this.#piecesNamed(section, name, first)) {
      for (const entry of entriesOf(piece, this.splitKeys)) {
        if (entry.section === section && entry.key.text === name) {
          return { piece, key: entry.key, value: entry.value, rest: path.slice(inCatalog ? 2 : 1) };
        }
      }
    }
    return undefined;
  }

  /** Problems that only the file as a whole shows. */
  wholeProblems(): (Located & { piece: Piece })[] {
    const problems: (Located & { piece: Piece })[] = this.#source.problems.map((problem) => ({
      severity: 'error' as const,
      path: [],
      ...problem,
    }));
    const kind = this.#kind;
    if (!kind) return [...problems, this.#kindProblem()];
    const given = new Set<string>();
    for (const facts of this.#topFacts()) {
      for (const entry of entriesOf(facts.piece, this.splitKeys)) given.add(entry.section ?? entry.key.text);
    }
    // A name that is there with a slip in it is not told as missing as well.
    for (const { problems: own } of this.#troubled)
      for (const { path, data } of own) if (path.length === 1) given.add(String(data?.replaceKey));
    for (const field of fieldsOf(kind.schema).values()) {
      if (!field.required || given.has(field.key)) continue;
      const first = this.#source.find(undefined, 'kind')[0] ?? this.#source.at(0);
      const hint = field.key === 'kind' ? ` Write: kind: ${kind.kind}` : hintOf(field.meta);
      problems.push({
        code: 'missing-field',
        severity: 'error',
        message: `"${field.key}" is missing; a ${kind.kind} file needs it.${hint}`,
        path: [],
        piece: first,
        start: first.head,
        end: firstLineEnd(first),
        data: { missing: field.key },
      });
    }
    return problems;
  }

  /**
   * A file that is of no kind. Other YAML files may lie beside a book, so it is an error only when it was meant to be
   * of the book: its word for the kind is nearly one of ours.
   */
  #kindProblem(): Located & { piece: Piece } {
    const named = this.#source.find(undefined, 'kind')[0];
    const value = named && entryOf(named)?.value;
    const names = KINDS.map((kind) => kind.kind);
    const near = value?.type === 'scalar' ? didYouMean(value.text, names, 1)[0] : undefined;
    const piece = named ?? this.#source.at(0);
    const { start, end } = value?.type === 'scalar' ? value : { start: piece.head, end: firstLineEnd(piece) };
    return {
      code: 'unknown-kind',
      severity: near ? 'error' : 'information',
      message: near
        ? `"${(value as ScalarNode).text}" is not a kind of file. Did you mean "${near}"?`
        : `This file is not read as part of the shop book. A file of the book begins with "kind:" and one of: ${names.join(', ')}.`,
      path: ['kind'],
      piece,
      start,
      end,
      data: near ? { replaceValue: near } : {},
    };
  }

  *#topFacts(): IterableIterator<PieceFacts> {
    const kind = this.#kind;
    if (!kind) return;
    const seen = new Set<Piece>();
    for (const key of fieldsOf(kind.schema).keys()) {
      for (const piece of this.#piecesNamed(undefined, key, key)) {
        const facts = this.#facts.get(piece);
        if (facts && !seen.has(piece)) {
          seen.add(piece);
          yield facts;
        }
      }
    }
  }

  *#topParts(): IterableIterator<Part> {
    for (const facts of this.#topFacts())
      for (const part of facts.parts) if (part.section === undefined) yield part;
  }

  /**
   * Pieces that may hold a name, in the order of the file: those filed under it, the section it lies in, or the only
   * piece of an unsplit file.
   */
  #piecesNamed(section: string | undefined, name: string, top: string): Piece[] {
    const source = this.#source;
    const first = source.at(0);
    if (first.kind === 'whole') return [first];
    let found = source.find(section, name);
    if (found.length === 0 && section !== undefined) found = source.find(undefined, top);
    return found.length > 1 ? found.sort((a, b) => source.indexOf(a) - source.indexOf(b)) : found;
  }

  #reopen(): Change {
    const removed = [...this.#facts.values()];
    const text = this.#source.text();
    this.#kind = kindOf(this.uri, text);
    this.#facts = new Map();
    this.#troubled = new Set();
    this.#lookingAround = new Set();
    this.#value = undefined;
    this.#source = SourceFile.open(this.uri, text, this.splitKeys);
    for (const piece of this.#source.pieces()) this.#add(piece);
    return { removed, added: [...this.#facts.values()] };
  }

  #add(piece: Piece): PieceFacts[] {
    if (!this.#kind) return [];
    const facts = factsOf(this, this.#kind, piece);
    this.#facts.set(piece, facts);
    if (facts.problems.length > 0) this.#troubled.add(facts);
    if (facts.looksAround) this.#lookingAround.add(facts);
    return [facts];
  }

  #remove(piece: Piece): PieceFacts[] {
    const facts = this.#facts.get(piece);
    if (!facts) return [];
    this.#facts.delete(piece);
    this.#troubled.delete(facts);
    this.#lookingAround.delete(facts);
    return [facts];
  }
}

const KIND_LINE = /^\uFEFF?["']?kind["']?[ \t]*:[ \t]+["']?([^"'#\s]+)["']?[ \t]*(?:#.*)?\r?$/m;

function namesKind(piece: Piece): boolean {
  return piece.section === undefined && KIND_LINE.test(piece.text);
}

/** The kind a file says it is; when it says none that is known, the kind its name belongs to. */
export function kindOf(uri: string, text: string): KindDeclaration | undefined {
  const said = KIND_LINE.exec(text)?.[1];
  return (said === undefined ? undefined : kindByName.get(said)) ?? kindByFileName(uri);
}

export function kindByFileName(uri: string): KindDeclaration | undefined {
  const name = nameOf(uri);
  return KINDS.find((kind) =>
    kind.suffix.startsWith('.') ? name.endsWith(kind.suffix) : name === kind.suffix,
  );
}

function headOf(node: Node): Span | undefined {
  if (node.type === 'map') return node.pairs[0]?.key;
  if (node.type !== 'list') return node;
  return node.items[0] && (headOf(node.items[0]) ?? node.items[0]);
}

function firstLineEnd(piece: Piece): number {
  const end = piece.text.slice(piece.head).search(/[\r\n]/);
  return end === -1 ? piece.text.length : piece.head + end;
}
