import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  addDays,
  addMonths,
  dateOf,
  daysBetween,
  isoDate,
  parseDate,
  parseDateTime,
} from '../../../schemas/values/dates.ts';
import { messageIn, valueIn } from './expect-parsed.ts';

describe('reading a date', () => {
  test.each(['2026-03-14', '2024-02-29', '2000-02-29', '1900-01-01', '9999-12-31'])('%s', (typed) => {
    expect(valueIn(parseDate(typed))).toBe(typed);
  });

  test.each([
    ['2026-02-30', 'February 2026 has 28 days; its last is 2026-02-28.'],
    ['2024-02-30', 'February 2024 has 29 days; its last is 2024-02-29.'],
    ['1900-02-29', 'February 1900 has 28 days; its last is 1900-02-28.'],
    ['2026-04-31', 'April 2026 has 30 days; its last is 2026-04-30.'],
    ['2026-13-01', 'There is no month 13. Write year-month-day, such as 2026-03-14.'],
    ['2026-00-01', 'There is no month 00. Write year-month-day, such as 2026-03-14.'],
    ['2026-03-00', 'A month starts at day 01: 2026-03-01.'],
    ['2026-3-4', 'Write the date as 2026-03-04.'],
    ['2026/03/14', 'Write the date as 2026-03-14.'],
    ['3/14/2026', '"3/14/2026" is not a date as written here. Write year-month-day, such as 2026-03-14.'],
    ['0206-03-14', 'Check the year 0206: dates here start at 1900.'],
    ['2026-03-14 10:30', 'Only the date goes here, without a time: 2026-03-14.'],
    ['', 'A date is missing here. Write year-month-day, such as 2026-03-14.'],
  ])('%s: %s', (typed, message) => {
    expect(messageIn(parseDate(typed))).toBe(message);
  });

  test('every day there is, and none there is not, from 1900 to 2100', () => {
    for (let year = 1900; year <= 2100; year += 1) {
      for (let month = 1; month <= 12; month += 1) {
        for (let day = 28; day <= 31; day += 1) {
          const text = `${year}-${String(month).padStart(2, '0')}-${day}`;
          const exists = new Date(`${text}T00:00:00Z`).toISOString().startsWith(text);
          expect(parseDate(text).ok, text).toBe(exists);
        }
      }
    }
  });
});

describe('reading a date with a time', () => {
  test.each([
    ['2026-03-14T10:30', '2026-03-14T10:30'],
    ['2026-03-14 10:30', '2026-03-14T10:30'],
    ['2026-03-14 10:30:05', '2026-03-14T10:30:05'],
    ['2026-03-14T10:30-05:00', '2026-03-14T10:30-05:00'],
    ['2026-03-14t10:30z', '2026-03-14T10:30+00:00'],
    ['2026-03-14 00:00 +14:00', '2026-03-14T00:00+14:00'],
  ])('%s is %s', (typed, kept) => {
    expect(valueIn(parseDateTime(typed))).toBe(kept);
  });

  test.each([
    ['2026-03-14', 'Add the time of day: 2026-03-14 10:30'],
    ['2026-02-30 10:30', 'its last is 2026-02-28'],
    ['2026-03-14 24:00', 'There is no hour 24'],
    ['2026-03-14 10:60', 'There is no minute 60'],
    ['2026-03-14 10:30:61', 'There is no second 61'],
    ['2026-03-14 10:30+15:00', 'not an offset from UTC'],
    ['2026-03-14 2:30 pm', 'Write 2026-03-14 10:30, with 24 hours'],
    ['3/14/2026 10:30', 'Write year-month-day'],
  ])('%s is refused and told what to write', (typed, part) => {
    expect(messageIn(parseDateTime(typed))).toContain(part);
  });

  test('its date, and its order as text', () => {
    const times = ['2026-03-14 10:30:05', '2026-03-14 09:15', '2026-03-14 10:30', '2026-03-13 23:59'];
    const sorted = times.map((text) => valueIn(parseDateTime(text))).toSorted();
    expect(sorted).toEqual([
      '2026-03-13T23:59',
      '2026-03-14T09:15',
      '2026-03-14T10:30',
      '2026-03-14T10:30:05',
    ]);
    expect(dateOf(sorted[0]!)).toBe('2026-03-13');
  });
});

/*
 * The rule: Temporal.PlainDate.prototype.add, overflow "constrain", clamps the day to the month's last
 * (developer.mozilla.org). Results computed from it.
 */
describe('months later', () => {
  test.each([
    ['WAR-01', '2024-01-31', 1, '2024-02-29'],
    ['WAR-02', '2023-01-31', 1, '2023-02-28'],
    ['WAR-03', '2023-08-31', 6, '2024-02-29'],
    ['WAR-04', '2024-08-31', 6, '2025-02-28'],
    ['WAR-06', '2024-02-29', 36, '2027-02-28'],
    ['WAR-07', '2024-02-29', 48, '2028-02-29'],
    ['WAR-08', '2025-11-30', 3, '2026-02-28'],
  ])('%s: %s and %i months is %s', (_row, start, months, end) => {
    expect(addMonths(isoDate(start), months)).toBe(end);
  });

  test('WAR-10, WAR-11: the month end is neither refused nor run over', () => {
    const legacy = new Date('2024-01-31T00:00:00Z');
    legacy.setUTCMonth(1);
    expect(legacy.toISOString().slice(0, 10)).toBe('2024-03-02');
    expect(addMonths(isoDate('2024-01-31'), 1)).toBe('2024-02-29');
  });

  const days = fc.integer({ min: -25_000, max: 47_000 }).map((n) => {
    return isoDate(new Date(n * 86_400_000).toISOString().slice(0, 10));
  });

  test('lands in the month counted to, on the same day or its last', () => {
    fc.assert(
      fc.property(days, fc.integer({ min: -200, max: 200 }), (start, months) => {
        const [year = 0, month = 0, day = 0] = start.split('-').map(Number);
        const count = year * 12 + (month - 1) + months;
        const [endYear, endMonth] = [Math.floor(count / 12), count - Math.floor(count / 12) * 12];
        const last = new Date(Date.UTC(endYear, endMonth + 1, 0)).getUTCDate();
        const expected = new Date(Date.UTC(endYear, endMonth, Math.min(day, last)));
        expect(addMonths(start, months)).toBe(expected.toISOString().slice(0, 10));
      }),
    );
  });

  test('days: there, back, and between', () => {
    expect(addDays(isoDate('2024-02-28'), 2)).toBe('2024-03-01');
    expect(daysBetween(isoDate('2026-03-14'), isoDate('2026-03-14'))).toBe(0);
    fc.assert(
      fc.property(days, fc.integer({ min: -5000, max: 5000 }), (start, count) => {
        expect(daysBetween(start, addDays(start, count))).toBe(count);
      }),
    );
  });
});

test('a date that does not exist is a mistake in the code', () => {
  expect(() => isoDate('2026-02-30')).toThrow(RangeError);
});
