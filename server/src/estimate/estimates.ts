/** Estimates of a book's jobs, made when asked for and kept while what they come from stays the same. */
import type { Jurisdiction } from '../../../schemas/kinds/jurisdiction.ts';
import type { Shop } from '../../../schemas/kinds/shop.ts';
import type { Book } from '../book/book.ts';
import type { BookFile } from '../book/file.ts';
import { BookProblems, entryCheck } from './book-problems.ts';
import { type BookCatalog, bookCatalog, Shared } from './catalog.ts';
import { estimateJob, type JobEstimate } from './estimate.ts';
import { Watch } from './watch.ts';

interface Kept {
  readonly made: unknown;
  readonly watch: Watch;
  version: number;
}

export class Estimates {
  readonly book: Book;
  readonly shared: Shared;
  readonly bookProblems: BookProblems;
  readonly #kept = new WeakMap<object, Kept>();

  constructor(book: Book) {
    this.book = book;
    this.shared = new Shared(book);
    this.bookProblems = new BookProblems(book, this.shared);
    book.checkEntriesWith(entryCheck(book));
  }

  /** The estimate of a job file; undefined for other files. */
  of(file: BookFile): JobEstimate | undefined {
    if (file.kind?.kind !== 'job') return undefined;
    return this.keep(file, (watch) => {
      const catalog = this.catalogFor(file.uri, watch);
      watch.note('job', () => file.value);
      const shop = watch.note('shop', () => this.book.shopOf(file.uri)?.shop);
      return estimateJob(file, catalog, shop, this.lawOf(shop, watch));
    });
  }

  /** What was made for `key` before, as long as every look-up that it noted gives the same again. */
  keep<T>(key: object, make: (watch: Watch) => T): T {
    const kept = this.#kept.get(key);
    if (kept && (kept.version === this.book.version || kept.watch.holds())) {
      kept.version = this.book.version;
      return kept.made as T;
    }
    const watch = new Watch();
    const made = make(watch);
    this.#kept.set(key, { made, watch, version: this.book.version });
    return made;
  }

  /** The rules of the place that a shop is in. */
  lawOf(shop: Shop | undefined, watch = new Watch()): Jurisdiction | undefined {
    const law = shop?.jurisdiction;
    return lawFrom(law && watch.note(`jurisdiction\n${law}`, () => this.book.value('jurisdiction', law)));
  }

  /** The book for a file that asks. */
  catalogFor(uri: string, watch = new Watch()): BookCatalog {
    return bookCatalog(this.book, this.shared, uri, watch);
  }
}

/** A jurisdiction file that is still being written has no say in what it does not name yet; its own check tells that. */
function lawFrom(value: unknown): Jurisdiction | undefined {
  if (!value) return undefined;
  const read = value as Partial<Jurisdiction>;
  return { ...read, taxes: read.taxes ?? [], taxable: read.taxable ?? {} } as Jurisdiction;
}
