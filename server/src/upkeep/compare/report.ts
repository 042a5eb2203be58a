/** A comparison as a report: in the terminal, in a pull request, in the editor. */
import { type Decimal, parseDecimal, ZERO } from '../../../../schemas/values/decimal.ts';
import type { Book } from '../../book/book.ts';
import { placeIn } from '../jobs.ts';
import { moneyOf, signed } from '../lock/report.ts';
import { type Cell, cell, plural, type Report, type Table } from '../report/report.ts';
import { crossingsOf } from '../what-if/crossings.ts';
import { percentOf } from '../what-if/report.ts';
import type { Arrival, Comparison, FieldChange } from './compare.ts';
import type { PriceChange } from './part-prices.ts';

/** Rows of a table that a person reads. */
const MOST = 60;
const LONGEST = 60;

/** Fields that are money, shares and hours of the rules of pricing: told before words. */
const FIGURES: ReadonlySet<string | undefined> = new Set(['money', 'percent', 'hours', 'number', 'count']);

export function comparisonReport(book: Book, found: Comparison, title: string): Report {
  const money = moneyOf([...book.shops()].map(({ uri }) => book.shopOf(uri)?.shop)[0]);
  const figures = found.fields.filter(({ meta }) => FIGURES.has(meta.scalar));
  const others = found.fields.filter(({ meta }) => !FIGURES.has(meta.scalar));
  const counts = [
    count(found.prices.length, 'price'),
    count(figures.length, 'other figure'),
    count(found.came.length, 'new entry', 'new entries'),
    count(found.went.length, 'entry gone', 'entries gone'),
    count(others.length, 'other change'),
    count(found.changedJobs.length, 'job edited', 'jobs edited'),
  ].flat();
  return {
    title,
    lead: [
      counts.length === 0 ? 'Nothing has changed in this book.' : `${counts.join(', ')}.`,
      ...(found.jobs.length > 0
        ? [
            `${plural(found.jobs.length, 'open job')} with another total: ${signed(money, sumOf(found))} together.`,
          ]
        : []),
    ],
    tables: [
      pricesTable(found.prices, money),
      figuresTable(figures),
      jobsTable(found, money),
      arrivals('New', found.came),
      arrivals('Gone', found.went),
      fieldsTable('Other changes', others),
    ],
  };
}

function count(number: number, word: string, many?: string): string[] {
  return number === 0 ? [] : [plural(number, word, many)];
}

function sumOf({ jobs }: Comparison): Decimal {
  return jobs.reduce((sum, { before, after }) => sum.plus(after.total).minus(before.total), ZERO);
}

function capped<T>(
  rows: readonly T[],
  write: (row: T) => Cell[],
  note?: string,
): Pick<Table, 'rows' | 'note'> {
  const cut = rows.length > MOST ? `The first ${MOST} of ${rows.length}.` : undefined;
  return { rows: rows.slice(0, MOST).map(write), note: [note, cut].filter(Boolean).join(' ') || undefined };
}

function pricesTable(prices: readonly PriceChange[], money: (value: Decimal) => string): Table {
  const largest = [...prices].sort((a, b) => weightOf(b).cmp(weightOf(a)));
  return {
    title: 'Prices of parts',
    columns: [
      { head: 'Number' },
      { head: 'Name' },
      { head: 'What' },
      { head: 'Was', figure: true },
      { head: 'Is', figure: true },
      { head: 'Change', figure: true },
    ],
    ...capped(largest, ({ id, name, what, was, now }) => [
      cell(id),
      cell(name),
      cell(what),
      cell(was ? money(was) : 'none'),
      cell(now ? money(now) : 'none'),
      cell(changeOf(was, now)),
    ]),
  };
}

/** By percent; a price that came or went is first. */
function weightOf({ was, now }: PriceChange): Decimal {
  if (!was || !now || was.eq(ZERO)) return HUGE;
  return now.minus(was).div(was).abs();
}
const HUGE = parsed('1000000000')!;

function changeOf(was: Decimal | undefined, now: Decimal | undefined): string {
  return was && now ? percentOf(was, now).replace(/^ \(|\)$/g, '') : '';
}

function parsed(text: string | undefined): Decimal | undefined {
  const read = text === undefined ? undefined : parseDecimal(text.replace(/%$/, ''));
  return read?.ok ? read.value : undefined;
}

function figuresTable(fields: readonly FieldChange[]): Table {
  return {
    title: 'Rates, bands, fees, hours and other figures',
    columns: [
      { head: 'Of' },
      { head: 'What' },
      { head: 'Was', figure: true },
      { head: 'Is', figure: true },
      { head: 'Change', figure: true },
    ],
    ...capped(fields, (field) => [
      cell(`${field.kind} ${field.owner}`),
      cell(field.words.join(', ')),
      cell(field.was ?? 'none'),
      cell(field.now ?? 'none'),
      cell(changeOf(parsed(field.was), parsed(field.now))),
    ]),
  };
}

function jobsTable(found: Comparison, money: (value: Decimal) => string): Table {
  const largest = [...found.jobs].sort((a, b) =>
    b.after.total.minus(b.before.total).abs().cmp(a.after.total.minus(a.before.total).abs()),
  );
  return {
    title: 'Open jobs with another total',
    columns: [
      { head: 'Job' },
      { head: 'Option' },
      { head: 'Was', figure: true },
      { head: 'Is', figure: true },
      { head: 'Difference', figure: true },
      { head: 'Watch' },
    ],
    ...capped(largest, (row) => [
      cell(row.job, placeIn(row.file, ['id'])),
      cell(row.option ?? ''),
      cell(money(row.before.total)),
      cell(money(row.after.total)),
      cell(signed(money, row.after.total.minus(row.before.total))),
      cell([...(row.itself ? ['the job itself was edited'] : []), ...crossingsOf(row)].join('; ')),
    ]),
  };
}

function arrivals(title: string, list: readonly Arrival[]): Table {
  return {
    title,
    columns: [{ head: 'Kind' }, { head: 'Id' }, { head: 'Name' }],
    ...capped(list, ({ kind, id, name }) => [cell(kind), cell(id), cell(name)]),
  };
}

function fieldsTable(title: string, fields: readonly FieldChange[]): Table {
  return {
    title,
    columns: [{ head: 'Of' }, { head: 'What' }, { head: 'Was' }, { head: 'Is' }],
    ...capped(fields, (field) => [
      cell(`${field.kind} ${field.owner}`),
      cell(field.words.join(', ')),
      cell(short(field.was)),
      cell(short(field.now)),
    ]),
  };
}

function short(text: string | undefined): string {
  if (text === undefined) return 'none';
  return [...text].length > LONGEST ? `${[...text].slice(0, LONGEST - 1).join('')}…` : text;
}

export function comparisonJson({ prices, came, went, fields, changedJobs, jobs }: Comparison) {
  return {
    prices: prices.map(({ id, name, what, was, now }) => ({
      number: id,
      name,
      what,
      was: was ?? null,
      now: now ?? null,
    })),
    fields: fields.map(({ kind, owner, path, words, was, now }) => ({
      kind,
      of: owner,
      field: path.join('.'),
      what: words.join(', '),
      was: was ?? null,
      now: now ?? null,
    })),
    new: came,
    gone: went,
    jobsEdited: changedJobs,
    openJobs: jobs.map(({ job, option, before, after, itself }) => ({
      job,
      option: option ?? null,
      was: before.total.toString(),
      now: after.total.toString(),
      edited: itself,
    })),
  };
}
