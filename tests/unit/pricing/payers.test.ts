import { describe, expect, test } from 'vitest';
import type { Priced } from '../../../server/src/pricing/model.ts';
import { taxing, texas } from '../../fixtures/jurisdictions.ts';
import { cents, codes, lineAt, message, priced, total } from './book.ts';

const BOOK = `
operations:
  diagnose: {name: Diagnosis, work: diagnosis, rate: diagnostic, hours: 1.5}
  rr: {name: Remove and refit, work: removal, rate: general, hours: 9.5}
  overhaul: {name: Overhaul, work: bench, rate: bench, hours: 9.5}
  relearn: {name: Programming, work: programming, rate: diagnostic, hours: 0.8}
  flat: {name: Alignment, work: in-vehicle, price: 120.00}
parts:
  PARTS: {name: Parts, kind: soft, cost: 1000.00, price: 1900.00}
  ATF: {name: Fluid, kind: fluid, cost: 8.90, price: 13.50}
  TC: {name: Converter, kind: converter, cost: 200.00, price: 300.00, core: 60.00}
`;
const SHOP = (payer: string) => `
rates:
  diagnostic: {name: Diagnostic, hourly: 165.00}
  general: {name: General, hourly: 148.00}
  bench: {name: Bench, hourly: 155.00}
fees: {shop: {name: Fee, amount: 75.00}}
payers:
  p: {name: Road Contract, kind: contract, ${payer}}
  fleet: {name: City Fleet, kind: fleet, covers: [parts, labor], gap: shop}
`;
const LINES = `
lines:
  - operation: diagnose
  - operation: rr
  - operation: overhaul
  - operation: relearn
  - part: PARTS
  - {part: ATF, quantity: 13}
  - fee: shop
`;
const place = taxing('8%');
const sell = (payer: string, job: string, jurisdiction = place) =>
  priced({ book: BOOK, shop: SHOP(payer), in: jurisdiction, job: `vehicle: {drive: rwd}\n${job}` });
const shares = (sale: Priced) => sale.shares.map((share) => [share.name, cents(share.total.value)]);

/** Every cent of every line, its tax too, has exactly one owner, and the shares add up to the total. */
function addsUp(sale: Priced): void {
  for (const line of sale.lines) {
    const net = line.owners.reduce((all, owner) => all.plus(owner.net), line.net.value.minus(line.net.value));
    expect(cents(net)).toBe(cents(line.net.value));
  }
  const all = sale.shares.reduce((left, share) => left.minus(share.total.value), sale.total.value);
  expect(all.toString()).toBe('0');
}

// trade.md 2.15 and scenario 32 (S58, S59): figures invented.
describe('a payer that allows 17.0 h at 125.00 and parts up to 1,750.00, with a deductible of 200.00', () => {
  const sale = sell(
    'covers: [labor, parts], hours: 17.0, rate: 125.00, parts-limit: 1750.00, deductible: 200.00',
    `${LINES}payers: [{payer: p}]`,
  );
  test('5,574.54 = 3,815.00 + 1,759.54', () => {
    expect([cents(sale.tax.amount.value), total(sale)]).toEqual(['166.04', '5574.54']);
    expect(shares(sale)).toEqual([
      ['Customer', '1759.54'],
      ['Road Contract', '3815.00'],
    ]);
    addsUp(sale);
  });
  test('tax 140.00 is the payer’s and 26.04 the customer’s', () => {
    expect(sale.shares.map((share) => [cents(share.tax), cents(share.deductible)])).toEqual([
      ['26.04', '200.00'],
      ['140.00', '200.00'],
    ]);
  });
  test('what is not covered and the gaps are the customer’s', () => {
    const customers = sale.lines.map((line) => {
      const own = line.owners.find(({ payer }) => payer === undefined);
      return [line.name, own ? cents(own.net) : '0.00'];
    });
    expect(customers).toEqual([
      ['Diagnosis', '247.50'],
      // 753.50 of labor, in proportion to 1,406.00 and 1,472.50.
      ['Remove and refit', '368.05'],
      ['Overhaul', '385.45'],
      ['Programming', '132.00'],
      ['Parts', '150.00'],
      ['Fluid', '175.50'],
      ['Fee', '75.00'],
    ]);
  });
});

