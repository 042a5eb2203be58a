/** Rounding, cores, tax: published values through the totals of whole sales. */
import { describe, expect, test } from 'vitest';
import type { Jurisdiction } from '../../../schemas/kinds/jurisdiction.ts';
import { dec } from '../../../schemas/values/decimal.ts';
import { price as pricePure } from '../../../server/src/pricing/price.ts';
import {
  arvada,
  california,
  iowa,
  jurisdictionOf,
  minnesota,
  taxing,
  tennessee,
  texas,
  virginia,
  washington,
} from '../../fixtures/jurisdictions.ts';
import {
  catalogOf,
  cents,
  codes,
  lineAt,
  lineNamed,
  message,
  policyOf,
  priced,
  shopOf,
  total,
} from './book.ts';

/** A sale of parts at typed prices, in a place with one rate on everything. */
function taxOn(prices: readonly string[], rate: string, tax = ''): string {
  const lines = prices.map((price) => `{other: Part, category: parts, price: ${price}}`);
  const sale = priced({
    shop: tax && `tax: {${tax}}`,
    in: taxing(rate),
    job: `lines: [${lines.join(', ')}]`,
  });
  expect(cents(sale.total.value)).toBe(cents(sale.subtotal.value.plus(sale.tax.amount.value)));
  return cents(sale.tax.amount.value);
}

// checks.md section 2: rule of the Streamlined Sales and Use Tax Agreement, sec. 324 (R.I.G.L. 44-18.1-25): carried
// to the third decimal, up when it is above four.
describe('tax rounding', () => {
  test.each([
    ['RND-06', '50.00', '8.25%', '4.13'],
    ['RND-08', '56.89', '7.25%', '4.12'],
    ['RND-09', '2.00', '7.25%', '0.15'],
    ['RND-11', '18.40', '6.875%', '1.27'],
  ])('%s: %s at %s is %s', (_row, price, rate, tax) => {
    expect(taxOn([price], rate)).toBe(tax);
  });
  test('RND-07: four lines of 50.00 at 8.25% are 16.52 by item and 16.50 by invoice', () => {
    const four = ['50.00', '50.00', '50.00', '50.00'];
    expect(taxOn(four, '8.25%', 'rounding: line')).toBe('16.52');
    expect(taxOn(four, '8.25%', 'rounding: invoice')).toBe('16.50');
    expect(taxOn(four, '8.25%')).toBe('16.50');
  });
  // trade.md 2.14 (S29).
  test('six lines of 3.15 at 7.25% are 1.38 by line and 1.37 by invoice', () => {
    const six = Array.from({ length: 6 }, () => '3.15');
    expect(taxOn(six, '7.25%', 'rounding: line')).toBe('1.38');
    expect(taxOn(six, '7.25%')).toBe('1.37');
  });
  test('0.12475 is rounded once, to 0.12 and not over 0.125 to 0.13 (trade.md 2.14)', () => {
    expect(taxOn(['4.99'], '2.5%')).toBe('0.12');
  });
  // checks.md RND-13: exact decimal against the rule, in whole cents (price x 1000 x rate, up at five and above).
  test.each(['6%', '7.25%', '6.875%', '9.5%', '8.25%'])(
    'RND-13: a sample of prices at %s follows the rule',
    (rate) => {
      const [whole = '', decimals = ''] = rate.replace('%', '').split('.');
      const thousandths = BigInt((whole + decimals.padEnd(3, '0')).padStart(4, '0'));
      const policy = policyOf({ in: taxing(rate) }, shopOf(''));
      const nothing = catalogOf({});
      for (let price = 1n; price <= 200_000n; price += 499n) {
        const exact = price * thousandths;
        const rule = (exact + 50_000n) / 100_000n;
        const line = { other: 'Part', category: 'parts', price: dec(price).div(dec('100')) } as const;
        const sold = pricePure({ lines: [{ path: ['lines', 0], line }] }, nothing, policy);
        expect(cents(sold.tax.amount.value)).toBe(cents(dec(rule).div(dec('100'))));
      }
    },
  );
  test('rates are added first, or each rounded by itself', () => {
    const two = (stack: string) =>
      priced({
        shop: `tax: {stack: ${stack}}`,
        in: jurisdictionOf(`
id: two
name: Two
as-of: 2026-01-01
taxes: [{name: State, rate: 4.25%}, {name: City, rate: 2.25%}]
taxable: {parts: yes}
`),
        job: 'lines: [{other: Part, category: parts, price: 1.50}]',
      }).tax;
    const rows = (tax: ReturnType<typeof two>) =>
      tax.rows.map(({ name, amount }) => [name, cents(amount.value)]);
    // 6.5% of 1.50 is 0.0975; by themselves 0.06375 and 0.03375.
    expect([cents(two('combined').amount.value), rows(two('combined'))]).toEqual([
      '0.10',
      [
        ['State', '0.07'],
        ['City', '0.03'],
      ],
    ]);
    expect([cents(two('each').amount.value), rows(two('each'))]).toEqual([
      '0.09',
      [
        ['State', '0.06'],
        ['City', '0.03'],
      ],
    ]);
  });
});

