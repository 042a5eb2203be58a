import { describe, expect, test } from 'vitest';
import { explain } from '../../../server/src/pricing/amount.ts';
import { taxing } from '../../fixtures/jurisdictions.ts';
import { cents, codes, lineAt, message, priced } from './book.ts';

const BOOK = `
parts:
  ATF: {name: Fluid B, kind: fluid, cost: 8.90, price: 13.50, fluid-class: B}
  LIT: {name: Fluid B by the liter, kind: fluid, cost: 9.40, price: 14.25, unit: liter, fluid-class: B}
  CASE: {name: Fluid B by the case, kind: fluid, cost: 8.90, price: 13.50, pack: {unit: case, of: 12, whole: yes}}
  BOTTLE: {name: Bottle, kind: fluid, cost: 8.90, price: 13.50, unit: each}
  SOL: {name: Solenoid, kind: electrical, cost: 38.50, price: 84.70}
  HOSE: {name: Cooler hose, kind: cooling, cost: 3.10, price: 6.20, unit: foot}
operations:
  reassemble: {name: Reassemble, work: reassembly, price: 100.00}
  overhaul: {name: Overhaul, work: bench, price: 100.00}
  flush: {name: Flush the cooler, work: cooling, price: 100.00}
units:
  birch-6:
    name: Birch-6
    layout: rear
    fluid-class: B
    capacities: {dry: 11.0 L, service: 5 qt, cooler-and-lines: 1.5 qt, includes: [converter], converter: 4 qt}
`;
const sell = (lines: string) => priced({ book: BOOK, in: taxing('8%', 'none'), job: `lines: ${lines}` });

// trade.md 2.7; figures invented: 11.0 L = 11.62 US qt, + 1.0 lost = 12.62, 13 quarts sold.
describe('fluid by capacity', () => {
  test('11.0 L and 1 qt of loss are 13 quarts', () => {
    const sale = sell('[{fill: dry, part: ATF, loss: 1 qt}]');
    expect(lineAt(sale, 0).quantity.value.toString()).toBe('13');
    const tree = explain(lineAt(sale, 0).quantity, (value) => value.toFixed(2));
    expect(tree).toEqual([
      'Quantity: 13.00, up from 12.62',
      '  Needed: 12.62 = 11.62 + 1.00',
      '    Dry fill: 11.62 (converted)',
      '      Dry fill: 11.00 [unit birch-6, capacities dry]',
      '    Lost to flush and flow test: 1.00 [lines 0 loss]',
    ]);
  });
  test('in another selling unit, and in whole packs', () => {
    expect(lineAt(sell('[{fill: dry, part: LIT}]'), 0).quantity.value.toString()).toBe('11');
    expect(lineAt(sell('[{fill: dry, part: CASE}]'), 0).quantity.value.toString()).toBe('12');
    expect(lineAt(sell('[{fill: dry, part: CASE, loss: 1 qt}]'), 0).quantity.value.toString()).toBe('24');
  });
  test('other capacities are added unless the dry figure counts them', () => {
    const sale = sell('[{fill: dry, part: ATF, plus: [converter, cooler-and-lines]}]');
    expect(lineAt(sale, 0).quantity.value.toString()).toBe('14');
    expect(message(sale, 'fill-counted-already')).toContain('Dry fill of Birch-6 counts this already');
    expect(lineAt(sell('[{fill: service, part: ATF, plus: [converter]}]'), 0).quantity.value.toString()).toBe(
      '9',
    );
  });
  test('an unknown capacity or a fluid by the bottle cannot be counted', () => {
    const elm = priced({
      book: 'parts: {ATF: {name: Fluid, kind: fluid, price: 13.50}}\nunits: {elm: {name: Elm, layout: rear, fluid-class: H}}',
      in: taxing('8%'),
      job: 'unit: elm\nlines: [{fill: dry, part: ATF}]',
    });
    expect(message(elm, 'capacity-missing')).toContain('Elm has no figure for dry fill');
    expect(elm.complete).toBe(false);
    expect(codes(sell('[{fill: dry, part: BOTTLE}]'))).toEqual(['fluid-not-by-volume']);
  });
  // trade.md scenario 14 (S109): 13 quarts less 5 leave 8 quarts, 108.00; without loss 7 quarts, 94.50.
  test('a service fill in a unit that was opened is short', () => {
    const sale = sell('[{operation: reassemble}, {fill: service, part: ATF}]');
    expect(message(sale, 'fill-short')).toContain(
      'takes 11 L when it is empty, but only 5 qt is sold: 7 qt, 94.50',
    );
    expect(codes(sell('[{operation: reassemble}, {fill: dry, part: ATF}]'))).toEqual([]);
    expect(codes(sell('[{operation: overhaul}, {part: ATF, quantity: 11}]'))).toEqual(['fill-short']);
    expect(codes(sell('[{operation: overhaul}, {part: ATF, quantity: 12}]'))).toEqual([]);
    expect(codes(sell('[{operation: flush}, {fill: service, part: ATF}]'))).toEqual([]);
  });
  test('using the service fill instead of dry fill and loss leaves 108.00 unbilled', () => {
    const full = lineAt(sell('[{fill: dry, part: ATF, loss: 1 qt}]'), 0).amount.value;
    const service = lineAt(sell('[{fill: service, part: ATF}]'), 0).amount.value;
    expect(cents(full.minus(service))).toBe('108.00');
  });
});

// trade.md 2.8; common practice, no source.
test('half an each is an error, half a foot is not; a whole pack is not broken', () => {
  const half = sell('[{part: SOL, quantity: 1.5}]');
  expect(message(half, 'fractional-quantity')).toBe(
    'Solenoid is sold by the piece: 1.5 cannot be sold. Write 2.',
  );
  expect(half.problems[0]).toMatchObject({ path: ['lines', 0, 'quantity'], data: { quantity: '2' } });
  expect(codes(sell('[{part: HOSE, quantity: 2.5}]'))).toEqual([]);
  expect(message(sell('[{part: CASE, quantity: 13}]'), 'pack-broken')).toContain('Write 24.');
});
