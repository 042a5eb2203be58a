import { describe, expect, test } from 'vitest';
import { explain } from '../../../server/src/pricing/amount.ts';
import { taxing, texas } from '../../fixtures/jurisdictions.ts';
import { cents, codes, lineAt, lineNamed, message, priced, total } from './book.ts';

const place = taxing('8%', 'parts');

// trade.md 2.13, the table; common practice, no source: parts 2,000.00 (taxed), labor 3,000.00 and fee 75.00 (not).
describe('the ordering question', () => {
  const sell = (discount: string) =>
    priced({
      in: place,
      job: `
lines:
  - {other: Parts, category: parts, price: 2000.00}
  - {other: Labor, category: labor, price: 3000.00}
  - {other: Fee, category: fees, price: 75.00}
discounts: [{name: Discount, ${discount}}]
`,
    });
  test.each([
    ['10% off parts and labor', 'percent: 10%, on: [parts, labor]', '144.00', '4719.00'],
    ['10% off labor only', 'percent: 10%, on: [labor]', '160.00', '4935.00'],
    ['500.00 spread over parts and labor', 'amount: 500.00, on: [parts, labor]', '144.00', '4719.00'],
    ['500.00 on parts', 'amount: 500.00, on: [parts]', '120.00', '4695.00'],
    [
      '500.00 paid by someone else',
      'amount: 500.00, on: [parts, labor], funded-by: third-party',
      '160.00',
      '4735.00',
    ],
  ])('%s: tax and total', (_name, discount, tax, sum) => {
    const sale = sell(discount);
    expect([cents(sale.tax.amount.value), total(sale)]).toEqual([tax, sum]);
  });
  test('what it falls on is shown by category', () => {
    const [discount] = sell('amount: 500.00, on: [parts, labor]').discounts;
    expect([...discount!.spread].map(([category, value]) => [category, cents(value)])).toEqual([
      ['parts', '200.00'],
      ['labor', '300.00'],
    ]);
  });
  test('the tree says what was taken of what, and where it is written', () => {
    const named = priced({
      shop: 'discounts: {ten: {name: Ten, percent: 10%, on: [labor]}}',
      in: place,
      job: 'lines: [{other: Labor, category: labor, price: 3000.05}]\ndiscounts: [ten]',
    });
    expect(explain(named.discounts[0]!.amount)).toEqual([
      'Ten: 300.01, rounded from 300.005',
      '  Ten: 300.005 = 3000.05 × 10%',
      '    What it is on: 3000.05',
      '      Labor: 3000.05',
      '    Percent: 10% [discount ten]',
    ]);
  });
  test('what someone else pays back is still the sale of the shop', () => {
    expect(cents(sell('amount: 500.00, on: [parts, labor], funded-by: third-party').inside.sale.value)).toBe(
      '5075.00',
    );
    expect(cents(sell('amount: 500.00, on: [parts, labor]').inside.sale.value)).toBe('4575.00');
  });
  test('6% supplies of labor are 180.00 before the discount and 162.00 after it', () => {
    const supplies = (after: string) =>
      lineNamed(
        priced({
          shop: `supplies: {rate: 6%, on: [labor], after-discount: ${after}}`,
          in: place,
          job: `
lines: [{other: Labor, category: labor, price: 3000.00}]
discounts: [{name: Ten, percent: 10%, on: [labor]}]
`,
        }),
        'Shop supplies',
      );
    expect(cents(supplies('no').amount.value)).toBe('180.00');
    expect(cents(supplies('yes').amount.value)).toBe('162.00');
  });
});

test('discounts are taken in order, each on what the earlier ones left', () => {
  const of = (order: string) =>
    priced({
      shop: `
discounts:
  ten: {name: Ten, percent: 10%, on: [parts]}
  fifty: {name: Fifty, amount: 50.00, on: [parts]}
`,
      in: place,
      job: `lines: [{other: Part, category: parts, price: 1000.00}]\ndiscounts: ${order}`,
    }).discounts.map(({ name, amount }) => [name, cents(amount.value)]);
  expect(of('[ten, fifty]')).toEqual([
    ['Ten', '100.00'],
    ['Fifty', '50.00'],
  ]);
  expect(of('[fifty, ten]')).toEqual([
    ['Fifty', '50.00'],
    ['Ten', '95.00'],
  ]);
  expect(of('[{discount: ten, percent: 5%}]')).toEqual([['Ten', '50.00']]);
  expect(of('[{discount: ten, amount: 7.00}]')).toEqual([['Ten', '7.00']]);
});

test('a sum is spread to the cent, the largest remainders first', () => {
  const sale = priced({
    in: place,
    job: `
lines:
  - {other: A, category: labor, price: 10.00}
  - {other: B, category: labor, price: 10.00}
  - {other: C, category: labor, price: 10.00}
discounts: [{name: Off, amount: 10.00, on: [labor]}]
`,
  });
  expect(sale.lines.map((line) => cents(line.reductions[0]!.amount.value))).toEqual(['3.34', '3.33', '3.33']);
});

