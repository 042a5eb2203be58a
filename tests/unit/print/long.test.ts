import { expect, it } from 'vitest';
import { sum } from '../../../schemas/values/decimal.ts';
import { formatMoney } from '../../../schemas/values/money.ts';
import { leavesOf } from '../../../server/src/print/carry.ts';
import { printJob } from '../../../server/src/print/print.ts';
import { sheetOf } from '../../../server/src/print/sheets/context.ts';
import { linesTable } from '../../../server/src/print/sheets/lines.ts';
import { pageOf, pdfPages, smallBook } from './paper.ts';

const LINES = 300;
const lines = Array.from(
  { length: LINES },
  (_, i) =>
    `  - { other: Part number ${i} of many, category: parts, price: ${i}.37, condition: used, say: "${'Why it is here. '.repeat(i % 5)}" }`,
).join('\n');
const { source } = smallBook(
  {
    'shop.yaml': 'kind: shop\nname: Long Shop\nlocale: en-US\ncurrency: USD\n',
    'L.job.yaml': `kind: job\nid: L-1\nopened: 2026-01-01\nunit: u\nlines:\n${lines}\n`,
  },
  'L-1',
);
const option = source.estimate.options[0]!;
const { priced } = option;
const table = linesTable(sheetOf(source, 'customer'), priced, { option, caption: 'x' });
const leaves = leavesOf(table);
const money = (value: Parameters<typeof formatMoney>[0]) => formatMoney(value, 'USD', 'en-US');

it('carries the total of three hundred lines from page to page', () => {
  expect(leaves.length).toBeGreaterThan(8);
  let running = sum([]);
  for (const [i, leaf] of leaves.entries()) {
    if (i > 0) expect(leaf.brought?.cells.at(-1)).toBe(money(running));
    running = running.plus(sum(leaf.rows.flatMap((row) => (row.adds ? [row.adds] : []))));
    if (i < leaves.length - 1) expect(leaf.carried?.cells.at(-1)).toBe(money(running));
  }
  // Nothing is lost on the way: what is carried in the end is what the engine counts.
  expect(running.toString()).toBe(priced.subtotal.value.toString());
  expect(leaves.flatMap((leaf) => leaf.rows)).toEqual(table.rows);
});

it('breaks between pages, with the heads of the columns on each', async () => {
  const page = pageOf((await printJob(source, 'customer', 'html')) as string);
  expect(page.querySelectorAll('tbody.leaf')).toHaveLength(leaves.length);
  expect(page.querySelectorAll('tr.carry')).toHaveLength(2 * (leaves.length - 1));
  const pages = await pdfPages((await printJob(source, 'customer', 'pdf')) as Uint8Array);
  const carrying = pages.filter((text) => text.includes('Carried forward'));
  expect(carrying).toHaveLength(leaves.length - 1);
  const carried = carrying.map((text) => /Carried forward\s*(\$[\d,.]+)/.exec(text)?.[1]);
  const brought = pages.flatMap((text) => /Brought forward\s*(\$[\d,.]+)/.exec(text)?.[1] ?? []);
  expect(brought).toEqual(carried);
  for (const text of carrying) expect(text).toContain('Quantity');
});
