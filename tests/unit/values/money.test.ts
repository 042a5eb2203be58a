import currencyCodes from 'currency-codes';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { CURRENCY_CODES, minorDigits, parseCurrency } from '../../../schemas/values/currency.ts';
import { dec, ZERO } from '../../../schemas/values/decimal.ts';
import { formatMoney, parseMoney } from '../../../schemas/values/money.ts';
import { messageIn, valueIn } from './expect-parsed.ts';

describe('reading an amount', () => {
  test.each([
    ['1234.5', '1234.50'],
    ['1,234.50', '1234.50'],
    ['-12.00', '-12.00'],
    ['0', '0.00'],
  ])('%s', (typed, amount) => {
    expect(valueIn(parseMoney(typed)).toFixed(2)).toBe(amount);
  });

  test.each([
    ['12,50', 'write 12.50'],
    ['$12', 'Write the amount alone: 12.'],
    ['-$12.50', 'Write the amount alone: -12.50.'],
    ['12 USD', 'Write the amount alone: 12.'],
    ['€1.234,50', 'write 1234.50'],
    ['1e3', 'all its digits'],
    ['12.345', 'has 3 decimals. Write at most 2, such as 12.50.'],
    ['6.5%', 'not a number'],
    ['$', 'missing'],
  ])('%s is refused and told what to write', (typed, part) => {
    expect(messageIn(parseMoney(typed))).toContain(part);
  });

  test('the currency says how many decimals', () => {
    expect(messageIn(parseMoney('1250.5', 0))).toContain('Write whole amounts, such as 1,250.');
    expect(valueIn(parseMoney('1.125', 3)).toString()).toBe('1.125');
  });

  test('a unit cost may have four decimals more', () => {
    expect(valueIn(parseMoney('0.0125', 2, { fine: true })).toString()).toBe('0.0125');
    expect(messageIn(parseMoney('0.0000001', 2, { fine: true }))).toContain('at most 6, such as 12.500000');
  });
});

describe('writing an amount', () => {
  test.each([
    ['1234.5', 'USD', 'en-US', '$1,234.50'],
    ['-1234.5', 'EUR', 'de-DE', '-1.234,50\u00a0€'],
    ['1234', 'JPY', 'en-US', '¥1,234'],
    ['1.5', 'KWD', 'en-US', 'KWD\u00a01.500'],
    ['0.0125', 'USD', 'en-US', '$0.0125'],
    // Twenty digits: a double would have printed $12,345,678,901,234,567,168.00.
    ['12345678901234567890.01', 'USD', 'en-US', '$12,345,678,901,234,567,890.01'],
  ])('%s %s for %s is %s', (amount, currency, locale, text) => {
    expect(formatMoney(dec(amount), currency, locale)).toBe(text);
  });

  test('no minus before zero', () => {
    expect(formatMoney(ZERO.neg(), 'USD', 'en-US')).toBe('$0.00');
  });

  test('what it writes reads back as the same amount', () => {
    const cents = fc.bigInt({ min: -(10n ** 15n), max: 10n ** 15n }).map((n) => dec(n).div(dec('100')));
    fc.assert(
      fc.property(cents, (amount) => {
        const text = formatMoney(amount, 'USD', 'en-US').replace('$', '');
        expect(valueIn(parseMoney(text)).eq(amount)).toBe(true);
      }),
    );
  });

  test('an unknown currency is a mistake in the code', () => {
    expect(() => formatMoney(ZERO, 'ZZZ', 'en-US')).toThrow(RangeError);
  });
});

// MON-01: ISO 4217 list published 2024-06-25, as npm currency-codes carries it.
describe('MON-01: currencies', () => {
  test.each([
    ['USD', 2],
    ['CAD', 2],
    ['MXN', 2],
    ['EUR', 2],
    ['JPY', 0],
    ['KWD', 3],
    ['BHD', 3],
    ['CLF', 4],
  ])('%s has %i decimals', (code, digits) => {
    expect(minorDigits(code)).toBe(digits);
  });

  test('every code of the list with a minor unit, and no other', () => {
    // The list gives metals, drawing rights and test codes no minor unit; the package says 0 for those.
    const withoutMinorUnit = /^(XDR|XUA|XSU|XBA|XBB|XBC|XBD|XTS|XXX|XAU|XPD|XPT|XAG)$/;
    const listed = currencyCodes.data.filter(({ code }) => !withoutMinorUnit.test(code));
    expect(CURRENCY_CODES.map((code) => [code, minorDigits(code)])).toEqual(
      listed
        .map(({ code, digits }) => [code, digits])
        .toSorted(([a], [b]) => (String(a) < String(b) ? -1 : 1)),
    );
  });

  test('reading a code', () => {
    expect(valueIn(parseCurrency('USD'))).toBe('USD');
    expect(messageIn(parseCurrency('usd'))).toBe('Write the currency code in capitals: USD.');
    expect(messageIn(parseCurrency('$'))).toContain('such as USD or CAD');
    expect(messageIn(parseCurrency('USB'))).toContain('"USD"');
  });
});
