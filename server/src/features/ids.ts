/**
 * Ids in the text: where they stand, what they mean, where else the same one stands.
 * Definition, references, rename, highlights and the hierarchies all ask here, so that they cannot disagree.
 */
import { z } from 'zod';
import { type KindDeclaration, metaOf, type RefKind } from '../../../schemas/declare.ts';
import { KINDS } from '../../../schemas/index.ts';
import type { OwnField } from '../../../schemas/kinds/own.ts';
import type { Path } from '../../../schemas/problem.ts';
import { alternativeFor, alternativesOf, childOf, fieldsOf, leadOf } from '../../../schemas/walk.ts';
import type { Book } from '../book/book.ts';
import { type Definition, declarationFor, type PieceFacts } from '../book/facts.ts';
import type { BookFile } from '../book/file.ts';
import { shapeOfNode } from '../book/judge.ts';
import { type Mark, marksOf } from '../book/marks.ts';
import { pairOf, type Span } from '../syntax/node.ts';
import { type Entry, entriesOf, type Piece } from '../syntax/piece.ts';
import { type Argument, argumentKind, argumentsIn } from './arguments.ts';
import { contentSpan } from './content.ts';

/** An id in a file. Span in offsets of the piece, path from the root of the file. */
export interface IdMark extends Mark {
  readonly file: BookFile;
  readonly piece: Piece;
  readonly entry: Entry;
  /** The parameter or field whose type says whether this is an id at all. */
  readonly argument?: Argument['of'];
}

/** What a local id belongs to: a whole file (`prefix` is empty) or one entry of a catalog. */
export interface Home {
  readonly file: BookFile;
  readonly prefix: Path;
}

/** What an id means: two marks with the same meaning name the same thing. */
export interface Meaning {
  readonly kind: RefKind;
  readonly id: string;
  /** For ids that are known only there: an operation's add-ons, a template's parameters, a job's options. */
  readonly home: Home | undefined;
}

/** Every id of a piece, keys of catalog entries included, in the order of the text. */
export function idsIn(file: BookFile, piece: Piece): IdMark[] {
  const { kind } = file;
  if (!kind) return [];
  const marks: IdMark[] = [];
  for (const entry of entriesOf(piece, file.splitKeys)) {
    const declared = declarationFor(kind, entry);
    if (!declared || (declared.catalog && entry.value.type === 'empty')) continue;
    const prefix = prefixOf(entry);
    const defines = declared.key && metaOf(declared.key).defines;
    if (defines) {
      const { key } = entry;
      marks.push({
        is: 'definition',
        kinds: [defines],
        id: key.text,
        path: prefix,
        onKey: true,
        local: false,
        shared: false,
        start: key.start,
        end: key.end,
        file,
        piece,
        entry,
      });
    }
    for (const mark of marksOf(declared.schema, entry.value))
      marks.push({ ...mark, path: [...prefix, ...mark.path], file, piece, entry });
    for (const { node, path, kinds, of } of argumentsIn(declared.schema, entry.value)) {
      marks.push({
        is: 'reference',
        kinds,
        id: node.text,
        path: [...prefix, ...path],
        onKey: false,
        local: false,
        shared: false,
        start: node.start,
        end: node.end,
        file,
        piece,
        entry,
        ...(of ? { argument: of } : {}),
      });
    }
  }
  return marks.sort((a, b) => a.start - b.start);
}

/** Path of an entry from the root of its file. */
export function prefixOf(entry: { section: string | undefined; key: { text: string } }): Path {
  return entry.section === undefined ? [entry.key.text] : [entry.section, entry.key.text];
}

/** Undefined for the value of a parameter or a field that is not an id: a number, a text. */
export function meaningOf(book: Book, mark: IdMark): Meaning | undefined {
  if (mark.argument) {
    const kind = argumentKind(book, mark.argument);
    return kind && { kind, id: mark.id, home: undefined };
  }
  const kind = mark.kinds.find((one) => book.definition(one, mark.id)) ?? mark.kinds[0]!;
  return { kind, id: mark.id, home: mark.local ? homeOf(book, mark) : undefined };
}

