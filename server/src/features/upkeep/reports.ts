/** The reports that keep a book right, as the editor asks for them. Bit by bit: whoever drives them may pause and stop. */
import type { IsoDate } from '../../../../schemas/values/dates.ts';
import { type Decimal, ZERO } from '../../../../schemas/values/decimal.ts';
import { Book } from '../../book/book.ts';
import { nameOf as fileName } from '../../book/paths.ts';
import { Estimates } from '../../estimate/estimates.ts';
import { Refused } from '../../upkeep/changes.ts';
import { compareBooks } from '../../upkeep/compare/compare.ts';
import { comparisonReport } from '../../upkeep/compare/report.ts';
import { health } from '../../upkeep/health/health.ts';
import { healthReport } from '../../upkeep/health/report.ts';
import { nameOf } from '../../upkeep/jobs.ts';
import { driftOf } from '../../upkeep/lock/drift.ts';
import { bookDrift, bookDriftReport, jobDriftReport, moneyOf, signed } from '../../upkeep/lock/report.ts';
import { reportMarkdown } from '../../upkeep/report/markdown.ts';
import type { Report } from '../../upkeep/report/report.ts';
import { changedInWords, isMoved, whatIfReport } from '../../upkeep/what-if/report.ts';
import { parseSetting, settled } from '../../upkeep/what-if/settings.ts';
import { type Over, type WhatIf, whatIf } from '../../upkeep/what-if/what-if.ts';
import { Refusal } from '../edit.ts';

/** A file as it was: on disk before it was edited, or at a revision; null where it was not there. */
export interface Older {
  readonly uri: string;
  readonly text: string | null;
}

export type ReportAsked =
  | { readonly report: 'drift'; readonly uri?: string | undefined }
  | { readonly report: 'health'; readonly months: number }
  | {
      readonly report: 'what-if';
      readonly over: Over;
      /** Files as they are on disk: what would change is what has been typed since. */
      readonly saved: readonly Older[];
      /** And figures to change, such as `rates.bench.hourly=165.00`. */
      readonly set: readonly string[];
    }
  | { readonly report: 'compare'; readonly title: string; readonly older: readonly Older[] };

/** A bar of a chart: how far a job moves. The value is for drawing only. */
export interface Bar {
  readonly name: string;
  readonly label: string;
  readonly value: number;
}

export interface ReportAnswer {
  readonly report: Report;
  readonly markdown: string;
  readonly bars: readonly Bar[];
}

export function* reportFor(
  estimates: Estimates,
  asked: ReportAsked,
  today: IsoDate,
): Generator<void, ReportAnswer> {
  try {
    switch (asked.report) {
      case 'drift':
        return answer(yield* drift(estimates, asked.uri, today));
      case 'health': {
        const found = yield* health(estimates, { on: today, months: asked.months });
        return answer(healthReport(estimates.book, found, asked.months));
      }
      case 'what-if':
        return yield* whatIfAnswer(estimates, asked);
      case 'compare': {
        const before = yield* older(estimates.book, asked.older);
        const found = yield* compareBooks(new Estimates(before), estimates);
        return answer(comparisonReport(estimates.book, found, asked.title));
      }
    }
  } catch (error) {
    throw error instanceof Refused ? new Refusal(error.message) : error;
  }
}

function answer(report: Report, bars: readonly Bar[] = []): ReportAnswer {
  const markdown = reportMarkdown(report, ({ uri, line }) => `${uri}#L${line + 1}`);
  return { report, markdown, bars };
}

function* drift(estimates: Estimates, uri: string | undefined, today: IsoDate): Generator<void, Report> {
  if (uri === undefined) return bookDriftReport(estimates, yield* bookDrift(estimates, today));
  const file = estimates.book.file(uri);
  const found = file?.kind?.kind === 'job' ? driftOf(estimates, file, today) : undefined;
  if (!file || !found)
    throw new Refusal(
      `The prices of ${file ? nameOf(file) : fileName(uri)} are not locked: they follow the book. An action on the job locks them.`,
    );
  return jobDriftReport(estimates, found);
}

function* whatIfAnswer(
  estimates: Estimates,
  { over, saved, set }: Extract<ReportAsked, { report: 'what-if' }>,
): Generator<void, ReportAnswer> {
  const { book } = estimates;
  const before = new Map(saved.flatMap(({ uri, text }) => (text === null ? [] : [[uri, text] as const])));
  const { texts, changed } = settled(book, set.map(parseSetting));
  if (before.size === 0 && changed.length === 0)
    throw new Refusal(
      'Nothing would change: no file of the rules has unsaved edits, and no figure was given.',
    );
  const nothing = new Map<string, Uint8Array>();
  const found = yield* whatIf(
    estimates,
    { texts, bytes: nothing },
    over,
    before.size > 0 ? { texts: before, bytes: nothing } : undefined,
  );
  const about = [
    ...[...before.keys()].map((uri) => `Unsaved edits in ${fileName(uri)}, against what is on disk.`),
    ...changedInWords(book.root, changed),
  ];
  return answer(whatIfReport(estimates, found, about), barsOf(estimates, found));
}

/** As many as can be told apart in a chart. */
const MOST_BARS = 24;

function barsOf({ book }: Estimates, { rows }: WhatIf): Bar[] {
  const by = ({ before, after }: WhatIf['rows'][number]): Decimal => after.total.minus(before.total);
  return rows
    .filter((row) => isMoved(row) && !by(row).eq(ZERO))
    .sort((a, b) => by(b).abs().cmp(by(a).abs()))
    .slice(0, MOST_BARS)
    .map((row) => ({
      name: row.name,
      label: signed(moneyOf(book.shopOf(row.file.uri)?.shop), by(row)),
      value: Number(by(row).toFixed(2)),
    }));
}

/** The book as it was, files that are not told of being the same. */
function* older(book: Book, files: readonly Older[]): Generator<void, Book> {
  const texts = new Map(files.map(({ uri, text }) => [uri, text]));
  const before = new Book(book.root, book.host);
  for (const file of book.files()) {
    const text = texts.get(file.uri);
    if (text !== null) before.put(file.uri, text ?? file.source.text());
    texts.delete(file.uri);
    yield;
  }
  for (const [uri, text] of texts) if (text !== null) before.put(uri, text);
  return before;
}
