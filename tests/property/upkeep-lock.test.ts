/** Every price of the book changed: what was presented does not move, and the drift adds up to the cent. */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { isoDate } from '../../schemas/values/dates.ts';
import { sum } from '../../schemas/values/decimal.ts';
import { textAfter } from '../../server/src/upkeep/changes.ts';
import { differenceOf, driftOf } from '../../server/src/upkeep/lock/drift.ts';
import { locking, repricing } from '../../server/src/upkeep/lock/reprice.ts';
import { job, LINES, SHOP, scene } from '../unit/upkeep/upkeep-book.ts';

const DAY = isoDate('2026-03-01');
const LATER = isoDate('2026-05-01');

const money = fc.integer({ min: 1, max: 99_999 }).map((cents) => (cents / 100).toFixed(2));

/** Fields that are prices of the book: what a shop is charged, and what it charges. */
const PRICES = /\b(cost|core|hourly|amount|price|list): (\d+\.\d\d)/g;
const PRICED_FILES = ['shop.yaml', 'a.parts.yaml', 'work.labor.yaml'];

const OPTIONS = `${LINES}
options:
  one:
    name: One
    kind: repair
    lines: [{ part: GSK-1, quantity: 2, discount: 7% }]
  two:
    name: Two
    kind: overhaul
    lines: [{ part: DRM-1, core: exchanged }, { operation: look, quantity: 2 }]
chosen: two`;

test.each([LINES, OPTIONS])('what was presented does not move, and the drift adds up', (lines) => {
  fc.assert(
    fc.property(fc.infiniteStream(money), fc.infiniteStream(fc.boolean()), (prices, changed) => {
      const book = scene(SHOP + job('J-1', lines));
      const totals = () =>
        book.estimates
          .of(book.named('J-1.job.yaml'))!
          .options.map(({ priced }) => priced.total.value.toString());
      const presented = totals();
      const file = book.named('J-1.job.yaml');
      book.workspace.put(file.uri, textAfter(file, locking(book.estimates, file, DAY)!));
      for (const name of PRICED_FILES) {
        const priced = book.named(name);
        const text = priced.source.text().replace(PRICES, (whole, field: string) => {
          const keep = !changed.next().value;
          return keep ? whole : `${field}: ${prices.next().value}`;
        });
        book.workspace.put(priced.uri, text);
      }
      expect(totals()).toEqual(presented);

      const drift = driftOf(book.estimates, book.named('J-1.job.yaml'), LATER)!;
      for (const [i, option] of drift.options.entries()) {
        expect(option.presented.toString()).toBe(presented[i]);
        const difference = sum(option.lines.map(differenceOf));
        expect(difference.toString()).toBe(option.today.minus(option.presented).toString());
      }

      const { changes } = repricing(book.estimates, book.named('J-1.job.yaml'), LATER)!;
      book.workspace.put(file.uri, textAfter(book.named('J-1.job.yaml'), changes!));
      expect(totals()).toEqual(drift.options.map(({ today }) => today.toString()));
    }),
    { numRuns: 25 },
  );
});
