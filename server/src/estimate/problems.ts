/** Every problem of a file, wherever it comes from, with its span. */
import type { Problem } from '../../../schemas/problem.ts';
import type { BookFile } from '../book/file.ts';
import type { Piece } from '../syntax/piece.ts';
import type { Estimates } from './estimates.ts';

export interface Found {
  readonly problem: Problem;
  readonly piece: Piece;
  readonly start: number;
  readonly end: number;
}

export function problemsOf(estimates: Estimates, file: BookFile): Found[] {
  const found: Found[] = estimates.book.problemsOf(file).map(({ piece, problem }) => ({
    problem,
    piece,
    start: problem.start,
    end: problem.end,
  }));
  for (const problem of [...estimates.problemsOf(file), ...estimates.bookProblems.of(file)]) {
    const spot = file.spotOf(problem.path, problem.onKey);
    if (spot) found.push({ problem, ...spot });
  }
  return found;
}
