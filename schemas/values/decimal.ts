import Big from 'big.js';
import { digitsOf } from './digits.ts';
import { accepted, type Parsed } from './parsed.ts';

/**
 * An exact decimal number. Sums, differences and products are exact; a quotient carries 40 decimals.
 *
 * Operands are decimals only, so that no amount passes through a binary floating-point number.
 * Text form is always plain digits, never an exponent. Comparing with `<` throws: use `lt` and its kin.
 */
export interface Decimal {
  abs(): Decimal;
  neg(): Decimal;
  plus(other: Decimal): Decimal;
  minus(other: Decimal): Decimal;
  times(other: Decimal): Decimal;
  /** Throws on division by zero. */
  div(other: Decimal): Decimal;
  /** Exact remainder, with the sign of this number. */
  mod(other: Decimal): Decimal;
  /** A whole power, zero or more. */
  pow(exponent: number): Decimal;
  cmp(other: Decimal): -1 | 0 | 1;
  eq(other: Decimal): boolean;
  lt(other: Decimal): boolean;
  lte(other: Decimal): boolean;
  gt(other: Decimal): boolean;
  gte(other: Decimal): boolean;
  /** The digits, padded or rounded half-up to `places`; all of them when `places` is left out. */
  toFixed(places?: number): string;
  toString(): string;
  toJSON(): string;
}

const Exact = Big();
Exact.DP = 40;
Exact.RM = Big.roundHalfUp;
Exact.strict = true;
Exact.NE = -1_000_000;
Exact.PE = 1_000_000;

/** A decimal from its digits (`dec('12.50')`, `dec(3n)`). Throws when they are not digits: text from a file goes to `parseDecimal`. */
export function dec(digits: string | bigint): Decimal {
  const value = new Exact(digits);
  // A zero has no sign here, so that nothing ever prints as -0.00.
  if (value.c[0] === 0) value.s = 1;
  // big.js would take JavaScript numbers as operands; `Decimal` is the part of it that does not.
  return value as unknown as Decimal;
}

export const ZERO = dec('0');
export const ONE = dec('1');

/** Reads `1234.5`, `1,234.50`, `-12` or `.018`. */
export function parseDecimal(text: string): Parsed<Decimal> {
  const digits = digitsOf(text);
  return digits.ok ? accepted(dec(digits.value)) : digits;
}

export type Rounding = 'half-up' | 'up' | 'down';

const ROUNDING = { down: Big.roundDown, 'half-up': Big.roundHalfUp, up: Big.roundUp } as const;

/**
 * Rounds to a number of decimals. `up` is away from zero and `down` towards it, and `half-up` takes a tie away
 * from zero, so that a credit rounds to the same figure as the charge it takes back.
 */
export function round(value: Decimal, places: number, mode: Rounding = 'half-up'): Decimal {
  if (decimals(value) <= places) return value;
  return dec((value as unknown as Big).toFixed(places, ROUNDING[mode]));
}

/** The least multiple of `step` that is not below `value`. Throws RangeError unless `step` is above zero. */
export function roundUpTo(value: Decimal, step: Decimal): Decimal {
  if (!step.gt(ZERO)) throw new RangeError(`A step to round up to must be above zero, not ${step}`);
  const over = value.mod(step);
  if (over.eq(ZERO)) return value;
  return over.gt(ZERO) ? value.minus(over).plus(step) : value.minus(over);
}

export function sum(values: Iterable<Decimal>): Decimal {
  let total = ZERO;
  for (const value of values) total = total.plus(value);
  return total;
}

export function least(a: Decimal, b: Decimal): Decimal {
  return b.lt(a) ? b : a;
}

export function greatest(a: Decimal, b: Decimal): Decimal {
  return b.gt(a) ? b : a;
}

/**
 * Splits a total in proportion to weights so that the shares, each of `places` decimals, add up to exactly the total
 * (largest remainder; among equal remainders the earlier one gains the last unit). The shares of a negative total
 * mirror those of the positive one. Weights that add up to zero give no proportion: the split is then even.
 *
 * Throws RangeError when the total has more than `places` decimals, or when there is something to split and nobody
 * to take it.
 */
export function spread(total: Decimal, weights: readonly Decimal[], places: number): Decimal[] {
  const units = scaled(total, places);
  if (units === undefined) throw new RangeError(`${total} has more than ${places} decimals to split`);
  if (weights.length === 0) {
    if (units === 0n) return [];
    throw new RangeError(`Nothing to split ${total} over`);
  }

  const common = Math.max(...weights.map(decimals));
  let parts = weights.map((weight) => scaled(weight, common)!);
  let whole = parts.reduce((all, part) => all + part, 0n);
  if (whole === 0n) {
    parts = weights.map(() => 1n);
    whole = BigInt(weights.length);
  }
  if (whole < 0n) {
    parts = parts.map((part) => -part);
    whole = -whole;
  }

  const size = units < 0n ? -units : units;
  const shares = parts.map((part, index) => {
    const portion = size * part;
    const over = ((portion % whole) + whole) % whole;
    return { index, over, units: (portion - over) / whole };
  });
  let left = size - shares.reduce((all, share) => all + share.units, 0n);
  if (left > 0n) {
    for (const share of shares.toSorted((a, b) => (a.over === b.over ? 0 : a.over > b.over ? -1 : 1))) {
      if (left === 0n) break;
      share.units += 1n;
      left -= 1n;
    }
  }
  return shares.map((share) => unscaled(units < 0n ? -share.units : share.units, places));
}

function decimals(value: Decimal): number {
  const { c, e } = value as unknown as Big;
  return Math.max(0, c.length - 1 - e);
}

/** The value in units of `places` decimals, or undefined when it has more of them. */
function scaled(value: Decimal, places: number): bigint | undefined {
  if (decimals(value) > places) return undefined;
  return BigInt(value.toFixed(places).replace('.', ''));
}

function unscaled(units: bigint, places: number): Decimal {
  if (places === 0) return dec(units);
  const digits = (units < 0n ? -units : units).toString().padStart(places + 1, '0');
  return dec(`${units < 0n ? '-' : ''}${digits.slice(0, -places)}.${digits.slice(-places)}`);
}