// checks.md section 3a.
describe('cores', () => {
  const BOOK = (condition: string, price: string, core: string, more = '') =>
    `parts: {C-1: {name: Part, kind: hard, cost: 1, price: ${price}, core: ${core}${condition && `, condition: ${condition}`}${more}}}`;
  const sell = (
    place: Jurisdiction,
    condition: string,
    policy: string,
    more = '',
    price = '47.00',
    core = '7.00',
  ) =>
    priced({
      book: BOOK(condition, price, core),
      shop: `cores: ${policy}\nestimates: {core-days: 30}`,
      in: place,
      job: `lines: [{part: C-1}]\n${more}`,
    });
  const back = (credit = '') =>
    `cores: [{part: C-1, ledger: customer, returned: 2026-03-20${credit && `, credit: ${credit}, reason: cracked`}}]`;
  const refund = (sale: ReturnType<typeof sell>) => {
    const [entry] = sale.cores.customer;
    return [cents(entry!.credit.value), cents(entry!.taxBack.value)];
  };

  // Calif. BOE core-charge handout as quoted in Mercury News, 2010-02-02; the twin by annotation 315.0400 (COMPUTED).
  test('CORE-01: a new part with the core handed over comes to 50.78, its rebuilt twin to 50.29', () => {
    const fresh = sell(california('7%'), 'new', 'exchanged');
    expect([cents(fresh.tax.amount.value), total(fresh)]).toEqual(['3.78', '50.78']);
    expect(
      lineAt(fresh, 0, 'core').reductions.map(({ kind, amount }) => [kind, cents(amount.value)]),
    ).toEqual([['core-handed-over', '7.00']]);
    const rebuilt = sell(california('7%'), 'rebuilt', 'exchanged');
    expect([cents(rebuilt.tax.amount.value), total(rebuilt)]).toEqual(['3.29', '50.29']);
  });
  test('a part that says no condition counts as new where the law reads it so', () => {
    expect(total(sell(california('7%'), '', 'exchanged'))).toBe('50.78');
  });
  // CDTFA annotation 315.0370.
  test('CORE-03: new part, core back later: the core is refunded and its tax is not', () => {
    const sale = sell(california('7%'), 'new', 'charged', back());
    expect(total(sale)).toBe('57.78');
    expect(refund(sale)).toEqual(['7.00', '0.00']);
    expect(cents(sale.balance.value)).toBe('50.78');
  });
  // CDTFA annotations 315.0370 and 315.0400.
  test('CORE-04: reconditioned part, core back later: the core and its tax', () => {
    const sale = sell(california('7%'), 'reconditioned', 'charged', back());
    expect(refund(sale)).toEqual(['7.00', '0.49']);
    expect(cents(sale.balance.value)).toBe('50.29');
  });
  // WA Department of Revenue, "Core charges".
  test('CORE-06: Washington counts tax without the core that is handed over', () => {
    const sale = sell(washington('6.5%'), 'new', 'exchanged', '', '100.00', '20.00');
    expect([cents(sale.tax.amount.value), total(sale)]).toEqual(['6.50', '106.50']);
  });
  // MN Revenue, Motor Vehicle Repair guide.
  test('CORE-07: Minnesota refunds the core and its tax', () => {
    const sale = sell(minnesota(), 'new', 'charged', back(), '100.00', '16.00');
    expect(cents(sale.tax.amount.value)).toBe('7.98');
    expect(refund(sale)).toEqual(['16.00', '1.10']);
  });
  // Va. P.D. 10-189 and 97-475.
  test('CORE-08: Virginia taxes every core charge and refunds its tax', () => {
    const sale = sell(virginia('full'), 'rebuilt', 'charged', back(), '100.00', '20.00');
    expect([cents(sale.tax.amount.value), ...refund(sale)]).toEqual(['6.36', '20.00', '1.06']);
  });
  // City of Arvada guide.
  test('CORE-09: Arvada has the core in the taxable price and refunds its tax', () => {
    const sale = sell(arvada(), 'new', 'charged', back(), '100.00', '50.00');
    expect([cents(sale.tax.amount.value), ...refund(sale)]).toEqual(['5.19', '50.00', '1.73']);
  });
  // 26 CFR 48.4062(b)-1 (federal excise analogue): a rebuilt engine for 100 and another engine.
  test('CORE-10: the base of an exchange is the price without the old engine', () => {
    const sale = sell(california('10%'), 'rebuilt', 'exchanged', '', '100.00', '250.00');
    expect([cents(sale.tax.taxable.value), cents(sale.tax.amount.value)]).toEqual(['100.00', '10.00']);
  });
  // WA Department of Revenue, same page.
  test('CORE-11: a battery core below 5.00 is an error in Washington', () => {
    const battery = (core: string) =>
      priced({
        book: BOOK('new', '100.00', core, ', role: battery'),
        in: washington(),
        job: 'lines: [{part: C-1}]',
      });
    expect(message(battery('4.99'), 'core-below-minimum')).toContain('at least 5.00 on Part; it is 4.99');
    expect(codes(battery('5.00'))).toEqual([]);
  });
  // 23 VAC 10-210-5070: a trade-in is taxed on the difference (contrast with CORE-08).
  test('CORE-12: by the trade-in rule tax is on the difference', () => {
    const sale = sell(virginia('net'), 'used', 'exchanged', '', '100.00', '20.00');
    expect(cents(sale.tax.amount.value)).toBe('5.30');
  });

  // trade.md 2.9, the table: 450.00 at 8%.
  const policy = (charge: string, refunds: string) =>
    jurisdictionOf(`
id: p
name: P
as-of: 2026-01-01
taxes: [{name: Tax, rate: 8%}]
taxable: {parts: no, cores: no}
cores: {default: {charge: ${charge}, refund-tax: ${refunds}}}
`);
  test.each([
    ['A', 'taxed', 'yes', 'charged', '36.00', '450.00', '36.00'],
    ['B', 'taxed', 'no', 'charged', '36.00', '450.00', '0.00'],
    ['C', 'taxed', 'yes', 'when-late', '0.00', '0.00', '0.00'],
    ['D', 'untaxed', 'yes', 'charged', '0.00', '450.00', '0.00'],
  ])(
    'policy %s: deposit %s, tax goes back %s, %s: tax %s, refund %s and %s',
    (_row, charge, refunds, how, tax, core, taxBack) => {
      const sale = sell(policy(charge, refunds), 'rebuilt', how, back(), '1000.00', '450.00');
      expect([cents(sale.tax.amount.value), ...refund(sale)]).toEqual([tax, core, taxBack]);
    },
  );
  test('part credit of 40% under A gives back 180.00 and 14.40', () => {
    const sale = sell(policy('taxed', 'yes'), 'rebuilt', 'charged', back('40%'), '1000.00', '450.00');
    expect(refund(sale)).toEqual(['180.00', '14.40']);
    expect(cents(sale.cores.customer[0]!.open)).toBe('0.00');
    const silent = sell(
      policy('taxed', 'yes'),
      'rebuilt',
      'charged',
      'cores: [{part: C-1, ledger: customer, returned: 2026-03-20, credit: 40%}]',
    );
    expect(codes(silent)).toEqual(['core-credit-without-reason']);
  });

  test('ledgers: due dates, what is open, what has been handed over', () => {
    const sale = priced({
      book: `
parts:
  TC: {name: Converter, kind: converter, cost: 265.00, price: 384.25, core: 60.00, supplier: north}
`,
      shop: `
estimates: {core-days: 30}
suppliers: {north: {name: North Supply, core-days: 45}}
`,
      in: policy('taxed', 'yes'),
      job: `
completed: 2026-03-10
lines: [{part: TC, quantity: 2}]
cores:
  - {part: TC, ledger: customer, returned: 2026-03-20, credited: 2026-03-20}
  - {part: TC, ledger: supplier, quantity: 2, returned: 2026-05-01}
`,
    });
    const [customer] = sale.cores.customer;
    const [supplier] = sale.cores.supplier;
    expect([customer!.dueBy, supplier!.dueBy, supplier!.supplier]).toEqual([
      '2026-04-09',
      '2026-04-16',
      'north',
    ]);
    expect([customer!.deposit, customer!.credit, customer!.taxBack].map(({ value }) => cents(value))).toEqual(
      ['120.00', '60.00', '4.80'],
    );
    expect([cents(customer!.open), cents(customer!.settled), cents(supplier!.open)]).toEqual([
      '60.00',
      '64.80',
      '0.00',
    ]);
    // What has been handed over no longer lowers the balance.
    expect(cents(sale.balance.value)).toBe(total(sale));
    expect(message(sale, 'core-late')).toContain('after 2026-04-16: the supplier may keep the 120.00');
  });
  test('where prices hold the tax, the deposit goes back without it, and the tax as the law says', () => {
    const sale = (refunds: string) =>
      priced({
        book: BOOK('rebuilt', '1080.00', '486.00'),
        shop: 'tax: {prices: inclusive}',
        in: policy('taxed', refunds),
        job: `lines: [{part: C-1}]\n${back()}`,
      });
    expect(refund(sale('yes'))).toEqual(['450.00', '36.00']);
    expect(refund(sale('no'))).toEqual(['450.00', '0.00']);
  });
  test('a core that is held is not charged, is owed to the supplier, and cannot be given back to the customer', () => {
    const sale = sell(california(), 'rebuilt', 'held', back());
    expect(cents(lineAt(sale, 0, 'core').amount.value)).toBe('0.00');
    expect([sale.cores.customer.length, cents(sale.cores.supplier[0]!.deposit.value)]).toEqual([0, '7.00']);
    expect(message(sale, 'core-return-unmatched')).toContain('1 too many');
  });
  // trade.md 2.9; common practice, no source.
  test("charging a core on the customer's own unit that is taken out here is warned of", () => {
    const unit = (core = '') =>
      priced({
        book: `
parts: {U: {name: Exchange unit, kind: unit, cost: 1850.00, price: 2600.00, core: 450.00, condition: rebuilt}}
operations: {rr: {name: R and R, work: removal, rate: general, hours: 7.8}}
`,
        shop: 'rates: {general: {name: General, hourly: 148.00}}',
        in: california(),
        job: `lines: [{operation: rr}, {part: U${core}}]`,
      });
    expect(message(unit(), 'core-never-leaves')).toContain('450.00 is charged');
    expect(codes(unit(', core: held'))).toEqual([]);
    expect(codes(unit(', core: charged'))).toEqual([]);
  });
  test('a core charged by a class that the jurisdiction does not name is an error', () => {
    const place = jurisdictionOf(
      '{id: p, name: P, as-of: 2026-01-01, taxes: [{name: Tax, rate: 8%}], taxable: {parts: yes}}',
    );
    expect(codes(sell(place, 'new', 'charged'))).toEqual(['tax-class-unknown']);
  });
});

