/** Supersession as a hierarchy: above a part the number that took its place, below it the numbers that it replaced. */
import type { TypeHierarchyItem } from 'vscode-languageserver-types';
import type { Part } from '../../../schemas/kinds/parts.ts';
import type { Book } from '../book/book.ts';
import type { BookFile } from '../book/file.ts';
import type { Position } from '../syntax/lines.ts';
import { itemOf, thingAt, thingOf } from './hierarchy-item.ts';

export function prepareTypeHierarchy(book: Book, file: BookFile, position: Position): TypeHierarchyItem[] {
  const thing = thingAt(book, file, position);
  return thing?.kind === 'part' ? items(book, [thing.id]) : [];
}

export function supertypes(book: Book, item: TypeHierarchyItem): TypeHierarchyItem[] {
  const next = successor(book, thingOf(item).id);
  return items(book, next === undefined ? [] : [next]);
}

export function subtypes(book: Book, item: TypeHierarchyItem): TypeHierarchyItem[] {
  const { id } = thingOf(item);
  const naming = [...book.registry.users('part', id)].flatMap((facts) => facts.definitions);
  const older = naming
    .filter((one) => one.kind === 'part' && successor(book, one.id) === id)
    .map((one) => one.id);
  return items(book, [...new Set(older)].sort());
}

function successor(book: Book, id: string): string | undefined {
  return (book.value('part', id) as Part | undefined)?.['superseded-by']?.part;
}

function items(book: Book, ids: readonly string[]): TypeHierarchyItem[] {
  return ids.flatMap((id) => itemOf(book, { kind: 'part', id }) ?? []);
}
