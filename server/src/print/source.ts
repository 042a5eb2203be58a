/** What a paper is made from: an estimate, the entries behind it, and the pictures it names. */
import type { Job } from '../../../schemas/kinds/job.ts';
import type { Book } from '../book/book.ts';
import type { BookFile } from '../book/file.ts';
import type { Host } from '../book/host.ts';
import { nameOf, resolve } from '../book/paths.ts';
import type { BookCatalog } from '../estimate/catalog.ts';
import { estimate as estimateJob, type JobEstimate } from '../estimate/estimate.ts';
import type { Estimates } from '../estimate/estimates.ts';
import type { SaleLine } from '../pricing/model.ts';

export interface Source {
  readonly estimate: JobEstimate;
  readonly catalog: BookCatalog;
  /** Bytes of a file named in the job, or in the entry of a finding; undefined when it cannot be read. */
  file(path: string, finding?: string): Uint8Array | undefined;
  /** Whether the recorded video is there. */
  readonly hasVideo: boolean;
  /** The same job, priced and checked by the same engine without some of its lines, or without its price lock. */
  again(change: { readonly keeps?: (line: SaleLine) => boolean; readonly job?: Partial<Job> }): JobEstimate;
}

/** Undefined for files that are not jobs. `read`: how files that the job names are read, where not by the book's own host. */
export function sourceOf(
  estimates: Estimates,
  file: BookFile,
  read: Host['read'] = (uri, within) => estimates.book.host.read(uri, within),
): Source | undefined {
  const estimate = estimates.of(file);
  if (!estimate) return undefined;
  const { book } = estimates;
  const catalog = estimates.catalogFor(file.uri);
  return {
    estimate,
    catalog,
    file: (path, finding) => {
      const home = finding === undefined ? file.uri : book.definition('finding', finding)?.facts.file.uri;
      return home === undefined ? undefined : bytesOf(read, book.root, home, path);
    },
    hasVideo: isThere(book, file.uri, estimate.job.video),
    again: ({ keeps, job }) =>
      estimateJob(
        { ...estimate.job, ...job },
        (key) => file.droppedOf(key),
        catalog,
        estimate.policy.shop,
        estimate.policy.jurisdiction,
        { keeps: keeps ?? (() => true), onPaper: true },
      ),
  };
}

function bytesOf(read: Host['read'], root: string, from: string, path: string): Uint8Array | undefined {
  const uri = resolve(from, path);
  return uri === undefined ? undefined : read(uri, root);
}

function isThere(book: Book, from: string, path: string | undefined): boolean {
  const uri = path === undefined ? undefined : resolve(from, path);
  return uri !== undefined && book.host.size(uri, book.root) !== undefined;
}

export function fileName(path: string): string {
  return nameOf(path.replaceAll('\\', '/'));
}