// checks.md section 3b.
describe('what is taxed', () => {
  const SHOP = `
rates: {general: {name: General, hourly: 100.00}}
sublet: {markup: 20%}
`;
  const BOOK = `
operations:
  replace: {name: Replace parts in the transmission, work: bench, rate: general, hours: 5}
  fabricate: {name: Make a bracket, work: bench, rate: general, hours: 1, tax-class: fabrication}
parts:
  P: {name: Part, kind: hard, cost: 200.00, price: 300.00}
  B: {name: Battery, kind: electrical, cost: 80.00, price: 120.00, role: battery}
`;
  const sell = (place: Jurisdiction, job: string, shop = '') =>
    priced({ book: BOOK, shop: SHOP + shop, in: place, job });
  const tax = (sale: ReturnType<typeof sell>) => cents(sale.tax.amount.value);

  // CDTFA Tax Guide for Auto Repair Garages.
  test('TAX-01 and TAX-02: labor of replacing parts is free in California, fabrication is not', () => {
    expect(tax(sell(california(), 'lines: [{operation: replace}]'))).toBe('0.00');
    expect(tax(sell(california(), 'lines: [{operation: fabricate}]'))).toBe('7.25');
  });
  // CDTFA annotation 295.1318.
  test('TAX-03, TAX-04, TAX-05, TAX-06: a shop charge is taxed as what it is tied to', () => {
    const charge = (kind: string) =>
      sell(
        california(),
        `
lines:
  - {other: Parts, category: parts, price: 300.00}
  - {other: Labor, category: labor, price: 700.00}
  - {other: Shop charge, category: fees, price: 25.00, tax-class: ${kind}}
`,
      );
    const taxable = (kind: string) => cents(lineAt(charge(kind), 2).taxable);
    expect(taxable('shop-charge-on-parts')).toBe('25.00');
    expect(taxable('shop-charge-on-labor')).toBe('0.00');
    expect(taxable('overhead')).toBe('7.50');
    expect([cents(charge('overhead').tax.taxable.value), tax(charge('overhead'))]).toEqual([
      '307.50',
      '22.29',
    ]);
  });
  // MN Revenue, Nontaxable Sales; City of Arvada guide, "Fees".
  test('TAX-07 against TAX-08: the same waste fee is free in Minnesota and taxed in Arvada', () => {
    const fees = 'fees: {waste: {name: Waste disposal, amount: 18.00, tax-class: waste}}';
    expect(tax(sell(minnesota(), 'lines: [{fee: waste}]', fees))).toBe('0.00');
    expect(tax(sell(arvada(), 'lines: [{fee: waste}]', fees))).toBe('0.62');
  });
  // City of Arvada guide.
  test('TAX-09: marked-up sublet parts are taxed in Arvada, markup and all; their labor is not', () => {
    const sale = sell(arvada(), 'lines: [{sublet: Radiator repair, parts-cost: 210.00, labor-cost: 100.00}]');
    expect(cents(sale.tax.taxable.value)).toBe('252.00');
    expect(tax(sale)).toBe('8.72');
  });
  // ineda.com summary of the Iowa rule.
  test('TAX-10: used-up materials are free in Iowa when itemised; a bill that does not itemise is taxed whole', () => {
    const lines = `
lines:
  - {other: Part, category: parts, price: 100.00}
  - {other: Rags and tape, category: parts, price: 10.00, tax-class: supplies}
  - {other: Labor, category: labor, price: 50.00}
`;
    expect(tax(sell(iowa(), lines))).toBe('6.00');
    expect(tax(sell(iowa(), lines, 'tax: {billing: lump-sum}'))).toBe('9.60');
  });
  // Texas: rule summary at taxrates.cc; 34 TAC 3.290(a)(2).
  test('TAX-11: a lump sum is not taxed in Texas', () => {
    expect(tax(sell(texas(), 'lines: [{part: P}, {operation: replace}]', 'tax: {billing: lump-sum}'))).toBe(
      '0.00',
    );
  });
  test('one sum where the jurisdiction does not say how that is taxed is told, and taxed by class', () => {
    const sale = sell(minnesota(), 'lines: [{part: P}, {operation: replace}]', 'tax: {billing: lump-sum}');
    expect([codes(sale), tax(sale)]).toEqual([['lump-sum-unknown'], '20.63']);
  });
  test('TAX-12: stated separately only parts are taxed, not below cost, and a share of the whole bill is not', () => {
    const fees = 'fees: {shop: {name: Shop charge, percent: 5%, on: [parts, labor]}}';
    const sale = sell(texas(), 'lines: [{part: P}, {operation: replace}, {fee: shop}]', fees);
    expect([cents(lineNamed(sale, 'Shop charge').amount.value), tax(sale)]).toEqual(['40.00', '24.75']);
    const cheap = sell(texas(), 'lines: [{part: P, price: 150.00, reason: goodwill}]');
    expect(message(cheap, 'part-below-cost')).toContain('Texas does not allow parts below cost');
    expect(cheap.problems[0]?.severity).toBe('error');
  });
  // Texas Comptroller STAR 200904303L.
  test('TAX-13: 10% off 150.00 leaves 135.00 taxable', () => {
    const sale = sell(texas(), 'lines: [{other: Part, category: parts, price: 150.00, discount: 10%}]');
    expect(cents(sale.tax.taxable.value)).toBe('135.00');
  });
  // MN Revenue, "Discounts and Coupons"; TN Revenue SUT-24; STAR 200904303L.
  test.each([
    ['TAX-14', 'Minnesota', minnesota(), 'shop', '90.00'],
    ['TAX-14', 'Tennessee', tennessee(), 'shop', '90.00'],
    ['TAX-15', 'Minnesota', minnesota(), 'third-party', '100.00'],
    ['TAX-15', 'Tennessee', tennessee(), 'third-party', '100.00'],
    ['TAX-16', 'Texas', texas(), 'third-party', '90.00'],
  ])(
    '%s: in %s a coupon of 10.00 borne by %4$s leaves %5$s taxable',
    (_row, _name, place, funder, taxable) => {
      const sale = sell(
        place as Jurisdiction,
        `
lines: [{other: Part, category: parts, price: 100.00}]
discounts: [{name: Coupon, amount: 10.00, on: [parts], funded-by: ${funder}}]
`,
      );
      expect(cents(sale.tax.taxable.value)).toBe(taxable);
      expect(cents(sale.subtotal.value)).toBe('90.00');
    },
  );
  // 18 CCR 3230 and CDTFA, Dealers/Retailers tab.
  test('TAX-17 and TAX-19: 2.00 for each battery sold, free of tax, put on by itself', () => {
    const fees =
      'fees: {battery: {name: Battery fee, amount: 2.00, each: unit-sold, role: battery, automatic: yes, with-role: battery}}';
    const sale = sell(california(), 'lines: [{part: B, quantity: 2}]', fees);
    expect(cents(lineNamed(sale, 'Battery fee').amount.value)).toBe('4.00');
    expect(cents(sale.tax.taxable.value)).toBe('240.00');
    expect(sell(california(), 'lines: [{part: P}]', fees).lines.length).toBe(1);
  });
  // MN Revenue, Miscellaneous Sales.
  test('TAX-21: an employee pays tax on the reduced price of a part', () => {
    expect(cents(sell(minnesota(), 'lines: [{part: P, discount: 25%}]').tax.taxable.value)).toBe('225.00');
  });

  test('classes that the jurisdiction does not name are an error, told once', () => {
    const place = jurisdictionOf(
      '{id: p, name: P, as-of: 2026-01-01, taxes: [{name: Tax, rate: 8%}], taxable: {parts: yes}}',
    );
    const sale = sell(place, 'lines: [{part: P}, {operation: replace}, {operation: replace}]');
    expect(message(sale, 'tax-class-unknown')).toContain('P does not say whether labor is taxed');
    expect(sale.complete).toBe(false);
  });
  test('rates hold between their days', () => {
    const place = jurisdictionOf(`
id: p
name: P
as-of: 2026-01-01
taxes:
  - {name: Old, rate: 7%, until: 2026-03-31}
  - {name: New, rate: 8%, from: 2026-04-01, until: 2026-12-31}
taxable: {parts: yes}
`);
    const on = (day: string) =>
      priced({ in: place, on: day, job: 'lines: [{other: Part, category: parts, price: 100.00}]' });
    expect([cents(on('2026-03-31').tax.amount.value), cents(on('2026-04-01').tax.amount.value)]).toEqual([
      '7.00',
      '8.00',
    ]);
    expect(codes(on('2027-01-01'))).toEqual(['tax-rate-missing']);
  });
  test('a place without any tax is not missing one', () => {
    const sale = priced({
      in: jurisdictionOf('{id: p, name: P, as-of: 2026-01-01, taxes: [], taxable: {parts: yes}}'),
      job: 'lines: [{other: Part, category: parts, price: 100.00}]',
    });
    expect([total(sale), codes(sale), sale.complete]).toEqual(['100.00', [], true]);
  });
  test('a shop without a jurisdiction is told; one that names an unknown one is not, but the total is incomplete', () => {
    const job = 'lines: [{other: Part, category: parts, price: 100.00}]';
    expect(codes(priced({ job }))).toEqual(['no-jurisdiction']);
    const unknown = priced({ shop: 'jurisdiction: nowhere', job });
    expect([codes(unknown), unknown.complete]).toEqual([[], false]);
  });

  test('prices that hold the tax: it is inside the total', () => {
    const sale = sell(
      taxing('20%'),
      'lines: [{other: Part, category: parts, price: 120.00}]',
      'tax: {prices: inclusive}',
    );
    expect([total(sale), tax(sale), sale.tax.included]).toEqual(['120.00', '20.00', true]);
    expect(cents(sale.inside.sale.value)).toBe('100.00');
  });
  test('prices that hold the tax: who is exempt pays the price without it', () => {
    const sale = priced({
      shop: 'tax: {prices: inclusive}\ncustomers: {c: {name: Town, exempt: {certificate: C-1}}}',
      customer: 'c',
      in: taxing('20%'),
      job: 'lines: [{other: Part, category: parts, price: 120.00}]',
    });
    expect([total(sale), tax(sale)]).toEqual(['100.00', '0.00']);
  });

  test('an exempt customer owes no tax until the certificate ends', () => {
    const town = (on: string) =>
      priced({
        shop: 'customers: {c: {name: Town, exempt: {certificate: C-1, expires: 2026-03-31}}}',
        customer: 'c',
        in: taxing('8%'),
        on,
        job: 'lines: [{other: Part, category: parts, price: 100.00}]',
      });
    expect([total(town('2026-03-31')), codes(town('2026-03-31'))]).toEqual(['100.00', []]);
    expect([total(town('2026-04-01')), codes(town('2026-04-01'))]).toEqual(['108.00', ['exemption-expired']]);
  });
});

test('a currency without cents, and one with three decimals', () => {
  const sale = (currency: string, price: string) =>
    priced({
      shop: 'supplies: {rate: 3%, on: [parts]}',
      in: taxing('10%'),
      currency,
      job: `
lines: [{other: Part, category: parts, price: ${price}}]
discounts: [{name: Off, amount: 12.50, on: [parts]}]
`,
    });
  // 1005 less 13 is 992; supplies 29.76 and tax 102.2 are rounded to whole yen.
  expect(sale('JPY', '1004.50').total.value.toString()).toBe('1124');
  expect(sale('KWD', '99.95').total.value.toString()).toBe('99.081');
});