describe('limits', () => {
  const BOOK = `
parts:
  A: {name: A, kind: hard, cost: 80.00, price: 100.00}
  B: {name: B, kind: hard, cost: 20.00, price: 100.00}
`;
  const sell = (discount: string, jurisdiction = place) =>
    priced({
      book: BOOK,
      in: jurisdiction,
      job: `lines: [{part: A}, {part: B}]\ndiscounts: [{name: Off, ${discount}}]`,
    });
  test('no part goes below its cost: the rest goes to the others, then the discount is cut', () => {
    const moved = sell('amount: 60.00, on: [parts]');
    expect(moved.lines.map((line) => cents(line.net.value))).toEqual(['80.00', '60.00']);
    expect(codes(moved)).toEqual([]);
    const cut = sell('amount: 150.00, on: [parts]');
    expect(cut.lines.map((line) => cents(line.net.value))).toEqual(['80.00', '20.00']);
    expect(message(cut, 'discount-cut')).toContain(
      'Off of 150.00 would take a line below zero or a part below its cost',
    );
    expect(message(cut, 'discount-cut')).toContain('only 100.00 is taken off');
  });
  test('a discount that may go below cost does, except where the law forbids it', () => {
    const below = sell('amount: 150.00, on: [parts], below-cost: yes');
    expect(cents(below.subtotal.value)).toBe('50.00');
    expect(codes(below)).toEqual(['part-below-cost']);
    expect(cents(sell('amount: 150.00, on: [parts], below-cost: yes', texas()).subtotal.value)).toBe(
      '100.00',
    );
  });
  test('nothing goes below zero', () => {
    const gone = priced({
      in: place,
      job: `
lines: [{other: Labor, category: labor, price: 80.00, discount: 120%}]
discounts: [{name: Off, amount: 10.00, on: [labor]}]
`,
    });
    expect(cents(gone.subtotal.value)).toBe('0.00');
    expect(codes(gone)).toEqual(['discount-over-100', 'discount-cut']);
  });
  test('negative figures count as nothing and are told', () => {
    const odd = priced({
      in: place,
      job: `
lines:
  - {other: Labor, category: labor, price: 80.00, discount: -5%}
  - {other: Goodwill, category: labor, price: -50.00}
discounts: [{name: Off, amount: -10.00, on: [labor]}]
`,
    });
    expect(cents(odd.subtotal.value)).toBe('80.00');
    expect(codes(odd)).toEqual(['figure-below-zero', 'figure-below-zero', 'figure-below-zero']);
  });
});

test('a discount that has ended is not taken off, with the figure', () => {
  const sale = (on: string) =>
    priced({
      in: place,
      on,
      job: `
lines: [{other: Labor, category: labor, price: 1440.00}]
discounts: [{name: Spring, percent: 10%, on: [labor], expires: 2026-03-31}]
`,
    });
  expect(total(sale('2026-03-31'))).toBe('1296.00');
  expect(message(sale('2026-04-01'), 'discount-expired')).toContain('so its 144.00 is not taken off');
});

test('a discount without a figure takes nothing and is told', () => {
  const sale = priced({
    in: place,
    job: 'lines: [{other: L, category: labor, price: 10.00}]\ndiscounts: [{name: Goodwill, on: [labor]}]',
  });
  expect([codes(sale), total(sale)]).toEqual([['discount-without-figure'], '10.00']);
});

test("a customer's standing discount is given once, and before those of the job", () => {
  const shop = `
discounts:
  trade: {name: Trade, percent: 10%, on: [labor]}
  more: {name: More, amount: 10.00, on: [labor]}
customers: {c: {name: Fleet Town, discount: trade}}
`;
  const of = (discounts: string) =>
    priced({
      shop,
      customer: 'c',
      in: place,
      job: `lines: [{other: Labor, category: labor, price: 100.00}]\ndiscounts: ${discounts}`,
    }).discounts.map(({ name, amount }) => `${name} ${cents(amount.value)}`);
  expect(of('[more]')).toEqual(['Trade 10.00', 'More 10.00']);
  expect(of('[more, trade]')).toEqual(['More 10.00', 'Trade 9.00']);
});

test('a discount on supplies or fees is counted after them, all others before', () => {
  const sale = priced({
    shop: `
supplies: {rate: 10%, on: [labor]}
fees: {waste: {name: Waste, amount: 20.00, automatic: yes}}
`,
    in: place,
    job: `
lines: [{other: Labor, category: labor, price: 100.00}]
discounts:
  - {name: All, percent: 50%, on: [labor, supplies, fees]}
  - {name: Labor, percent: 20%, on: [labor]}
`,
  });
  expect(cents(lineNamed(sale, 'Shop supplies').amount.value)).toBe('8.00');
  expect(sale.discounts.map(({ name, amount }) => `${name} ${cents(amount.value)}`)).toEqual([
    'Labor 20.00',
    'All 54.00',
  ]);
  expect(total(sale)).toBe('54.00');
});

test('a line discount lies on the line and not on its core', () => {
  const sale = priced({
    book: 'parts: {P: {name: P, kind: hard, cost: 10.00, price: 100.00, core: 50.00}}',
    in: place,
    job: 'lines: [{part: P, discount: 10%}]',
  });
  expect([cents(lineAt(sale, 0, 'part').net.value), cents(lineAt(sale, 0, 'core').net.value)]).toEqual([
    '90.00',
    '50.00',
  ]);
});
