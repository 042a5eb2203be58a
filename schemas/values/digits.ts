import { accepted, type Parsed, refused } from './parsed.ts';

/** Longer than any amount a shop writes; keeps a pasted page of digits from being calculated with. */
const MOST_DIGITS = 40;

const NUMBER = /^(-?)((?:\d{1,3}(?:,\d{3})+|\d+)(?:\.(\d+))?|\.(\d+))$/;

/**
 * The plain digits of a number as people write it: `1,234.50` -> `1234.50`, `.018` -> `0.018`.
 * A point marks decimals and commas may only set off thousands; anything else is refused with the form to write.
 */
export function digitsOf(text: string): Parsed<string> {
  const typed = text.trim();
  const match = NUMBER.exec(typed);
  if (!match) return refused(whatIsWrong(typed));
  if (typed.length > MOST_DIGITS) return refused(`A number may be at most ${MOST_DIGITS} characters long.`);
  const plain = typed.replaceAll(',', '');
  return accepted(plain.replace(/^(-?)\./, '$10.'));
}

function whatIsWrong(typed: string): string {
  const shown = `"${typed.length > MOST_DIGITS ? `${typed.slice(0, MOST_DIGITS)}…` : typed}"`;
  if (typed === '') return 'A number is missing here. Write one, such as 12.50.';
  if (/^[−–—]/.test(typed))
    return `${shown} starts with a long dash. Write a plain hyphen for minus: -${typed.slice(1)}.`;
  if (/^\+/.test(typed)) return `Leave out the plus sign: write ${typed.slice(1)}.`;
  if (/^\(.*\)$/.test(typed)) return `Write a negative number with a minus sign: -${typed.slice(1, -1)}.`;
  if (/^-?[\d.,]+e[+-]?\d+$/i.test(typed))
    return `${shown} is in powers of ten. Write all its digits, such as 1000.`;
  // 12,50 and 1.234,50: a comma where a point is meant.
  const commaDecimal = /^(-?)(\d+|\d{1,3}(?:\.\d{3})+),(\d{1,2}|\d{4,})$/.exec(typed);
  if (commaDecimal) {
    const [, sign, whole = '', decimals] = commaDecimal;
    return `A point marks the decimals and a comma only sets off thousands: write ${sign}${whole.replaceAll('.', '')}.${decimals}.`;
  }
  if (/^-?[\d.]+[ '’_][\d.]/.test(typed)) {
    return `Write ${shown} without the gaps: ${typed.replace(/[ '’_]/g, '')}.`;
  }
  if (/^-?\d+\.$/.test(typed)) return `Write digits after the point, or leave it out: ${typed.slice(0, -1)}.`;
  if (/^-?[\d,.]+$/.test(typed)) {
    return `${shown} is not a number as written: use one point for decimals, and commas only between groups of three digits, such as 1,234.50.`;
  }
  return `${shown} is not a number. Write digits, such as 12.50.`;
}
