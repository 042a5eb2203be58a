/** The sample book, opened once for a test file. */
import { join } from 'node:path';
import type { Book } from '../../../server/src/book/book.ts';
import { DISK, folderUri, readFolder } from '../../../server/src/book/disk.ts';
import type { BookFile } from '../../../server/src/book/file.ts';
import { Workspace } from '../../../server/src/book/workspace.ts';
import { Estimates } from '../../../server/src/estimate/estimates.ts';
import { type Found, problemsOf } from '../../../server/src/estimate/problems.ts';

export const SAMPLE = join(import.meta.dirname, '../../../samples/quarrow-creek');

export function openSample(): { book: Book; estimates: Estimates } {
  const workspace = new Workspace([folderUri(SAMPLE)], DISK);
  workspace.load(readFolder(SAMPLE).texts);
  const [book] = workspace.books;
  if (!book || workspace.books.length !== 1) throw new Error('the sample is one book');
  return { book, estimates: new Estimates(book) };
}

/** Errors and warnings; notes are no alarm. */
export function alarms(estimates: Estimates, file: BookFile): Found[] {
  return problemsOf(estimates, file).filter(
    ({ problem }) => problem.severity === 'error' || problem.severity === 'warning',
  );
}
