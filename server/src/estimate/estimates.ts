/** Estimates of a book's jobs, made when asked for and kept while what they come from stays the same. */
import type { Jurisdiction } from '../../../schemas/kinds/jurisdiction.ts';
import type { Shop } from '../../../schemas/kinds/shop.ts';
import type { Problem } from '../../../schemas/problem.ts';
import type { Book } from '../book/book.ts';
import type { BookFile } from '../book/file.ts';
import { BookProblems, entryCheck } from './book-problems.ts';
import { type BookCatalog, bookCatalog, Shared } from './catalog.ts';
import { estimateJob, type JobEstimate } from './estimate.ts';
import { Lookups, Watch } from './watch.ts';

interface Kept {
  readonly made: unknown;
  readonly watch: Watch;
  version: number;
}

/**
 * So many estimates stay in memory, those asked for last. An estimate with the trees of its amounts is a hundred times
 * the text of its job, and of ten years of jobs only a few are looked at; of the others their problems stay.
 */
const AT_HAND = 64;
const NOTHING: readonly Problem[] = [];

export class Estimates {
  readonly book: Book;
  readonly shared: Shared;
  readonly bookProblems: BookProblems;
  readonly #lookups: Lookups;
  readonly #kept = new WeakMap<object, Kept>();
  readonly #atHand = new Set<BookFile>();
  readonly #problems = new WeakMap<BookFile, Kept>();

  constructor(book: Book) {
    this.book = book;
    this.#lookups = new Lookups(() => book.version);
    this.shared = new Shared(book);
    this.bookProblems = new BookProblems(book, this.shared);
    book.checkEntriesWith(entryCheck(book));
  }

  /** The estimate of a job file; undefined for other files. */
  of(file: BookFile): JobEstimate | undefined {
    if (file.kind?.kind !== 'job') return undefined;
    const { uri } = file;
    this.#reach(file);
    return this.keep(file, (watch) => {
      const catalog = this.catalogFor(uri, watch);
      watch.note('value', uri, () => this.book.file(uri)?.value);
      const shop = watch.note('shop', uri, () => this.book.shopOf(uri)?.shop);
      const estimate = estimateJob(file, catalog, shop, this.lawOf(shop, watch));
      this.#problems.set(file, { made: estimate.problems, watch, version: this.book.version });
      return estimate;
    });
  }

  /** What an estimate finds wrong with a job; nothing for other files. */
  problemsOf(file: BookFile): readonly Problem[] {
    const known = this.#standing(this.#problems.get(file));
    return known ? (known.made as readonly Problem[]) : (this.of(file)?.problems ?? NOTHING);
  }

  /** What was made for `key` before, as long as every look-up that it noted gives the same again. */
  keep<T>(key: object, make: (watch: Watch) => T): T {
    const kept = this.#standing(this.#kept.get(key));
    if (kept) return kept.made as T;
    const watch = new Watch(this.#lookups);
    const made = make(watch);
    this.#kept.set(key, { made, watch, version: this.book.version });
    return made;
  }

  /** What is kept, if it holds. */
  #standing(kept: Kept | undefined): Kept | undefined {
    if (!kept || (kept.version !== this.book.version && !kept.watch.holds())) return undefined;
    kept.version = this.book.version;
    return kept;
  }

  /** Takes note that an estimate was asked for, and lets go of the one that was not for the longest time. */
  #reach(file: BookFile): void {
    this.#atHand.delete(file);
    this.#atHand.add(file);
    if (this.#atHand.size <= AT_HAND) return;
    const [oldest] = this.#atHand;
    this.#atHand.delete(oldest!);
    this.#kept.delete(oldest!);
  }

  /** The rules of the place that a shop is in. */
  lawOf(shop: Shop | undefined, watch = new Watch(this.#lookups)): Jurisdiction | undefined {
    const law = shop?.jurisdiction;
    return lawFrom(law && watch.note('jurisdiction', law, () => this.book.value('jurisdiction', law)));
  }

  /** The book for a file that asks. */
  catalogFor(uri: string, watch = new Watch(this.#lookups)): BookCatalog {
    return bookCatalog(this.book, this.shared, uri, watch);
  }
}

/** A jurisdiction file that is still being written has no say in what it does not name yet; its own check tells that. */
function lawFrom(value: unknown): Jurisdiction | undefined {
  if (!value) return undefined;
  const read = value as Partial<Jurisdiction>;
  return { ...read, taxes: read.taxes ?? [], taxable: read.taxable ?? {} } as Jurisdiction;
}
