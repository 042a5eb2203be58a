/** Every problem of a file, wherever it comes from, with its span. */
import type { Problem } from '../../../schemas/problem.ts';
import { crossProblems } from '../book/checks.ts';
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
  const { book } = estimates;
  const found: Found[] = [];
  for (const problem of file.wholeProblems())
    found.push({ problem, piece: problem.piece, start: problem.start, end: problem.end });
  for (const facts of file.facts()) {
    for (const problem of [...facts.problems, ...crossProblems(book, facts)]) {
      found.push({ problem, piece: facts.piece, start: problem.start, end: problem.end });
    }
  }
  for (const problem of estimates.of(file)?.problems ?? []) {
    const spot = file.spotOf(problem.path, problem.onKey);
    if (spot) found.push({ problem, ...spot });
  }
  return found;
}
