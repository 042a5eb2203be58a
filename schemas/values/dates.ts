import { Temporal } from 'temporal-polyfill';
import { accepted, type Parsed, refused } from './parsed.ts';

declare const checked: unique symbol;

/** A calendar date of ISO 8601, `2026-03-14`, known to exist. Dates compare as text. */
export type IsoDate = string & { readonly [checked]: 'date' };

/**
 * A date with a time of day, `2026-03-14T10:30`, with seconds and an offset from UTC (`-05:00`) where given.
 * Those written with the same offset, or all without, compare as text.
 */
export type IsoDateTime = string & { readonly [checked]: 'date-time' };

const MONTHS = 'January February March April May June July August September October November December'.split(
  ' ',
);
const EARLIEST_YEAR = 1900;

function daysInMonth(year: number, month: number): number {
  if (month === 2) return (year % 4 === 0 && year % 100 !== 0) || year % 400 === 0 ? 29 : 28;
  return [4, 6, 9, 11].includes(month) ? 30 : 31;
}

/** Reads `2026-03-14`. */
export function parseDate(text: string): Parsed<IsoDate> {
  const typed = text.trim();
  const match = /^(\d{4})-(\d{2})-(\d{2})$/.exec(typed);
  if (!match) return refused(badDate(typed));
  const [year, month, day] = [Number(match[1]), Number(match[2]), Number(match[3])];
  if (year < EARLIEST_YEAR)
    return refused(`Check the year ${match[1]}: dates here start at ${EARLIEST_YEAR}.`);
  const monthName = MONTHS[month - 1];
  if (!monthName) return refused(`There is no month ${match[2]}. Write year-month-day, such as 2026-03-14.`);
  const last = daysInMonth(year, month);
  if (day < 1) return refused(`A month starts at day 01: ${match[1]}-${match[2]}-01.`);
  if (day > last) {
    return refused(`${monthName} ${year} has ${last} days; its last is ${match[1]}-${match[2]}-${last}.`);
  }
  return accepted(typed as IsoDate);
}

function badDate(typed: string): string {
  if (typed === '') return 'A date is missing here. Write year-month-day, such as 2026-03-14.';
  const loose = /^(\d{4})[-/.](\d{1,2})[-/.](\d{1,2})$/.exec(typed);
  if (loose)
    return `Write the date as ${loose[1]}-${loose[2]!.padStart(2, '0')}-${loose[3]!.padStart(2, '0')}.`;
  if (/^\d{4}-\d{2}-\d{2}[T ]/.test(typed))
    return `Only the date goes here, without a time: ${typed.slice(0, 10)}.`;
  return `"${typed}" is not a date as written here. Write year-month-day, such as 2026-03-14.`;
}

/** Reads `2026-03-14 10:30` or `2026-03-14T10:30`, with seconds and an offset (`Z`, `-05:00`) if wanted. */
export function parseDateTime(text: string): Parsed<IsoDateTime> {
  const typed = text.trim();
  const match = /^(\S+?)(?:T|\s+)(\d{2}):(\d{2})(?::(\d{2}))?\s*(Z|[+-]\d{2}:\d{2})?$/i.exec(typed);
  if (!match) {
    const date = parseDate(typed);
    if (date.ok) return refused(`Add the time of day: ${date.value} 10:30, for example.`);
    return refused(`"${typed}" is not a date with a time. Write 2026-03-14 10:30, with 24 hours.`);
  }
  const [, dateText = '', hours = '', minutes = '', seconds, offset] = match;
  const date = parseDate(dateText);
  if (!date.ok) return date;
  if (Number(hours) > 23) return refused(`There is no hour ${hours}. A day runs from 00:00 to 23:59.`);
  if (Number(minutes) > 59) return refused(`There is no minute ${minutes}. An hour runs from :00 to :59.`);
  if (seconds && Number(seconds) > 59)
    return refused(`There is no second ${seconds}. A minute runs from :00 to :59.`);
  if (offset && !/^Z$|^[+-](0\d|1[0-4]):[0-5]\d$/i.test(offset)) {
    return refused(
      `${offset} is not an offset from UTC. Write one such as -05:00, or leave it out for the shop's own time.`,
    );
  }
  const zone = offset?.toUpperCase().replace('Z', '+00:00') ?? '';
  return accepted(`${date.value}T${hours}:${minutes}${seconds ? `:${seconds}` : ''}${zone}` as IsoDateTime);
}

/** A date for code, from its text. Throws RangeError on one that does not exist. */
export function isoDate(text: string): IsoDate {
  const date = parseDate(text);
  if (!date.ok) throw new RangeError(date.message);
  return date.value;
}

export function dateOf(dateTime: IsoDateTime): IsoDate {
  return dateTime.slice(0, 10) as IsoDate;
}

/** Months later (or earlier, below zero), on the same day of the month or on the last one where there is no such day. */
export function addMonths(date: IsoDate, months: number): IsoDate {
  return Temporal.PlainDate.from(date).add({ months }, { overflow: 'constrain' }).toString() as IsoDate;
}

export function addDays(date: IsoDate, days: number): IsoDate {
  return Temporal.PlainDate.from(date).add({ days }).toString() as IsoDate;
}

/** Whole days from one date to another; below zero when the second is the earlier. */
export function daysBetween(from: IsoDate, to: IsoDate): number {
  return Temporal.PlainDate.from(from).until(Temporal.PlainDate.from(to), { largestUnit: 'days' }).days;
}
