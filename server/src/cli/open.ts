/** A book from a path given on the command line. */
import { existsSync, statSync } from 'node:fs';
import { dirname, join, relative, resolve } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import type { Book } from '../book/book.ts';
import { DISK, folderUri, readFolder, type Unread } from '../book/disk.ts';
import type { BookFile } from '../book/file.ts';
import { Workspace } from '../book/workspace.ts';
import { Estimates } from '../estimate/estimates.ts';

export class UsageError extends Error {}

export interface Opened {
  readonly folder: string;
  readonly books: readonly { readonly book: Book; readonly estimates: Estimates }[];
  readonly unread: readonly Unread[];
}

/** Opens the book that a file or a folder belongs to. */
export function openBook(path: string): Opened {
  const at = resolve(path);
  if (!existsSync(at)) throw new UsageError(`There is no file or folder "${path}".`);
  const folder = bookFolder(statSync(at).isDirectory() ? at : dirname(at));
  const { texts, unread } = readFolder(folder);
  const workspace = new Workspace([folderUri(folder)], DISK);
  workspace.load(texts);
  if (workspace.books.length === 0) {
    throw new UsageError(`There is no shop book in "${path}": no shop.yaml and no other file of a book.`);
  }
  return { folder, books: workspace.books.map((book) => ({ book, estimates: new Estimates(book) })), unread };
}

/** A job by its file or by its id. */
export function findJob(job: string, bookPath: string | undefined): { file: BookFile; estimates: Estimates } {
  const isFile = existsSync(job) && statSync(job).isFile();
  const opened = openBook(bookPath ?? (isFile ? job : '.'));
  const found = jobWhere(opened, (book) =>
    isFile ? book.file(pathToFileURL(resolve(job)).href) : book.definition('job', job)?.facts.file,
  );
  if (found) return found;
  if (isFile) throw new UsageError(`"${job}" is not a job file; a job file begins with "kind: job".`);
  const known = opened.books.flatMap(({ book }) => [...book.registry.ids('job')]);
  throw new UsageError(
    `There is no job "${job}" in ${display(opened.folder)}. ${known.length > 0 ? `It has: ${known.slice(0, 12).join(', ')}.` : 'It has no jobs.'}`,
  );
}

/** The job that `find` finds in one of the books. */
export function jobWhere(
  { books }: Opened,
  find: (book: Book) => BookFile | undefined,
): { file: BookFile; estimates: Estimates } | undefined {
  for (const { book, estimates } of books) {
    const file = find(book);
    if (file?.kind?.kind === 'job') return { file, estimates };
  }
  return undefined;
}

/** A path as a person would type it from here. */
export function display(pathOrUri: string): string {
  const path = pathOrUri.startsWith('file:') ? fileURLToPath(pathOrUri) : pathOrUri;
  const short = relative(process.cwd(), path);
  return short === '' ? '.' : short.startsWith('..') ? path : short;
}

/** The topmost folder at or above this one that still has a shop.yaml; the folder itself when there is none above. */
export function bookFolder(folder: string): string {
  let best = folder;
  for (let at = folder, up = dirname(at); ; at = up, up = dirname(at)) {
    if (existsSync(join(at, 'shop.yaml'))) best = at;
    if (up === at) return best;
  }
}
