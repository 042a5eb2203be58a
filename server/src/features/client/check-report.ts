/** Every problem of the books, for a task of the editor. */
import type { Range } from 'vscode-languageserver-types';
import type { Severity } from '../../../../schemas/problem.ts';
import type { Estimates } from '../../estimate/estimates.ts';
import { problemsOf } from '../../estimate/problems.ts';

export interface CheckReport {
  readonly files: number;
  /** By file, then in the order of the text. */
  readonly problems: readonly {
    readonly uri: string;
    readonly range: Range;
    readonly severity: Severity;
    readonly code: string;
    readonly message: string;
  }[];
}

export function checkReport(books: readonly Estimates[]): CheckReport {
  let files = 0;
  const problems: CheckReport['problems'][number][] = [];
  for (const estimates of books) {
    for (const file of estimates.book.files()) {
      files++;
      for (const { problem, piece, start, end } of problemsOf(estimates, file)) {
        const { severity, code, message } = problem;
        const range = file.source.rangeOf(piece, { start, end });
        problems.push({ uri: file.uri, range, severity, code, message });
      }
    }
  }
  problems.sort(
    (a, b) =>
      a.uri.localeCompare(b.uri) ||
      a.range.start.line - b.range.start.line ||
      a.range.start.character - b.range.start.character,
  );
  return { files, problems };
}
