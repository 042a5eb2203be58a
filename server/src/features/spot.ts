/** Places in files as protocol values. */
import type { Location, Range } from 'vscode-languageserver-types';
import type { Path } from '../../../schemas/problem.ts';
import type { Book } from '../book/book.ts';
import type { Definition } from '../book/facts.ts';
import type { BookFile } from '../book/file.ts';
import { resolve } from '../book/paths.ts';
import type { Source } from '../pricing/amount.ts';
import { nodeAt, pairOf, type Span } from '../syntax/node.ts';
import { type IdMark, idSpan, idsIn, prefixOf } from './ids.ts';

export function locationOf(mark: IdMark): Location {
  return { uri: mark.file.uri, range: mark.file.source.rangeOf(mark.piece, idSpan(mark)) };
}

/** Locations of all the marks, the same place once: a value repeated with `*` is named at each of its copies. */
export function locationsOf(marks: readonly IdMark[]): Location[] {
  const seen = new Set<string>();
  return marks.map(locationOf).filter(({ uri, range }) => {
    const key = `${uri} ${range.start.line}:${range.start.character}`;
    return !seen.has(key) && seen.add(key);
  });
}

/** The line of a supplier's price file that a part is read from. */
export function rowLocation(definition: Definition): Location | undefined {
  const { file } = definition.facts;
  const from = file.value.from as { file?: unknown } | undefined;
  const uri = typeof from?.file === 'string' ? resolve(file.uri, from.file) : undefined;
  if (uri === undefined || definition.row === undefined) return undefined;
  const at = { line: definition.row - 1, character: 0 };
  return { uri, range: { start: at, end: at } };
}

/** Where a definition stands: its id, or its line in a price file. */
export function definitionLocation(definition: Definition): Location | undefined {
  if (definition.row !== undefined) return rowLocation(definition);
  const { file, piece } = definition.facts;
  const mark = idsIn(file, piece).find(
    (one) => one.is === 'definition' && one.kinds[0] === definition.kind && one.id === definition.id,
  );
  return mark && locationOf(mark);
}

/** All that an id on a key brings into being: the key with what is under it. Just the id elsewhere. */
export function wholeSpan(mark: IdMark): Span {
  if (!mark.onKey) return mark;
  const rest = mark.path.slice(prefixOf(mark.entry).length);
  const parent = nodeAt(mark.entry.value, rest.slice(0, -1));
  return rest.length === 0 ? mark.entry.pair : (pairOf(parent, String(rest.at(-1))) ?? mark);
}

/** Where a path of the file stands; undefined for the file as a whole. */
export function rangeOf(file: BookFile, path: Path, onKey = false): Range | undefined {
  if (path.length === 0) return undefined;
  const spot = file.spotOf(path, onKey);
  return spot && file.source.rangeOf(spot.piece, spot);
}

/** Where a figure is written: in the book, or in the job itself. */
export function sourceLocation(book: Book, file: BookFile, source: Source | undefined): Location | undefined {
  if (!source) return undefined;
  if ('path' in source) {
    const range = rangeOf(file, source.path);
    return range && { uri: file.uri, range };
  }
  const definition = book.definition(source.kind, source.id);
  if (!definition) return undefined;
  const whole = definitionLocation(definition);
  const { file: home } = definition.facts;
  const section = definition.facts.parts.find((one) => one.key === source.id)?.section;
  if (!source.field || section === undefined || definition.row !== undefined) return whole;
  const range = rangeOf(home, [section, source.id, ...source.field.split(/[ .]/)]);
  return range ? { uri: home.uri, range } : whole;
}
