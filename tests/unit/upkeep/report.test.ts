/** Reports for a terminal, a spreadsheet and a page: what somebody typed does nothing there. */
import { expect, it } from 'vitest';
import { tableCsv } from '../../../server/src/upkeep/report/csv.ts';
import { escaped, reportMarkdown } from '../../../server/src/upkeep/report/markdown.ts';
import { cell, type Report } from '../../../server/src/upkeep/report/report.ts';
import { reportText } from '../../../server/src/upkeep/report/text.ts';

const REPORT: Report = {
  title: 'Parts',
  lead: ['Two of them.'],
  tables: [
    {
      title: 'All',
      columns: [{ head: 'Name' }, { head: 'Cost', figure: true }],
      rows: [
        [cell('Ring', { uri: 'file:///shop/a.yaml', line: 4 }), cell('$1.00')],
        [cell('Wide\u001b[31m drum\n2'), cell('$250.00')],
      ],
      sum: [cell('2 parts'), cell('$251.00')],
    },
    { title: 'None', columns: [{ head: 'Name' }], rows: [] },
  ],
};

it('sets columns for a terminal, which nothing that was typed can steer', () => {
  expect(reportText(REPORT).split('\n')).toEqual([
    'Parts',
    'Two of them.',
    '',
    'All',
    'Name                 Cost',
    '─────────────────────────',
    'Ring                $1.00',
    'Wide [31m drum 2  $250.00',
    '─────────────────────────',
    '2 parts           $251.00',
  ]);
});

it('gives a page its links, and a pull request none', () => {
  expect(reportMarkdown(REPORT, ({ uri, line }) => `${uri}#L${line + 1}`)).toContain(
    '| [Ring](<file:///shop/a.yaml#L5>) | \\$1.00 |',
  );
  expect(reportMarkdown(REPORT)).toContain('| Ring | \\$1.00 |');
});

// The CommonMark specification, 0.31.2, section 2.4: ASCII punctuation after a backslash is text.
it.each([
  ['a|b', 'a\\|b'],
  ['**x** _y_ `z`', '\\*\\*x\\*\\* \\_y\\_ \\`z\\`'],
  ['<script>', '\\<script\\>'],
  ['![x](javascript:y)', '\\!\\[x\\]\\(javascript:y\\)'],
  ['&amp;', '\\&amp;'],
  ['- item', '\\- item'],
  ['1. item', '1\\. item'],
  ['line\nbreak', 'line break'],
])('%j is text in Markdown', (typed, written) => {
  expect(escaped(typed)).toBe(written);
});

it.each(['=1+1', '+1', '-1', '@x', '\t=1', ' =1', '＝1'])('%j is no formula in a spreadsheet', (typed) => {
  // OWASP, CSV injection: cells that begin with these signs, from memory.
  const [, row] = tableCsv(['name', 'cost'], [{ name: typed, cost: '-1.50' }], ['cost']).split('\r\n');
  expect(row).toMatch(/^'.*,-1\.50$/);
});
