/** What changed between two states of a book, in the shop's words. */
import { expect, it } from 'vitest';
import { compareBooks } from '../../../server/src/upkeep/compare/compare.ts';
import { comparisonReport } from '../../../server/src/upkeep/compare/report.ts';
import { reportMarkdown } from '../../../server/src/upkeep/report/markdown.ts';
import { reportText } from '../../../server/src/upkeep/report/text.ts';
import { finished, job, LINES, SHOP, scene } from './upkeep-book.ts';

const BEFORE = SHOP + job('J-1', LINES) + job('J-2', 'lines: [{ operation: look }]');

function compared(change: (source: string) => string) {
  const [was, is] = [scene(BEFORE), scene(change(BEFORE))];
  const found = finished(compareBooks(was.estimates, is.estimates));
  return { found, report: comparisonReport(is.book, found, 'What changed') };
}

it('tells prices first, the largest change before the others, and the open jobs that move', () => {
  const { report } = compared((source) =>
    source
      .replace('cost: 10.00 }', 'cost: 10.00, prices: [{ from: 2026-01-01, cost: 12.00 }] }')
      .replace('cost: 200.00', 'cost: 210.00')
      .replace('hourly: 150.00', 'hourly: 160.00')
      .replace('rate: 5%', 'rate: 6%'),
  );
  const rows = report.tables.map(({ title, rows }) => [
    title,
    rows.map((row) => row.map(({ text }) => text)),
  ]);
  expect(rows.slice(0, 3)).toEqual([
    [
      'Prices of parts',
      [
        ['GSK-1', 'Gasket', 'Cost from 2026-01-01', '$10.00', '$12.00', '+20%'],
        ['DRM-1', 'Drum', 'Cost', '$200.00', '$210.00', '+5%'],
      ],
    ],
    [
      'Rates, bands, fees, hours and other figures',
      [
        ['shop shop.yaml', 'Labor rates, bench, Rate', '150.00', '160.00', '+6.7%'],
        ['jurisdiction here', 'Taxes, no. 1, Rate', '5%', '6%', '+20%'],
      ],
    ],
    // 4 h x 10.00, 3 x 4.00, 15.00, and tax: 6% of 426.95 is 25.62 where 5% of 399.95 was 20.00
    ['Open jobs with another total', [['J-1', '', '$1,261.95', '$1,334.57', '+$72.62', '']]],
  ]);
});

it('tells what came, what went, and what else is said differently', () => {
  const { report, found } = compared((source) =>
    source
      .replace('  BLT-1: { name: Bolt,', '  BLT-2: { name: Long bolt,')
      .replace('name: Drum', 'name: Drum with hub')
      .replace('part: BLT-1', 'part: BLT-2')
      .replace('id: J-2', 'id: J-7'),
  );
  expect(found.came.map(({ kind, id }) => `${kind} ${id}`)).toEqual(['part BLT-2', 'job J-7']);
  expect(found.went.map(({ kind, id }) => `${kind} ${id}`)).toEqual(['part BLT-1', 'job J-2']);
  expect(reportText(report)).toMatch(/part DRM-1 +Name +Drum +Drum with hub/);
  expect(found.changedJobs).toEqual(['J-1']);
});

it('says nothing of comments, order and quotes', () => {
  const { report } = compared((source) =>
    source.replace('# the case gasket', '# another word').replace('name: Drum,', 'name: "Drum",'),
  );
  expect(report.lead).toEqual(['Nothing has changed in this book.']);
});

it('can be posted as a comment, whatever a name holds', () => {
  const { report } = compared((source) =>
    source.replace('name: Drum,', `name: "@team | <img src=x> [a](http://e.x) #12 \`x\` *b* \\u202Ertl $$",`),
  );
  const markdown = reportMarkdown(report);
  const row = markdown.split('\n').find((line) => line.includes('img'))!;
  expect(row).toContain('@\u2060team \\|');
  expect(row).toContain('\\<img src=x\\> \\[a\\]\\(http:\u2060//e.x\\) \\#\u206012 \\`x\\` \\*b\\*');
  expect(row).not.toContain('\u202e');
  expect(row.split(/(?<!\\)\|/)).toHaveLength(6);
});
