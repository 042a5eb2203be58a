/** The jobs of a book, by how far they are. What has happened is what is recorded. */
import type { Job } from '../../../schemas/kinds/job.ts';
import type { Path } from '../../../schemas/problem.ts';
import type { Book } from '../book/book.ts';
import type { BookFile } from '../book/file.ts';
import { type PricedJob, priceJob } from '../estimate/estimate.ts';
import type { Estimates } from '../estimate/estimates.ts';
import type { Place } from './report/report.ts';

/** Not done yet, and not declined. */
export function isOpen({ completed, teardown }: Job): boolean {
  return completed === undefined && teardown?.declined === undefined;
}

/** Whether its owner holds a paper with these prices. */
export function isPresented({ presented, lock, authorizations }: Job): boolean {
  return (
    presented !== undefined ||
    lock !== undefined ||
    (authorizations ?? []).some((one) => (one.for ?? 'work') === 'work')
  );
}

export function jobOf(file: BookFile): Job {
  return file.value as Job;
}

/** By id, as people look for them. */
export function jobFiles(book: Book, keeps: (job: Job) => boolean): BookFile[] {
  return [...book.filesOf('job')]
    .filter((file) => keeps(jobOf(file)))
    .sort((a, b) => NATURAL.compare(nameOf(a), nameOf(b)) || (a.uri < b.uri ? -1 : 1));
}

export const NATURAL = new Intl.Collator('en', { numeric: true });

/** A job by its id; by its file while it has none. */
export function nameOf(file: BookFile): string {
  return jobOf(file).id ?? decodeURIComponent(file.uri.slice(file.uri.lastIndexOf('/') + 1));
}

/** A job as it would be with some fields changed, priced by the rules that hold for its file. */
export function pricedWith(
  estimates: Estimates,
  file: BookFile,
  change: Partial<Job>,
  all = true,
): PricedJob {
  const shop = estimates.book.shopOf(file.uri)?.shop;
  return priceJob(
    { ...jobOf(file), ...change },
    (key) => file.droppedOf(key),
    estimates.catalogFor(file.uri),
    shop,
    estimates.lawOf(shop),
    all,
  );
}

export function placeIn(file: BookFile, path: Path): Place {
  const spot = file.spotOf(path, true);
  return { uri: file.uri, line: spot ? file.source.positionOf(spot.piece, spot.start).line : 0 };
}
