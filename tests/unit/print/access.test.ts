import axe from 'axe-core';
import { JSDOM } from 'jsdom';
import { expect, it } from 'vitest';
import { printJob, type SheetName } from '../../../server/src/print/print.ts';
import { sampleJob } from './paper.ts';

/** What only a browser that lays a page out can tell. */
const NEEDS_LAYOUT = ['color-contrast', 'target-size', 'scrollable-region-focusable'];

/** A page may not run our script here: axe runs beside it. */
async function found(html: string) {
  const { window } = new JSDOM(html, { runScripts: 'outside-only', pretendToBeVisual: true });
  window.eval(axe.source);
  const { violations } = await (window as unknown as { axe: typeof axe }).axe.run(window.document, {
    rules: Object.fromEntries(NEEDS_LAYOUT.map((rule) => [rule, { enabled: false }])),
  });
  return violations.map(
    ({ id, nodes }) => `${id}: ${nodes.map((node) => node.html.slice(0, 160)).join(' | ')}`,
  );
}

it.each<[string, SheetName]>([
  ['J-1042', 'customer'],
  ['J-1076', 'customer'],
  ['J-1042', 'invoice'],
  ['J-1042', 'bench'],
  ['J-1042', 'order'],
  ['J-1042', 'talk'],
])('axe finds nothing in %s as %s', async (job, sheet) => {
  const html = (await printJob(sampleJob(job).source, sheet, 'html')) as string;
  expect(await found(html)).toEqual([]);
});

it('axe would find something', async () => {
  expect(await found('<html><body><img src="data:,"></body></html>')).not.toEqual([]);
});

it('meets contrast 7:1 for its text (WCAG 2.2, 1.4.6), by the formula of relative luminance', () => {
  const luminance = (hex: string) => {
    const [r, g, b] = [1, 3, 5]
      .map((at) => Number.parseInt(hex.slice(at, at + 2), 16) / 255)
      .map((c) => (c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4));
    return 0.2126 * r! + 0.7152 * g! + 0.0722 * b!;
  };
  const contrast = (a: string, b: string) =>
    (Math.max(luminance(a), luminance(b)) + 0.05) / (Math.min(luminance(a), luminance(b)) + 0.05);
  for (const [text, paper] of [
    ['#1f2a44', '#ffffff'],
    ['#454e66', '#ffffff'],
    ['#454e66', '#f3f4f8'],
  ] as const)
    expect(contrast(text, paper)).toBeGreaterThan(7);
});
