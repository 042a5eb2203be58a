import { describe, expect, test } from 'vitest';
import { markupRule } from '../../../schemas/kinds/shared.ts';
import { dec } from '../../../schemas/values/decimal.ts';
import { explain, given } from '../../../server/src/pricing/amount.ts';
import { markedUp } from '../../../server/src/pricing/bands.ts';
import { taxing } from '../../fixtures/jurisdictions.ts';
import { cents, codes, lineAt, message, priced, total } from './book.ts';

const untaxed = taxing('8%', 'none');

const BANDS = `
    bands:
      - {below: 10.00, factor: 3.00}
      - {below: 50.00, factor: 2.20}
      - {below: 200.00, factor: 1.75}
      - {below: 1000.00, factor: 1.45}
      - {factor: 1.25}
`;
const shopWith = (rule: string) => `
schedules:
  std:
${rule}
pricing: {parts: std}
`;
const whole = shopWith(BANDS);
const graduated = shopWith(`    how: graduated${BANDS}`);

function sell(cost: string, shop: string, more = ''): string {
  const book = `parts: {P-1: {name: Part, kind: hard, cost: ${cost}${more}}}`;
  return cents(lineAt(priced({ book, shop, in: untaxed, job: 'lines: [{part: P-1}]' }), 0).each!.value);
}

describe('markup and margin', () => {
  const one = (rule: string) => shopWith(`    bands: [{${rule}}]`);

  // checks.md MRK-01 (mathondemand.com), MRK-02 (calcreal.com), MRK-04 (same, cent rounding); trade.md 2.4.
  test.each([
    ['MRK-01', '70', 'margin: 30%', '100.00'],
    ['MRK-02', '40', 'markup: 50%', '60.00'],
    ['MRK-04', '205', 'markup: 46.341%', '300.00'],
    ['MRK-04', '205', 'margin: 31.667%', '300.00'],
    ['trade.md 2.4', '240.00', 'markup: 40%', '336.00'],
    ['trade.md 2.4', '240.00', 'margin: 40%', '400.00'],
  ])('%s: cost %s with %s sells for %s', (_row, cost, rule, price) => {
    expect(sell(cost, one(rule))).toBe(price);
  });

  // MRK-01: markup on cost 42.86%; MRK-02: margin 33.33%; trade.md 2.4: margin 28.57%, markup 66.67%.
  test.each([
    ['30', '70', '42.86'],
    ['40', '240', '66.67'],
  ])('a margin of %s%% on a cost of %s is a markup of %s%%', (margin, cost, markup) => {
    const price = markedUp('Price', { margin: dec(margin).div(dec('100')) }, given('Cost', dec(cost))).value;
    expect(price.minus(dec(cost)).div(dec(cost)).times(dec('100')).toFixed(2)).toBe(markup);
  });
  test.each([
    ['50', '40', '33.33'],
    ['40', '240', '28.57'],
  ])('a markup of %s%% on a cost of %s is a margin of %s%%', (markup, cost, margin) => {
    const price = markedUp('Price', { markup: dec(markup).div(dec('100')) }, given('Cost', dec(cost))).value;
    expect(price.minus(dec(cost)).div(price).times(dec('100')).toFixed(2)).toBe(margin);
  });

  // MRK-06 (algebra): refused where it is written, and harmless where it is counted.
  test('a margin of 100% or more is refused', () => {
    const rule = markupRule({}).safeParse({ margin: '100%' });
    expect(rule.error?.issues[0]?.message).toContain('A margin of 100% or more has no price');
    expect(markedUp('Price', { margin: dec('1') }, given('Cost', dec('70'))).value.toString()).toBe('70');
  });

  // MRK-07 (algebra): margin = markup / (1 + markup).
  test.each(['0.1', '0.25', '0.4', '0.5', '1', '2.5'])(
    'a markup of %s and its margin give one price',
    (text) => {
      const markup = dec(text);
      const margin = markup.div(markup.plus(dec('1')));
      const cost = given('Cost', dec('183.27'));
      const byMarkup = markedUp('Price', { markup }, cost).value.toFixed(20);
      expect(markedUp('Price', { margin }, cost).value.toFixed(20)).toBe(byMarkup);
      expect(
        markedUp('Price', { margin: markup.lt(dec('1')) ? markup : margin }, cost).value.toFixed(2),
      ).not.toBe(markup.lt(dec('1')) ? markedUp('Price', { markup }, cost).value.toFixed(2) : '');
    },
  );

  // checks.md MRK-05.
  test('10% off 45.00 takes off 4.50', () => {
    const book = 'parts: {P-1: {name: Part, kind: hard, cost: 20, price: 45.00}}';
    const job = priced({ book, in: untaxed, job: 'lines: [{part: P-1, discount: 10%}]' });
    expect(cents(lineAt(job, 0).reductions[0]!.amount.value)).toBe('4.50');
    expect(total(job)).toBe('40.50');
  });
});

