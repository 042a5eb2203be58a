/** Whole sales to the cent. */
import { describe, expect, test } from 'vitest';
import { explain, lineOf } from '../../../server/src/pricing/amount.ts';
import { priceTeardown } from '../../../server/src/pricing/teardown.ts';
import { taxing } from '../../fixtures/jurisdictions.ts';
import { bookOf, catalogOf, cents, codes, message, policyOf, priced, saleOf, shopOf, total } from './book.ts';

const SHOP = `
rates:
  diagnostic: {name: Diagnostic, hourly: 165.00, cost: 48.00}
  general: {name: General, hourly: 148.00, cost: 48.00}
  bench: {name: Bench, hourly: 155.00, cost: 48.00}
schedules:
  std:
    bands:
      - {below: 10.00, factor: 3.00}
      - {below: 50.00, factor: 2.20}
      - {below: 200.00, factor: 1.75}
      - {below: 1000.00, factor: 1.45}
      - {factor: 1.25}
pricing: {parts: std}
supplies: {rate: 6%, on: [labor], maximum: 75.00}
fees: {waste: {name: Waste fluid disposal, amount: 18.00, automatic: yes, with-role: fluid}}
`;
const BOOK = (core: string) => `
steps: {unit-out: {name: Unit out and back in, hours: 6.6}}
operations:
  diagnose: {name: Diagnosis, work: diagnosis, rate: diagnostic, hours: 1.5}
  rr-unit:
    name: Remove and refit the unit
    work: removal
    rate: general
    hours: 1.2
    steps: [unit-out]
    adders:
      four-wheel: {name: 4WD transfer case, hours: 1.2, when: {drive: [4wd]}}
      rust: {name: Rust, hours: 0.5, judged: yes}
  overhaul: {name: Overhaul, work: bench, rate: bench, hours: 9.5}
  relearn: {name: Programming and relearn, work: programming, rate: diagnostic, hours: 0.8}
parts:
  OHK: {name: Overhaul kit, kind: kit, cost: 228.00}
  TC: {name: Torque converter, kind: converter, cost: 265.00, condition: rebuilt${core}}
  FIL: {name: Filter, kind: filter, cost: 22.40}
  SOL: {name: Solenoid, kind: electrical, cost: 38.50}
  BUSH: {name: Bushing kit, kind: soft, cost: 44.00}
  ATF: {name: Fluid B, kind: fluid, cost: 8.90, price: 13.50, role: fluid}
units:
  birch-6: {name: Birch-6, layout: rear, fluid-class: B, capacities: {dry: 11.0 L, service: 5 qt}}
`;
const JOB = `
vehicle: {drive: 4wd}
lines:
  - operation: diagnose
  - {operation: rr-unit, adders: [rust], reason: studs broken off}
  - operation: overhaul
  - operation: relearn
  - part: OHK
  - part: TC
  - part: FIL
  - part: SOL
  - part: BUSH
  - {fill: dry, part: ATF, loss: 1 qt}
discounts: [{name: Five, percent: 5%, on: [labor]}]
`;

// trade.md 2.22, the worked whole; figures invented, order fixed by the design.
describe('the worked whole', () => {
  const sale = priced({ book: BOOK(''), shop: SHOP, in: taxing('7.25%', 'parts, fluids, cores'), job: JOB });
  test('each part of it', () => {
    const subtotal = (category: Parameters<typeof sale.subtotals.get>[0]) =>
      cents(sale.subtotals.get(category)!.value);
    expect(sale.lines.filter(({ kind }) => kind === 'part').map((line) => cents(line.amount.value))).toEqual([
      '330.60',
      '384.25',
      '49.28',
      '84.70',
      '96.80',
    ]);
    expect(
      (['parts', 'fluids', 'labor', 'supplies', 'fees', 'sublet', 'cores'] as const).map(subtotal),
    ).toEqual(['945.63', '175.50', '3258.00', '75.00', '18.00', '0.00', '0.00']);
    expect(cents(sale.discounts[0]!.amount.value)).toBe('162.90');
    expect([cents(sale.tax.taxable.value), cents(sale.tax.amount.value)]).toEqual(['1121.13', '81.28']);
  });
  test('total 4,390.51', () => {
    expect(total(sale)).toBe('4390.51');
    expect([codes(sale), sale.complete]).toEqual([[], true]);
  });
  test('with a core of 120.00, taxed 8.70: 4,519.21', () => {
    const withCore = priced({
      book: BOOK(', core: 120.00'),
      shop: SHOP,
      in: taxing('7.25%', 'parts, fluids, cores'),
      job: JOB,
    });
    expect(total(withCore)).toBe('4519.21');
    expect(cents(withCore.lines.find(({ kind }) => kind === 'core')!.tax)).toBe('8.70');
  });
  test('the tree of the total leads down to what is written in the book', () => {
    const lines = explain(sale.total);
    expect(lines[0]).toBe('Total: 4390.51 = 4309.23 + 81.28');
    expect(lines).toContain('    Filter: 49.28 = 1 each × 49.28');
    expect(lines).toContain('        Cost: 22.40 [part FIL, cost]');
    expect(lineOf(sale.tax.amount)).toBe('Tax: 81.28, rounded from 81.281925');
  });
});

