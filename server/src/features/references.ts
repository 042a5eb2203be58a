/** Every place of the book that names the same thing. */
import type { Location } from 'vscode-languageserver-types';
import type { Book } from '../book/book.ts';
import type { BookFile } from '../book/file.ts';
import type { Position } from '../syntax/lines.ts';
import { definingMarks, meaningOf, namingMarks, rowsOf } from './ids.ts';
import { placeAt } from './place.ts';
import { locationsOf, rowLocation } from './spot.ts';

export function references(
  book: Book,
  file: BookFile,
  position: Position,
  { includeDeclaration }: { includeDeclaration: boolean },
): Location[] {
  const { mark } = placeAt(file, position);
  if (!mark) return [];
  const meaning = meaningOf(book, mark);
  if (!meaning) return [];
  const uses = locationsOf(namingMarks(book, meaning));
  if (!includeDeclaration) return uses;
  const rows = rowsOf(book, meaning).flatMap((row) => rowLocation(row) ?? []);
  return [...locationsOf(definingMarks(book, meaning)), ...rows, ...uses];
}
