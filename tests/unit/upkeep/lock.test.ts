/** Prices that a customer was told: kept, held against the book, and given up on purpose. */
import { describe, expect, it } from 'vitest';
import { isoDate } from '../../../schemas/values/dates.ts';
import type { BookFile } from '../../../server/src/book/file.ts';
import { textAfter } from '../../../server/src/upkeep/changes.ts';
import { differenceOf, driftOf } from '../../../server/src/upkeep/lock/drift.ts';
import { bookDrift, bookDriftReport, jobDriftReport } from '../../../server/src/upkeep/lock/report.ts';
import { locking, repricing } from '../../../server/src/upkeep/lock/reprice.ts';
import { reportText } from '../../../server/src/upkeep/report/text.ts';
import { finished, job, LINES, type Scene, SHOP, scene } from './upkeep-book.ts';

const DAY = isoDate('2026-03-01');
const LATER = isoDate('2026-05-01');

function locked(book: Scene, name = 'J-1.job.yaml'): BookFile {
  const file = book.named(name);
  book.workspace.put(file.uri, textAfter(file, locking(book.estimates, file, DAY)!));
  return book.named(name);
}

function total(book: Scene, file: BookFile): string {
  return book.estimates.of(file)!.chosen!.priced.total.value.toString();
}

function change(book: Scene, name: string, from: string | RegExp, to: string): void {
  const file = book.named(name);
  const text = file.source.text();
  const after = text.replace(from, to);
  if (after === text) throw new Error(`nothing to change: ${from}`);
  book.workspace.put(file.uri, after);
}

describe('lock', () => {
  it('writes every price that the total hangs on, and the total, at the end of the job', () => {
    const book = scene(SHOP + job('J-1', `${LINES}\n# the end`));
    const file = book.named('J-1.job.yaml');
    const before = file.source.text();
    const after = locked(book).source.text();
    expect(after.startsWith(before)).toBe(true);
    expect(after.slice(before.length).trim().split('\n')).toEqual([
      'lock:',
      '  on: 2026-03-01',
      // 3 x 20.00 + 300.00 + 39.95 + 600.00 + 90.00 + supplies 60.00 + waste 12.00 + core 80.00 + tax 5% of 399.95
      '  totals: { job: 1261.95 }',
      '  rates: { bench: 150.00 }',
      '  operations: { look: 90.00 }',
      '  fees: { waste: 12.00 }',
      '  parts:',
      '    GSK-1: { price: 20.00, cost: 10.00 }',
      '    DRM-1: { price: 300.00, cost: 200.00, core: 80.00 }',
      '    BLT-1: { price: 3.30, cost: 1.10, ending: 0.95 }',
    ]);
  });

  it('changes no total, not even one whose ending is taken on the line', () => {
    const book = scene(SHOP + job('J-1', LINES));
    const before = total(book, book.named('J-1.job.yaml'));
    expect(total(book, locked(book))).toBe(before);
    expect(book.book.problemsOf(book.named('J-1.job.yaml'))).toEqual([]);
  });

  it('keeps the line breaks of the file', () => {
    const book = scene(SHOP + job('J-1', LINES), { eol: '\r\n' });
    expect(locked(book).source.text().replaceAll('\r\n', '')).not.toMatch(/[\r\n]/);
  });

  it('holds when costs, rates, flat prices, fees and cores go up', () => {
    const book = scene(SHOP + job('J-1', LINES));
    const before = total(book, locked(book));
    change(book, 'a.parts.yaml', /cost: (\d)/g, 'cost: 7$1');
    change(book, 'a.parts.yaml', 'core: 80.00', 'core: 95.00');
    change(book, 'shop.yaml', 'hourly: 150.00', 'hourly: 171.00');
    change(book, 'shop.yaml', 'amount: 12.00', 'amount: 19.00');
    change(book, 'shop.yaml', 'factor: 2', 'factor: 2.5');
    change(book, 'work.labor.yaml', 'price: 90.00', 'price: 99.00');
    expect(total(book, book.named('J-1.job.yaml'))).toBe(before);
  });
});

