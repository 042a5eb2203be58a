/** `check`: every problem of a book. */
import type { Severity } from '../../../schemas/problem.ts';
import { problemsOf } from '../estimate/problems.ts';
import { display, type Opened } from './open.ts';

export interface Report {
  readonly file: string;
  readonly line: number;
  readonly column: number;
  readonly endLine: number;
  readonly endColumn: number;
  readonly severity: Severity;
  readonly code: string;
  readonly message: string;
}

const ORDER: Record<Severity, number> = { error: 0, warning: 1, information: 2, hint: 3 };

/** Lines and columns count from 1, as editors show them. */
export function reports(opened: Opened): Report[] {
  const out: Report[] = opened.unread.map(({ path, message }) => ({
    file: display(path),
    line: 1,
    column: 1,
    endLine: 1,
    endColumn: 1,
    severity: 'error',
    code: 'file-unreadable',
    message: `This file ${message}`,
  }));
  for (const { book, estimates } of opened.books) {
    for (const file of book.files()) {
      for (const { problem, piece, start, end } of problemsOf(estimates, file)) {
        const range = file.source.rangeOf(piece, { start, end });
        out.push({
          file: display(file.uri),
          line: range.start.line + 1,
          column: range.start.character + 1,
          endLine: range.end.line + 1,
          endColumn: range.end.character + 1,
          severity: problem.severity,
          code: problem.code,
          message: problem.message,
        });
      }
    }
  }
  return out.sort(
    (a, b) =>
      a.file.localeCompare(b.file) ||
      a.line - b.line ||
      a.column - b.column ||
      ORDER[a.severity] - ORDER[b.severity],
  );
}

/** Hints are for the one who is writing; here they are only counted. */
export function reportText(found: readonly Report[], files: number): string {
  const lines = found
    .filter((one) => one.severity !== 'hint')
    .map((one) => `${one.file}:${one.line}:${one.column}: ${one.severity}: ${one.message} [${one.code}]`);
  const count = (severity: Severity, word: string = severity) => {
    const number = found.filter((one) => one.severity === severity).length;
    return number === 0 && word !== 'error' && word !== 'warning' ? [] : [plural(number, word)];
  };
  const counts = [...count('error'), ...count('warning'), ...count('information', 'note'), ...count('hint')];
  return [...lines, `${plural(files, 'file')} checked: ${counts.join(', ')}.`].join('\n');
}

function plural(count: number, word: string): string {
  return `${count} ${word}${count === 1 ? '' : 's'}`;
}
