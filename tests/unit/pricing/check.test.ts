import { describe, expect, test } from 'vitest';
import { checkOperation, checkPart, checkShop } from '../../../server/src/pricing/check.ts';
import { CODES } from '../../../server/src/pricing/codes.ts';
import { bookOf, catalogOf, shopOf } from './book.ts';

const brief = (problems: readonly { code: string; path: readonly (string | number)[] }[]) =>
  problems.map(({ code, path }) => `${code} ${path.join('.')}`);

describe('schedules', () => {
  const check = (rule: string) => checkShop(shopOf(`schedules:\n  std: {${rule}}`));
  // trade.md 2.5: the bold figures.
  test('an edge where a dearer part sells for less is warned of with both costs and prices', () => {
    const problems = check(
      'bands: [{below: 10.00, factor: 3.00}, {below: 50.00, factor: 2.20}, {below: 200.00, factor: 1.75}, {below: 1000.00, factor: 1.45}, {factor: 1.25}]',
    );
    expect(problems.map(({ data }) => [data?.costs, data?.prices])).toEqual([
      [
        ['9.99', '10.00'],
        ['29.97', '22'],
      ],
      [
        ['49.99', '50.00'],
        ['109.98', '87.5'],
      ],
      [
        ['199.99', '200.00'],
        ['349.98', '290'],
      ],
      [
        ['999.99', '1000.00'],
        ['1449.99', '1250'],
      ],
    ]);
    expect(problems[0]?.message).toBe(
      'A part that costs 9.99 sells for 29.97, and one that costs 10.00 for only 22.00. Write `how: graduated`, or bring the two factors closer.',
    );
    expect(brief(problems)[0]).toBe('band-edge-drop schedules.std.bands.0.below');
  });
  test('graduated bands and rising factors have no such edge', () => {
    expect(check('how: graduated, bands: [{below: 10.00, factor: 3.00}, {factor: 2.20}]')).toEqual([]);
    expect(check('bands: [{below: 10.00, factor: 2.00}, {factor: 2.20}]')).toEqual([]);
  });
  test('order, an open band too early, a closed one at the end, a least margin without a price', () => {
    expect(
      brief(check('bands: [{below: 50.00, factor: 2}, {below: 10.00, factor: 3}, {factor: 3}]')),
    ).toEqual(['band-out-of-order schedules.std.bands.1.below']);
    expect(brief(check('bands: [{factor: 2}, {below: 10.00, factor: 3}]'))).toEqual([
      'band-open-early schedules.std.bands.0',
      'band-last-closed schedules.std.bands.1.below',
    ]);
    expect(brief(check('least-margin: 100%, bands: [{factor: 2}]'))).toEqual([
      'margin-without-price schedules.std.least-margin',
    ]);
  });
});

test('fees, discounts and supplies that cannot be counted', () => {
  const problems = checkShop(
    shopOf(`
fees:
  a: {name: A}
  b: {name: B, percent: 2%}
  c: {name: C, amount: 2.00, each: unit-sold}
  d: {name: D, amount: 2.00}
discounts: {e: {name: E, on: [labor]}}
supplies: {rate: 6%, on: [labor, fees]}
`),
  );
  expect(brief(problems)).toEqual([
    'fee-without-figure fees.a',
    'fee-without-base fees.b',
    'fee-without-role fees.c',
    'discount-without-figure discounts.e',
    'base-counted-later supplies.on.1',
  ]);
});

describe('parts', () => {
  const check = (text: string, id = 'A') => {
    const book = bookOf(`parts:\n${text}`);
    return checkPart(id, book.parts![id]!, catalogOf(book));
  };
  test('gaps and overlaps of the price history', () => {
    const history = (rows: string, more = '') =>
      brief(check(`  A: {name: A, kind: hard${more}, prices: [${rows}]}`));
    expect(history('{from: 2026-01-01, cost: 1}, {from: 2026-02-01, cost: 2}')).toEqual([]);
    expect(history('{from: 2026-01-01, until: 2026-01-31, cost: 1}, {from: 2026-02-01, cost: 2}')).toEqual(
      [],
    );
    expect(history('{from: 2026-01-01, until: 2026-01-30, cost: 1}, {from: 2026-02-01, cost: 2}')).toEqual([
      'price-gap prices.1.from',
    ]);
    expect(
      history('{from: 2026-01-01, until: 2026-01-30, cost: 1}, {from: 2026-02-01, cost: 2}', ', cost: 1'),
    ).toEqual([]);
    expect(history('{from: 2026-02-01, cost: 2}, {from: 2026-01-01, until: 2026-02-01, cost: 1}')).toEqual([
      'price-overlap prices.0.from',
    ]);
    expect(history('{from: 2026-01-01, cost: 1}, {from: 2026-01-01, cost: 2}')).toEqual([
      'price-overlap prices.1.from',
    ]);
    expect(history('{from: 2026-02-01, until: 2026-01-01, cost: 2}')).toEqual([
      'price-dates-reversed prices.0.until',
    ]);
  });
  test('circles of replacement and of kits', () => {
    expect(
      brief(
        check(
          '  A: {name: A, kind: hard, superseded-by: {part: B, from: 2030-01-01}}\n  B: {name: B, kind: hard, superseded-by: {part: A}}',
        ),
      ),
    ).toEqual(['supersession-cycle superseded-by.part']);
    expect(brief(check('  A: {name: A, kind: hard, superseded-by: {part: B, quantity: 0}}'))).toEqual([
      'supersession-of-none superseded-by.quantity',
    ]);
    expect(
      brief(
        check(
          '  A: {name: A, kind: kit, contents: [{part: B}]}\n  B: {name: B, kind: kit, contents: [{part: A}]}',
        ),
      ),
    ).toEqual(['kit-holds-itself contents']);
    expect(brief(check('  A: {name: A, kind: kit, kit-price: contents}'))).toEqual([
      'kit-without-contents kit-price',
    ]);
  });
  test('sets need a count, packs hold something', () => {
    expect(brief(check('  A: {name: A, kind: soft, unit: set}'))).toEqual(['set-without-count unit']);
    expect(brief(check('  A: {name: A, kind: soft, unit: set, holds: 6}'))).toEqual([]);
    expect(brief(check('  A: {name: A, kind: soft, pack: {unit: case, of: 0, cost: 5}}'))).toEqual([
      'pack-of-none pack.of',
    ]);
  });
});

// trade.md 2.2: a cycle in what operations include is an error.
test('operations that include each other', () => {
  const book = bookOf(`
operations:
  a: {name: A, work: bench, includes: [b]}
  b: {name: B, work: bench, includes: [c]}
  c: {name: C, work: bench, includes: [a]}
  d: {name: D, work: bench, includes: [a]}
`);
  const check = (id: string) => brief(checkOperation(id, book.operations![id]!, catalogOf(book)));
  expect([check('a'), check('d')]).toEqual([['includes-cycle includes'], []]);
});

test('every code has a page, and only once', () => {
  const names = CODES.map(({ code }) => code);
  expect(new Set(names).size).toBe(names.length);
  for (const page of CODES) {
    expect(page.code).toMatch(/^[a-z0-9]+(-[a-z0-9]+)+$/);
    expect([page.title, page.why, page.example, page.mend].every((text) => text.trim().length > 0)).toBe(
      true,
    );
  }
});
