/** What a shop admin would want to put in order. */
import { expect, it } from 'vitest';
import { isoDate } from '../../../schemas/values/dates.ts';
import { health } from '../../../server/src/upkeep/health/health.ts';
import { healthReport } from '../../../server/src/upkeep/health/report.ts';
import { reportText } from '../../../server/src/upkeep/report/text.ts';
import { finished, job, LINES, SHOP, scene } from './upkeep-book.ts';

function found(source: string, months = 12): string[] {
  const { estimates } = scene(source);
  return finished(health(estimates, { on: isoDate('2026-06-01'), months })).findings.map(
    ({ check, id, says }) => `${check} ${id}: ${says}`,
  );
}

/** Everything of the book is used. */
const USED = SHOP + job('J-1', LINES);
const parts = (entries: string) => `=== more.parts.yaml\nkind: parts\nparts:\n${entries}\n`;
const use = (...ids: readonly string[]) =>
  job('J-2', `completed: 2026-02-09\nlines: [${ids.map((id) => `{ part: ${id} }`).join(', ')}]`);

it('has nothing to say of a book in order', () => {
  const { book, estimates } = scene(USED);
  const made = finished(health(estimates, { on: isoDate('2026-06-01'), months: 12 }));
  expect(made.findings).toEqual([]);
  expect(reportText(healthReport(book, made, 12))).toContain('Nothing to put in order.');
});

it('finds what nothing names, but not what a rule asks for by its role, nor what a call of a template gives', () => {
  const more = parts(`  A-1: { name: A, kind: soft, cost: 1.00 }
  B-1: { name: B, kind: soft, cost: 1.00, role: seal }
  C-1: { name: C, kind: soft, cost: 1.00 }`);
  const rules = `=== r.rules.yaml
kind: rules
roles: { seal: { name: Seal, of: part } }
rules: { r: { when: { unit: alpha }, requires: [{ role: seal }], because: it wears } }
=== t.template.yaml
kind: template
id: t
name: T
parameters: { p: { type: part } }
lines: [{ part: $p }]
`;
  const call = job('J-2', 'completed: 2026-02-09\nlines: [{ template: t, with: { p: C-1 } }]');
  expect(found(USED + more + rules + call)).toEqual(['unused A-1: part that nothing names']);
});

it('finds what has no price, what is sold below cost, and what was last priced long ago', () => {
  const more = parts(`  A-1: { name: A, kind: soft }
  B-1: { name: B, kind: soft, cost: 5.00, price: 4.50, reason: agreed }
  C-1: { name: C, kind: soft, prices: [{ from: 2025-05-31, cost: 1.00 }] }
  D-1: { name: D, kind: soft, prices: [{ from: 2025-06-01, cost: 1.00 }] }
  K-1: { name: K, kind: kit, kit-price: contents, contents: [{ part: D-1 }] }`);
  expect(found(USED + more + use('A-1', 'B-1', 'C-1', 'D-1', 'K-1'))).toEqual([
    'below-cost B-1: costs 5, sold at 4.5',
    'never-priced A-1: neither cost nor price',
    'old-price C-1: last priced 2025-05-31',
  ]);
});

it('finds one thing under two numbers, unless one is said to serve for the other', () => {
  const more = parts(`  24-E7: { name: Ring, kind: soft, cost: 1.00 }
  24e7: { name: Other, kind: soft, cost: 1.00 }
  P-1: { name: Plate, kind: soft, cost: 1.00, holds: 4 }
  P-2: { name: plate, kind: soft, cost: 1.10, holds: 4 }
  P-3: { name: Plate, kind: soft, cost: 1.00, holds: 5 }
  Q-1: { name: Disc, kind: soft, cost: 1.00, alternates: [Q-2] }
  Q-2: { name: Disc, kind: soft, cost: 1.00 }`);
  expect(found(USED + more + use('24-E7', '24e7', 'P-1', 'P-2', 'P-3', 'Q-1', 'Q-2'))).toEqual([
    'same-thing 24e7: like 24-E7: the same number of the same supplier, written otherwise',
    'same-thing P-2: like P-1: the same name, kind and fit',
  ]);
});

it('finds templates that no longer come out, and numbers that were replaced and are still named', () => {
  const more = parts(`  OLD: { name: A, kind: soft, cost: 1.00, superseded-by: { part: NEW } }
  NEW: { name: B, kind: soft, cost: 1.00 }`);
  const template = `=== t.template.yaml
kind: template
id: t
name: T
lines: [{ part: GONE }, { part: OLD }]
`;
  const [broken, replaced, ...rest] = found(USED + more + template + job('J-2', 'lines: [{ template: t }]'));
  expect(broken).toMatch(/^broken-template t: There is no part "GONE"/);
  expect(replaced).toBe('replaced OLD: NEW took its place; named by template t');
  expect(rest).toEqual([]);
});

it('finds open jobs under the floors of the shop', () => {
  const thin = SHOP.replace('effective-rate: 120.00', 'effective-rate: 180.00');
  expect(found(thin + job('J-1', LINES))).toEqual(['thin-margin J-1: an hour sold brings 172.50']);
});
