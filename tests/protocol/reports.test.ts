/** Reports over the book as the editor asks for them, and prices locked and given up by code action. */
import { afterAll, beforeAll, expect, it } from 'vitest';
import type { CodeAction, InlayHint } from 'vscode-languageserver/node';
import { reportPage } from '../../client/upkeep/report-html.ts';
import type { ReportAnswer } from '../../server/src/features/upkeep/reports.ts';
import type { ReportParams } from '../../server/src/lsp/upkeep.ts';
import { job, LINES, SHOP } from '../unit/upkeep/upkeep-book.ts';
import { Client } from './client.ts';

const FILES = Object.fromEntries(
  `${SHOP}${job('J-1', LINES)}`
    .split(/^=== /m)
    .slice(1)
    .map((part) => [part.slice(0, part.indexOf('\n')), part.slice(part.indexOf('\n') + 1)]),
);
const LOCKED = `kind: job
id: J-2
opened: 2026-02-02
unit: alpha
lines: [{ operation: build }]
lock: { on: 2026-02-03, rates: { bench: 140.00 }, totals: { job: 616.00 } }
`;
const OLD = `kind: parts
parts:
  OLD-1: { name: Seal, kind: soft, cost: 4.00, superseded-by: { part: GSK-1 } }
`;
const NAMES_IT = 'kind: job\nid: J-3\nopened: 2026-02-02\nunit: alpha\nlines: [{ part: OLD-1 }]\n';

let client: Client;
beforeAll(async () => {
  client = await Client.start({
    ...FILES,
    'J-2.job.yaml': LOCKED,
    'old.parts.yaml': OLD,
    'J-3.job.yaml': NAMES_IT,
  });
});
afterAll(() => client.stop());

const report = (params: ReportParams) => client.ask<ReportAnswer>('gearquill/report', params);

it('drift of the book and of one job, with links to where it is written', async () => {
  const { markdown } = await report({ report: 'drift' });
  // 4 h x 10.00 and a tenth of it as supplies, which are below their most here
  expect(markdown).toContain(`| [J-2](<${client.uri('J-2.job.yaml')}#L6>) |`);
  expect(markdown).toContain('\\$616.00 | \\$660.00 | +\\$44.00');
  const one = await report({ report: 'drift', uri: client.uri('J-2.job.yaml') });
  expect(one.report.tables[0]?.rows.map((row) => row[0]?.text)).toEqual(['Build it', 'Shop supplies']);
  await expect(report({ report: 'drift', uri: client.uri('J-1.job.yaml') })).rejects.toThrow(
    'The prices of J-1 are not locked',
  );
});

it('what unsaved edits would do, against what is on disk, as a page without script', async () => {
  const saved = FILES['shop.yaml']!;
  await client.open('shop.yaml', saved.replace('hourly: 150.00', 'hourly: 160.00'));
  const made = await report({
    report: 'what-if',
    over: 'open',
    saved: [{ uri: client.uri('shop.yaml'), text: saved }],
    set: [],
  });
  await client.close('shop.yaml');
  expect(made.bars).toEqual([{ name: 'J-1', label: '+$40.00', value: 40 }]);
  const words = {
    language: 'en',
    css: 'x.css',
    source: 'y:',
    dearer: 'dearer',
    cheaper: 'cheaper',
    chart: 'Chart',
  };
  const page = reportPage({ ...made, bars: [{ name: '<b>"J', label: '+$1.00', value: 1 }] }, words);
  expect(page).toContain(`content="default-src &#39;none&#39;; style-src y:;`);
  expect(page).not.toMatch(/<script|style=|<b>/);
});

it('what a figure would do, and what is wrong with the question', async () => {
  const asked = { report: 'what-if', over: 'open', saved: [] } as const;
  const made = await report({ ...asked, set: ['rates.bench.hourly=+10%'] });
  expect(made.report.lead[0]).toBe('rates.bench.hourly in shop.yaml: 150.00 → 165.00');
  await expect(report({ ...asked, set: ['rats.bench=1'] })).rejects.toThrow('Did you mean rates?');
  await expect(report({ ...asked, set: [] })).rejects.toThrow('Nothing would change');
});

it('health, and what changed since files were otherwise', async () => {
  const { markdown } = await report({ report: 'health', months: 12 });
  expect(markdown).toContain('GSK-1 took its place; named by job J-3');
  const older = [
    { uri: client.uri('a.parts.yaml'), text: FILES['a.parts.yaml']!.replace('cost: 10.00', 'cost: 8.00') },
    { uri: client.uri('old.parts.yaml'), text: null },
  ];
  const made = await report({ report: 'compare', title: 'Since then', older });
  expect(made.report.tables[0]?.rows.map((row) => row.map(({ text }) => text))).toEqual([
    ['GSK-1', 'Gasket', 'Cost', '$8.00', '$10.00', '+25%'],
  ]);
  expect(made.markdown).toContain('| part | OLD-1 | Seal |');
});

it('a lock shows its drift, and is written, given up and followed by code actions', async () => {
  const range = (line: number) => ({ start: { line, character: 0 }, end: { line, character: 0 } });
  const actions = async (name: string, line: number) =>
    (
      await client.ask<CodeAction[]>('textDocument/codeAction', {
        textDocument: { uri: client.uri(name) },
        range: range(line),
        context: { diagnostics: [], only: ['refactor.rewrite'] },
      })
    ).map(({ title }) => title);
  expect(await actions('J-1.job.yaml', 0)).toContain('Lock the prices of this estimate');
  expect(await actions('J-2.job.yaml', 0)).toEqual([]);
  expect(await actions('J-2.job.yaml', 5)).toContain("Re-price at today's prices: $660.00 (+$44.00)");
  expect(await actions('old.parts.yaml', 2)).toEqual(['Write GSK-1 for OLD-1 in 1 job, template or kit']);
  const hints = await client.ask<InlayHint[]>('textDocument/inlayHint', {
    textDocument: { uri: client.uri('J-2.job.yaml') },
    range: { start: { line: 5, character: 0 }, end: { line: 6, character: 0 } },
  });
  expect(hints.map(({ label }) => (label as { value: string }[])[0]?.value)).toEqual([
    'today $660.00, +$44.00',
  ]);
});
