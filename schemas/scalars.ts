/** The scalars: each reads the text as typed, and says in plain words what it wants when it cannot. */
import { z } from 'zod';
import type { FieldMeta, RefKind } from './declare.ts';
import { parseCurrency } from './values/currency.ts';
import { parseDate, parseDateTime } from './values/dates.ts';
import { type Decimal, dec, parseDecimal, ZERO } from './values/decimal.ts';
import { parseMoney } from './values/money.ts';
import type { Parsed } from './values/parsed.ts';
import { parsePercent } from './values/percent.ts';
import { convert, parseQuantity } from './values/quantity.ts';
import { parseRange } from './values/range.ts';
import { parseSellingUnit } from './values/selling.ts';
import { type Dimension, unitById } from './values/units.ts';
import { suggestion } from './values/words.ts';

/** Text that is read as something else. */
function scalar<T>(read: (text: string) => Parsed<T>, meta: FieldMeta) {
  return z
    .string()
    .transform((text, context): T => {
      const parsed = read(text);
      if (parsed.ok) return parsed.value;
      context.issues.push({ code: 'custom', message: parsed.message, input: text });
      return z.NEVER;
    })
    .meta(meta as Record<string, unknown>);
}

/** Text that stays text; `read` says what is wrong with it, if anything. */
function textual(read: (text: string) => string | undefined, meta: FieldMeta) {
  return z
    .string()
    .superRefine((text, context) => {
      const message = read(text);
      if (message) context.addIssue({ code: 'custom', message });
    })
    .meta(meta as Record<string, unknown>);
}

const fail = (message: string): Parsed<never> => ({ ok: false, message });

// biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what is looked for
const CONTROL = /[\u0000-\u001f\u007f]/;
const MAX_ID = 80;

function idProblem(text: string): string | undefined {
  if (text.trim() === '') return 'An id cannot be empty.';
  if (text !== text.trim()) return 'An id cannot begin or end with a space.';
  if (CONTROL.test(text)) return 'An id cannot hold a line break or a control character.';
  if (Object.hasOwn(Object.prototype, text))
    return `"${text}" is a word that programs keep for themselves; choose another id.`;
  if (text.length > MAX_ID) return `An id can be at most ${MAX_ID} characters long.`;
  return undefined;
}

/** Any text that is not blank. */
function filled(want: string, meta: FieldMeta) {
  return textual((text) => (text.trim() === '' ? want : undefined), meta);
}

const SOME_TEXT = 'Write some text here, or leave the field out.';

/** One line of text. */
export const text = () => filled(SOME_TEXT, { scalar: 'text' });

/** Text of any length, lines kept. */
export const prose = () => filled(SOME_TEXT, { scalar: 'prose' });

/** A key or an `id:` that brings something into being. */
export const id = (defines?: RefKind, extra: FieldMeta = {}) =>
  textual(idProblem, { scalar: 'id', ...(defines ? { defines } : {}), ...extra });

/** An id that names something defined elsewhere. */
export const ref = (refers: RefKind | readonly RefKind[], extra: FieldMeta = {}) =>
  textual(idProblem, { scalar: 'reference', refers, ...extra });

/** An amount in the shop's currency, to the currency's smallest unit. */
export const money = () => scalar((t) => parseMoney(t), { scalar: 'money', unit: 'shop currency' });

/** An amount each that may be finer than a cent (a cost per ounce). */
export const unitMoney = () =>
  scalar((t) => parseMoney(t, 2, { fine: true }), { scalar: 'money', unit: 'shop currency each' });

/** `6.5%`, read as the fraction 0.065. */
export const percent = () => scalar((t) => parsePercent(t), { scalar: 'percent' });

export const number = (least?: string) =>
  scalar(
    (t): Parsed<Decimal> => {
      const parsed = parseDecimal(t);
      if (parsed.ok && least !== undefined && parsed.value.lt(dec(least)))
        return fail(`This cannot be less than ${least}.`);
      return parsed;
    },
    { scalar: 'number' },
  );

/** A whole number, zero or more. */
export const count = () =>
  scalar(
    (t): Parsed<number> =>
      /^\d{1,9}$/.test(t) ? { ok: true, value: Number(t) } : fail('Write a whole number here, such as 12.'),
    { scalar: 'count' },
  );

export const quantity = (dimension: Dimension) =>
  scalar((t) => parseQuantity(t, dimension), { scalar: 'quantity', dimension });

export const range = (dimension: Dimension) =>
  scalar((t) => parseRange(t, dimension), { scalar: 'range', dimension });

const HOURS = /^(\d+(?:\.\d+)?)(?:\s*h)?$/;

/** Time sold, in hours: `3.9`, `3.9 h` or `45 min`. */
export const hours = () =>
  scalar(
    (t): Parsed<Decimal> => {
      const plain = HOURS.exec(t);
      if (plain) return parseDecimal(plain[1]!);
      const timed = parseQuantity(t, 'time');
      if (!timed.ok) return fail('Write hours as 3.9, 3.9 h or 45 min.');
      if (timed.value.amount.lt(ZERO)) return fail('Hours cannot be less than zero.');
      return { ok: true, value: convert(timed.value, unitById('h')).amount };
    },
    { scalar: 'hours', unit: 'hours' },
  );

/** How one is counted when it is sold: each, quart, pair. */
export const sellingUnit = () => scalar((t) => parseSellingUnit(t), { scalar: 'selling-unit' });

export const date = () => scalar((t) => parseDate(t), { scalar: 'date' });
export const dateTime = () => scalar((t) => parseDateTime(t), { scalar: 'date-time' });
export const currency = () => scalar((t) => parseCurrency(t), { scalar: 'currency' });

export const yesNo = () =>
  scalar(
    (t): Parsed<boolean> => {
      if (/^(yes|true)$/i.test(t)) return { ok: true, value: true };
      if (/^(no|false)$/i.test(t)) return { ok: true, value: false };
      return fail('Write yes or no.');
    },
    { scalar: 'yes-no' },
  );

export const year = () =>
  scalar(
    (t): Parsed<number> =>
      /^(19|20)\d\d$/.test(t)
        ? { ok: true, value: Number(t) }
        : fail('Write the year with four digits, such as 2019.'),
    { scalar: 'year' },
  );

/** A vehicle identification number. Its letters are judged by the job check, where the region is known. */
export const vin = () => filled('Write the VIN here, or leave the field out.', { scalar: 'vin' });

/** A path inside the shop book, relative to the file that names it. */
export const file = (sort: NonNullable<FieldMeta['file']>) =>
  filled('Write a file name, relative to this file.', {
    scalar: 'file',
    file: sort,
    ...(sort === 'picture' || sort === 'video' ? { personal: true } : {}),
  });

/** A finding's value: what it may be depends on the finding (yes/no, a word of its scale, a measurement). */
export const reading = () => filled('Write what was found.', { scalar: 'reading' });

/** The value of a field that the shop declares: what it may be is said there. */
export const ownValue = () => filled('Write a value here, or leave the field out.', { scalar: 'own' });

/** One of a few words, each with its meaning. */
export function choice<const C extends Readonly<Record<string, string>>>(choices: C) {
  const words = Object.keys(choices) as (keyof C & string)[];
  return z
    .enum(words as [keyof C & string, ...(keyof C & string)[]], {
      error: (issue) => {
        if (typeof issue.input !== 'string') return undefined;
        const advice = suggestion(issue.input, words) || ` Write one of: ${words.join(', ')}.`;
        return `"${issue.input}" is not one of the words for this.${advice}`;
      },
    })
    .meta({ scalar: 'choice', choices });
}
