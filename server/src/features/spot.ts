/** Places in files as protocol values. */
import type { Location } from 'vscode-languageserver-types';
import type { Definition } from '../book/facts.ts';
import { resolve } from '../book/paths.ts';
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
