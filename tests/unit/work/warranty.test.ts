/** Warranty plans: row WAR-12, comebacks, plans that are withheld, and words that leave coverage open (case 34). */
import { describe, expect, test } from 'vitest';
import { isoDate } from '../../../schemas/values/dates.ts';
import { dec } from '../../../schemas/values/decimal.ts';
import { formatQuantity, quantity } from '../../../schemas/values/quantity.ts';
import { type EarlierJob, planInForce } from '../../../server/src/work/index.ts';
import { analysed, bookOf, checkJob, loud, the } from './fixture.ts';
import { shopBook } from './shop-book.ts';

const plan12 = shopBook.catalog.warranty('plan-12')!;

// Constructed, not published: 12 months or 12,000 miles, sold 2025-03-15 at 84,310 mi.
describe('WAR-12: months or miles, whichever comes first', () => {
  const sold = { completed: isoDate('2025-03-15'), odometer: quantity('84310', 'mi') };
  const claim = (date: string, miles: string) =>
    planInForce(plan12, sold, { date: isoDate(date), odometer: quantity(miles, 'mi') });

  test.each([
    ['2026-03-15', '96310', []],
    ['2026-01-10', '96311', ['distance']],
    ['2026-03-16', '90000', ['date']],
    ['2026-03-16', '96311', ['date', 'distance']],
  ])('claim on %s at %s mi: expired by %j', (date, miles, expiredBy) => {
    expect(claim(date, miles)).toMatchObject({ inForce: expiredBy.length === 0, expiredBy });
  });

  test('the end is on the report of a job that is done', () => {
    const job =
      'unit: birch-6\nwarranty: plan-12\ncompleted: 2025-03-15\nvehicle: {odometer: 84300 mi, odometer-out: 84310 mi}';
    const ends = checkJob(shopBook, job).warranty?.ends;
    expect(ends?.date).toBe('2026-03-15');
    expect(ends?.odometer && formatQuantity(ends.odometer)).toBe('96310 mi');
    expect(checkJob(shopBook, 'unit: birch-6\nwarranty: plan-12').warranty?.ends).toBeUndefined();
  });

  // WAR-02: a month end is kept inside the month.
  test('month ends are kept inside the month', () => {
    const book = bookOf({
      shop: 'warranties: {m1: {name: One month, months: 1}}',
      units: 'units: {any: {name: Any, layout: front, fluid-class: A}}',
    });
    expect(checkJob(book, 'unit: any\nwarranty: m1\ncompleted: 2023-01-31').warranty?.ends?.date).toBe(
      '2023-02-28',
    );
  });

  test('a plan by distance needs a reading to start from', () => {
    const job = 'unit: birch-6\nwarranty: plan-12\ncompleted: 2025-03-15\nvehicle: {make: Torvane}';
    expect(loud(checkJob(shopBook, job))).toEqual(['warranty-without-start vehicle']);
  });
});

describe('a comeback', () => {
  const earlier: EarlierJob = {
    id: 'J-0900',
    completed: isoDate('2025-12-01'),
    odometer: quantity('84310', 'mi'),
    plan: 'parts-90',
    findings: ['bearing-failed', 'metal-inside'],
    cause: { what: 'Low lube flow.' },
  };
  const comeback = (job: string, over: Partial<EarlierJob> = {}) =>
    checkJob(
      shopBook,
      `unit: birch-6\nfollows: J-0900\nopened: 2026-01-30\n${job}`.replace('opened: 2026-01-30', ''),
      {
        earlier: { ...earlier, ...over },
      },
    );

  // Case 40: a parts-only plan of 90 days that fails on day 60 covers no labor. Jobs of this test open on 2026-03-02.
  test('40: is judged by the plan of the earlier job', () => {
    const within = { completed: isoDate('2026-01-01') };
    expect(comeback('', within).comeback).toMatchObject({ inForce: true, expiredBy: [], coversLabor: false });
    expect(comeback('', { ...within, plan: 'plan-12' }).comeback).toMatchObject({
      inForce: true,
      coversLabor: true,
    });
    expect(comeback('').comeback).toMatchObject({ inForce: false, expiredBy: ['date'], coversLabor: false });
    const far = 'vehicle: {odometer: 96311 mi}';
    expect(comeback(far, { ...within, plan: 'plan-12' }).comeback).toMatchObject({
      inForce: false,
      expiredBy: ['distance'],
    });
  });

  test('with the same finding and the same cause asks for a new cause', () => {
    const again = comeback('findings: {bearing-failed: yes}\ncause: {what: low lube flow}');
    expect(the(again.problems, 'same-cause-again')).toMatchObject({ path: ['cause'] });
    expect(again.comeback).toMatchObject({ sameFindings: ['bearing-failed'], sameCause: true });
  });

  test('with a new cause, or with another finding, does not', () => {
    const codes = (job: string) => comeback(job).problems.map((one) => one.code);
    expect(
      codes('findings: {bearing-failed: yes}\ncause: {what: The cooler was never cleaned}'),
    ).not.toContain('same-cause-again');
    expect(codes('findings: {overheated: yes}\ncause: {what: Low lube flow}')).not.toContain(
      'same-cause-again',
    );
    expect(codes('findings: {bearing-failed: no}\ncause: {what: Low lube flow}')).not.toContain(
      'same-cause-again',
    );
  });

  test('causes named by finding are compared by it', () => {
    const cause = { what: 'Heat', finding: 'overheated' };
    const job = (finding: string) =>
      comeback(
        `findings: {bearing-failed: yes, overheated: yes}\ncause: {what: It ran hot, finding: ${finding}}`,
        { cause },
      );
    expect(job('overheated').comeback?.sameCause).toBe(true);
    expect(job('bearing-failed').comeback?.sameCause).toBe(false);
  });

  test('without any cause is asked for one', () => {
    expect(comeback('findings: {bearing-failed: yes}').problems.map((one) => one.code)).toContain(
      'comeback-without-cause',
    );
    expect(comeback('').problems.map((one) => one.code)).not.toContain('comeback-without-cause');
  });
});