export function sameMeaning(a: Meaning, b: Meaning): boolean {
  return a.kind === b.kind && a.id === b.id && sameHome(a.home, b.home);
}

/** The places that bring the id into being. Rows of price files have none; see `rowsOf`. */
export function definingMarks(book: Book, meaning: Meaning): IdMark[] {
  const { home, kind, id } = meaning;
  const defines = (mark: IdMark) => mark.is === 'definition' && mark.kinds[0] === kind && mark.id === id;
  if (home) return idsAt(home).filter(defines);
  const pieces = book.registry.definitions(kind, id).filter((one) => one.row === undefined);
  return [...new Set(pieces.map((one) => one.facts))].flatMap(({ file, piece }) =>
    idsIn(file, piece).filter(defines),
  );
}

/** Definitions that are rows of a supplier's price file. */
export function rowsOf(book: Book, meaning: Meaning): Definition[] {
  if (meaning.home) return [];
  return book.registry.definitions(meaning.kind, meaning.id).filter((one) => one.row !== undefined);
}

/** The places that name the id, by file and then in the order of the text. `within`: only this file is looked through. */
export function namingMarks(book: Book, meaning: Meaning, within?: BookFile): IdMark[] {
  const { registry } = book;
  const pieces = new Map<Piece, BookFile>();
  if (meaning.home) {
    const { home } = meaning;
    for (const piece of piecesOf(home)) pieces.set(piece, home.file);
    for (const owner of ownersOf(book, home))
      for (const { file, piece } of registry.users(owner.kind, owner.id)) pieces.set(piece, file);
  } else {
    for (const { file, piece } of registry.users(meaning.kind, meaning.id)) pieces.set(piece, file);
    for (const { file, piece } of argumentPieces(book)) {
      if (piece.text.includes(meaning.id)) pieces.set(piece, file);
    }
  }
  return [...pieces]
    .filter(([, file]) => !within || file === within)
    .map(([piece, file]) => ({ piece, file, index: file.source.indexOf(piece) }))
    .sort((a, b) => (a.file.uri < b.file.uri ? -1 : a.file.uri > b.file.uri ? 1 : a.index - b.index))
    .flatMap(({ piece, file }) => idsIn(file, piece))
    .filter((mark) => mark.is === 'reference' && mark.id === meaning.id && mark.kinds.includes(meaning.kind))
    .filter((mark) => {
      const meant = meaningOf(book, mark);
      return meant && sameMeaning(meant, meaning);
    });
}

/** Pieces that may give values to parameters or fields: templates, what calls them, what has fields that name something. */
function* argumentPieces(book: Book): IterableIterator<PieceFacts> {
  for (const definition of book.registry.all('template')) {
    yield* definition.facts.file.facts();
    yield* book.registry.users('template', definition.id);
  }
  for (const { id, value } of book.registry.all('field'))
    if ((value as OwnField | undefined)?.names) yield* book.registry.users('field', id);
}

/** The id itself: without the quotes around it and the `$` of a parameter. */
export function idSpan(mark: IdMark): Span {
  const { start, end } = contentSpan(mark.piece, mark);
  return { start: start + (isParameterText(mark) ? 1 : 0), end };
}

