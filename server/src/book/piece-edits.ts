/** Changes to a file by path, as edits of the piece that holds the place. */
import type { Path } from '../../../schemas/problem.ts';
import type { Edits, TextEdit } from '../syntax/edit.ts';
import { applyEdits } from '../syntax/edit.ts';
import type { Node } from '../syntax/node.ts';
import type { Piece } from '../syntax/piece.ts';
import type { BookFile } from './file.ts';

export interface PieceEdits {
  readonly piece: Piece;
  /** In offsets of the piece. */
  readonly edits: readonly TextEdit[];
}

/** Undefined where there is no such place, or the text would not read back as meant. */
export function editsAt(
  file: BookFile,
  path: Path,
  change: (text: string, root: Node, path: Path) => Edits,
): PieceEdits | undefined {
  const found = file.entryAt(path);
  if (!found) return undefined;
  const { piece, rest } = found;
  const edits = change(piece.text, piece.read().node, rootPath(piece, path, rest));
  return edits && { piece, edits };
}

/** The path from the root of the piece: an entry's piece begins with its id, a file that is not split with its sections. */
export function rootPath(piece: Piece, path: Path, rest: Path): Path {
  return piece.kind === 'entry' ? [piece.key, ...rest] : path;
}

/** The whole text of a file with edits of its pieces made. */
export function textWith({ source }: BookFile, edits: ReadonlyMap<Piece, readonly TextEdit[]>): string {
  let text = '';
  for (const piece of source.pieces()) {
    const own = edits.get(piece);
    text += own ? applyEdits(piece.text, own) : piece.text;
  }
  return text;
}