test('the job narrows the terms of the shop', () => {
  const sale = sell(
    'covers: [labor, parts], deductible: 200.00',
    `${LINES}payers: [{payer: p, deductible: 0.00, covers: [parts], claim: K-1}]`,
  );
  expect(shares(sale)[1]).toEqual(['Road Contract', '2052.00']);
});

test('a gap that the shop bears lowers the price and its tax', () => {
  const sale = sell(
    'covers: [labor, parts], rate: 125.00, parts-discount: 10%, gap: shop',
    `${LINES}payers: [{payer: p}]`,
  );
  expect(cents(lineAt(sale, 4).net.value)).toBe('1710.00');
  expect(lineAt(sale, 4).reductions.map(({ kind, amount }) => [kind, cents(amount.value)])).toEqual([
    ['payer-terms', '190.00'],
  ]);
  // 19 h at 125.00 and 1,710.00 of parts with 8%.
  expect(shares(sale)[1]).toEqual(['Road Contract', '4221.80']);
  expect(cents(sale.tax.taxable.value)).toBe('1885.50');
  addsUp(sale);
});

test('hours without a rate are paid at the price; a rate above the price pays no more than the price', () => {
  const half = sell('covers: [labor], hours: 9.5', `${LINES}payers: [{payer: p}]`);
  expect(shares(half)[1]).toEqual(['Road Contract', '1439.25']);
  const dear = sell('covers: [labor], rate: 500.00', `${LINES}payers: [{payer: p}]`);
  expect(shares(dear)[1]).toEqual(['Road Contract', '2878.50']);
  const flat = sell('covers: [labor], hours: 1', 'lines: [{operation: flat}]\npayers: [{payer: p}]');
  expect(shares(flat)[1]).toEqual(['Road Contract', '120.00']);
});

test('limit: the most it pays in all, tax included; the rest is the customer’s', () => {
  const sale = sell('limit: 3000.00, deductible: 100.00', `${LINES}payers: [{payer: p}]`);
  expect(shares(sale)).toEqual([
    ['Customer', '2574.54'],
    ['Road Contract', '3000.00'],
  ]);
  expect(sale.shares.map((share) => cents(share.overLimit))).toEqual(['2474.54', '2474.54']);
  expect(sale.shares.map((share) => cents(share.deductible))).toEqual(['100.00', '100.00']);
  addsUp(sale);
});

test('payers take in the order of the job what they cover of what is left', () => {
  const sale = sell('covers: [labor], hours: 9.5', `${LINES}payers: [{payer: p}, {payer: fleet}]`);
  expect(shares(sale)).toEqual([
    ['Customer', '644.04'],
    ['Road Contract', '1439.25'],
    // The other 1,439.25 of labor, and parts with their tax.
    ['City Fleet', '3491.25'],
  ]);
  addsUp(sale);
});

test('a line can name its payer, or say that the customer pays it', () => {
  const lines = `
lines:
  - {operation: diagnose, payer: p}
  - {part: PARTS, customer-pays: yes}
  - {part: TC, payer: p}
  - {operation: relearn, payer: fleet}
payers: [{payer: p}]
`;
  const sale = sell('covers: [parts]', lines);
  const owner = (index: number, kind?: 'core') => lineAt(sale, index, kind).owners.map(({ payer }) => payer);
  expect([owner(0), owner(1), owner(2), owner(2, 'core'), owner(3)]).toEqual([
    ['p'],
    [undefined],
    ['p'],
    [undefined],
    [undefined],
  ]);
  expect(message(sale, 'line-payer-not-on-job')).toContain('City Fleet is to pay this line');
});

