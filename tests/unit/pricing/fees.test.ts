import { describe, expect, test } from 'vitest';
import { california, jurisdictionOf, taxing } from '../../fixtures/jurisdictions.ts';
import { cents, codes, lineAt, lineNamed, message, priced } from './book.ts';

const untaxed = taxing('8%', 'none');

// trade.md 2.10; common practice, no source.
describe('shop supplies', () => {
  const supplies = (rule: string) => {
    const sale = priced({
      shop: `supplies: {rate: 6%, ${rule}}`,
      in: untaxed,
      job: `
lines:
  - {other: Labor, category: labor, price: 3258.00}
  - {other: Parts, category: parts, price: 2140.00}
`,
    });
    return cents(sale.subtotals.get('supplies')!.value);
  };
  test.each([
    ['on: [labor]', '195.48'],
    ['on: [labor, parts]', '323.88'],
    ['on: [labor], maximum: 75.00', '75.00'],
    ['on: [labor, parts], maximum: 75.00', '75.00'],
    ['on: [labor], maximum: 250.00', '195.48'],
    ['on: [labor, parts], maximum: 250.00', '250.00'],
    ['on: [labor], minimum: 200.00', '200.00'],
    ['on: [sublet], minimum: 200.00', '0.00'],
  ])('6%% with %s is %s', (rule, amount) => {
    expect(supplies(rule)).toBe(amount);
  });
});

// 16 CCR 3356 as reported (trade.md S3).
test('where the law forbids a supplies line it is an error with the figure and stays out of the total', () => {
  const sale = (rate: string) =>
    priced({
      shop: `supplies: {rate: ${rate}, on: [labor]}`,
      in: california(),
      job: 'lines: [{other: Labor, category: labor, price: 3258.00}]',
    });
  expect(message(sale('6%'), 'supplies-forbidden')).toContain('so 195.48 of Shop supplies is left out');
  expect(cents(sale('6%').subtotal.value)).toBe('3258.00');
  expect(codes(sale('0%'))).toEqual([]);
});

describe('fees', () => {
  const BOOK = `
parts: {ATF: {name: Fluid, kind: fluid, cost: 8.90, price: 13.50, role: fluid}}
operations:
  diagnose: {name: Diagnosis, work: diagnosis, rate: general, hours: 1}
  overhaul: {name: Overhaul, work: bench, rate: general, hours: 9.5}
`;
  const sell = (fees: string, lines: string, more = '', jurisdiction = untaxed, job = '') =>
    priced({
      book: BOOK,
      shop: `rates: {general: {name: General, hourly: 148.00}}\nfees: ${fees}\n${more}`,
      in: jurisdiction,
      job: `lines: ${lines}\n${job}`,
    });

  test('once a job, for each unit sold, as a capped share of named categories', () => {
    const sale = sell(
      `
  job: {name: Once, amount: 18.00}
  quart: {name: Per quart, amount: 0.25, each: unit-sold, role: fluid}
  share: {name: Share, percent: 2%, on: [labor, fees], maximum: 20.00}
  small: {name: Small share, percent: 1%, on: [fees]}
`,
      '[{fee: share}, {part: ATF, quantity: 13}, {operation: overhaul}, {fee: job, quantity: 2}, {fee: quart}, {fee: small}]',
    );
    expect(sale.lines.map((line) => `${line.name} ${cents(line.amount.value)}`)).toEqual([
      'Share 20.00',
      'Fluid 175.50',
      'Overhaul 1406.00',
      'Once 36.00',
      'Per quart 3.25',
      'Small share 0.39',
    ]);
  });
  test('automatic fees come by themselves when their condition holds, and not twice', () => {
    const fees = `
  z-waste: {name: Waste, amount: 18.00, automatic: yes, with-role: fluid}
  a-lift: {name: Lift, amount: 5.00, automatic: yes, when: {drive: [4wd]}}
`;
    const lines = '[{part: ATF}, {operation: overhaul}]';
    expect(sell(fees, lines, '', untaxed, 'vehicle: {drive: 4wd}').lines.map(({ name }) => name)).toEqual([
      'Fluid',
      'Overhaul',
      'Lift',
      'Waste',
    ]);
    expect(sell(fees, '[{operation: overhaul}]').lines.map(({ name }) => name)).toEqual(['Overhaul']);
    expect(sell(fees, '[{part: ATF}, {fee: z-waste}]').lines.map(({ name }) => name)).toEqual([
      'Fluid',
      'Waste',
    ]);
  });
  // 16 CCR 3356.1 and 3357 (trade.md S4, checks.md CA-08).
  test('a waste fee asks for the EPA number and stays within its documented cost', () => {
    const waste = (figures: string, epa = '') =>
      sell(
        `{waste: {name: Waste, waste: yes, ${figures}}}`,
        '[{part: ATF}, {fee: waste}]',
        epa,
        california(),
      );
    expect(codes(waste('amount: 18.00, cost: 18.00'))).toEqual(['waste-fee-without-epa-id']);
    expect(codes(waste('amount: 18.00, cost: 18.00', 'epa-id: CAL000123'))).toEqual([]);
    expect(
      message(waste('amount: 18.00, cost: 11.00', 'epa-id: CAL000123'), 'waste-fee-above-cost'),
    ).toContain('documented cost of 11.00; 18.00 is charged');
    expect(message(waste('amount: 18.00', 'epa-id: CAL000123'), 'waste-fee-above-cost')).toContain(
      'says none',
    );
  });
  // trade.md scenario 30 (S4, S18).
  test('a waste fee on a job that holds only diagnosis is warned of', () => {
    const fees = '{waste: {name: Waste, amount: 18.00, waste: yes}}';
    expect(codes(sell(fees, '[{operation: diagnose}, {fee: waste}]'))).toEqual(['waste-fee-on-diagnosis']);
    expect(codes(sell(fees, '[{operation: diagnose}, {operation: overhaul}, {fee: waste}]'))).toEqual([]);
  });
  test('a fee without a figure counts as nothing and leaves the total incomplete', () => {
    const sale = sell('{odd: {name: Odd}}', '[{fee: odd}]');
    expect([codes(sale), sale.complete, cents(lineAt(sale, 0).amount.value)]).toEqual([
      ['fee-without-figure'],
      false,
      '0.00',
    ]);
  });
});

