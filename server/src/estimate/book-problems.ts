/** What is wrong with shops and rules by themselves, found where they are written and not first on a job. */
import type { RefKind } from '../../../schemas/declare.ts';
import type { Operation, Step } from '../../../schemas/kinds/labor.ts';
import type { Part } from '../../../schemas/kinds/parts.ts';
import type { RecordKind } from '../../../schemas/kinds/rules.ts';
import type { Unit } from '../../../schemas/kinds/units.ts';
import type { Path, Problem } from '../../../schemas/problem.ts';
import type { Book, EntryCheck } from '../book/book.ts';
import type { BookFile } from '../book/file.ts';
import { checkOperation, checkPart, checkShop } from '../pricing/check.ts';
import type { EntryKind } from '../work/analysis/model.ts';
import { analyse } from '../work/index.ts';
import { bookCatalog, ruleBook, type Shared } from './catalog.ts';
import { Lookups, Watch } from './watch.ts';

/** Catalog sections by the kind of entry that the analysis speaks of. */
const SECTIONS: Record<Exclude<EntryKind, 'warranty'>, string> = {
  rule: 'rules',
  finding: 'findings',
  record: 'records',
  replacement: 'replacements',
  unit: 'units',
};

/** What pricing finds wrong with parts and operations. Chains that end where they began are told by the book. */
export function entryCheck(book: Book): EntryCheck {
  const catalog = {
    part: (id: string) => book.value('part', id) as Part | undefined,
    operation: (id: string) => book.value('operation', id) as Operation | undefined,
    step: (id: string) => book.value('step', id) as Step | undefined,
    unit: (id: string) => book.value('unit', id) as Unit | undefined,
  };
  return ({ kind, id, value }) => {
    if (kind === 'part') {
      return checkPart(id, value as Part, catalog).filter(({ code }) => code !== 'supersession-cycle');
    }
    return kind === 'operation' ? checkOperation(id, value as Operation, catalog) : [];
  };
}

export class BookProblems {
  readonly #book: Book;
  readonly #shared: Shared;
  #analysed: { version: number; byFile: ReadonlyMap<BookFile, readonly Problem[]> } | undefined;

  constructor(book: Book, shared: Shared) {
    this.#book = book;
    this.#shared = shared;
  }

  /** Problems of a shop, rules or units file; places are paths of the file. */
  of(file: BookFile): readonly Problem[] {
    switch (file.kind?.kind) {
      case 'shop':
        return [...this.#shopProblems(file), ...this.#analysis(file)];
      case 'rules':
      case 'units':
        return this.#analysis(file);
      default:
        return [];
    }
  }

  /** What a location takes over from the shop it extends is told there. */
  #shopProblems(file: BookFile): Problem[] {
    const shop = this.#book.shopOf(file.uri)?.shop;
    return shop ? checkShop(shop).filter(({ path }) => file.entryAt(path) !== undefined) : [];
  }

  #analysis(file: BookFile): readonly Problem[] {
    const version = this.#book.catalogVersion;
    if (this.#analysed?.version !== version) this.#analysed = { version, byFile: this.#analyse() };
    return this.#analysed.byFile.get(file) ?? [];
  }

  #analyse(): ReadonlyMap<BookFile, readonly Problem[]> {
    const book = this.#book;
    const shops = [...book.shops()];
    const catalog = bookCatalog(
      book,
      this.#shared,
      shops[0]?.uri ?? book.root,
      new Watch(new Lookups(() => book.version)),
    );
    const found = analyse(ruleBook(book), {
      ...catalog,
      units: () => entriesOf<Unit>(book, 'unit'),
      records: () => entriesOf<RecordKind>(book, 'record'),
      warranties: () => shops.flatMap((file) => Object.entries(book.shopOf(file.uri)?.shop.warranties ?? {})),
    });
    const byFile = new Map<BookFile, Problem[]>();
    for (const { kind, id, problem } of found) {
      const at = placeOf(book, kind, id);
      if (!at) continue;
      const list = byFile.get(at.file) ?? [];
      list.push({ ...problem, path: [...at.path, ...problem.path] });
      byFile.set(at.file, list);
    }
    return byFile;
  }
}

function placeOf(book: Book, kind: EntryKind, id: string): { file: BookFile; path: Path } | undefined {
  if (kind === 'replacement') {
    for (const file of book.filesOf('rules')) {
      if (file.entryAt(['replacements', id])) return { file, path: ['replacements', id] };
    }
    return undefined;
  }
  const file = book.definition(kind, id)?.facts.file;
  return file && { file, path: [kind === 'warranty' ? 'warranties' : SECTIONS[kind], id] };
}

function* entriesOf<T>(book: Book, kind: RefKind): IterableIterator<readonly [string, T]> {
  for (const { id, value } of book.registry.all(kind)) if (value !== undefined) yield [id, value as T];
}
