/**
 * A price file of 100,000 rows held against 100,000 parts and taken over. Run: node tests/bench/prices.ts
 * Beside it: csv-parse alone over the same file.
 */
import { parse } from 'csv-parse/sync';
import { isoDate } from '../../schemas/values/dates.ts';
import { Book } from '../../server/src/book/book.ts';
import { NO_HOST } from '../../server/src/book/host.ts';
import { priceEdits } from '../../server/src/upkeep/prices/apply.ts';
import { compare } from '../../server/src/upkeep/prices/compare.ts';
import { readPriceFile } from '../../server/src/upkeep/prices/intake.ts';
import { changedTexts } from '../../server/src/upkeep/prices/texts.ts';

const COUNT = 100_000;
const ids = Array.from({ length: COUNT }, (_, i) => `N-${String(i).padStart(6, '0')}`);
const yaml = [
  'kind: parts\nparts:\n',
  ...ids.map(
    (id, i) =>
      `  ${id}:\n    name: Part ${i} # as printed\n    kind: soft\n    condition: new\n    cost: ${(i % 900) + 10}.50\n    list: ${(i % 900) * 2 + 30}.00\n`,
  ),
].join('');
const csv = [
  'Item,Description,Net,List',
  ...ids.map(
    (id, i) => `${id},"Part ${i}, sealed",${(i % 900) + 10}.${i % 2 ? 50 : 75},${(i % 900) * 2 + 30}.00`,
  ),
].join('\n');
const bytes = new TextEncoder().encode(csv);

function timed<T>(what: string, work: () => T): T {
  const start = performance.now();
  const result = work();
  process.stdout.write(`${what}: ${((performance.now() - start) / 1000).toFixed(2)} s\n`);
  return result;
}
function done<T>(steps: Generator<number, T>): T {
  for (;;) {
    const step = steps.next();
    if (step.done) return step.value;
  }
}

const book = new Book('file:///book/', NO_HOST);
timed('open the book', () => book.put('file:///book/a.parts.yaml', yaml));
timed('csv-parse alone', () => parse(csv));
const rows = timed('read the price file', () => readPriceFile(bytes));
if (typeof rows === 'string') throw new Error(rows);
const found = timed('compare', () => done(compare(book, rows, { on: isoDate('2026-06-01') })));
const made = timed('edits', () => done(priceEdits(book, found, { accepts: () => false })));
const texts = timed('texts', () => changedTexts(made.edits));
process.stdout.write(`${found.changes.length} changed, ${made.written.size} written, ${texts.size} file\n`);
