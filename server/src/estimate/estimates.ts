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
  readonly made: JobEstimate;
  readonly watch: Watch;
  readonly version: number;
}

export class Estimates {
  readonly book: Book;
  readonly shared: Shared;
  readonly bookProblems: BookProblems;
  readonly #kept = new WeakMap<BookFile, { -readonly [K in keyof Kept]: Kept[K] }>();

  constructor(book: Book) {
    this.book = book;
    this.shared = new Shared(book);
    this.bookProblems = new BookProblems(book, this.shared);
    book.checkEntriesWith(entryCheck(book));
  }

  /** The estimate of a job file; undefined for other files. */
  of(file: BookFile): JobEstimate | undefined {
    if (file.kind?.kind !== 'job') return undefined;
    const kept = this.#kept.get(file);
    if (kept && (kept.version === this.book.version || kept.watch.holds())) {
      kept.version = this.book.version;
      return kept.made;
    }
    const watch = new Watch();
    const catalog = bookCatalog(this.book, this.shared, file.uri, watch);
    watch.note('job', () => file.value);
    const shop = watch.note('shop', () => this.book.shopOf(file.uri)?.shop);
    const law = shop?.jurisdiction;
    const read = law && watch.note(`jurisdiction\n${law}`, () => this.book.value('jurisdiction', law));
    const made = estimateJob(file, catalog, shop, lawFrom(read));
    this.#kept.set(file, { made, watch, version: this.book.version });
    return made;
  }

  /** The rules of the place that a shop is in. */
  lawOf(shop: Shop | undefined): Jurisdiction | undefined {
    return lawFrom(shop?.jurisdiction && this.book.value('jurisdiction', shop.jurisdiction));
  }

  /** A catalog for a file that asks outside an estimate (a case, a hover). */
  catalogFor(uri: string): BookCatalog {
    return bookCatalog(this.book, this.shared, uri, new Watch());
  }
}

/** A jurisdiction file that is still being written has no say in what it does not name yet; its own check tells that. */
function lawFrom(value: unknown): Jurisdiction | undefined {
  if (!value) return undefined;
  const read = value as Partial<Jurisdiction>;
  return { ...read, taxes: read.taxes ?? [], taxable: read.taxable ?? {} } as Jurisdiction;
}
