import { type Decimal, dec, ONE, parseDecimal, ZERO } from './decimal.ts';
import { accepted, type Parsed, refused } from './parsed.ts';

const HUNDRED = dec('100');

/** Reads `6.5%` as the fraction 0.065. A bare number is refused: it could mean either. */
export function parsePercent(text: string): Parsed<Decimal> {
  const typed = text.trim();
  const signed = typed.endsWith('%');
  const number = parseDecimal(signed ? typed.slice(0, -1) : typed);
  if (!number.ok) return refused(`${number.message} A percentage is written 6.5%.`);
  if (signed) return accepted(number.value.div(HUNDRED));

  const bare = number.value;
  const looksLikeFraction = bare.abs().lt(ONE) && !bare.eq(ZERO);
  return refused(
    looksLikeFraction
      ? `A percentage needs its sign: write ${bare.times(HUNDRED)}% (or ${bare}% if so little is meant).`
      : `A percentage needs its sign: write ${bare}%.`,
  );
}

/** The fraction 0.065 as `6.5%`, with every digit it has. */
export function formatPercent(fraction: Decimal): string {
  return `${fraction.times(HUNDRED)}%`;
}
