import { type Decimal, dec, round } from './decimal.ts';
import { digitsOf } from './digits.ts';
import { accepted, type Parsed, refused } from './parsed.ts';
import {
  DIMENSIONS,
  type Dimension,
  findUnit,
  fittingUnit,
  listed,
  type Unit,
  unitById,
  unknownUnit,
} from './units.ts';

export interface Quantity {
  readonly amount: Decimal;
  readonly unit: Unit;
}

/** A quantity for code: `quantity('190', 'F')`. Throws on bad digits or an unknown unit id. */
export function quantity(amount: Decimal | string, unitId: string): Quantity {
  return { amount: typeof amount === 'string' ? dec(amount) : amount, unit: unitById(unitId) };
}

const AMOUNT_AND_UNIT = /^([-+−–—]?(?:\d+\/\d+|[\d.,]+(?:e[-+]?\d+)?(?:\s+\d+\/\d+)?))\s*(.*)$/s;

/** Reads `3 qt`, `190 F`, `0.018 in`, `5 1/2 qt`: an amount with a unit of the dimension. A count may go without. */
export function parseQuantity(text: string, dimension: Dimension): Parsed<Quantity> {
  const typed = text.trim();
  const match = AMOUNT_AND_UNIT.exec(typed);
  const { spoken, example } = DIMENSIONS[dimension];
  if (!match) {
    const unit = findUnit(typed);
    return refused(
      unit
        ? `The amount is missing before ${typed}. Write ${example}, for example.`
        : `"${typed}" is not ${spoken}. Write an amount with its unit, such as ${example}.`,
    );
  }
  const [, amountText = '', unitText = ''] = match;
  const amount = parseAmount(amountText);
  if (!amount.ok) return amount;
  if (unitText === '' && dimension !== 'count') {
    return refused(`${amountText} of what? Write the unit too: ${listed(dimension)}, such as ${example}.`);
  }
  const unit = unitText === '' ? unitById('times') : findUnit(unitText);
  if (!unit) return refused(unknownUnit(unitText, dimension));
  if (unit.dimension !== dimension) {
    const meant = dimension === 'count' ? amountText : `${amountText} ${fittingUnit(unitText, dimension).id}`;
    return refused(
      `${typed} is ${DIMENSIONS[unit.dimension].spoken}; ${spoken} is needed, such as ${meant}.`,
    );
  }
  return accepted({ amount: amount.value, unit });
}

/** A plain number, or a fraction off a ruler: `1/2`, `5 3/16`. */
function parseAmount(text: string): Parsed<Decimal> {
  const fraction = /^(?:(-?\d+)\s+)?(-?\d+)\/(\d+)$/.exec(text);
  if (!fraction) {
    const digits = digitsOf(text);
    return digits.ok ? accepted(dec(digits.value)) : digits;
  }
  const [, whole = '0', top = '0', bottom = '1'] = fraction;
  if (!['2', '4', '8', '16', '32', '64'].includes(bottom)) {
    return refused(
      `Write ${text} as a decimal: only halves, quarters and on to 64ths are read as fractions.`,
    );
  }
  const part = dec(top).div(dec(bottom));
  return accepted(whole.startsWith('-') ? dec(whole).minus(part) : dec(whole).plus(part));
}

/** The same quantity in another unit. Exact wherever the result has at most 40 decimals. Throws across dimensions. */
export function convert({ amount, unit }: Quantity, to: Unit): Quantity {
  if (unit === to) return { amount, unit };
  requireSame(unit, to);
  const over = unit.over.times(to.times);
  const converted = inBase({ amount, unit }).times(to.over).div(over).minus(to.shift);
  return { amount: converted, unit: to };
}

/** Compares two quantities of one dimension exactly, without converting either. Throws across dimensions. */
export function compareQuantity(a: Quantity, b: Quantity): -1 | 0 | 1 {
  requireSame(a.unit, b.unit);
  return inBase(a).times(b.unit.over).cmp(inBase(b).times(a.unit.over));
}

/** In the dimension's base unit, times the unit's own divisor. */
function inBase({ amount, unit }: Quantity): Decimal {
  return amount.plus(unit.shift).times(unit.times);
}

function requireSame(a: Unit, b: Unit): void {
  if (a.dimension !== b.dimension) throw new RangeError(`${a.id} and ${b.id} do not measure the same thing`);
}

/** As printed: `190 °F`. Rounded half-up to `digits` decimals, or with all it has. */
export function formatQuantity({ amount, unit }: Quantity, digits?: number): string {
  const figure = digits === undefined ? amount.toString() : round(amount, digits).toFixed(digits);
  if (unit.symbol === '' || unit.symbol === '%' || unit.symbol === '°') return `${figure}${unit.symbol}`;
  return `${figure} ${unit.symbol}`;
}
