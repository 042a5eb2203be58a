/** Entries of the book as items of the call and type hierarchies. */
import type { CallHierarchyItem } from 'vscode-languageserver-types';
import type { RefKind } from '../../../schemas/declare.ts';
import type { Book } from '../book/book.ts';
import type { BookFile } from '../book/file.ts';
import type { Position } from '../syntax/lines.ts';
import { definingMarks, type IdMark, idsIn, meaningOf, rowsOf } from './ids.ts';
import { placeAt } from './place.ts';
import { locationOf, rowLocation, wholeSpan } from './spot.ts';
import { isOutdated, nameOfDefinition, SYMBOL_OF } from './symbol-kinds.ts';

export interface Thing {
  readonly kind: RefKind;
  readonly id: string;
}

const DEPRECATED = 1;

/** What is meant at a position: the id there, else the entry around it. */
export function thingAt(book: Book, file: BookFile, position: Position): Thing | undefined {
  const place = placeAt(file, position);
  const { mark, piece } = place;
  const meaning = mark && meaningOf(book, mark);
  if (meaning && !meaning.home) return { kind: meaning.kind, id: meaning.id };
  const path = place.levels.at(-1)!.path;
  return holderOf(file, path, idsIn(file, piece));
}

/** The entry or file that a path lies in. `ids` are those of its piece. */
export function holderOf(
  file: BookFile,
  path: readonly (string | number)[],
  ids: readonly IdMark[],
): Thing | undefined {
  const around = ids.findLast(
    (one) =>
      one.is === 'definition' && one.onKey && !one.local && one.path.every((step, i) => step === path[i]),
  );
  if (around) return { kind: around.kinds[0]!, id: around.id };
  const { id } = file.value;
  return file.kind?.defines && typeof id === 'string' ? { kind: file.kind.defines, id } : undefined;
}

/** Undefined when nothing of the book is called so. */
export function itemOf(book: Book, thing: Thing): CallHierarchyItem | undefined {
  const meaning = { ...thing, home: undefined };
  const definition = book.definition(thing.kind, thing.id);
  const [mark] = definingMarks(book, meaning);
  const [row] = rowsOf(book, meaning);
  const at = mark ? locationOf(mark) : row && rowLocation(row);
  if (!definition || !at) return undefined;
  const whole = mark?.onKey ? mark.file.source.rangeOf(mark.piece, wholeSpan(mark)) : at.range;
  const item: CallHierarchyItem = {
    name: thing.id,
    kind: SYMBOL_OF[thing.kind],
    detail: nameOfDefinition(book, definition),
    uri: at.uri,
    range: whole,
    selectionRange: at.range,
    data: { kind: thing.kind, id: thing.id },
  };
  if (isOutdated(definition.value)) item.tags = [DEPRECATED];
  return item;
}

export function thingOf(item: { data?: unknown }): Thing {
  return item.data as Thing;
}