// trade.md 2.5, the whole table; common practice, no source, figures invented.
describe('bands by cost', () => {
  test.each([
    ['9.99', '29.97', '29.97'],
    ['10.00', '22.00', '30.00'],
    ['49.99', '109.98', '117.98'],
    ['50.00', '87.50', '118.00'],
    ['199.99', '349.98', '380.48'],
    ['200.00', '290.00', '380.50'],
    ['999.99', '1449.99', '1540.49'],
    ['1000.00', '1250.00', '1540.50'],
  ])('cost %s: whole %s, graduated %s', (cost, byWhole, bySlices) => {
    expect(sell(cost, whole)).toBe(byWhole);
    expect(sell(cost, graduated)).toBe(bySlices);
  });

  test('a cost above a closed last band has no price', () => {
    const job = priced({
      book: 'parts: {P-1: {name: Drum, kind: hard, cost: 118.00}}',
      shop: shopWith('    bands: [{below: 100.00, factor: 2}]'),
      in: untaxed,
      job: 'lines: [{part: P-1}]',
    });
    expect(message(job, 'price-missing')).toContain('above the last band of the schedule std');
    expect(job.complete).toBe(false);
  });

  test('the tree shows band, factor and cost', () => {
    const job = priced({
      book: 'parts: {P-1: {name: Kit, kind: kit, cost: 228.00}}',
      shop: whole,
      in: untaxed,
      job: 'lines: [{part: P-1}]',
    });
    expect(explain(lineAt(job, 0).amount)).toEqual([
      'Amount: 330.60 = 1 each × 330.60',
      '  Quantity: 1 each [lines 0 quantity]',
      '  Price each: 330.60 = 228.00 × 1.45 [schedule std]',
      '    Cost: 228.00 [part P-1, cost]',
      '    Factor: 1.45',
    ]);
  });

  test('landed basis counts freight, by kind and by part another schedule', () => {
    const shop = `
schedules:
  std: {bands: [{factor: 2}]}
  landed: {basis: landed, bands: [{factor: 2}]}
  triple: {bands: [{factor: 3}]}
pricing: {parts: std, by-kind: {cooling: landed}}
`;
    const of = (kind: string, more = '') =>
      cents(
        lineAt(
          priced({
            book: `parts: {P-1: {name: Part, kind: ${kind}, cost: 100.00, freight: 8.50${more}}}`,
            shop,
            in: untaxed,
            job: 'lines: [{part: P-1}]',
          }),
          0,
        ).each!.value,
      );
    expect(of('hard')).toBe('200.00');
    expect(of('cooling')).toBe('217.00');
    expect(of('cooling', ', schedule: triple')).toBe('300.00');
  });
});

