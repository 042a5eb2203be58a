import { Decimal as Reference } from 'decimal.js';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  type Decimal,
  dec,
  greatest,
  least,
  ONE,
  parseDecimal,
  round,
  roundUpTo,
  spread,
  sum,
  ZERO,
} from '../../../schemas/values/decimal.ts';
import { messageIn, valueIn } from './expect-parsed.ts';

/** Decimals as a shop meets them and beyond: up to 12 digits, up to 6 of them after the point. */
const decimals = fc
  .tuple(fc.bigInt({ min: -(10n ** 12n), max: 10n ** 12n }), fc.integer({ min: 0, max: 6 }))
  .map(([digits, places]) => dec(digits).div(dec('10').pow(places)));

const reference = Reference.clone({ precision: 60 });

describe('reading a number', () => {
  test.each([
    ['1234.5', '1234.5'],
    ['1,234.50', '1234.5'],
    ['-12.00', '-12'],
    ['.018', '0.018'],
    ['-.5', '-0.5'],
    ['0071', '71'],
    ['-0', '0'],
    ['  6 ', '6'],
    ['1,234,567', '1234567'],
  ])('%s is %s', (typed, value) => {
    expect(valueIn(parseDecimal(typed)).toString()).toBe(value);
  });

  test.each([
    ['12,50', 'write 12.50'],
    ['1.234,50', 'write 1234.50'],
    ['1e3', 'Write all its digits'],
    ['+5', 'write 5'],
    ['−5', 'hyphen for minus: -5'],
    ['(5.00)', '-5.00'],
    ['1 234', '1234'],
    ['5.', 'leave it out: 5'],
    ['1,23,4', 'groups of three'],
    ['1.2.3', 'one point for decimals'],
    ['five', 'Write digits'],
    ['', 'missing'],
    ['Infinity', 'not a number'],
    ['0x1F', 'not a number'],
    ['9'.repeat(41), 'at most 40'],
  ])('%s is refused and told what to write', (typed, part) => {
    expect(messageIn(parseDecimal(typed))).toContain(part);
  });

  test('what it prints it reads back', () => {
    fc.assert(fc.property(decimals, (value) => valueIn(parseDecimal(value.toString())).eq(value)));
  });

  test('JavaScript numbers have no way in', () => {
    // @ts-expect-error: the type says so
    expect(() => dec(0.1)).toThrow();
    // @ts-expect-error: for operands too
    expect(() => ONE.times(0.1)).toThrow();
    expect(() => Number(dec('0.1'))).toThrow();
  });
});

describe('arithmetic', () => {
  // MON-05: what binary floating point makes of these sums (computed with node).
  test('MON-05: sums and products that go wrong in binary come out exact', () => {
    expect(0.1 + 0.2).not.toBe(0.3);
    expect(dec('0.1').plus(dec('0.2')).toString()).toBe('0.3');
    expect(dec('4.35').times(dec('100')).toString()).toBe('435');
    expect(dec('19.99').times(dec('100')).toString()).toBe('1999');
  });

  test('agrees with decimal.js', () => {
    fc.assert(
      fc.property(decimals, decimals, (a, b) => {
        const [x, y] = [new reference(a.toString()), new reference(b.toString())];
        expect(a.plus(b).toString()).toBe(x.plus(y).toFixed());
        expect(a.minus(b).toString()).toBe(x.minus(y).toFixed());
        expect(a.times(b).toString()).toBe(x.times(y).toFixed());
        expect(a.cmp(b)).toBe(x.cmp(y));
        if (!b.eq(ZERO)) expect(a.div(b).toString()).toBe(x.div(y).toDecimalPlaces(40, 4).toFixed());
      }),
    );
  });

  // MRK-07: algebra. A price by markup on cost and by the margin that equals it are the same price.
  test('MRK-07: margin = markup ÷ (1 + markup), markup = margin ÷ (1 − margin)', () => {
    const markups = fc.integer({ min: 1, max: 5000 }).map((n) => dec(BigInt(n)).div(dec('1000')));
    fc.assert(
      fc.property(markups, decimals, (markup, cost) => {
        const margin = markup.div(ONE.plus(markup));
        expect(round(margin.div(ONE.minus(margin)), 30).eq(markup)).toBe(true);
        const byMarkup = cost.times(ONE.plus(markup));
        const byMargin = cost.div(ONE.minus(margin));
        expect(round(byMargin, 20).eq(round(byMarkup, 20))).toBe(true);
      }),
    );
    const half = dec('0.5');
    expect(
      dec('40')
        .times(ONE.plus(half))
        .eq(dec('40').div(ONE.minus(half))),
    ).toBe(false);
  });

  test('least, greatest, sum', () => {
    expect(least(ONE, ZERO)).toBe(ZERO);
    expect(greatest(ONE, ZERO)).toBe(ONE);
    expect(sum([dec('1.10'), dec('2.20'), dec('-0.30')]).toString()).toBe('3');
    expect(sum([]).toString()).toBe('0');
  });
});

