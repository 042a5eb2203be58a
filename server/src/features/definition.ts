/** From an id to what it names: the entry of the book, the line of a price file, the add-on of the operation. */
import type { LocationLink } from 'vscode-languageserver-types';
import type { Book } from '../book/book.ts';
import type { BookFile } from '../book/file.ts';
import { isInside, resolve } from '../book/paths.ts';
import type { Position } from '../syntax/lines.ts';
import { definingMarks, type IdMark, meaningOf, rowsOf } from './ids.ts';
import { innermost, type Place, placeAt } from './place.ts';
import { locationOf, rowLocation, wholeSpan } from './spot.ts';

const TOP = { start: { line: 0, character: 0 }, end: { line: 0, character: 0 } };

export function definition(book: Book, file: BookFile, position: Position): LocationLink[] {
  const place = placeAt(file, position);
  return place.mark ? ofMark(book, place.mark) : ofPath(book, place);
}

function ofMark(book: Book, mark: IdMark): LocationLink[] {
  const originSelectionRange = locationOf(mark).range;
  const meaning = meaningOf(book, mark);
  if (!meaning) return [];
  const entries = definingMarks(book, meaning).map((found) => {
    const { uri, range } = locationOf(found);
    return {
      originSelectionRange,
      targetUri: uri,
      targetRange: found.file.source.rangeOf(found.piece, wholeSpan(found)),
      targetSelectionRange: range,
    };
  });
  const rows = rowsOf(book, meaning).flatMap((row): LocationLink[] => {
    const at = rowLocation(row);
    return at
      ? [{ originSelectionRange, targetUri: at.uri, targetRange: at.range, targetSelectionRange: at.range }]
      : [];
  });
  return [...entries, ...rows];
}

/** A file that is named by its path. */
function ofPath(book: Book, place: Place): LocationLink[] {
  const { node, meta } = innermost(place);
  if (place.on !== 'value' || node.type !== 'scalar' || !meta.file) return [];
  const uri = resolve(place.file.uri, node.text);
  if (uri === undefined || !isInside(book.root, uri)) return [];
  const known = book.file(uri) !== undefined || book.host.size(uri, book.root) !== undefined;
  const originSelectionRange = place.file.source.rangeOf(place.piece, node);
  return known ? [{ originSelectionRange, targetUri: uri, targetRange: TOP, targetSelectionRange: TOP }] : [];
}
