/** An amount and how it came about: what hover, `explain` and the inside sheet print. */
import type { RefKind } from '../../../schemas/declare.ts';
import type { Path } from '../../../schemas/problem.ts';
import { type Decimal, dec, round, sum, ZERO } from '../../../schemas/values/decimal.ts';

/** What a figure counts: money in the shop's currency, hours, a share (0.05 is 5%), a bare number, or units. */
export type Measure =
  | 'money'
  | 'hours'
  | 'share'
  | 'number'
  /** `one`: the word for exactly one, where it is another. */
  | { readonly unit: string; readonly one?: string };

/** How a value follows from its parts. */
export type How =
  | 'given'
  | 'sum'
  | 'difference'
  | 'product'
  | 'quotient'
  | 'rounded'
  | 'rounded-up'
  | 'at-least'
  | 'at-most'
  | 'ending'
  | 'portion'
  | 'follows';

/** Where a figure is written: an entry of the book, or a place of the job. */
export type Source =
  | { readonly kind: RefKind; readonly id: string; readonly field?: string }
  | { readonly path: Path };

/** A value with the tree of how it came about. Notes are made only when somebody reads them. */
export interface Amount {
  readonly label: string;
  readonly value: Decimal;
  readonly measure: Measure;
  readonly how: How;
  readonly of: readonly Amount[];
  readonly note: string | (() => string) | undefined;
  readonly source: Source | undefined;
}

interface Extra {
  readonly measure?: Measure;
  readonly note?: string | (() => string);
  readonly source?: Source;
}

function amount(label: string, value: Decimal, how: How, of: readonly Amount[], extra: Extra = {}): Amount {
  const { measure = 'money', note, source } = extra;
  return { label, value, measure, how, of, note, source };
}

const ONE = dec('1');
const HUNDRED = dec('100');
const NOTHING_BELOW: readonly Amount[] = [];

/** A figure that somebody wrote. */
export function given(label: string, value: Decimal, extra?: Extra): Amount {
  return amount(label, value, 'given', NOTHING_BELOW, extra);
}

/** Nothing, with the reason. */
export function nothing(label: string, note: string, measure: Measure = 'money'): Amount {
  return amount(label, ZERO, 'given', NOTHING_BELOW, { measure, note });
}

export function sumOf(label: string, terms: readonly Amount[], extra?: Extra): Amount {
  return amount(label, sum(terms.map((term) => term.value)), 'sum', terms, extra);
}

/** The first, less all the others. */
export function difference(label: string, from: Amount, less: readonly Amount[], extra?: Extra): Amount {
  const value = less.reduce((left, one) => left.minus(one.value), from.value);
  return amount(label, value, 'difference', [from, ...less], extra);
}

export function product(label: string, factors: readonly [Amount, ...Amount[]], extra?: Extra): Amount {
  const [first, ...more] = factors;
  const value = more.reduce((product, factor) => product.times(factor.value), first.value);
  return amount(label, value, 'product', factors, extra);
}

/** Throws on division by zero. */
export function quotient(label: string, top: Amount, bottom: Amount, extra?: Extra): Amount {
  return amount(label, top.value.div(bottom.value), 'quotient', [top, bottom], extra);
}

/** Rounded half up to `places` decimals; the amount itself, where there is nothing to round. */
export function rounded(exact: Amount, places: number): Amount {
  const value = round(exact.value, places);
  if (value.eq(exact.value)) return exact;
  return amount(exact.label, value, 'rounded', [exact], { measure: exact.measure });
}

/** Never less than the floor; the amount itself, where the floor does not bite. */
export function atLeast(computed: Amount, floor: Amount): Amount {
  if (computed.value.gte(floor.value)) return computed;
  return amount(computed.label, floor.value, 'at-least', [computed, floor], { measure: computed.measure });
}

/** Never more than the cap; the amount itself, where the cap does not bite. */
export function atMost(computed: Amount, cap: Amount): Amount {
  if (computed.value.lte(cap.value)) return computed;
  return amount(computed.label, cap.value, 'at-most', [computed, cap], { measure: computed.measure });
}

