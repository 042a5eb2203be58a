/** The same id elsewhere in the file: where it is brought into being (write) and where it is named (read). */
import type { DocumentHighlight } from 'vscode-languageserver-types';
import type { Book } from '../book/book.ts';
import type { BookFile } from '../book/file.ts';
import type { Position } from '../syntax/lines.ts';
import { definingMarks, meaningOf, namingMarks } from './ids.ts';
import { placeAt } from './place.ts';
import { locationsOf } from './spot.ts';

const READ = 2;
const WRITE = 3;

export function highlights(book: Book, file: BookFile, position: Position): DocumentHighlight[] {
  const { mark } = placeAt(file, position);
  if (!mark) return [];
  const meaning = meaningOf(book, mark);
  if (!meaning) return [];
  const defining = definingMarks(book, meaning).filter((one) => one.file === file);
  const naming = namingMarks(book, meaning, file);
  return [
    ...locationsOf(defining).map(({ range }) => ({ range, kind: WRITE })),
    ...locationsOf(naming).map(({ range }) => ({ range, kind: READ })),
  ] as DocumentHighlight[];
}
