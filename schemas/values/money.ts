import { minorDigits as minorDigitsOf } from './currency.ts';
import { type Decimal, dec } from './decimal.ts';
import { digitsOf } from './digits.ts';
import { accepted, type Parsed, refused } from './parsed.ts';

/** How many decimals beyond the currency's own a unit cost may carry: a bolt at 0.0125, fluid bought by the drum. */
const FINE_DIGITS = 4;

/**
 * Reads an amount in the shop's currency: `1234.5`, `1,234.50`, `-12.00`, without a currency sign.
 *
 * `minorDigits` is how many decimals the currency has (ISO 4217); `fine` allows four more, for unit costs.
 */
export function parseMoney(
  text: string,
  minorDigits = 2,
  { fine = false }: { fine?: boolean } = {},
): Parsed<Decimal> {
  const typed = text.trim();
  const signless = typed.replace(/^(-?)\s*(?:\p{Sc}|[A-Z]{3}\b)\s*(-?)|\s*(?:\p{Sc}|\b[A-Z]{3})$/gu, '$1$2');
  const digits = digitsOf(signless);
  if (!digits.ok) return digits;
  if (signless !== typed) {
    return refused(`Write the amount alone: ${signless}. The currency is set once for the whole shop.`);
  }
  const decimals = digits.value.split('.')[1]?.length ?? 0;
  const most = minorDigits + (fine ? FINE_DIGITS : 0);
  if (decimals > most) {
    const form = most === 0 ? 'whole amounts, such as 1,250' : `at most ${most}, such as ${example(most)}`;
    return refused(`${typed} has ${decimals} ${decimals === 1 ? 'decimal' : 'decimals'}. Write ${form}.`);
  }
  return accepted(dec(digits.value));
}

function example(decimals: number): string {
  return `12.${'50'.padEnd(decimals, '0').slice(0, decimals)}`;
}

const formatters = new Map<string, Intl.NumberFormat>();

/**
 * An amount as the shop's customers read it: `$1,234.50`, `1.234,50 €`. Padded to the currency's decimals and never
 * rounded: what has more decimals shows them.
 *
 * @param currency ISO 4217 code; one that is not in the list throws RangeError.
 * @param locale BCP 47 language tag, such as `en-US`.
 */
export function formatMoney(value: Decimal, currency: string, locale: string): string {
  const key = `${locale} ${currency}`;
  let formatter = formatters.get(key);
  if (!formatter) {
    const digits = minorDigitsOf(currency);
    if (digits === undefined) throw new RangeError(`${currency} is not a currency code of ISO 4217`);
    formatter = new Intl.NumberFormat(locale, {
      style: 'currency',
      currency,
      minimumFractionDigits: digits,
      maximumFractionDigits: 20,
    });
    formatters.set(key, formatter);
  }
  // Intl reads a text of digits exactly (ECMA-402, "Intl mathematical value"), as it would not a number.
  return formatter.format(value.toString() as Intl.StringNumericLiteral);
}