describe('list price, ending, least margin', () => {
  const list = (rule: string) => shopWith(`    list: ${rule}\n    bands: [{factor: 2}]`);
  test.each([
    ['ignore', '90.00', '100.00'],
    ['at', '90.00', '90.00'],
    ['at-least', '90.00', '100.00'],
    ['at-least', '110.00', '110.00'],
    ['at-most', '90.00', '90.00'],
    ['at-most', '110.00', '100.00'],
  ])('list rule %s with a list price of %s over a computed 100.00 gives %s', (rule, price, sells) => {
    expect(sell('50.00', list(rule), `, list: ${price}`)).toBe(sells);
  });
  test('a list price rule needs no list price, and `at` needs no cost', () => {
    expect(sell('50.00', list('at'))).toBe('100.00');
    const book = 'parts: {P-1: {name: Part, kind: hard, list: 64.20}}';
    const job = priced({ book, shop: list('at'), in: untaxed, job: 'lines: [{part: P-1}]' });
    expect(total(job)).toBe('64.20');
    const missing = (rule: string, figures: string) =>
      codes(
        priced({
          book: `parts: {P-1: {name: Part, kind: hard${figures}}}`,
          shop: list(rule),
          in: untaxed,
          job: 'lines: [{part: P-1}]',
        }),
      );
    expect(missing('at', '')).toEqual(['price-missing']);
    expect(missing('at-least', ', list: 64.20')).toEqual(['price-missing']);
  });

  // trade.md 2.18; common practice, no source.
  test('12 bolts at 1.32: ending .95 on each gives 23.40, on the line 15.95', () => {
    const bolts = (per: string) =>
      total(
        priced({
          book: 'parts: {B-1: {name: Bolt, kind: hardware, cost: 1.32}}',
          shop: shopWith(`    ending: 0.95\n    ending-per: ${per}\n    bands: [{factor: 1}]`),
          in: untaxed,
          job: 'lines: [{part: B-1, quantity: 12}]',
        }),
      );
    expect(bolts('each')).toBe('23.40');
    expect(bolts('line')).toBe('15.95');
  });
  test.each([
    ['0.95', '1.95', '1.95'],
    ['0.95', '1.96', '2.95'],
    ['9.95', '31.10', '39.95'],
    ['9.95', '39.95', '39.95'],
    ['0.00', '31.10', '32.00'],
    ['1.00', '3.20', '11.00'],
    ['95.00', '101.00', '195.00'],
  ])('ending %s takes %s up to %s', (ending, from, to) => {
    expect(sell(from, shopWith(`    ending: ${ending}\n    bands: [{factor: 1}]`))).toBe(to);
  });
  test('fixed and typed prices keep their ending, and a capped list price is not passed', () => {
    const shop = shopWith('    ending: 0.95\n    list: at-most\n    bands: [{factor: 2}]');
    expect(sell('50.00', shop, ', price: 61.10')).toBe('61.10');
    expect(sell('50.00', shop, ', list: 100.40')).toBe('100.00');
  });
  test('the least margin lifts the price, to the cent upwards, and beats a list price', () => {
    const shop = shopWith('    least-margin: 30%\n    list: at-most\n    bands: [{factor: 1.25}]');
    expect(sell('70.00', shop)).toBe('100.00');
    expect(sell('70.01', shop)).toBe('100.02');
    expect(sell('70.00', shop, ', list: 80.00')).toBe('100.00');
  });
});

// trade.md 2.8; common practice, no source: a case of 12 quarts at 81.00, 13 quarts sold.
test('banded by the quart or by the case, 13 quarts differ by 109.72', () => {
  const book = `
parts:
  ATF: {name: Fluid, kind: fluid, pack: {unit: case, of: 12, cost: 81.00}}
`;
  const sold = (on: string) =>
    lineAt(
      priced({
        book,
        shop: shopWith(`    on: ${on}${BANDS}`),
        in: untaxed,
        job: 'lines: [{part: ATF, quantity: 13}]',
      }),
      0,
    );
  const byQuart = sold('selling-unit');
  const byCase = sold('purchase-unit');
  expect([cents(byQuart.each!.value), cents(byCase.each!.value)]).toEqual(['20.25', '11.81']);
  expect(cents(byQuart.amount.value.minus(byCase.amount.value))).toBe('109.72');
  expect(cents(byQuart.cost!.value)).toBe('87.75');
});

