import { accepted, type Parsed, refused } from './parsed.ts';
import { compareQuantity, formatQuantity, parseQuantity, type Quantity } from './quantity.ts';
import { DIMENSIONS, type Dimension } from './units.ts';

/** From low to high, both included. An end left open is undefined; never both. */
export interface Range {
  readonly low: Quantity | undefined;
  readonly high: Quantity | undefined;
}

/** Reads `65..66 F`, `35 C..45 C`, `..5 in` or `10 psi..`. A unit written once serves both ends. */
export function parseRange(text: string, dimension: Dimension): Parsed<Range> {
  const typed = text.trim();
  const { example } = DIMENSIONS[dimension];
  if (typed.includes('...')) {
    return refused('Write exactly two dots, and a 0 before a decimal point: 0.005..0.018 in, for example.');
  }
  const [lowText, highText, ...rest] = typed.split(/\s*\.\.\s*/);
  if (lowText === undefined || highText === undefined || rest.length > 0) {
    return refused(notARange(typed, dimension));
  }
  const unitAfter = /^[-\d.,/\s]+(\D.*)$/s;
  const unit = unitAfter.exec(highText)?.[1] ?? unitAfter.exec(lowText)?.[1] ?? '';
  // `10.. psi`: the unit alone on the high side.
  const loneUnit = highText !== '' && !/\d/.test(highText) ? highText : undefined;

  const low = lowText === '' ? undefined : end(lowText, loneUnit ?? unit, dimension);
  const high = highText === '' || loneUnit ? undefined : end(highText, unit, dimension);
  if (low && !low.ok) return low;
  if (high && !high.ok) return high;
  if (!low && !high)
    return refused(`This range has no ends. Write at least one: ..${example} or ${example}..`);
  if (low && high && compareQuantity(low.value, high.value) > 0) {
    return refused(
      `This range runs backwards: write the lower end first, ${formatRange({ low: high.value, high: low.value })}.`,
    );
  }
  return accepted({ low: low?.value, high: high?.value });
}

function end(text: string, unit: string, dimension: Dimension): Parsed<Quantity> {
  return parseQuantity(/\d$/.test(text) ? `${text} ${unit}` : text, dimension);
}

function notARange(typed: string, dimension: Dimension): string {
  const dashed = /^(-?\d[^-–—]*?)\s*(?:-|–|—|\bto\b)\s*(\d.*)$/s.exec(typed);
  if (dashed) return `Write two dots between the ends of a range: ${dashed[1]}..${dashed[2]}.`;
  if (parseQuantity(typed, dimension).ok) {
    return `A range goes here. Write ..${typed} for at most, ${typed}.. for at least, or both ends with two dots between.`;
  }
  const { spoken, example } = DIMENSIONS[dimension];
  return `"${typed}" is not a range of ${spoken.replace(/^an? /, '')}. Write its ends with two dots between, or leave one open: ..${example}.`;
}

export function isWithin(quantity: Quantity, { low, high }: Range): boolean {
  return (!low || compareQuantity(low, quantity) <= 0) && (!high || compareQuantity(quantity, high) <= 0);
}

/** As printed and as read: `65..66 °F`. */
export function formatRange({ low, high }: Range): string {
  const left = low ? (low.unit === high?.unit ? low.amount.toString() : formatQuantity(low)) : '';
  return `${left}..${high ? formatQuantity(high) : ''}`;
}
