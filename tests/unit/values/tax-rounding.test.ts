import { describe, expect, test } from 'vitest';
import { dec, round } from '../../../schemas/values/decimal.ts';
import { parseMoney } from '../../../schemas/values/money.ts';
import { parsePercent } from '../../../schemas/values/percent.ts';
import { valueIn } from './expect-parsed.ts';

/*
 * The rule (RND-01): tax is carried to the third decimal and rounded up when that is above 4. Streamlined Sales and
 * Use Tax Agreement section 324 as enacted in R.I.G.L. 44-18.1-25, N.D.C.C. 57-39.4-25 and K.S.A. 79-3676.
 * The amounts are computed from it.
 */
const taxOn = (price: string, rate: string) =>
  round(valueIn(parseMoney(price)).times(valueIn(parsePercent(rate))), 2).toFixed(2);

describe('tax on one amount, to the cent', () => {
  test.each([
    ['RND-06', '50.00', '8.25%', '4.13', 'to even would give 4.12'],
    ['RND-08', '56.89', '7.25%', '4.12', 'rounding twice would give 4.13'],
    ['RND-09', '2.00', '7.25%', '0.15', 'binary floating point gives 0.14'],
    ['RND-11', '18.40', '6.875%', '1.27', 'binary floating point gives 1.26'],
  ])('%s: %s at %s is %s (%s)', (_row, price, rate, tax) => {
    expect(taxOn(price, rate)).toBe(tax);
  });

  // RND-13: every price to 2,000.00, against whole-number arithmetic that shares no code with ours. The counts are
  // how often `Math.round` on doubles is wrong (computed), which shows that the loop can tell right from wrong.
  test.each([
    ['6%', 6_000n, 719],
    ['6.875%', 6_875n, 8],
    ['7%', 7_000n, 0],
    ['7.25%', 7_250n, 205],
    ['8.25%', 8_250n, 0],
    ['9.5%', 9_500n, 37],
  ])('RND-13: every price from 0.01 to 2,000.00 at %s', (typed, thousandthsOfPercent, wrongInDoubles) => {
    const rate = valueIn(parsePercent(typed));
    const floatRate = Number(typed.slice(0, -1)) / 100;
    const hundredth = dec('0.01');
    const wrong: string[] = [];
    let differing = 0;
    for (let cents = 1n; cents <= 200_000n; cents += 1n) {
      const expected = (cents * thousandthsOfPercent * 2n + 100_000n) / 200_000n;
      const price = dec(cents).times(hundredth);
      if (!round(price.times(rate), 2).eq(dec(expected).times(hundredth))) wrong.push(price.toString());
      if (Math.round((Number(cents) / 100) * floatRate * 100) !== Number(expected)) differing += 1;
    }
    expect(wrong).toEqual([]);
    expect(differing).toBe(wrongInDoubles);
  });
});
