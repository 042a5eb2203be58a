/** Drift as a report: of one job line by line, of the whole book job by job. */

import type { Shop } from '../../../../schemas/kinds/shop.ts';
import type { IsoDate } from '../../../../schemas/values/dates.ts';
import { type Decimal, sum, ZERO } from '../../../../schemas/values/decimal.ts';
import { formatMoney } from '../../../../schemas/values/money.ts';
import type { BookFile } from '../../book/file.ts';
import type { Estimates } from '../../estimate/estimates.ts';
import { isOpen, isPresented, jobFiles, jobOf, nameOf, placeIn } from '../jobs.ts';
import { type Cell, cell, plural, type Report, type Table } from '../report/report.ts';
import { differenceOf, driftOf, type JobDrift, type OptionDrift } from './drift.ts';

export interface BookDrift {
  readonly on: IsoDate;
  readonly jobs: readonly JobDrift[];
  /** Presented and still open, and their prices follow the book. */
  readonly unlocked: readonly BookFile[];
}

/** Of every job that is still open, one after the other. */
export function* bookDrift(estimates: Estimates, on: IsoDate): Generator<void, BookDrift> {
  const jobs: JobDrift[] = [];
  const unlocked: BookFile[] = [];
  for (const file of jobFiles(estimates.book, isOpen)) {
    const drift = driftOf(estimates, file, on);
    if (drift) jobs.push(drift);
    else if (isPresented(jobOf(file))) unlocked.push(file);
    yield;
  }
  return { on, jobs, unlocked };
}

/** Money with its sign, as a difference is read. */
export function signed(money: (value: Decimal) => string, value: Decimal): string {
  return value.gt(ZERO) ? `+${money(value)}` : money(value);
}

export function moneyOf(shop: Shop | undefined): (value: Decimal) => string {
  const { currency = 'USD', locale = 'en-US' } = shop ?? {};
  return (value) => {
    try {
      return formatMoney(value, currency, locale);
    } catch {
      return formatMoney(value, currency, 'en-US');
    }
  };
}

function moneyFor({ book }: Estimates, file: BookFile) {
  return moneyOf(book.shopOf(file.uri)?.shop);
}

export function bookDriftReport(estimates: Estimates, { on, jobs, unlocked }: BookDrift): Report {
  const moved = jobs.filter(({ counted }) => !counted.today.eq(counted.presented));
  const totals = {
    was: sum(jobs.map(({ counted }) => counted.presented)),
    now: sum(jobs.map(({ counted }) => counted.today)),
  };
  const money = moneyOf([...estimates.book.shops()].map(({ uri }) => estimates.book.shopOf(uri)?.shop)[0]);
  const table: Table = {
    title: 'Locked estimates',
    note: 'An option that is not chosen yet counts when it is the first.',
    columns: [
      { head: 'Job' },
      { head: 'Option' },
      { head: 'Locked' },
      { head: 'Presented', figure: true },
      { head: `On ${on}`, figure: true },
      { head: 'Difference', figure: true },
      { head: 'Re-pricing' },
    ],
    rows: jobs.map(({ file, locked, counted, consent }) => {
      const print = moneyFor(estimates, file);
      const difference = counted.today.minus(counted.presented);
      return [
        cell(nameOf(file), placeIn(file, ['lock'])),
        cell(counted.id === undefined ? '' : counted.name),
        cell(locked),
        cell(print(counted.presented)),
        cell(print(counted.today)),
        cell(signed(print, difference)),
        cell(difference.eq(ZERO) ? '' : consent ? 'needs new consent' : ''),
      ];
    }),
    sum: [
      cell(plural(jobs.length, 'job')),
      cell(''),
      cell(''),
      cell(money(totals.was)),
      cell(money(totals.now)),
      cell(signed(money, differenceOf(totals))),
      cell(''),
    ],
  };
  const loose: Table = {
    title: 'Presented and not locked',
    note: 'Their prices follow the book. Lock them, so that what the owner holds stays what the job says.',
    columns: [{ head: 'Job' }, { head: 'Presented' }],
    rows: unlocked.map((file) => [
      cell(nameOf(file), placeIn(file, ['presented'])),
      cell(jobOf(file).presented ?? ''),
    ]),
  };
  return {
    title: `Drift of locked estimates on ${on}`,
    lead: [
      jobs.length === 0
        ? 'No open job has locked prices.'
        : `${plural(jobs.length, 'open job')} with locked prices; ${moved.length === 0 ? 'the book has not moved away from any of them' : `the book has moved away from ${moved.length}`}.`,
    ],
    tables: [table, loose],
  };
}

