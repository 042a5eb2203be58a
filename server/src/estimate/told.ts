/** Problems as plain data, for those who read them outside an editor. */
import type { Severity } from '../../../schemas/problem.ts';
import type { Unread } from '../book/disk.ts';
import type { BookFile } from '../book/file.ts';
import type { Estimates } from './estimates.ts';
import { problemsOf } from './problems.ts';

export interface ToldProblem {
  /** As the one who asks names files. */
  readonly file: string;
  /** Counted from 1; columns in UTF-16 units. */
  readonly line: number;
  readonly column: number;
  readonly endLine: number;
  readonly endColumn: number;
  readonly severity: Severity;
  /** Stable; `explain` tells more of it. */
  readonly code: string;
  readonly message: string;
}

/** What is wrong with a file, `name` standing for it. */
export function toldProblems(estimates: Estimates, file: BookFile, name: string): ToldProblem[] {
  return problemsOf(estimates, file).map(({ problem, piece, start, end }) => {
    const range = file.source.rangeOf(piece, { start, end });
    return {
      file: name,
      line: range.start.line + 1,
      column: range.start.character + 1,
      endLine: range.end.line + 1,
      endColumn: range.end.character + 1,
      severity: problem.severity,
      code: problem.code,
      message: problem.message,
    };
  });
}

/** A file that could not be read, told at its beginning. */
export function toldUnread({ message }: Unread, name: string): ToldProblem {
  return {
    file: name,
    line: 1,
    column: 1,
    endLine: 1,
    endColumn: 1,
    severity: 'error',
    code: 'file-unreadable',
    message: `This file ${message}`,
  };
}
