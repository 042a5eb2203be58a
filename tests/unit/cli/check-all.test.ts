import { join } from 'node:path';
import { expect, test } from 'vitest';
import { reports } from '../../../server/src/cli/check.ts';
import { checkAll } from '../../../server/src/cli/check-all.ts';
import { openBook } from '../../../server/src/cli/open.ts';
import { percentOn } from '../../../server/src/cli/percent.ts';

const SAMPLE = join(import.meta.dirname, '../../../samples/quarrow-creek');

test('helpers find together what one finds alone, and say how far they are', async () => {
  const alone = reports(openBook(SAMPLE));
  const parts: number[] = [];
  const { found, files } = await checkAll(SAMPLE, (part) => parts.push(part), 1);
  expect(alone.length).toBeGreaterThan(0);
  expect(found).toEqual(alone);
  expect(parts.length).toBeLessThanOrEqual(files);
  expect(parts).toEqual(parts.toSorted((a, b) => a - b));
  expect(parts.at(-1)).toBe(1);
}, 60_000);

test('shares of a book leave no file out and tell none twice', () => {
  const opened = openBook(SAMPLE);
  const all = [0, 1, 2].flatMap((share) => reports(opened, { share, of: 3 }));
  const sorted = (found: typeof all) => found.map((one) => JSON.stringify(one)).sort();
  expect(sorted(all)).toEqual(sorted(reports(opened)));
});

test('a terminal is told how far it is after a second, and left clean; a pipe is told nothing', () => {
  const written: string[] = [];
  const terminal = { isTTY: true, write: (text: string) => written.push(text) };
  let clock = 0;
  const tell = percentOn(terminal as unknown as NodeJS.WriteStream, () => clock);
  for (const part of [0.1, 0.25, 0.5, 1]) {
    tell(part);
    clock += 600;
  }
  expect(written).toEqual(['\rChecking the shop book: 50 %', '\r\u001b[K']);
  written.length = 0;
  percentOn({ ...terminal, isTTY: false } as unknown as NodeJS.WriteStream, () => clock)(0.5);
  expect(written).toEqual([]);
});
