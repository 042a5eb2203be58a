import { expect, test } from 'vitest';
import { Book } from '../../../server/src/book/book.ts';
import { NO_HOST } from '../../../server/src/book/host.ts';
import { Estimates } from '../../../server/src/estimate/estimates.ts';
import { Lookups, Watch } from '../../../server/src/estimate/watch.ts';

test('a look-up is made once for each version, however many answers come from it', () => {
  let version = 1;
  let made = 0;
  let value = 'old';
  const lookups = new Lookups(() => version);
  const get = () => {
    made++;
    return value;
  };
  const watches = Array.from({ length: 5 }, () => new Watch(lookups));
  for (const watch of watches) expect(watch.note('part', 'A', get)).toBe('old');
  expect(made).toBe(1);

  version = 2;
  expect(watches.map((watch) => watch.holds())).toEqual([true, true, true, true, true]);
  expect(made).toBe(2);

  version = 3;
  value = 'new';
  expect(watches.map((watch) => watch.holds())).toEqual([false, false, false, false, false]);
  const later = new Watch(lookups);
  expect(later.note('part', 'A', get)).toBe('new');
  expect(later.holds()).toBe(true);
  expect(made).toBe(3);
});

test('the same id of another kind is another look-up', () => {
  const watch = new Watch(new Lookups(() => 1));
  expect(watch.note('part', 'A', () => 1)).toBe(1);
  expect(watch.note('operation', 'A', () => 2)).toBe(2);
});

test('of many jobs the estimates asked for last stay, and the problems of all; both follow the book', () => {
  const book = new Book('file:///book/', NO_HOST);
  const parts = (cost: string) =>
    `kind: parts\nparts:\n  P-1: { name: Seal, kind: soft, condition: new, cost: ${cost} }\n`;
  book.put('file:///book/a.parts.yaml', parts('4.00'));
  const jobs = Array.from({ length: 100 }, (_, i) => `file:///book/J-${i}.job.yaml`);
  for (const [i, uri] of jobs.entries())
    book.put(
      uri,
      `kind: job\nid: J-${i}\nunit: any\nopened: 2026-01-05\nlines:\n  - part: P-${(i % 2) + 1}\n`,
    );
  const estimates = new Estimates(book);
  const files = jobs.map((uri) => book.file(uri)!);
  const costOf = (i: number) => estimates.of(files[i]!)!.options[0]!.priced.inside.cost.value.toFixed(2);
  for (const file of files) estimates.problemsOf(file);
  expect(costOf(0)).toBe('4.00');
  const last = estimates.of(files[98]!);
  const first = files.map((file) => estimates.problemsOf(file));

  book.put('file:///book/b.parts.yaml', 'kind: parts\nparts:\n');
  expect(files.every((file, i) => estimates.problemsOf(file) === first[i])).toBe(true);
  expect(estimates.of(files[98]!)).toBe(last);

  book.put('file:///book/a.parts.yaml', parts('5.00'));
  expect(costOf(0)).toBe('5.00');
  expect(estimates.problemsOf(files[1]!)).toBe(first[1]);
});
