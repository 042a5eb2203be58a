/**
 * Gearquill as a library: a shop book from texts or from a folder, checked, priced, printed and tested by the same
 * engine as in the editor. What is exported here is kept as it is; everything else may change from one version to
 * the next.
 */
import type { ExchangedEstimate } from '../../schemas/exchange/estimate.ts';
import type { CodePage, Severity } from '../../schemas/problem.ts';
import { pageOf } from './estimate/codes.ts';
import { type AnyBook, bookInMemory, bookOnDisk, jobIn, problemsIn, resultsIn } from './library/book.ts';
import { estimateJson } from './print/json.ts';
import { printJob } from './print/print.ts';
import { sourceOf } from './print/source.ts';

export type { CodePage, ExchangedEstimate, Severity };

/** Contents of files by their path inside the book, with forward slashes: `shop.yaml`, `jobs/J-1.job.yaml`. */
export type Files = Readonly<Record<string, string | Uint8Array>>;

/** A book in memory. It answers from the files as they were last put. */
export interface ShopBook {
  /** Numbers of the jobs, in the order of their files. */
  readonly jobs: readonly string[];
  /** Adds a file, or gives it another text. Pictures and price files are bytes. */
  put(path: string, content: string | Uint8Array): void;
  remove(path: string): void;
}

export interface Problem {
  /** Path inside the book. */
  readonly file: string;
  /** Counted from 1; columns in UTF-16 units. */
  readonly line: number;
  readonly column: number;
  readonly endLine: number;
  readonly endColumn: number;
  readonly severity: Severity;
  /** Stable; `explain` tells more of it. */
  readonly code: string;
  readonly message: string;
}

export interface CaseResult {
  readonly id: string;
  readonly name: string;
  /** Path inside the book. */
  readonly file: string;
  /** Empty when the case came out as expected. */
  readonly mismatches: readonly {
    readonly expected: string;
    readonly actual: string;
    readonly message: string;
  }[];
}

/** The first three never show what the shop pays. */
export type Sheet = 'customer' | 'invoice' | 'talk' | 'bench' | 'order' | 'inside';
/** Not every sheet has every form: `csv` and `json` are of the customer sheet, `vtt` of the talk sheet. */
export type Form = 'html' | 'pdf' | 'text' | 'csv' | 'json' | 'vtt';

/** A book from files in memory, or from a folder on disk, read once. */
export function openBook(from: Files | string): ShopBook {
  return typeof from === 'string' ? bookOnDisk(from) : bookInMemory(from);
}

/** Every problem of the book, or of one of its files, in the order of the text. */
export function check(book: ShopBook, path?: string): Problem[] {
  return problemsIn(book as AnyBook, path);
}

/** A job with all its options, priced. Throws `RangeError` when the book has no such job. */
export function price(book: ShopBook, job: string): ExchangedEstimate {
  const { estimates, file } = jobIn(book as AnyBook, job);
  return estimateJson(estimates.of(file)!);
}

/**
 * A job on paper: text, or the bytes of a PDF. Throws `RangeError` when there is no such job, option, or form of the
 * sheet. `option`: for sheets about one option, another than the chosen one.
 */
export async function print(
  book: ShopBook,
  job: string,
  sheet: Sheet,
  format: Form,
  choice: { readonly option?: string; readonly paper?: 'letter' | 'a4' } = {},
): Promise<string | Uint8Array> {
  const { estimates, file } = jobIn(book as AnyBook, job);
  return printJob(sourceOf(estimates, file)!, sheet, format, choice);
}

/** Runs the cases of the book. */
export function test(book: ShopBook): CaseResult[] {
  return resultsIn(book as AnyBook);
}

/** What a code means and how to mend it; undefined for a code that there is not. */
export function explain(code: string): CodePage | undefined {
  return pageOf(code);
}