/** One portion of something that was spread so that the portions add up to it. */
export function portion(label: string, value: Decimal, whole: Amount, extra?: Extra): Amount {
  return amount(label, value, 'portion', [whole], { measure: whole.measure, ...extra });
}

/** A value that follows from others in a way that its note tells. */
export function follows(
  label: string,
  value: Decimal,
  of: readonly Amount[],
  note: string | (() => string),
  extra?: Extra,
): Amount {
  return amount(label, value, 'follows', of, { ...extra, note });
}

export function endingUp(label: string, value: Decimal, before: Amount, ending: Amount): Amount {
  return amount(label, value, 'ending', [before, ending]);
}

export function roundedUp(label: string, value: Decimal, exact: Amount, extra?: Extra): Amount {
  return amount(label, value, 'rounded-up', [exact], { measure: exact.measure, ...extra });
}

/** The same amount under another name. */
export function named(label: string, of: Amount): Amount {
  return { ...of, label };
}

export type Format = (value: Decimal, measure: Measure) => string;

/** Plain figures: money with at least two decimals and never rounded, shares as percent. */
export const plainFigure: Format = (value, measure) => {
  if (measure === 'money') return figure(value);
  if (measure === 'hours') return `${value} h`;
  if (measure === 'share') return `${value.times(HUNDRED)}%`;
  if (measure === 'number') return value.toString();
  return `${value} ${value.eq(ONE) ? (measure.one ?? measure.unit) : measure.unit}`;
};

/** Digits of an amount of money as a shop types them, padded to at least `places` decimals and never rounded. */
export function figure(value: Decimal, places = 2): string {
  const digits = value.toString();
  const decimals = digits.length - 1 - digits.lastIndexOf('.');
  return digits.includes('.') && decimals >= places ? digits : value.toFixed(places);
}

/**
 * The tree as indented lines, two spaces a level:
 *
 * ```
 * Amount: 175.50 = 13 quarts × 13.50
 *   Quantity: 13 quarts, up from 12.62 quarts
 * ```
 */
export function explain(top: Amount, format: Format = plainFigure): string[] {
  const lines: string[] = [];
  const visit = (one: Amount, depth: number): void => {
    lines.push(`${'  '.repeat(depth)}${lineOf(one, format)}`);
    for (const child of one.of) visit(child, depth + 1);
  };
  visit(top, 0);
  return lines;
}

/** One node in words: label, figure, formula, note and where it is written. */
export function lineOf(one: Amount, format: Format = plainFigure): string {
  const figures = one.of.map((child) => format(child.value, child.measure));
  const text = `${one.label}: ${format(one.value, one.measure)}${FORMULAS[one.how](figures)}`;
  const note = noteOf(one);
  const place = one.source ? ` [${placeOf(one.source)}]` : '';
  return `${text}${note ? ` (${note})` : ''}${place}`;
}

export function noteOf(one: Amount): string | undefined {
  return typeof one.note === 'function' ? one.note() : one.note;
}

export function placeOf(source: Source): string {
  if ('path' in source) return source.path.join(' ');
  return `${source.kind} ${source.id}${source.field ? `, ${source.field}` : ''}`;
}

const FORMULAS: Record<How, (figures: readonly string[]) => string> = {
  given: () => '',
  sum: (figures) => (figures.length > 1 && figures.length <= 6 ? ` = ${figures.join(' + ')}` : ''),
  difference: (figures) => ` = ${figures.join(' − ')}`,
  product: (figures) => ` = ${figures.join(' × ')}`,
  quotient: (figures) => ` = ${figures.join(' ÷ ')}`,
  rounded: ([from]) => `, rounded from ${from}`,
  'rounded-up': ([from]) => `, up from ${from}`,
  'at-least': ([from, floor]) => `, not ${from}: at least ${floor}`,
  'at-most': ([from, cap]) => `, not ${from}: at most ${cap}`,
  ending: ([from, ending]) => `, up from ${from} to the ending ${ending}`,
  portion: ([whole]) => `, its portion of ${whole}`,
  follows: () => '',
};
