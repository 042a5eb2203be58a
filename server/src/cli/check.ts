/** `check`: every problem of a book. */
import type { Severity } from '../../../schemas/problem.ts';
import { type ToldProblem, toldProblems, toldUnread } from '../estimate/told.ts';
import { display, type Opened } from './open.ts';

export type Report = ToldProblem;

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
  const out = unread.map((one) => toldUnread(one, display(one.path)));
  let number = 0;
  for (const { book, estimates } of opened.books) {
    for (const file of book.files()) {
      if (number++ % of !== share) continue;
      out.push(...toldProblems(estimates, file, display(file.uri)));
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
