/**
 * A shop book in memory: every file, what it says, and who names whom.
 *
 * The book changes only through `put`, `edit` and `remove`; between two such calls it does not change, and
 * everything that is asked of it answers from the same state. `version` counts the changes.
 */
import type { RefKind } from '../../../schemas/declare.ts';
import type { Shop } from '../../../schemas/kinds/shop.ts';
import type { TextChange } from '../syntax/file.ts';
import type { Definition, PieceFacts } from './facts.ts';
import { BookFile, type Change } from './file.ts';
import type { Host } from './host.ts';
import { PriceFiles } from './price-file.ts';
import { type Key, Registry } from './registry.ts';
import { mergedShop, nearestShop } from './shops.ts';

/** What a change has touched: files whose own text changed, and ids that came, went or changed. */
export interface Touched {
  readonly file: BookFile;
  readonly keys: ReadonlySet<Key>;
}

export class Book {
  readonly root: string;
  readonly host: Host;
  readonly registry = new Registry();
  readonly #files = new Map<string, BookFile>();
  readonly #shops = new Map<string, BookFile>();
  readonly #merged = new Map<BookFile, Shop>();
  readonly #priceFiles: PriceFiles;
  #version = 0;
  /** Counts changes to what holds for every job: shops, jurisdictions, units, rules. */
  #policyVersion = 0;
  /** Counts changes to anything but jobs and cases. */
  #catalogVersion = 0;

  constructor(root: string, host: Host) {
    this.root = root;
    this.host = host;
    this.#priceFiles = new PriceFiles(host, root);
  }

  get version(): number {
    return this.#version;
  }

  get policyVersion(): number {
    return this.#policyVersion;
  }

  get catalogVersion(): number {
    return this.#catalogVersion;
  }

  files(): IterableIterator<BookFile> {
    return this.#files.values();
  }

  file(uri: string): BookFile | undefined {
    return this.#files.get(uri);
  }

  *filesOf(kind: string): IterableIterator<BookFile> {
    for (const file of this.#files.values()) if (file.kind?.kind === kind) yield file;
  }

  put(uri: string, text: string): Touched {
    const known = this.#files.get(uri);
    if (known) return this.#changed(known, known.edit(text));
    const file = BookFile.open(uri, text);
    this.#files.set(uri, file);
    return this.#changed(file, { removed: [], added: [...file.facts()] });
  }

  edit(uri: string, changes: readonly TextChange[]): Touched | undefined {
    const file = this.#files.get(uri);
    return file && this.#changed(file, file.edit(changes));
  }

  remove(uri: string): Touched | undefined {
    const file = this.#files.get(uri);
    if (!file) return undefined;
    this.#files.delete(uri);
    return this.#changed(file, { removed: [...file.facts()], added: [] });
  }

  /** A price file or a picture has changed on disk: catalogs that draw from it are read again. */
  refresh(uri: string): Touched[] {
    const touched: Touched[] = [];
    for (const facts of this.#priceFiles.readersOf(uri)) {
      const before = this.#priceFiles.rowsOf(facts);
      this.#priceFiles.forget(facts);
      const keys = this.registry.replace(before, this.#priceFiles.read(facts));
      this.#version++;
      this.#catalogVersion++;
      touched.push({ file: facts.file, keys });
    }
    return touched;
  }

  priceFileProblems(facts: PieceFacts) {
    return this.#priceFiles.problemsOf(facts);
  }

  definition(kind: RefKind, id: string): Definition | undefined {
    return this.registry.definition(kind, id);
  }

  /** The judged entry behind an id: a Part for a part number, a whole Template for a template's id. */
  value(kind: RefKind, id: string): unknown {
    const definition = this.registry.definition(kind, id);
    return definition && this.valueOf(definition);
  }

  valueOf(definition: Definition): unknown {
    const { file } = definition.facts;
    return file.kind?.defines === definition.kind ? file.value : definition.value;
  }

  /** The shop whose rules hold for a file, everything it extends included. */
  shopOf(uri: string): { shop: Shop; file: BookFile } | undefined {
    const file = nearestShop(uri, this.#shops.values()) ?? this.#shops.values().next().value;
    if (!file) return undefined;
    let shop = this.#merged.get(file);
    if (!shop) {
      shop = mergedShop(file, (at) => this.#shops.get(at));
      this.#merged.set(file, shop);
    }
    return { shop, file };
  }

  shops(): IterableIterator<BookFile> {
    return this.#shops.values();
  }

  #changed(file: BookFile, change: Change): Touched {
    this.#version++;
    const kind = file.kind?.kind;
    if (kind === 'shop' && this.#files.has(file.uri)) this.#shops.set(file.uri, file);
    else this.#shops.delete(file.uri);
    if (kind !== 'job' && kind !== 'cases') this.#catalogVersion++;
    if (kind !== 'job' && kind !== 'parts' && kind !== 'cases') this.#policyVersion++;
    if (kind === 'shop' || this.#shops.size === 0) this.#merged.clear();
    const removed = change.removed.flatMap((facts) => [facts, ...this.#priceFiles.rowsOf(facts)]);
    for (const facts of change.removed) this.#priceFiles.forget(facts);
    const added = change.added.flatMap((facts) => [facts, ...this.#priceFiles.read(facts)]);
    return { file, keys: this.registry.replace(removed, added) };
  }
}
