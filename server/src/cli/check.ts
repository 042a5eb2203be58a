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

/** A part of the files of a book: every `of`-th, beginning with number `share`. */
export interface Share {
  readonly share: number;
  readonly of: number;
}

/** Lines and columns count from 1, as editors show them. `tell` hears of each file that is done. */
export function reports(
  opened: Opened,
  { share, of }: Share = { share: 0, of: 1 },
  tell: () => void = () => undefined,
): Report[] {
  const unread = share === 0 ? opened.unread : [];
  const out: Report[] = unread.map(({ path, message }) => ({
    file: display(path),
    line: 1,
    column: 1,
    endLine: 1,
    endColumn: 1,
    severity: 'error',
    code: 'file-unreadable',
    message: `This file ${message}`,
  }));
  let number = 0;
  for (const { book, estimates } of opened.books) {
    for (const file of book.files()) {
      if (number++ % of !== share) continue;
      const shown = display(file.uri);
      for (const { problem, piece, start, end } of problemsOf(estimates, file)) {
        const range = file.source.rangeOf(piece, { start, end });
        out.push({
          file: shown,
          line: range.start.line + 1,
          column: range.start.character + 1,
          endLine: range.end.line + 1,
          endColumn: range.end.character + 1,
          severity: problem.severity,
          code: problem.code,
          message: problem.message,
        });
      }
      tell();
    }
  }
  return ordered(out);
}

export function ordered(found: Report[]): Report[] {
  const { compare } = new Intl.Collator();
  return found.sort(
    (a, b) =>
      (a.file === b.file ? 0 : compare(a.file, b.file)) ||
      a.line - b.line ||
      a.column - b.column ||
      ORDER[a.severity] - ORDER[b.severity],
  );
}

export function fileCount({ books }: Opened): number {
  return books.reduce((sum, { book }) => sum + [...book.files()].length, 0);
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
