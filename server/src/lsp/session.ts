/**
 * One client's workspace while the connection lasts: folders, open documents, books. The text of an open document
 * counts, whatever the disk says; when it is closed the disk counts again.
 */
import type {
  CancellationToken,
  ClientCapabilities,
  Connection,
  TextDocumentContentChangeEvent,
  TextDocumentItem,
  VersionedTextDocumentIdentifier,
} from 'vscode-languageserver';
import type { Book } from '../book/book.ts';
import type { BookFile } from '../book/file.ts';
import type { Host } from '../book/host.ts';
import { canonical, isInside } from '../book/paths.ts';
import { Workspace, type WorkspaceChange } from '../book/workspace.ts';
import { Estimates } from '../estimate/estimates.ts';
import { filesNamedIn } from '../features/files.ts';
import { Documents, grouped } from './documents.ts';
import type { Files } from './files.ts';
import { pause, Slices } from './slices.ts';

/** A file with the book it belongs to. */
export interface At {
  readonly book: Book;
  readonly file: BookFile;
  readonly estimates: Estimates;
}

export interface SessionChange {
  /** Whether the change was typed in an open document; else it came from the disk. */
  readonly typed: boolean;
  /** Files whose problems may differ now. */
  readonly files: ReadonlySet<BookFile>;
}

export interface Options {
  /** What stands before `<code>.md` in the address of a code's page. */
  readonly codePages: string | undefined;
  /** Whether the client is our own, which is VS Code and knows what is beside the protocol. */
  readonly own: boolean;
}

export class Session {
  readonly connection: Connection;
  readonly client: ClientCapabilities;
  readonly options: Options;
  readonly documents = new Documents();
  readonly #files: Files;
  readonly #estimates = new WeakMap<Book, Estimates>();
  readonly #listeners = new Set<(change: SessionChange) => void>();
  #folders: string[];
  #workspace: Workspace;
  #ready: Promise<void> = Promise.resolve();

  constructor(
    connection: Connection,
    client: ClientCapabilities,
    folders: readonly string[],
    files: Files,
    options: Options,
  ) {
    this.connection = connection;
    this.client = client;
    this.options = options;
    this.#files = files;
    this.#folders = folders.map(folderUri);
    this.#workspace = new Workspace(this.#folders, files.host);
  }

  /** Settles when all that was asked to be read has been read. */
  get ready(): Promise<void> {
    return this.#ready;
  }

  get books(): readonly Book[] {
    return this.#workspace.books;
  }

  get estimates(): Estimates[] {
    return this.books.map((book) => this.estimatesOf(book));
  }

  estimatesOf(book: Book): Estimates {
    let estimates = this.#estimates.get(book);
    if (!estimates) {
      estimates = new Estimates(book);
      this.#estimates.set(book, estimates);
    }
    return estimates;
  }

  onChange(listener: (change: SessionChange) => void): void {
    this.#listeners.add(listener);
  }

  /** Settles when something has changed and then nothing for so many milliseconds, or when the token is cancelled. */
  change(quiet: number, token: CancellationToken): Promise<void> {
    return new Promise((done) => {
      let timer: ReturnType<typeof setTimeout> | undefined;
      const finish = () => {
        this.#listeners.delete(listener);
        cancelled.dispose();
        clearTimeout(timer);
        done();
      };
      const listener = () => {
        clearTimeout(timer);
        timer = setTimeout(finish, quiet);
      };
      const cancelled = token.onCancellationRequested(finish);
      this.#listeners.add(listener);
      if (token.isCancellationRequested) finish();
    });
  }

  at(uri: string): At | undefined {
    const book = this.#workspace.bookOf(uri);
    const file = book?.file(canonical(uri));
    return book && file && { book, file, estimates: this.estimatesOf(book) };
  }

  /** The book of a file that need not be a text of it: a price file. */
  bookAround(uri: string): Book | undefined {
    const at = canonical(uri);
    return this.#workspace.bookOf(at) ?? this.books.find((book) => isInside(book.root, at));
  }

  /** Runs work that reads pictures; it may run twice. */
  reading<T>(work: (read: Host['read']) => Promise<T>): Promise<T> {
    return this.#files.reading(work);
  }

  *openFiles(): IterableIterator<At> {
    for (const uri of this.documents.uris()) {
      const at = this.at(uri);
      if (at) yield at;
    }
  }

  opened({ uri, version, text }: TextDocumentItem): void {
    this.documents.set(uri, version);
    this.#tell([this.#workspace.put(uri, text)], true);
  }

  changed(
    { uri, version }: VersionedTextDocumentIdentifier,
    changes: readonly TextDocumentContentChangeEvent[],
  ): void {
    if (!this.documents.has(uri)) throw new Error(`A change of ${uri} came, which is not open.`);
    this.documents.set(uri, version);
    const told: WorkspaceChange[] = [];
    for (const group of grouped(changes)) {
      const change =
        typeof group === 'string' ? this.#workspace.put(uri, group) : this.#workspace.edit(uri, group);
      if (change) told.push(change);
    }
    this.#tell(told, true);
  }

  closed(uri: string): void {
    this.documents.close(uri);
    this.#queue('The closed file was not read again', () => this.#readAgain(uri));
  }