// trade.md 2.15 (S22): in Texas parts under a service contract are taxed, under the maker's warranty they are not.
test('tax may depend on the payer, and a payer may hold a certificate', () => {
  const tax = (payer: string, jurisdiction = texas('8%')) => {
    const sale = priced({
      book: BOOK,
      shop: SHOP('covers: [parts]').replace('kind: contract', payer),
      in: jurisdiction,
      job: 'lines: [{part: PARTS}, {part: ATF}]\npayers: [{payer: p}]',
    });
    addsUp(sale);
    return sale.shares.map((share) => cents(share.tax));
  };
  expect(tax('kind: contract')).toEqual(['1.08', '152.00']);
  expect(tax('kind: warranty')).toEqual(['1.08', '0.00']);
  expect(tax('kind: warranty', place)).toEqual(['1.08', '152.00']);
  expect(tax('kind: fleet, exempt: certificate 7', place)).toEqual(['1.08', '0.00']);
});

test('purchase orders and approvals are asked for', () => {
  expect(codes(sell('purchase-order: yes', `${LINES}payers: [{payer: p}]`))).toEqual([
    'purchase-order-missing',
  ]);
  expect(codes(sell('purchase-order: yes', `${LINES}payers: [{payer: p, purchase-order: PO-7}]`))).toEqual(
    [],
  );
  expect(
    message(sell('approval-limit: 1500.00', `${LINES}payers: [{payer: p}]`), 'payer-approval-needed'),
  ).toContain('is 5574.54, above the 1500.00');
  expect(codes(sell('approval-limit: 1500.00', `${LINES}payers: [{payer: p, approved: 6000.00}]`))).toEqual(
    [],
  );
  expect(
    message(sell('', `${LINES}payers: [{payer: p, approved: 5000.00}]`), 'payer-approval-exceeded'),
  ).toContain('for the other 574.54');
  expect(codes(sell('approval-limit: 5574.54', `${LINES}payers: [{payer: p}]`))).toEqual([]);
  expect(codes(sell('', `${LINES}payers: [{payer: p, approved: 5574.54}]`))).toEqual([]);
  expect(codes(sell('', `${LINES}payers: [{payer: p}, {payer: p}]`))).toEqual(['payer-twice']);
});

// trade.md 2.15; common practice, no source.
test('deposits lower the balance of whoever paid them, and neither tax nor total', () => {
  const sale = sell(
    'covers: [labor, parts]',
    `${LINES}
payers: [{payer: p}]
deposits:
  - {on: 2026-03-03, amount: 300.00, how: card}
  - {on: 2026-03-04, amount: 1000.00, by: p}
  - {on: 2026-03-05, amount: 50.00, by: fleet}
`,
  );
  expect([total(sale), cents(sale.paid.value), cents(sale.balance.value)]).toEqual([
    '5574.54',
    '1350.00',
    '4224.54',
  ]);
  expect(sale.shares.map((share) => cents(share.balance.value))).toEqual(['294.04', '3930.50']);
  expect(codes(sale)).toEqual(['deposit-by-stranger']);
});

test('a core credit goes back to whoever paid the deposit', () => {
  const sale = sell(
    'covers: [parts, cores]',
    `
lines: [{part: TC}]
payers: [{payer: p}]
cores: [{part: TC, ledger: customer, returned: 2026-03-20}]
`,
    texas('8%'),
  );
  expect(sale.shares.map((share) => [cents(share.total.value), cents(share.balance.value)])).toEqual([
    ['0.00', '0.00'],
    ['388.80', '328.80'],
  ]);
});

test('an unknown payer leaves everything with the customer and the answer incomplete', () => {
  const sale = sell('', `${LINES}payers: [{payer: nobody}]`);
  expect([shares(sale), sale.complete]).toEqual([[['Customer', '5574.54']], false]);
});
