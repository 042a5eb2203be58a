import { describe, expect, test } from 'vitest';
import { round } from '../../../schemas/values/decimal.ts';
import { parseSellingUnit, SELLING_UNITS, sellingFactor } from '../../../schemas/values/selling.ts';
import { messageIn, valueIn } from './expect-parsed.ts';

const sold = (text: string) => valueIn(parseSellingUnit(text));

test('a selling unit answers to its names and to its measure', () => {
  expect(
    ['each', 'EA', 'pcs', 'pairs', 'qt', 'Quarts', 'litres', 'imp qt', 'feet', 'hrs'].map(
      (text) => sold(text).id,
    ),
  ).toEqual(['each', 'each', 'each', 'pair', 'quart', 'quart', 'liter', 'imperial quart', 'foot', 'hour']);
  for (const unit of SELLING_UNITS) {
    expect(sold(unit.id)).toBe(unit);
    expect(sold(unit.plural)).toBe(unit);
  }
});

test('what nothing is sold by is refused', () => {
  expect(messageIn(parseSellingUnit('psi'))).toContain('Write each, pair, set, quart');
  expect(messageIn(parseSellingUnit('quartt'))).toContain('Did you mean "quart"?');
});

test('pieces and packs are sold whole, measures need not be', () => {
  expect(SELLING_UNITS.filter((unit) => unit.wholeOnly).map((unit) => unit.id)).toEqual([
    'each',
    'pair',
    'set',
    'kit',
    'case',
    'box',
  ]);
});

describe('from one selling unit to another', () => {
  test.each([
    ['gallon', 'quart', '4'],
    ['pair', 'each', '2'],
    ['each', 'pair', '0.5'],
    ['case', 'case', '1'],
    ['foot', 'inch', '12'],
    // UNIT-01, NIST Handbook 44 appendix C (from memory).
    ['quart', 'liter', '0.946352946'],
  ])('a %s in %s is %s', (from, to, factor) => {
    expect(sellingFactor(sold(from), sold(to))?.toString()).toBe(factor);
  });

  test('a liter is not quite an imperial quart, and more than a US one', () => {
    expect(round(sellingFactor(sold('liter'), sold('imperial quart'))!, 3).toString()).toBe('0.88');
    expect(round(sellingFactor(sold('liter'), sold('quart'))!, 3).toString()).toBe('1.057');
  });

  test.each([
    ['case', 'quart'],
    ['set', 'each'],
    ['quart', 'foot'],
    ['hour', 'each'],
  ])('nothing fixes how many %s make a %s', (from, to) => {
    expect(sellingFactor(sold(from), sold(to))).toBeUndefined();
  });
});
