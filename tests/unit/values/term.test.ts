import { describe, expect, test } from 'vitest';
import { isoDate } from '../../../schemas/values/dates.ts';
import { formatQuantity, quantity } from '../../../schemas/values/quantity.ts';
import { termEnd, whicheverFirst } from '../../../schemas/values/term.ts';

// WAR-12: constructed, not published. 12 months or 12,000 miles, sold 2025-03-15 at 84,310 miles.
const term = {
  start: isoDate('2025-03-15'),
  months: 12,
  odometer: quantity('84310', 'mi'),
  distance: quantity('12000', 'mi'),
};

describe('WAR-12: whichever comes first', () => {
  test('its end', () => {
    const end = termEnd(term);
    expect(end.date).toBe('2026-03-15');
    expect(formatQuantity(end.odometer!)).toBe('96310 mi');
  });

  test.each([
    ['2026-01-10', '96311', ['distance']],
    ['2026-03-16', '90000', ['date']],
    ['2026-03-16', '96311', ['date', 'distance']],
    ['2026-03-15', '96310', []],
    ['2025-03-15', '84310', []],
  ])('on %s at %s mi, expired by %j', (date, odometer, expiredBy) => {
    const state = whicheverFirst(term, { date: isoDate(date), odometer: quantity(odometer, 'mi') });
    expect(state.expiredBy).toEqual(expiredBy);
    expect(state.inForce).toBe(expiredBy.length === 0);
  });
});

test('kilometers are held against miles', () => {
  const claim = (kilometers: string) =>
    whicheverFirst(term, { date: isoDate('2025-06-01'), odometer: quantity(kilometers, 'km') }).inForce;
  // 96,310 mi is 154,995.92064 km (UNIT-09).
  expect([claim('154995.92'), claim('154995.93')]).toEqual([true, false]);

  const bought = { ...term, distance: quantity('20000', 'km') };
  expect(formatQuantity(termEnd(bought).odometer!, 1)).toBe('96737.4 mi');
});

test('a limit left out does not end it', () => {
  const late = { date: isoDate('2040-01-01'), odometer: quantity('400000', 'mi') };
  expect(whicheverFirst({ start: term.start }, late).inForce).toBe(true);
  expect(whicheverFirst({ ...term, months: undefined }, late).expiredBy).toEqual(['distance']);
  expect(whicheverFirst({ ...term, distance: undefined }, late).expiredBy).toEqual(['date']);
  // Without a reading on the day of the claim, only the date can tell.
  expect(whicheverFirst(term, { date: isoDate('2026-01-10') }).inForce).toBe(true);
});