describe('drift', () => {
  it('tells each line that would differ, adding up to the difference of the totals', () => {
    const book = scene(SHOP + job('J-1', LINES));
    locked(book);
    change(book, 'a.parts.yaml', 'cost: 200.00', 'cost: 220.00');
    change(book, 'shop.yaml', 'hourly: 150.00', 'hourly: 160.00');
    const drift = driftOf(book.estimates, book.named('J-1.job.yaml'), LATER)!;
    // 4 h x 10.00, 20.00 x 1.5, 5% of 30.00; supplies are at their most already
    expect(drift.counted.lines.map((line) => [line.what, differenceOf(line).toString()])).toEqual([
      ['Build it', '40'],
      ['Drum', '30'],
      ['Tax', '1.5'],
    ]);
    expect(drift.counted.today.minus(drift.counted.presented).toString()).toBe('71.5');
    expect(reportText(jobDriftReport(book.estimates, drift)).split('\n').at(-1)).toMatch(
      /^Total +\$1,261\.95 +\$1,333\.45 +\+\$71\.50$/,
    );
  });

  it('tells what a lock does not hold, such as hours, against the total that was presented', () => {
    const book = scene(SHOP + job('J-1', LINES));
    locked(book);
    change(book, 'work.labor.yaml', 'hours: 4', 'hours: 5');
    const { counted } = driftOf(book.estimates, book.named('J-1.job.yaml'), LATER)!;
    expect(counted.presented.toString()).toBe('1261.95');
    expect(counted.lines.map((line) => [line.what, differenceOf(line).toString()])).toEqual([
      ['What a lock does not hold: hours, supplies, tax', '150'],
    ]);
  });

  it('takes prices of the day that is asked about', () => {
    const book = scene(SHOP + job('J-1', LINES));
    locked(book);
    change(book, 'a.parts.yaml', 'cost: 10.00', 'cost: 10.00, prices: [{ from: 2026-04-01, cost: 11.00 }]');
    const on = (day: string) =>
      driftOf(book.estimates, book.named('J-1.job.yaml'), isoDate(day))!.counted.lines.map(({ id }) => id);
    expect(on('2026-03-31')).toEqual([]);
    expect(on('2026-04-01')).toEqual(['GSK-1', undefined]);
  });

  it('sums over the open jobs of a book, and names those that were presented without a lock', () => {
    const book = scene(
      SHOP +
        job('J-1', LINES) +
        job('J-2', LINES) +
        job('J-3', `presented: 2026-02-03\n${LINES}`) +
        job('J-4', `completed: 2026-02-09\n${LINES}`),
    );
    for (const name of ['J-1.job.yaml', 'J-2.job.yaml', 'J-4.job.yaml']) locked(book, name);
    change(book, 'shop.yaml', 'hourly: 150.00', 'hourly: 160.00');
    const found = finished(bookDrift(book.estimates, LATER));
    const text = reportText(bookDriftReport(book.estimates, found));
    expect(found.unlocked.map(({ value }) => value.id)).toEqual(['J-3']);
    expect(text).toMatch(/^2 jobs +\$2,523\.90 +\$2,603\.90 +\+\$80\.00$/m);
  });

  it('is none for a job whose prices follow the book', () => {
    const book = scene(SHOP + job('J-1', LINES));
    expect(driftOf(book.estimates, book.named('J-1.job.yaml'), LATER)).toBeUndefined();
  });
});

describe('re-pricing', () => {
  it('sets the figures that differ and nothing else, comments kept, and leaves no drift', () => {
    const book = scene(SHOP + job('J-1', LINES));
    const file = locked(book);
    const commented = file.source.text().replace('    DRM-1:', '    # agreed by phone\n    DRM-1:');
    book.workspace.put(file.uri, commented);
    change(book, 'a.parts.yaml', 'cost: 200.00', 'cost: 220.00');
    const { changes } = repricing(book.estimates, book.named('J-1.job.yaml'), LATER)!;
    const after = textAfter(book.named('J-1.job.yaml'), changes!);
    expect(linesThatDiffer(commented, after)).toEqual([
      '+ priced-on: 2026-05-01',
      '-   on: 2026-03-01',
      '+   on: 2026-05-01',
      '-   totals: { job: 1261.95 }',
      '+   totals: { job: 1293.45 }',
      '-     DRM-1: { price: 300.00, cost: 200.00, core: 80.00 }',
      '+     DRM-1: { price: 330.00, cost: 220.00, core: 80.00 }',
    ]);
    book.workspace.put(file.uri, after);
    const drift = driftOf(book.estimates, book.named('J-1.job.yaml'), LATER)!;
    expect(drift.counted.lines).toEqual([]);
    expect(repricing(book.estimates, book.named('J-1.job.yaml'), LATER)!.changes).toEqual([]);
  });

  it('says when new consent is needed', () => {
    // AUTH-01: consent when the charge exceeds 110% of the estimate, sales tax excluded (RCW 46.71.025).
    // Before tax the job is 1241.95; authorized 1129.05 may reach 1241.955, authorized 1129.04 may not.
    const consentAt = (amount: string) => {
      const book = scene(
        SHOP +
          job(
            'J-1',
            `authorizations: [{ on: 2026-02-03T10:00, by: Ines Vale, how: signature, amount: ${amount} }]\n${LINES}`,
          ),
      );
      return driftOf(book.estimates, locked(book), LATER)!.consent;
    };
    expect(consentAt('1129.05')).toBeUndefined();
    expect(consentAt('1129.04')).toMatch(/Ines Vale has authorized \$1,129\.04.*Ask first/);
  });
});

function linesThatDiffer(before: string, after: string): string[] {
  const [was, is] = [before.split('\n'), after.split('\n')];
  const out: string[] = [];
  for (let a = 0, b = 0; a < was.length || b < is.length; ) {
    if (was[a] === is[b]) {
      a++;
      b++;
    } else if (is[b + 1] === was[a]) out.push(`+ ${is[b++]}`);
    else out.push(`- ${was[a++]}`, `+ ${is[b++]}`);
  }
  return out;
}
