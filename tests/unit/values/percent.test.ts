import fc from 'fast-check';
import { expect, test } from 'vitest';
import { dec } from '../../../schemas/values/decimal.ts';
import { formatPercent, parsePercent } from '../../../schemas/values/percent.ts';
import { messageIn, valueIn } from './expect-parsed.ts';

test.each([
  ['6.5%', '0.065'],
  ['6.875 %', '0.06875'],
  ['-5%', '-0.05'],
  ['100%', '1'],
  ['0%', '0'],
])('%s is the fraction %s', (typed, fraction) => {
  expect(valueIn(parsePercent(typed)).toString()).toBe(fraction);
});

test.each([
  ['6.5', 'write 6.5%.'],
  ['0.065', 'write 6.5% (or 0.065% if so little is meant)'],
  ['0', 'write 0%.'],
  ['6,5%', 'write 6.5. A percentage is written 6.5%.'],
  ['half', 'A percentage is written 6.5%.'],
  ['', 'missing'],
])('%s is refused and told what to write', (typed, part) => {
  expect(messageIn(parsePercent(typed))).toContain(part);
});

test('what it writes it reads back', () => {
  const fractions = fc.bigInt({ min: -(10n ** 8n), max: 10n ** 8n }).map((n) => dec(n).div(dec('1000000')));
  fc.assert(fc.property(fractions, (one) => valueIn(parsePercent(formatPercent(one))).eq(one)));
});
