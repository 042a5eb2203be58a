/**
 * The books of a workspace: which file belongs to which, as shop files come and go. Which book a file is in depends
 * on where the shop files are and on what they extend, never on the order in which files were opened.
 */
import type { TextChange } from '../syntax/file.ts';
import { Book, type Touched } from './book.ts';
import { BookFile, kindOf } from './file.ts';
import type { Host } from './host.ts';
import { canonical, folderOf, isInside } from './paths.ts';
import { bookRoots } from './shops.ts';

export interface WorkspaceChange extends Touched {
  readonly book: Book;
}

/** URIs are taken in any spelling; the books know them in the one of `canonical`. */
export class Workspace {
  readonly #host: Host;
  readonly #folders: readonly string[];
  #books: Book[] = [];
  /** Roots of the books that shops made when the books were last laid out. */
  #roots: readonly string[] = [];

  /** `folders` are URIs that end with a slash. */
  constructor(folders: readonly string[], host: Host) {
    this.#folders = folders.map(canonical);
    this.#host = host;
  }

  get books(): readonly Book[] {
    return this.#books;
  }

  /** Puts many files at once; quicker than one by one, because the books are laid out once. */
  load(texts: ReadonlyMap<string, string>): void {
    const all = this.#texts();
    for (const [uri, text] of texts) all.set(canonical(uri), text);
    this.#layOut(all);
  }

  put(uri: string, text: string): WorkspaceChange {
    const at = canonical(uri);
    const book = this.bookFor(at);
    const before = book.file(at)?.kind;
    return this.#settled({ book, ...book.put(at, text) }, before?.kind === 'shop');
  }

  edit(uri: string, changes: readonly TextChange[]): WorkspaceChange | undefined {
    const book = this.bookOf(uri);
    const before = book?.file(canonical(uri))?.kind;
    const touched = book?.edit(canonical(uri), changes);
    return book && touched && this.#settled({ book, ...touched }, before?.kind === 'shop');
  }

  remove(uri: string): WorkspaceChange | undefined {
    const book = this.bookOf(uri);
    const touched = book?.remove(canonical(uri));
    return book && touched && this.#settled({ book, ...touched }, touched.file.kind?.kind === 'shop');
  }

  /** A file that is not YAML has changed. */
  refresh(uri: string): WorkspaceChange[] {
    return this.#books.flatMap((book) =>
      book.refresh(canonical(uri)).map((touched) => ({ book, ...touched })),
    );
  }

  /** The book that holds a file. */
  bookOf(uri: string): Book | undefined {
    const at = canonical(uri);
    return this.#books.find((book) => book.file(at) !== undefined);
  }

  /** The book a file belongs to by its place; a new one when it lies in none. */
  bookFor(uri: string): Book {
    const at = canonical(uri);
    const around = this.bookOf(at) ?? longest(this.#books.filter((book) => isInside(book.root, at)));
    if (around) return around;
    const root = this.#folders.find((folder) => isInside(folder, at)) ?? folderOf(at);
    const book = new Book(root, this.#host);
    this.#books.push(book);
    return book;
  }

  /** Lays the books out anew when a shop file has come, gone, or turned to another one. */
  #settled(change: WorkspaceChange, wasShop: boolean): WorkspaceChange {
    const { file } = change;
    if (!wasShop && file.kind?.kind !== 'shop') return change;
    const roots = bookRoots(this.#books.flatMap((book) => [...book.shops()]));
    if (roots.length === this.#roots.length && roots.every((root) => this.#roots.includes(root)))
      return change;
    this.#layOut(this.#texts());
    const book = this.bookOf(file.uri) ?? change.book;
    const now = book.file(file.uri) ?? file;
    return {
      book,
      file: now,
      keys: change.keys,
      files: new Set(this.#books.flatMap((one) => [...one.files()])),
    };
  }

  #texts(): Map<string, string> {
    return new Map(
      this.#books.flatMap((book) => [...book.files()].map((file) => [file.uri, file.source.text()] as const)),
    );
  }

  #layOut(texts: ReadonlyMap<string, string>): void {
    const shops = [...texts].filter(([uri, text]) => kindOf(uri, text)?.kind === 'shop');
    this.#roots = bookRoots(shops.map(([uri, text]) => BookFile.open(uri, text)));
    this.#books = this.#roots.map((root) => new Book(root, this.#host));
    for (const [uri, text] of texts) this.bookFor(uri).put(uri, text);
  }
}

function longest(books: readonly Book[]): Book | undefined {
  return books.length === 0
    ? undefined
    : books.reduce((best, book) => (book.root.length > best.root.length ? book : best));
}