describe('which price holds', () => {
  const HISTORY = `
parts:
  P-1:
    name: Filter
    kind: filter
    prices:
      - {from: 2026-01-01, until: 2026-01-31, cost: 20.00}
      - {from: 2026-03-01, cost: 22.40, core: 5.00}
      - {from: 2026-06-01, price: 60.00}
`;
  const on = (day: string, job = 'lines: [{part: P-1}]') =>
    priced({ book: HISTORY, shop: whole, in: untaxed, on: day, job });

  // trade.md 2.17; common practice, no source.
  test('the price in force on the pricing date counts', () => {
    expect(cents(lineAt(on('2026-01-31'), 0).amount.value)).toBe('44.00');
    expect(cents(lineAt(on('2026-03-01'), 0).amount.value)).toBe('49.28');
    expect(cents(lineAt(on('2026-06-01'), 0).amount.value)).toBe('60.00');
  });
  test('a day without a price is an error that names the days around it', () => {
    const job = on('2026-02-10');
    expect(message(job, 'price-missing')).toContain(
      'on 2026-02-10 (one ends 2026-01-31, the next starts 2026-03-01)',
    );
    expect(job.complete).toBe(false);
  });
  test('a typed price beats a locked one, a locked one all others', () => {
    const lock = 'lock: {on: 2026-02-01, parts: {P-1: {price: 47.00, cost: 21.00, core: 7.00}}}';
    const locked = on('2026-06-01', `lines: [{part: P-1}]\n${lock}`);
    expect(locked.lines.map((line) => cents(line.amount.value))).toEqual(['47.00', '7.00']);
    expect(cents(locked.inside.cost.value)).toBe('21.00');
    const typed = on('2026-06-01', `lines: [{part: P-1, price: 52.00, reason: matched a quote}]\n${lock}`);
    expect(cents(lineAt(typed, 0).amount.value)).toBe('52.00');
    expect(codes(typed)).toEqual([]);
  });
  test('a typed price without a reason is warned of', () => {
    expect(codes(on('2026-03-01', 'lines: [{part: P-1, price: 50.00}]'))).toEqual([
      'override-without-reason',
    ]);
  });
});

// trade.md 2.17; common practice, no source.
describe('supersession', () => {
  const CHAIN = `
parts:
  OLD: {name: Solenoid, kind: electrical, cost: 10.00, superseded-by: {part: MID}}
  MID: {name: Solenoid pair, kind: electrical, cost: 12.00, superseded-by: {part: NEW, quantity: 2, from: 2026-03-01, needs: reprogramming}}
  NEW: {name: Solenoid, second make, kind: electrical, cost: 30.00}
  A: {name: A, kind: hard, cost: 10.00, superseded-by: {part: B}}
  B: {name: B, kind: hard, cost: 10.00, superseded-by: {part: A}}
  LOST: {name: Lost, kind: hard, cost: 10.00, superseded-by: {part: NOWHERE}}
  HALF: {name: Half, kind: hard, cost: 10.00, superseded-by: {part: NEW, quantity: 0.5}}
`.replace('Solenoid, second make', 'Solenoid second make');
  const job = (lines: string, on = '2026-03-02') =>
    priced({
      book: CHAIN,
      shop: shopWith('    bands: [{factor: 2}]'),
      in: untaxed,
      on,
      job: `lines: ${lines}`,
    });

  test('the chain is followed to its end, quantities multiplied, all numbers kept', () => {
    const now = job('[{part: OLD, quantity: 3}]');
    const line = lineAt(now, 0);
    expect(line.numbers).toEqual(['OLD', 'MID', 'NEW']);
    expect(line.quantity.value.toString()).toBe('6');
    expect(cents(line.amount.value)).toBe('360.00');
    expect(now.problems[0]).toMatchObject({
      code: 'part-superseded',
      path: ['lines', 0, 'part'],
      tags: ['deprecated'],
      data: { from: 'OLD', to: 'NEW', factor: '2' },
    });
    expect(now.problems[0]?.message).toContain('It also needs: reprogramming');
  });
  test('a replacement counts from its day', () => {
    expect(lineAt(job('[{part: OLD}]', '2026-02-28'), 0).id).toBe('MID');
  });
  test('a circle is an error and the number as written is sold', () => {
    const round = job('[{part: A}]');
    expect(message(round, 'supersession-cycle')).toContain('A → B → A');
    expect(total(round)).toBe('20.00');
  });
  test('a replacement that the book does not know leaves the last known one and an incomplete total', () => {
    const lost = job('[{part: LOST}]');
    expect([total(lost), lost.complete, codes(lost)]).toEqual(['20.00', false, []]);
  });
  test('two for one may leave half a piece, which cannot be sold', () => {
    expect(message(job('[{part: HALF}]'), 'fractional-quantity')).toContain('0.5 cannot be sold. Write 1.');
  });
  test('a locked number is not followed further', () => {
    const locked = priced({
      book: CHAIN,
      shop: shopWith('    bands: [{factor: 2}]'),
      in: untaxed,
      job: 'lines: [{part: OLD}]\nlock: {on: 2026-01-01, parts: {OLD: {price: 19.00}}}',
    });
    expect([total(locked), lineAt(locked, 0).id]).toEqual(['19.00', 'OLD']);
  });
});