/** Whether the id is written `$name`, as a stand-in inside a template. */
export function isParameterText(mark: IdMark): boolean {
  return mark.kinds[0] === 'parameter' && /^["']?\$/.test(mark.piece.text.slice(mark.start, mark.end));
}

function sameHome(a: Home | undefined, b: Home | undefined): boolean {
  if (!a || !b) return a === b;
  return (
    a.file === b.file &&
    a.prefix.length === b.prefix.length &&
    a.prefix.every((step, i) => step === b.prefix[i])
  );
}

/** What a local id belongs to: the thing named by the line it stands in, else the file or entry around it. */
function homeOf(book: Book, mark: IdMark): Home | undefined {
  if (mark.is === 'reference' && !isParameterText(mark)) {
    const owner = namedOwner(mark);
    if (owner) {
      const definition = book.definition(owner.kind, owner.id);
      return definition && homeOfDefinition(definition);
    }
  }
  return { file: mark.file, prefix: mark.file.kind?.defines ? [] : prefixOf(mark.entry) };
}

function homeOfDefinition(definition: Definition): Home | undefined {
  const { file, piece } = definition.facts;
  if (file.kind?.defines === definition.kind) return { file, prefix: [] };
  const entry = entriesOf(piece, file.splitKeys).find((one) => one.key.text === definition.id);
  return entry && { file, prefix: prefixOf(entry) };
}

/** The owner that a line names in its first field: `operation: x` for `adders:`, `template: x` for `with:`. */
function namedOwner(mark: IdMark): { kind: RefKind; id: string } | undefined {
  const owners = OWNERS.get(mark.kinds[0]!) ?? [];
  const { entry, file } = mark;
  let schema = file.kind && declarationFor(file.kind, entry)?.schema;
  let node = entry.value;
  let named: { kind: RefKind; id: string } | undefined;
  for (const step of mark.path.slice(prefixOf(entry).length)) {
    const meant: z.ZodType | undefined = schema && alternativeFor(schema, shapeOfNode(node));
    if (!meant) break;
    if (meant instanceof z.ZodObject) {
      const lead = leadOf(meant);
      const { refers } = fieldsOf(meant).get(lead)?.meta ?? {};
      const value = pairOf(node, lead)?.value;
      const kind = owners.find((one) => refers === one);
      if (kind && value?.type === 'scalar') named = { kind, id: value.text };
    }
    schema = childOf(meant, step);
    const next = node.type === 'list' ? node.items[Number(step)] : pairOf(node, String(step))?.value;
    if (!next) break;
    node = next;
  }
  return named;
}

function piecesOf({ file, prefix }: Home): Iterable<Piece> {
  if (prefix.length === 0) return file.source.pieces();
  const found = file.entryAt(prefix);
  return found ? [found.piece] : [];
}

function idsAt(home: Home): IdMark[] {
  return [...piecesOf(home)]
    .flatMap((piece) => idsIn(home.file, piece))
    .filter((mark) => home.prefix.every((step, i) => mark.path[i] === step));
}

/** What a home is known as in the rest of the book: the template of a file, the operation of an entry. */
function ownersOf(book: Book, home: Home): { kind: RefKind; id: string }[] {
  const { file, prefix } = home;
  const defined = [...piecesOf(home)].flatMap((piece) => file.factsAt(piece)?.definitions ?? []);
  return defined
    .filter(
      (one) => !one.local && (prefix.length === 0 ? one.kind === file.kind?.defines : one.id === prefix[1]),
    )
    .filter((one) => book.definition(one.kind, one.id));
}

/** By kind of a local id: the kinds of thing that it can belong to. */
const OWNERS: ReadonlyMap<RefKind, readonly RefKind[]> = localOwners(KINDS);

function localOwners(kinds: readonly KindDeclaration[]): Map<RefKind, RefKind[]> {
  const owners = new Map<RefKind, RefKind[]>();
  const note = (schema: z.ZodType, owner: RefKind, seen: Set<z.ZodType>): void => {
    for (const meant of alternativesOf(schema)) {
      if (seen.has(meant)) continue;
      seen.add(meant);
      const { defines, local } = metaOf(meant);
      if (defines && local) owners.set(defines, [...(owners.get(defines) ?? []), owner]);
      if (meant instanceof z.ZodObject)
        for (const field of fieldsOf(meant).values()) note(field.schema, owner, seen);
      if (meant instanceof z.ZodArray) note(meant.element as z.ZodType, owner, seen);
      if (meant instanceof z.ZodRecord) {
        note(meant.keyType as z.ZodType, owner, seen);
        note(meant.valueType as z.ZodType, owner, seen);
      }
    }
  };
  for (const kind of kinds) {
    if (kind.defines) note(kind.schema, kind.defines, new Set());
    else
      for (const field of fieldsOf(kind.schema).values()) {
        const record = alternativesOf(field.schema)[0];
        const owner =
          field.meta.catalog && record instanceof z.ZodRecord
            ? metaOf(record.keyType as z.ZodType).defines
            : undefined;
        if (owner) note((record as z.ZodRecord).valueType as z.ZodType, owner, new Set());
      }
  }
  return owners;
}