describe('a plan that is withheld', () => {
  const book = bookOf({
    rules: `
roles: {radiator: {name: Radiator, of: part}, hoses: {name: Hoses, of: part}}
findings: {leak: {name: Leak, kind: yes-no}, tow: {name: Tows heavy loads, kind: yes-no}}
records: {flow-test: {name: Flow test}}
rules:
  cure: {when: {finding: leak}, requires: [{role: radiator}], needs-record: [flow-test], withholds: [long], because: It comes back., basis: shop}
  towing: {when: {finding: tow, none: [{role: hoses}]}, withholds: [long], because: Heavy loads., basis: shop}
  never: {when: {finding: tow}, withholds: [extra], because: Heavy loads., basis: shop}`,
    units: 'units: {any: {name: Any, layout: front, fluid-class: A}}',
    parts: 'parts: {R: {name: R, kind: cooling, role: radiator}, H: {name: H, kind: cooling, role: hoses}}',
    shop: 'warranties: {long: {name: Long, months: 24}, extra: {name: Extra, months: 36}}',
  });
  const job = (text: string) => checkJob(book, `unit: any\n${text}`);

  test('while what its rule asks for is missing, and told once', () => {
    const result = job('findings: {leak: yes}\nwarranty: long');
    expect(result.withheld).toMatchObject([{ plan: 'long', promised: true, restoredBy: ['Radiator'] }]);
    expect(loud(result)).toEqual(['missing-work findings.leak']);
  });

  test('and given again once it is there; the record comes with the work', () => {
    expect(job('findings: {leak: yes}\nwarranty: long\nlines: [{part: R}]').withheld).toEqual([]);
    const done = job('findings: {leak: yes}\nwarranty: long\nlines: [{part: R}]\ncompleted: 2026-03-12');
    expect(done.withheld).toMatchObject([{ plan: 'long', restoredBy: ['the record Flow test'] }]);
  });

  test('a waiver takes the work off and leaves the plan withheld', () => {
    const waiver = 'waivers: [{role: radiator, reason: price, by: the owner, on: 2026-03-02, signed: yes}]';
    expect(loud(job(`findings: {leak: yes}\nwarranty: long\n${waiver}`))).toEqual([
      'withheld-warranty warranty',
    ]);
    const other = job(`findings: {leak: yes}\nwarranty: extra\n${waiver}`);
    expect(loud(other)).toEqual([]);
    expect(other.withheld).toMatchObject([{ plan: 'long', promised: false }]);
  });

  test('a rule that asks for nothing withholds while it holds, and what it misses restores it', () => {
    const towing = job('findings: {tow: yes}\nwarranty: long');
    expect(the(towing.problems, 'withheld-warranty').message).toBe(
      'The warranty Long cannot be given. Tows heavy loads: yes → towing. Heavy loads. It comes back with Hoses on the job.',
    );
    expect(loud(job('findings: {tow: yes}\nwarranty: long\nlines: [{part: H}]'))).toEqual([]);
    expect(the(job('findings: {tow: yes}\nwarranty: extra').problems, 'withheld-warranty').message).toContain(
      'Choose another plan.',
    );
  });
});

// A television report of 2015: "transmission only", and the claim denied for a cooler.
describe('34: words that leave open what is covered', () => {
  const plan = (fields: string) =>
    analysed({ shop: `warranties: {p: {name: Plan P, months: 12, ${fields}}}` }).map((one) => one.problem);

  test('"transmission only" can be read in more than one way', () => {
    const problem = the(plan('includes: [transmission only], excludes: [towing]'), 'warranty-unclear');
    expect(problem.path).toEqual(['includes', 0]);
    expect(problem.message).toBe(
      '"transmission only" can be read in more than one way, which is argued about on a claim. List both under `includes` and `excludes`. Say whether it covers the converter, cooler and lines, electronics and programming or labor.',
    );
  });

  test('what is in and what is out are both said', () => {
    expect(the(plan(''), 'warranty-unclear').message).toContain(
      'Plan P does not say what is in and what is out',
    );
    expect(the(plan('includes: [the unit]'), 'warranty-unclear').message).toContain(
      'does not say what is out',
    );
    expect(plan('includes: [the unit and its converter], excludes: [cooler and lines]')).toEqual([]);
  });
});

test('a parts-only plan without labor on the option says nothing', () => {
  const job = 'unit: birch-6\nwarranty: parts-90';
  expect(checkJob(shopBook, job, { labor: '0' }).problems).toEqual([]);
  // A plan that pays labor leaves none of it to the customer.
  const both = checkJob(shopBook, 'unit: birch-6\nwarranty: plan-12', { labor: '100' });
  expect([both.problems, both.warranty?.laborNotCovered]).toEqual([[], undefined]);
  expect(checkJob(shopBook, job).warranty).toEqual({
    plan: 'parts-90',
    withheld: false,
    unproven: [],
    ends: undefined,
    laborNotCovered: undefined,
  });
  expect(checkJob(shopBook, job, { labor: '100' }).warranty?.laborNotCovered?.eq(dec('100'))).toBe(true);
});