  /** Files that have been made, changed or deleted outside; hundreds at once after a checkout. */
  filesChanged(uris: readonly string[]): void {
    this.#queue('Changed files were not read', async () => {
      const slices = new Slices();
      const others = uris.filter((uri) => !isYaml(uri));
      const texts = new Set([...uris.filter(isYaml), ...(await this.#textsBelow(others))]);
      for (const uri of texts) {
        if (slices.over) await pause();
        if (!this.documents.has(uri)) await this.#readAgain(uri);
      }
      for (const uri of others) await this.#files.changed(uri);
      this.#refresh(others);
    });
  }

  foldersChanged(added: readonly string[], removed: readonly string[]): void {
    const gone = new Set(removed.map(folderUri));
    this.#folders = [...this.#folders.filter((folder) => !gone.has(folder)), ...added.map(folderUri)];
    this.load(() => undefined);
  }

  /** Reads all folders. `report` is told how much is done, from 0 to 100. */
  load(report: (percent: number) => void): Promise<void> {
    return this.#queue('The workspace was not read', () => this.#load(report));
  }

  /** One after the other; what goes wrong is logged and stops nothing that comes later. */
  #queue(trouble: string, work: () => Promise<void>): Promise<void> {
    this.#ready = this.#ready.then(work).catch((error) => this.#log(trouble, error));
    return this.#ready;
  }

  #log(what: string, error: unknown): void {
    this.connection.console.error(
      `${what}: ${error instanceof Error ? (error.stack ?? error.message) : String(error)}`,
    );
  }

  async #load(report: (percent: number) => void): Promise<void> {
    const texts = new Map<string, string>();
    for (const folder of this.#folders) {
      const read = await this.#files.folder(folder);
      for (const [uri, text] of read.texts) texts.set(uri, text);
      for (const note of read.unread) this.connection.console.warn(note);
    }
    const open = new Map<string, string>();
    for (const { file } of this.openFiles()) open.set(file.uri, file.source.text());
    // Shop files first: they say which books there are.
    const shops = [...texts].filter(([uri]) => uri.endsWith('/shop.yaml'));
    this.#workspace = new Workspace(this.#folders, this.#files.host);
    this.#workspace.load(new Map([...shops, ...open]));
    await this.#put(texts, report);
    const all = this.books.flatMap((book) => [...book.files()]);
    await this.#lookUp(all);
    this.#announce({ typed: false, files: new Set(all) });
  }

  /** Bit by bit, so that what the client says meanwhile is heard. */
  async #put(texts: ReadonlyMap<string, string>, report: (percent: number) => void): Promise<void> {
    const slices = new Slices();
    let done = 0;
    for (const [uri, text] of texts) {
      if (slices.over) {
        report(Math.floor((100 * done) / texts.size));
        await pause();
      }
      // What was opened or typed meanwhile is newer than what was read.
      if (!this.#workspace.bookOf(uri)) this.#workspace.put(uri, text);
      done++;
    }
  }

  async #readAgain(uri: string): Promise<void> {
    const within = this.#folders.find((folder) => isInside(folder, canonical(uri)));
    const text = within === undefined ? undefined : await this.#files.text(uri, within);
    if (this.documents.has(uri)) return;
    const change = text === undefined ? this.#workspace.remove(uri) : this.#workspace.put(uri, text);
    if (change) this.#tell([change], false);
  }

  /** Texts in what may be folders: those that were known there, and those that are there now. */
  async #textsBelow(uris: readonly string[]): Promise<string[]> {
    const found: string[] = [];
    for (const uri of uris.map(canonical)) {
      const inside = (one: string) => isInside(`${uri}/`, one);
      found.push(...this.books.flatMap((book) => [...book.files()].map((file) => file.uri).filter(inside)));
      if (mayBeFolder(uri)) found.push(...(await this.#files.folder(`${uri}/`)).texts.keys());
    }
    return found;
  }

  #refresh(uris: readonly string[]): void {
    const lists = uris.filter(isPriceList);
    // All that look at other files do so again, whichever it was.
    const other = uris.find((uri) => !isPriceList(uri));
    const changes = [...lists, ...(other === undefined ? [] : [other])];
    this.#tell(
      changes.flatMap((uri) => this.#workspace.refresh(uri)),
      false,
    );
  }

  #tell(changes: readonly WorkspaceChange[], typed: boolean): void {
    if (changes.length === 0) return;
    const files = new Set(changes.flatMap((change) => [...change.files]));
    this.#announce({ typed, files });
    this.#lookUp(changes.map((change) => change.file)).catch((error) =>
      this.#log('Files were not looked up', error),
    );
  }

  #announce(change: SessionChange): void {
    for (const listener of this.#listeners) listener(change);
  }

  async #lookUp(files: readonly BookFile[]): Promise<void> {
    const targets = files.flatMap((file) => [...filesNamedIn(file)].flatMap(({ target }) => target ?? []));
    const [first] = targets;
    if (first !== undefined && (await this.#files.lookUp(targets)))
      this.#tell(this.#workspace.refresh(first), false);
  }
}

function folderUri(uri: string): string {
  const at = canonical(uri);
  return at.endsWith('/') ? at : `${at}/`;
}

function isYaml(uri: string): boolean {
  return /\.ya?ml$/i.test(uri);
}

function isPriceList(uri: string): boolean {
  return /\.(csv|tsv|txt)$/i.test(uri);
}

/** Watchers tell of a folder that came or went as of one thing. */
function mayBeFolder(uri: string): boolean {
  return !/\.[^./]+$/.test(uri);
}
