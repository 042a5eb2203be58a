/** Places of a file as protocol ranges. */
import type { Range } from 'vscode-languageserver-types';
import type { Path } from '../../../../schemas/problem.ts';
import type { BookFile } from '../../book/file.ts';

/** Where a path of the file stands; undefined for the file as a whole. */
export function rangeOf(file: BookFile, path: Path, onKey = false): Range | undefined {
  if (path.length === 0) return undefined;
  const spot = file.spotOf(path, onKey);
  return spot && file.source.rangeOf(spot.piece, spot);
}