// trade.md 2.19; figures invented, formulas common practice.
test('gross profit 3,180.60 = 58.11% = 149.32 an hour', () => {
  const sale = priced({
    book: BOOK(''),
    shop: `${SHOP}floors: {gross-profit: 60%, effective-rate: 155.00}`.replace(
      'supplies: {rate: 6%',
      'supplies: {rate: 0%',
    ),
    in: taxing('8%'),
    job: `
vehicle: {drive: 4wd}
lines:
  - operation: diagnose
  - {operation: rr-unit, adders: [rust], reason: studs broken off}
  - operation: overhaul
  - operation: relearn
  - {other: Parts, category: parts, price: 2140.00, cost: 1230.00}
  - {other: Fees, category: fees, price: 75.00, cost: 40.00}
`,
  });
  const { inside } = sale;
  expect(cents(inside.sale.value)).toBe('5473.00');
  expect(cents(inside.cost.value)).toBe('2292.40');
  expect(cents(inside.profit.value)).toBe('3180.60');
  expect(inside.profitShare!.value.toString()).toBe('0.5811');
  expect(cents(inside.profitPerHour!.value)).toBe('149.32');
  expect(cents(inside.effectiveRate!.value)).toBe('152.96');
  expect(inside.costKnown).toBe(true);
  expect(message(sale, 'profit-below-floor')).toContain('58.11% of the sale; the shop');
  expect(message(sale, 'rate-below-floor')).toContain('brings 152.96');
});

test('cores and tax are no sale, labor given away costs all the same, an unknown cost is said', () => {
  const sale = priced({
    book: `
parts: {TC: {name: Converter, kind: converter, price: 384.25, core: 120.00}}
operations: {o: {name: Overhaul, work: bench, rate: bench, hours: 2}}
`,
    shop: SHOP,
    in: taxing('8%'),
    job: 'lines: [{part: TC}, {operation: o, no-charge: yes}]',
  });
  expect(cents(sale.inside.sale.value)).toBe('384.25');
  expect(cents(sale.inside.cost.value)).toBe('96.00');
  expect(sale.inside.costKnown).toBe(false);
  expect(sale.inside.effectiveRate).toBeUndefined();
});

// trade.md 2.20 (S7: chargeable there only if disclosed before); figures invented.
describe('teardown', () => {
  const book = `
operations:
  remove: {name: Remove, work: removal, rate: general, hours: 3.9}
  teardown: {name: Teardown, work: teardown, rate: bench, hours: 3.0}
  reassemble: {name: Reassemble, work: reassembly, rate: bench, hours: 4.0}
  reinstall: {name: Reinstall, work: install, rate: general, hours: 3.9}
`;
  const shop = shopOf(
    'rates: {general: {name: General, hourly: 148.00}, bench: {name: Bench, hourly: 155.00}}',
  );
  const sale = saleOf(`
lines:
  - operation: remove
  - operation: teardown
  - {other: Gaskets and seals destroyed, category: parts, price: 92.00}
  - operation: reassemble
  - operation: reinstall
`);
  const parts = (inBoxes: boolean) => ({
    lines: sale.lines.slice(0, 3),
    ifDeclined: sale.lines.slice(3),
    inBoxes,
  });
  const of = (inBoxes: boolean) =>
    priceTeardown(sale, parts(inBoxes), catalogOf(bookOf(book)), policyOf({ in: taxing('8%') }, shop));

  test('declined after teardown: 2,338.76', () => {
    const { teardown, declined } = of(false);
    expect(total(teardown)).toBe('1141.56');
    expect(declined.lines.map((line) => cents(line.amount.value))).toEqual([
      '577.20',
      '465.00',
      '92.00',
      '620.00',
      '577.20',
    ]);
    expect(cents(declined.tax.amount.value)).toBe('7.36');
    expect(total(declined)).toBe('2338.76');
  });
  test('taken home in boxes: nothing is put together', () => {
    expect(total(of(true).declined)).toBe('1141.56');
  });
});

test('an empty sale is nothing, and complete', () => {
  const sale = priced({ in: taxing('8%'), job: '' });
  expect([total(sale), cents(sale.balance.value), sale.complete, sale.lines.length]).toEqual([
    '0.00',
    '0.00',
    true,
    0,
  ]);
  expect(sale.shares.map(({ name }) => name)).toEqual(['Customer']);
});

test('what the book does not know is left out, not told of, and makes the total incomplete', () => {
  for (const line of ['{part: X}', '{operation: X}', '{fee: X}', '{fill: dry, part: X}']) {
    const sale = priced({ book: BOOK(''), shop: SHOP, in: taxing('8%'), job: `lines: [${line}]` });
    expect([total(sale), sale.complete, codes(sale)]).toEqual(['0.00', false, []]);
  }
  const rate = priced({
    book: 'operations: {o: {name: O, work: bench, rate: nobody, hours: 2, steps: [nowhere]}}',
    in: taxing('8%'),
    job: 'lines: [{operation: o, adders: [nothing]}]\ndiscounts: [none]',
  });
  expect([total(rate), rate.complete, codes(rate)]).toEqual(['0.00', false, []]);
});
