/** The books of a workspace: which file belongs to which, as shop files come and go. */
import type { TextChange } from '../syntax/file.ts';
import { Book, type Touched } from './book.ts';
import { BookFile, kindOf } from './file.ts';
import type { Host } from './host.ts';
import { folderOf, isInside } from './paths.ts';
import { bookRoots } from './shops.ts';

export interface WorkspaceChange extends Touched {
  readonly book: Book;
}

export class Workspace {
  readonly #host: Host;
  readonly #folders: Set<string>;
  #books: Book[] = [];

  /** `folders` are URIs that end with a slash. */
  constructor(folders: readonly string[], host: Host) {
    this.#folders = new Set(folders);
    this.#host = host;
  }

  get books(): readonly Book[] {
    return this.#books;
  }

  /** Puts many files at once; quicker than one by one, because the books are laid out once. */
  load(texts: ReadonlyMap<string, string>): void {
    const shops = [...texts].filter(([uri, text]) => kindOf(uri, text)?.kind === 'shop');
    for (const book of this.#books)
      for (const file of book.files()) if (!texts.has(file.uri)) shops.push([file.uri, file.source.text()]);
    this.#layOut(
      shops
        .filter(([uri, text]) => kindOf(uri, text)?.kind === 'shop')
        .map(([uri, text]) => BookFile.open(uri, text)),
    );
    for (const [uri, text] of texts) this.bookFor(uri).put(uri, text);
  }

  put(uri: string, text: string): WorkspaceChange {
    const book = this.bookFor(uri);
    const change = { book, ...book.put(uri, text) };
    return this.#settled(uri, change);
  }

  edit(uri: string, changes: readonly TextChange[]): WorkspaceChange | undefined {
    const book = this.bookOf(uri);
    const touched = book?.edit(uri, changes);
    return book && touched && this.#settled(uri, { book, ...touched });
  }

  remove(uri: string): WorkspaceChange | undefined {
    const book = this.bookOf(uri);
    const touched = book?.remove(uri);
    return book && touched && this.#settled(uri, { book, ...touched });
  }

  /** A file that is not YAML has changed. */
  refresh(uri: string): WorkspaceChange[] {
    return this.#books.flatMap((book) => book.refresh(uri).map((touched) => ({ book, ...touched })));
  }

  /** The book that holds a file. */
  bookOf(uri: string): Book | undefined {
    return this.#books.find((book) => book.file(uri) !== undefined);
  }

  /** The book a file belongs to by its place; a new one when it lies in none. */
  bookFor(uri: string): Book {
    const holder = this.bookOf(uri);
    if (holder) return holder;
    const inside = this.#books.filter((book) => isInside(book.root, uri));
    if (inside.length > 0)
      return inside.reduce((best, book) => (book.root.length > best.root.length ? book : best));
    const root = [...this.#folders].find((folder) => isInside(folder, uri)) ?? folderOf(uri);
    const book = new Book(root, this.#host);
    this.#books.push(book);
    return book;
  }

  /** Lays the books out anew when a shop file has come, gone, or turned to another one. */
  #settled(uri: string, change: WorkspaceChange): WorkspaceChange {
    if (change.file.kind?.kind !== 'shop') return change;
    const shops = this.#books.flatMap((book) => [...book.shops()]);
    const wanted = bookRoots(shops).sort();
    const have = this.#books
      .filter((book) => [...book.shops()].length > 0)
      .map((book) => book.root)
      .sort();
    if (wanted.length === have.length && wanted.every((root, i) => root === have[i])) return change;
    const texts = new Map(
      this.#books.flatMap((book) => [...book.files()].map((file) => [file.uri, file.source.text()] as const)),
    );
    this.#books = [];
    this.load(texts);
    const book = this.bookFor(uri);
    return { ...change, book, file: book.file(uri) ?? change.file };
  }

  #layOut(shops: readonly BookFile[]): void {
    for (const root of bookRoots(shops)) {
      if (!this.#books.some((book) => book.root === root)) this.#books.push(new Book(root, this.#host));
    }
  }
}
