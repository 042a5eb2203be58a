/** The catalogs as they read with the edits made. */
import type { BookFile } from '../../book/file.ts';
import { textWith } from '../../book/piece-edits.ts';
import type { TextEdit } from '../../syntax/edit.ts';
import type { Piece } from '../../syntax/piece.ts';
import type { PriceEdit } from './apply.ts';

/** By URI; files that do not change are left out. */
export function changedTexts(edits: readonly PriceEdit[]): Map<string, string> {
  const byFile = new Map<BookFile, Map<Piece, TextEdit[]>>();
  for (const { file, piece, edits: own } of edits) {
    const pieces = byFile.get(file) ?? new Map<Piece, TextEdit[]>();
    byFile.set(file, pieces);
    pieces.set(piece, [...(pieces.get(piece) ?? []), ...own]);
  }
  return new Map([...byFile].map(([file, pieces]) => [file.uri, textWith(file, pieces)]));
}
