import type { SourceFile } from './file.ts';
import { spaces } from './finding.ts';
import type { SyntaxProblem } from './node.ts';
import type { Piece } from './piece.ts';
import { problem } from './problems.ts';
import type { Shelf } from './shelves.ts';

/** A problem that only the whole file shows. Its span counts from the start of `piece`. */
export interface FileProblem extends SyntaxProblem {
  readonly piece: Piece;
  /** The piece it clashes with, if any. */
  readonly first?: Piece;
}

/** More than this many of one kind in a file say nothing new. */
const REPORTED = 1000;

export function fileProblems(
  file: SourceFile,
  shelves: readonly Shelf[],
  repeats: readonly Piece[][],
): FileProblem[] {
  return [...duplicates(file, repeats), ...uneven(shelves)]
    .map((problem) => ({ problem, index: file.indexOf(problem.piece) }))
    .sort((a, b) => a.index - b.index)
    .map(({ problem }) => problem);
}

function duplicates(file: SourceFile, repeats: readonly Piece[][]): FileProblem[] {
  const out: FileProblem[] = [];
  for (const group of repeats) {
    const [first, ...again] = group
      .map((piece) => ({ piece, index: file.indexOf(piece) }))
      .sort((a, b) => a.index - b.index);
    if (!first) continue;
    const line = file.positionOf(first.index, first.piece.head).line + 1;
    for (const { piece } of again) {
      if (out.length >= REPORTED) return out;
      const message = `\`${piece.key}\` is already given on line ${line}. The first one counts; delete or rename one of them.`;
      out.push({
        ...problem('yaml-duplicate-key', piece.head, piece.keyEnd, message),
        piece,
        first: first.piece,
      });
    }
  }
  return out;
}

/** Names at the top that do not start at column 0, and entries that start at another column than most of their catalog. */
function uneven(shelves: readonly Shelf[]): FileProblem[] {
  const usual = usualColumns(shelves);
  const out: FileProblem[] = [];
  for (const shelf of shelves) {
    if (shelf.columns.every(({ section, column }) => column === usual.get(section))) continue;
    for (const piece of shelf.pieces) {
      const column = usual.get(piece.section);
      if (piece.kind === 'whole' || piece.indent === column) continue;
      if (out.length >= REPORTED) return out;
      const message =
        piece.section === undefined
          ? `\`${piece.key}\` is set in by ${spaces(piece.indent)}. Names at the top of a file start at the first column.`
          : `\`${piece.key}\` is set in by ${spaces(piece.indent)}, the other entries of \`${piece.section}\` by ${column}. Line it up with them.`;
      out.push({ ...problem('yaml-uneven-indent', piece.head, piece.keyEnd, message), piece });
    }
  }
  return out;
}

function usualColumns(shelves: readonly Shelf[]): Map<string | undefined, number> {
  const counts = new Map<string | undefined, Map<number, number>>();
  for (const { section, column, count } of shelves.flatMap((shelf) => shelf.columns)) {
    const columns = counts.get(section) ?? new Map<number, number>();
    counts.set(section, columns.set(column, (columns.get(column) ?? 0) + count));
  }
  const usual = new Map<string | undefined, number>();
  for (const [section, columns] of counts)
    usual.set(section, [...columns].reduce((best, each) => (each[1] > best[1] ? each : best))[0]);
  return usual.set(undefined, 0);
}
