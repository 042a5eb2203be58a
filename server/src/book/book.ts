/**
 * A shop book in memory: every file, what it says, and who names whom.
 *
 * The book changes only through `put`, `edit` and `remove`; between two such calls it does not change, and
 * everything that is asked of it answers from the same state. `version` counts the changes.
 */
import type { KindDeclaration, RefKind } from '../../../schemas/declare.ts';
import type { Shop } from '../../../schemas/kinds/shop.ts';
import type { Problem } from '../../../schemas/problem.ts';
import type { TextChange } from '../syntax/file.ts';
import type { Piece } from '../syntax/piece.ts';
import { CrossChecks } from './cross-checks.ts';
import type { Definition, PieceFacts } from './facts.ts';
import { BookFile, type Change } from './file.ts';
import type { Host } from './host.ts';
import type { Located } from './judge.ts';
import { PriceFiles } from './price-file.ts';
import { type Effect, type Key, keyFor, Registry } from './registry.ts';
import { mergedShop, nearestShop } from './shops.ts';

/** What a change has touched. */
export interface Touched {
  /** The file that was changed. */
  readonly file: BookFile;
  /** Ids that came, went or mean something else now. */
  readonly keys: ReadonlySet<Key>;
  /** Files of which `problemsOf` may tell something else now, the changed one included. */
  readonly files: ReadonlySet<BookFile>;
}

/** A problem and where it is told: its span counts from the start of the piece. */
export interface Told {
  readonly piece: Piece;
  readonly problem: Located;
}

/** Problems of one entry; paths are inside it. Asked again when the entry changes, or something that it names. */
export type EntryCheck = (definition: Definition) => readonly Problem[];

/** Kinds of file that nothing else is priced or judged by. */
const FREE: ReadonlySet<string> = new Set(['job', 'cases']);

export class Book {
  readonly root: string;
  readonly host: Host;
  readonly registry = new Registry();
  readonly #files = new Map<string, BookFile>();
  readonly #shops = new Map<string, BookFile>();
  readonly #merged = new Map<BookFile, Shop>();
  readonly #priceFiles: PriceFiles;
  readonly #crossChecks = new CrossChecks(this);
  #entryCheck: EntryCheck | undefined;
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

  get entryCheck(): EntryCheck | undefined {
    return this.#entryCheck;
  }

  /** What a layer above finds wrong with entries is told, and kept up to date, with what the book finds itself. */
  checkEntriesWith(check: EntryCheck): void {
    this.#entryCheck = check;
    this.#crossChecks.reset();
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
    if (known) return this.#edited(known, text);
    const file = BookFile.open(uri, text);
    this.#files.set(uri, file);
    return this.#changed(file, undefined, { removed: [], added: [...file.facts()] });
  }

  edit(uri: string, changes: readonly TextChange[]): Touched | undefined {
    const file = this.#files.get(uri);
    return file && this.#edited(file, changes);
  }

  remove(uri: string): Touched | undefined {
    const file = this.#files.get(uri);
    if (!file) return undefined;
    this.#files.delete(uri);
    return this.#changed(file, file.kind, { removed: [...file.facts()], added: [] });
  }

  /** A price file or a picture has changed on disk: catalogs that draw from it are read again. */
  refresh(uri: string): Touched[] {
    this.#version++;
    const readers = this.#priceFiles.readersOf(uri);
    if (readers.length > 0) {
      this.#catalogVersion++;
      return readers.map((facts) => {
        const before = this.#priceFiles.rowsOf(facts);
        this.#priceFiles.forget(facts);
        const effects = this.registry.replace(before, this.#priceFiles.read(facts));
        return this.#touched(facts.file, { removed: [], added: [facts] }, effects);
      });
    }
    return [...this.#files.values()].flatMap((file) => {
      const added = [...file.lookingAround];
      return added.length > 0 ? [this.#touched(file, { removed: [], added }, [])] : [];
    });
  }

  /**
   * Everything that is wrong with a file as far as the book can tell, in the order of the file: its text, its own
   * values, and what it has to do with the rest of the book. Cheap after a change: what the change cannot have
   * touched is not looked at again.
   */
  problemsOf(file: BookFile): readonly Told[] {
    const told: Told[] = file.wholeProblems().map((problem) => ({ piece: problem.piece, problem }));
    for (const { piece, problems } of file.troubled)
      for (const problem of problems) told.push({ piece, problem });
    for (const [{ piece }, problems] of this.#crossChecks.of(file))
      for (const problem of problems) told.push({ piece, problem });
    return inOrder(file, told);
  }

  /** What is wrong with a piece with regard to the rest of the book. */
  crossProblemsOf(facts: PieceFacts): readonly Located[] {
    return this.#crossChecks.ofPiece(facts);
  }

  priceFileProblems(facts: PieceFacts): readonly Located[] {
    return this.#priceFiles.problemsOf(facts);
  }

  /** The parts that a piece draws from a price file. */
  priceRows(facts: PieceFacts): readonly Definition[] {
    return this.#priceFiles.rowsOf(facts).flatMap((rows) => rows.definitions);
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
    const file = nearestShop(uri, this.#shops.values());
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

  #edited(file: BookFile, changes: readonly TextChange[] | string): Touched {
    const before = file.kind;
    return this.#changed(file, before, file.edit(changes));
  }

  /** `before`: the kind that the file was of; undefined when it was not there. */
  #changed(file: BookFile, before: KindDeclaration | undefined, change: Change): Touched {
    this.#version++;
    const here = this.#files.has(file.uri);
    const after = here ? file.kind : undefined;
    const kinds = [before, after].flatMap((kind) => (kind ? [kind.kind] : []));
    if (after?.kind === 'shop') this.#shops.set(file.uri, file);
    else this.#shops.delete(file.uri);
    if (kinds.includes('shop')) this.#merged.clear();
    if (kinds.some((kind) => !FREE.has(kind))) this.#catalogVersion++;
    if (kinds.some((kind) => !FREE.has(kind) && kind !== 'parts')) this.#policyVersion++;

    const removed = change.removed.flatMap((facts) => [facts, ...this.#priceFiles.rowsOf(facts)]);
    for (const facts of change.removed) this.#priceFiles.forget(facts);
    const added = change.added.flatMap((facts) => [facts, ...this.#priceFiles.read(facts)]);
    const effects = [...this.registry.replace(removed, added), ...wholeEffects(file)];
    const shops = kinds.includes('shop') || before !== after;
    return this.#touched(file, change, effects, shops);
  }

  #touched(file: BookFile, change: Change, effects: readonly Effect[], shops = false): Touched {
    const files = this.#crossChecks.changed(file, change, effects, shops);
    return {
      file,
      get keys() {
        return new Set(effects.map(({ kind, id }) => keyFor(kind, id)));
      },
      files,
    };
  }
}

/** A file that is one definition as a whole means something else with each change. */
function wholeEffects(file: BookFile): Effect[] {
  const kind = file.kind?.defines;
  const { id } = file.value;
  return kind && typeof id === 'string' ? [{ kind, id, what: 'changed', rivals: [] }] : [];
}

function inOrder(file: BookFile, told: readonly Told[]): Told[] {
  const { source } = file;
  const places = told.map((one) => ({ one, index: source.indexOf(one.piece) }));
  return places
    .sort((a, b) => a.index - b.index || a.one.problem.start - b.one.problem.start)
    .map(({ one }) => one);
}
