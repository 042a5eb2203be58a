import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { dec } from '../../../schemas/values/decimal.ts';
import { compareQuantity, quantity } from '../../../schemas/values/quantity.ts';
import { formatRange, isWithin, parseRange } from '../../../schemas/values/range.ts';
import type { Dimension } from '../../../schemas/values/units.ts';
import { messageIn, valueIn } from './expect-parsed.ts';

describe('reading a range', () => {
  test.each<[string, Dimension, string]>([
    ['65..66 F', 'temperature', '65..66 °F'],
    ['35 C..45 C', 'temperature', '35..45 °C'],
    ['-10..5 C', 'temperature', '-10..5 °C'],
    ['0.005 .. 0.018 in', 'length', '0.005..0.018 in'],
    ['.005..0.018 in', 'length', '0.005..0.018 in'],
    ['..5 in', 'length', '..5 in'],
    ['10 psi..', 'pressure', '10 psi..'],
    ['10.. psi', 'pressure', '10 psi..'],
    ['1 in..30 mm', 'length', '1 in..30 mm'],
    ['1..4', 'count', '1..4'],
    ['5..5 in', 'length', '5..5 in'],
  ])('%s as %s is %s', (typed, dimension, printed) => {
    expect(formatRange(valueIn(parseRange(typed, dimension)))).toBe(printed);
  });

  test.each<[string, Dimension, string]>([
    ['66..65 F', 'temperature', 'write the lower end first, 65..66 °F'],
    ['65-66 F', 'temperature', 'Write two dots between the ends of a range: 65..66 F.'],
    ['65 to 66 F', 'temperature', '65..66 F'],
    ['5 in', 'length', 'Write ..5 in for at most, 5 in.. for at least'],
    ['..', 'pressure', 'has no ends'],
    ['0...5 in', 'length', 'exactly two dots'],
    ['10..', 'pressure', 'Write the unit too'],
    ['65..66 psi', 'temperature', 'a temperature is needed'],
    ['1..2..3 in', 'length', 'is not a range of length'],
    ['hot', 'temperature', 'is not a range of temperature'],
  ])('%s as %s is refused and told what to write', (typed, dimension, part) => {
    expect(messageIn(parseRange(typed, dimension))).toContain(part);
  });

  test('what it prints it reads back', () => {
    const ends = fc
      .integer({ min: -5000, max: 5000 })
      .map((n) => quantity(dec(String(n)).div(dec('100')), 'F'));
    fc.assert(
      fc.property(ends, ends, fc.constantFrom('low', 'high', 'both'), (a, b, kept) => {
        const [low, high] = compareQuantity(a, b) < 0 ? [a, b] : [b, a];
        const range = {
          low: kept === 'high' ? undefined : low,
          high: kept === 'low' ? undefined : high,
        };
        expect(valueIn(parseRange(formatRange(range), 'temperature'))).toEqual(range);
      }),
    );
  });
});

test('both ends belong to a range, in any unit', () => {
  const range = valueIn(parseRange('65..66 F', 'temperature'));
  const within = ['64.99', '65', '66', '66.01'].map((amount) => isWithin(quantity(amount, 'F'), range));
  expect(within).toEqual([false, true, true, false]);
  expect(isWithin(quantity('25.4', 'mm'), valueIn(parseRange('..1 in', 'length')))).toBe(true);
  expect(isWithin(quantity('-300', 'mm'), valueIn(parseRange('..1 in', 'length')))).toBe(true);
  expect(isWithin(quantity('25.3', 'mm'), valueIn(parseRange('1 in..', 'length')))).toBe(false);
});