export function jobDriftReport(estimates: Estimates, drift: JobDrift): Report {
  const money = moneyFor(estimates, drift.file);
  const moved = drift.options.filter(({ lines }) => lines.length > 0);
  return {
    title: `Drift of ${nameOf(drift.file)} on ${drift.on}, locked ${drift.locked}`,
    lead: [
      moved.length === 0
        ? 'The book still has the prices that were presented.'
        : 'What was presented holds. By the book of this day it would be another sum:',
      ...(drift.consent && moved.length > 0 ? [`Re-priced: ${drift.consent}`] : []),
    ],
    tables: moved.map((option) => optionTable(drift.file, option, money)),
  };
}

function optionTable(file: BookFile, option: OptionDrift, money: (value: Decimal) => string): Table {
  return {
    title: option.id === undefined ? 'Estimate' : option.name,
    columns: [
      { head: 'Line' },
      { head: 'Number' },
      { head: 'Presented', figure: true },
      { head: 'Now', figure: true },
      { head: 'Difference', figure: true },
    ],
    rows: option.lines.map((line) => [
      cell(line.what, line.path.length > 0 ? placeIn(file, line.path) : undefined),
      cell(line.id ?? ''),
      cell(money(line.was)),
      cell(money(line.now)),
      cell(signed(money, differenceOf(line))),
    ]),
    sum: totalRow(option, money),
  };
}

function totalRow({ presented, today }: OptionDrift, money: (value: Decimal) => string): Cell[] {
  return [
    cell('Total'),
    cell(''),
    cell(money(presented)),
    cell(money(today)),
    cell(signed(money, today.minus(presented))),
  ];
}

/** By job and option, for other systems. */
export function driftJson({ on, jobs, unlocked }: BookDrift) {
  return {
    on,
    jobs: jobs.map(({ file, locked, options, consent }) => ({
      job: nameOf(file),
      locked,
      needsConsent: consent !== undefined,
      options: options.map(({ id, counted, presented, today, lines }) => ({
        option: id ?? null,
        counted,
        presented: presented.toString(),
        today: today.toString(),
        difference: today.minus(presented).toString(),
        lines: lines.map((line) => ({
          what: line.what,
          number: line.id ?? null,
          was: line.was.toString(),
          now: line.now.toString(),
          difference: differenceOf(line).toString(),
        })),
      })),
    })),
    presentedAndNotLocked: unlocked.map(nameOf),
  };
}

export const DRIFT_COLUMNS = [
  'job',
  'option',
  'counted',
  'line',
  'number',
  'was',
  'now',
  'difference',
] as const;

/** A row a line that differs. */
export function driftRows({ jobs }: BookDrift): Record<(typeof DRIFT_COLUMNS)[number], string>[] {
  return jobs.flatMap(({ file, options }) =>
    options.flatMap(({ id, counted, lines }) =>
      lines.map((line) => ({
        job: nameOf(file),
        option: id ?? '',
        counted: counted ? 'yes' : 'no',
        line: line.what,
        number: line.id ?? '',
        was: line.was.toString(),
        now: line.now.toString(),
        difference: differenceOf(line).toString(),
      })),
    ),
  );
}