// trade.md 2.6; common practice, no source.
describe('kits', () => {
  const KITS = `
parts:
  KIT: {name: Overhaul kit, kind: kit, cost: 228.00, contents: [{part: FIL}, {part: FR, quantity: 2}, {role: seal-set}]}
  SUM: {name: Service kit, kind: kit, kit-price: contents, contents: [{part: FIL}, {part: FR, quantity: 2}]}
  ROLE: {name: Role kit, kind: kit, kit-price: contents, contents: [{part: FIL}, {role: seal-set}]}
  FIL: {name: Filter, kind: filter, cost: 22.40, role: filter}
  FR: {name: Friction set, kind: soft, cost: 142.00}
  SEAL: {name: Seal set, kind: soft, cost: 40.00, role: seal-set}
`;
  const job = (lines: string) => priced({ book: KITS, shop: whole, in: untaxed, job: `lines: ${lines}` });

  test('priced by itself or by its contents', () => {
    expect(total(job('[{part: KIT}]'))).toBe('330.60');
    // 49.28 + 2 x 248.50
    expect(total(job('[{part: SUM, quantity: 2}]'))).toBe('1092.56');
    expect(cents(lineAt(job('[{part: SUM}]'), 0).cost!.value)).toBe('306.40');
  });
  test('contents without a part leave the kit unpriced', () => {
    expect(codes(job('[{part: ROLE}]'))).toEqual(['kit-content-without-part']);
    expect(job('[{part: ROLE}]').complete).toBe(false);
  });
  test('a part inside a kit on the job is billed twice: warned with the money', () => {
    const twice = job('[{part: KIT}, {part: FIL}, {part: SEAL}]');
    expect(codes(twice)).toEqual(['part-inside-kit', 'part-inside-kit']);
    expect(twice.problems[0]?.message).toContain('Filter is inside Overhaul kit');
    expect(twice.problems[0]?.message).toContain('49.28 is billed twice');
    expect(twice.problems.map(({ path }) => path[1])).toEqual([1, 2]);
    expect(codes(job('[{part: KIT}, {part: FIL, supplied: yes}]'))).toEqual([]);
    expect(codes(job('[{part: KIT}, {part: FIL, reason: a second one in the line}]'))).toEqual([]);
  });
});

test('a part from the customer has no price, no cost and no core', () => {
  const job = priced({
    book: 'parts: {TC: {name: Converter, kind: converter, cost: 265.00, core: 120.00}}',
    shop: whole,
    in: untaxed,
    job: 'lines: [{part: TC, supplied: yes}]',
  });
  expect(job.lines.map((line) => [line.suppliedByCustomer, cents(line.amount.value)])).toEqual([
    [true, '0.00'],
  ]);
  expect([cents(job.inside.cost.value), job.inside.costKnown]).toEqual(['0.00', true]);
});

test('a part without any schedule or any cost says what is missing', () => {
  const noRule = priced({
    book: 'parts: {P-1: {name: Part, kind: hard, cost: 10.00}}',
    in: untaxed,
    job: 'lines: [{part: P-1}]',
  });
  expect(message(noRule, 'price-missing')).toBe(
    'Part is counted as 0: nothing says how it is priced. Add `pricing` to shop.yaml, or a price here.',
  );
  const noCost = priced({
    book: 'parts: {P-1: {name: Part, kind: hard}}',
    shop: whole,
    in: untaxed,
    job: 'lines: [{part: P-1}]',
  });
  expect(message(noCost, 'price-missing')).toContain('it has neither cost nor price');
});

test('a price below cost is warned of, or is an error where the law forbids it', () => {
  const book = 'parts: {P-1: {name: Part, kind: hard, cost: 22.40, price: 19.00}}';
  const job = priced({ book, in: untaxed, job: 'lines: [{part: P-1}]' });
  expect(message(job, 'part-below-cost')).toContain('costs 22.40 and sells for 19.00');
  expect(
    codes(priced({ book, in: untaxed, job: 'lines: [{part: P-1, price: 15.00, reason: goodwill}]' })),
  ).toEqual([]);
});
