import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';
import { expect, it } from 'vitest';
import { SourceFile } from '../../../server/src/syntax/file.ts';

setFlagsFromString('--expose-gc');
const collect: () => void = runInNewContext('gc');

function memory(): { heap: number; outside: number } {
  collect();
  collect();
  const { heapUsed, external } = process.memoryUsage();
  return { heap: heapUsed / 1e6, outside: external / 1e6 };
}

it('an open catalog keeps its pieces and not the text it was opened from', async () => {
  const entries = Array.from(
    { length: 60_000 },
    (_, i) =>
      `  PART-NUMBER-${i}:\n    name: Gasket ${i}, pan side\n    cost: ${i}.10\n    note: ${'x'.repeat(120)}\n`,
  );
  // A text made from bytes lies outside the heap, as one read from a file does.
  let text = Buffer.from(`parts:\n${entries.join('')}`).toString();
  const megabytes = text.length / 1e6;
  entries.length = 0;
  const before = memory();
  const file = SourceFile.open('file:///x.yaml', text, new Set(['parts']));
  text = '';
  // Lets go of what the stack still holds.
  await new Promise((resolve) => setTimeout(resolve));
  const after = memory();
  expect(file.size).toBe(60_001);
  expect(before.outside - after.outside).toBeGreaterThan(megabytes * 0.9);
  expect(after.heap - before.heap).toBeGreaterThan(megabytes * 0.9);
  expect(after.heap - before.heap).toBeLessThan(megabytes + 20);
});