describe('rounding', () => {
  // MON-04: General Decimal Arithmetic test cases, quantize.decTest, half_up: quax094, quax014.
  // MON-06: computed with Python's decimal, ROUND_HALF_UP.
  test.each([
    ['1.2355', 2, '1.24'],
    ['0.9', 2, '0.90'],
    ['1.005', 2, '1.01'],
    ['2.675', 2, '2.68'],
    ['1.115', 2, '1.12'],
    ['4.125', 2, '4.13'],
    ['0.545', 2, '0.55'],
  ])('MON-04, MON-06: %s to %i decimals is %s', (value, places, rounded) => {
    expect(round(dec(value), places).toFixed(places)).toBe(rounded);
  });

  test('up is away from zero, down towards it, and a credit mirrors its charge', () => {
    expect(round(dec('1.001'), 2, 'up').toString()).toBe('1.01');
    expect(round(dec('-1.001'), 2, 'up').toString()).toBe('-1.01');
    expect(round(dec('1.009'), 2, 'down').toString()).toBe('1');
    expect(round(dec('-1.009'), 2, 'down').toString()).toBe('-1');
    expect(round(dec('-4.125'), 2).toString()).toBe('-4.13');
  });

  test('nothing rounds to minus zero', () => {
    expect(round(dec('-0.001'), 2).toFixed(2)).toBe('0.00');
  });

  test('agrees with decimal.js in every mode', () => {
    const modes = { 'half-up': 4, up: 0, down: 1 } as const;
    const anyMode = fc.constantFrom(...(Object.keys(modes) as (keyof typeof modes)[]));
    fc.assert(
      fc.property(decimals, fc.integer({ min: 0, max: 6 }), anyMode, (value, places, mode) => {
        const expected = new reference(value.toString()).toDecimalPlaces(places, modes[mode]);
        expect(round(value, places, mode).eq(dec(expected.toFixed()))).toBe(true);
      }),
    );
  });

  test.each([
    // Trade arithmetic, invented figures: 11.0 L + 1.0 qt lost = 12.62 qt, sold by the quart.
    ['12.62', '1', '13'],
    ['13', '1', '13'],
    ['13.000000000000000000000000000000000000001', '1', '14'],
    ['0.3', '0.1', '0.3'],
    ['0.31', '0.25', '0.5'],
    ['-1.2', '1', '-1'],
    ['0', '5', '0'],
  ])('%s up to the next %s is %s', (value, step, up) => {
    expect(roundUpTo(dec(value), dec(step)).toString()).toBe(up);
  });

  test('a step of zero or less is a mistake in the code', () => {
    expect(() => roundUpTo(ONE, ZERO)).toThrow(RangeError);
  });
});

describe('splitting a total', () => {
  const shares = (total: string, weights: string[], places = 2) =>
    spread(dec(total), weights.map(dec), places).map((share) => share.toFixed(places));

  // MON-07: shares of a discount or fee add up to it (largest remainder; general rule, from memory).
  test.each([
    ['10.00', ['1', '1', '1'], ['3.34', '3.33', '3.33']],
    ['0.01', ['1', '1', '1'], ['0.01', '0.00', '0.00']],
    ['-10.00', ['1', '1', '1'], ['-3.34', '-3.33', '-3.33']],
    ['100.00', ['0', '300', '700'], ['0.00', '30.00', '70.00']],
    ['1.00', ['1', '2', '4'], ['0.14', '0.29', '0.57']],
    ['0', ['1', '2'], ['0.00', '0.00']],
    ['1.00', ['0', '0'], ['0.50', '0.50']],
    ['10.00', ['100', '-20'], ['12.50', '-2.50']],
    ['10.00', ['-100', '-100'], ['5.00', '5.00']],
  ])('MON-07: %s over %j is %j', (total, weights, expected) => {
    expect(shares(total, weights)).toEqual(expected);
  });

  test('yen split into whole yen', () => {
    expect(shares('100', ['1', '1', '1'], 0)).toEqual(['34', '33', '33']);
  });

  test('what cannot be split says so', () => {
    expect(() => spread(dec('0.005'), [ONE], 2)).toThrow(RangeError);
    expect(() => spread(ONE, [], 2)).toThrow(RangeError);
    expect(spread(ZERO, [], 2)).toEqual([]);
  });

  const cents = fc.bigInt({ min: -(10n ** 9n), max: 10n ** 9n }).map((n) => dec(n).div(dec('100')));
  const weights = fc.array(
    fc.bigInt({ min: 0n, max: 10n ** 7n }).map((n) => dec(n).div(dec('100'))),
    { minLength: 1, maxLength: 12 },
  );

  test('MON-07: shares add up, stay within a cent of their proportion, and mirror for a credit', () => {
    fc.assert(
      fc.property(cents, weights, (total, over) => {
        const parts = spread(total, over, 2);
        expect(sum(parts).eq(total)).toBe(true);
        expect(parts.every((part) => round(part, 2).eq(part))).toBe(true);
        expect(spread(total.neg(), over, 2).map(String)).toEqual(
          parts.map((part) => part.neg()).map((part: Decimal) => (part.eq(ZERO) ? '0' : String(part))),
        );
        const whole = sum(over);
        if (whole.eq(ZERO)) return;
        for (const [index, part] of parts.entries()) {
          const fair = total.times(over[index]!).div(whole);
          expect(part.minus(fair).abs().lt(dec('0.01'))).toBe(true);
          if (over[index]!.eq(ZERO)) expect(part.eq(ZERO)).toBe(true);
        }
      }),
    );
  });
});