// trade.md 2.11; common practice, no source.
describe('sublet', () => {
  const sell = (rule: string, line: string) =>
    priced({ shop: rule && `sublet: {${rule}}`, in: taxing('8%'), job: `lines: [${line}]` });
  test('310.00 at a markup of 20% is 372.00, at a margin of 20% 387.50', () => {
    expect(cents(sell('markup: 20%', '{sublet: Weld, labor-cost: 310.00}').subtotal.value)).toBe('372.00');
    expect(cents(sell('margin: 20%', '{sublet: Weld, labor-cost: 310.00}').subtotal.value)).toBe('387.50');
    expect(sell('margin: 20%', '{sublet: Weld, labor-cost: 310.00}').lines.map(({ name }) => name)).toEqual([
      'Weld',
    ]);
  });
  test('parts and labor stay apart, because they are taxed apart', () => {
    const sale = sell('markup: 20%', '{sublet: Radiator repair, labor-cost: 110.00, parts-cost: 200.00}');
    expect(sale.lines.map((line) => [line.name, cents(line.amount.value), cents(line.tax)])).toEqual([
      ['Radiator repair, parts', '240.00', '19.20'],
      ['Radiator repair, labor', '132.00', '0.00'],
    ]);
    expect(cents(sale.inside.cost.value)).toBe('310.00');
  });
  test('a price for the whole is parted as its costs are', () => {
    const sale = sell(
      '',
      '{sublet: Radiator, labor-cost: 100.00, parts-cost: 200.00, price: 400.00, reason: agreed}',
    );
    expect(sale.lines.map((line) => cents(line.amount.value))).toEqual(['266.67', '133.33']);
    expect(codes(sale)).toEqual([]);
  });
  test('no costs: an error, taxed as parts until they are said', () => {
    const sale = sell('markup: 20%', '{sublet: Radiator, price: 400.00, reason: agreed}');
    expect(message(sale, 'sublet-not-split')).toContain('labor-cost and parts-cost');
    expect(cents(sale.tax.amount.value)).toBe('32.00');
    expect(sell('markup: 20%', '{sublet: Radiator}').complete).toBe(false);
  });
  test('no rule: sold at cost, and told', () => {
    const sale = sell('', '{sublet: Weld, labor-cost: 310.00}');
    expect([codes(sale), cents(sale.subtotal.value)]).toEqual([['sublet-without-markup'], '310.00']);
  });
  test('an operation that another shop does', () => {
    const sale = priced({
      book: 'operations: {weld: {name: Weld the case, work: bench, sublet: {labor: 150.00, parts: 10.00}}}',
      shop: 'sublet: {markup: 20%}',
      in: untaxed,
      job: 'lines: [{operation: weld, quantity: 2}]',
    });
    expect(sale.lines.map((line) => [line.category, cents(line.amount.value)])).toEqual([
      ['sublet', '24.00'],
      ['sublet', '360.00'],
    ]);
  });
});

// trade.md 2.16, tiers; common practice, no source.
test('warranty plans: included, 4% of parts and labor, and 395.00', () => {
  const sell = (plan: string) =>
    priced({
      shop: `
warranties:
  included: {name: 12 months or 12000 miles, months: 12, distance: 12000 mi}
  longer: {name: 24 months or 24000 miles, months: 24, distance: 24000 mi, percent: 4%}
  longest: {name: 36 months or 100000 miles, months: 36, distance: 100000 mi, amount: 395.00}
`,
      in: untaxed,
      job: `
warranty: ${plan}
lines:
  - {other: Labor, category: labor, price: 3000.00}
  - {other: Parts, category: parts, price: 2000.00}
  - {other: Fee, category: fees, price: 75.00}
discounts: [{name: Off, amount: 500.00, on: [labor]}]
`,
    });
  expect(sell('included').lines.length).toBe(3);
  expect(cents(lineNamed(sell('longer'), '24 months or 24000 miles').amount.value)).toBe('180.00');
  expect(cents(lineNamed(sell('longest'), '36 months or 100000 miles').amount.value)).toBe('395.00');
  expect(sell('nobody-knows').complete).toBe(false);
});

test('what is in no catalog: part, labor with its hours, fee with its class', () => {
  const sale = priced({
    in: jurisdictionOf(
      '{id: p, name: P, as-of: 2026-01-01, taxes: [{name: T, rate: 10%}], taxable: {parts: yes, labor: no, towing: yes}}',
    ),
    job: `
lines:
  - {other: Bracket, category: parts, price: 12.345, quantity: 2, cost: 8.00}
  - {other: Straighten, category: labor, price: 74.00, hours: 0.5, quantity: 2}
  - {other: Towing, category: fees, price: 95.00, tax-class: towing}
`.replace('12.345', '12.34'),
  });
  expect(sale.lines.map((line) => [cents(line.amount.value), cents(line.tax)])).toEqual([
    ['24.68', '2.47'],
    ['148.00', '0.00'],
    ['95.00', '9.50'],
  ]);
  expect([sale.hoursSold.value.toString(), cents(sale.inside.cost.value), sale.inside.costKnown]).toEqual([
    '1',
    '16.00',
    false,
  ]);
});
