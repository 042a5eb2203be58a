/** The book behind the library's face. */

import type { Book } from '../book/book.ts';
import { DISK, folderUri, readFolder, type Unread } from '../book/disk.ts';
import type { BookFile } from '../book/file.ts';
import { type Host, NO_HOST } from '../book/host.ts';
import { canonical } from '../book/paths.ts';
import { Workspace } from '../book/workspace.ts';
import { runAllCases } from '../estimate/cases.ts';
import { Estimates } from '../estimate/estimates.ts';
import { toldProblems, toldUnread } from '../estimate/told.ts';
import type { CaseResult, Files, Problem, ShopBook } from '../library.ts';

/** Books in memory need a place of their own; nothing is ever read from it. */
const NOWHERE = 'file:///book/';

export interface AnyBook extends ShopBook {
  readonly shelf: Shelf;
}

export function bookInMemory(files: Files): AnyBook {
  const shelf = new Shelf(NOWHERE, NO_HOST);
  shelf.load(files);
  return faceOf(shelf);
}

export function bookOnDisk(folder: string): AnyBook {
  const { texts, unread } = readFolder(folder);
  const root = folderUri(folder);
  const shelf = new Shelf(root, DISK, unread);
  shelf.load(Object.fromEntries([...texts].map(([uri, text]) => [pathIn(root, uri), text])));
  return faceOf(shelf);
}

function faceOf(shelf: Shelf): AnyBook {
  return {
    shelf,
    get jobs() {
      return shelf.books.flatMap(({ book }) => [...book.registry.ids('job')]);
    },
    put: (path, content) => shelf.put(path, content),
    remove: (path) => shelf.remove(path),
  };
}

/** The files of a book: texts in a workspace; what has been put of other files stands before those of the host. */
class Shelf {
  readonly root: string;
  readonly unread: readonly Unread[];
  readonly #others = new Map<string, Uint8Array>();
  readonly #workspace: Workspace;
  readonly #estimates = new WeakMap<Book, Estimates>();

  constructor(root: string, host: Host, unread: readonly Unread[] = []) {
    this.root = root;
    this.unread = unread;
    this.#workspace = new Workspace([root], {
      read: (uri, within) => this.#others.get(uri) ?? host.read(uri, within),
      size: (uri, within) => this.#others.get(uri)?.length ?? host.size(uri, within),
    });
  }

  load(files: Files): void {
    const texts = new Map<string, string>();
    for (const [path, content] of Object.entries(files)) {
      if (isText(path)) texts.set(this.uriOf(path), textOf(content));
      else this.#others.set(this.uriOf(path), bytesOf(content));
    }
    this.#workspace.load(texts);
  }

  uriOf(path: string): string {
    return canonical(this.root + path.split('/').map(encodeURIComponent).join('/'));
  }

  get books(): { book: Book; estimates: Estimates }[] {
    return this.#workspace.books.map((book) => {
      let estimates = this.#estimates.get(book);
      if (!estimates) {
        estimates = new Estimates(book);
        this.#estimates.set(book, estimates);
      }
      return { book, estimates };
    });
  }

  put(path: string, content: string | Uint8Array): void {
    if (isText(path)) this.#workspace.put(this.uriOf(path), textOf(content));
    else {
      this.#others.set(this.uriOf(path), bytesOf(content));
      this.#workspace.refresh(this.uriOf(path));
    }
  }

  remove(path: string): void {
    if (isText(path)) this.#workspace.remove(this.uriOf(path));
    else if (this.#others.delete(this.uriOf(path))) this.#workspace.refresh(this.uriOf(path));
  }
}

export function jobIn({ shelf }: AnyBook, job: string): { file: BookFile; estimates: Estimates } {
  for (const { book, estimates } of shelf.books) {
    const file = book.definition('job', job)?.facts.file;
    if (file) return { file, estimates };
  }
  throw new RangeError(`There is no job "${job}" in this book`);
}

export function problemsIn({ shelf }: AnyBook, path?: string): Problem[] {
  const wanted = path === undefined ? undefined : shelf.uriOf(path);
  const unread = shelf.unread.map((one) => toldUnread(one, one.path));
  const found = shelf.books.flatMap(({ book, estimates }) =>
    [...book.files()]
      .filter(({ uri }) => wanted === undefined || uri === wanted)
      .flatMap((file) => fileProblems(shelf, estimates, file)),
  );
  return wanted === undefined ? [...unread, ...found] : found;
}

function fileProblems(shelf: Shelf, estimates: Estimates, file: BookFile): Problem[] {
  return toldProblems(estimates, file, pathIn(shelf.root, file.uri)).sort(
    (a, b) => a.line - b.line || a.column - b.column,
  );
}

export function resultsIn({ shelf }: AnyBook): CaseResult[] {
  return shelf.books.flatMap(({ estimates }) =>
    [...runAllCases(estimates)].map(({ id, name, file, mismatches }) => ({
      id,
      name,
      file: pathIn(shelf.root, file.uri),
      mismatches: mismatches.map(({ expected, actual, message }) => ({ expected, actual, message })),
    })),
  );
}

function isText(path: string): boolean {
  return /\.ya?ml$/i.test(path);
}

function pathIn(root: string, uri: string): string {
  return uri.slice(root.length).split('/').map(decodeURIComponent).join('/');
}

function textOf(content: string | Uint8Array): string {
  return typeof content === 'string' ? content : new TextDecoder().decode(content);
}

function bytesOf(content: string | Uint8Array): Uint8Array {
  return typeof content === 'string' ? new TextEncoder().encode(content) : content;
}
