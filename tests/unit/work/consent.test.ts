/**
 * Limits over a written estimate: rows AUTH-01 to AUTH-14, as dated profiles of what was published. Rules change: none
 * of these is advice.
 */
import { describe, expect, test } from 'vitest';
import type { Jurisdiction } from '../../../schemas/kinds/jurisdiction.ts';
import { dec } from '../../../schemas/values/decimal.ts';
import {
  type ConsentInput,
  consentProblems,
  limitOver,
  needsConsent,
  workLine,
} from '../../../server/src/work/index.ts';
import { jurisdictionOf } from '../../fixtures/jurisdictions.ts';
import { codesOf, jobOf, the } from './fixture.ts';
import { shopBook } from './shop-book.ts';

const place = (name: string, source: string, authorization: string): Jurisdiction =>
  jurisdictionOf(`
id: ${name.toLowerCase().replaceAll(' ', '-')}
name: ${name}
as-of: 2024-01-01
source: ${source}
taxes: []
taxable: {}
authorization: {${authorization}, source: ${source}}
`);

const washington = place(
  'Washington',
  'RCW 46.71.015 and 46.71.025',
  'written-above: 100.00, percent: 10%, tax: excluded, record: [on, by, taken-by, how, amount]',
);
const florida = place(
  'Florida',
  'Fla. Stat. 559.909',
  'written-above: 100.00, percent: 10%, amount: 10.00, pick: larger, cap: 50.00',
);
const michigan = place(
  'Michigan',
  'MCL 257.1332 as told by the Secretary of State',
  'percent: 10%, amount: 50.00, pick: smaller, record: [on, by, amount]',
);
const massachusetts = place('Massachusetts', '940 CMR 5.05(7)', 'amount: 10.00');
const ohio = place('Ohio', 'OAC 109:4-3-13', 'applies-above: 50.00, percent: 10%');
const illinois = place(
  'Illinois',
  '815 ILCS 306/15',
  'written-above: 100.00, percent: 10%, itemised-only: yes',
);
const virginia = place('Virginia', 'as told by a lawyer', 'percent: 10%');
const summit = place('Summit County', 'Codified Ord. 769.04', 'applies-above: 25.00, percent: 10%');
const northCarolina = place('North Carolina', 'G.S. 20-354.7', 'written-above: 350.00');
const california = place('California', 'BPC 9884.9, from memory', 'tax: excluded');
const newYork = place('New York', '15 NYCRR 82.5', 'tax: excluded');

const limitOf = (law: Jurisdiction, estimate: string, itemised = true) =>
  limitOver(law.authorization!, dec(estimate), itemised).most?.toString();
const asks = (law: Jurisdiction, estimate: string, charge: string, itemised = true) =>
  needsConsent(law.authorization!, dec(estimate), dec(charge), itemised);

describe('how far a bill may go', () => {
  test.each([
    ['AUTH-01', washington, '1000.00', '1100.00', '1100.01'],
    ['AUTH-01', washington, '2745.55', '3020.10', '3020.11'],
    ['AUTH-02', florida, '80.00', '90.00', '90.01'],
    ['AUTH-02', florida, '100.00', '110.00', '110.01'],
    ['AUTH-02', florida, '300.00', '330.00', '330.01'],
    ['AUTH-02', florida, '500.00', '550.00', '550.01'],
    ['AUTH-02', florida, '3000.00', '3050.00', '3050.01'],
    ['AUTH-06', ohio, '1000.00', '1100.00', '1100.01'],
    ['AUTH-08', illinois, '1000.00', '1100.00', '1100.01'],
    ['AUTH-09', massachusetts, '500.00', '510.00', '510.01'],
    ['AUTH-09', massachusetts, '5000.00', '5010.00', '5010.01'],
    ['AUTH-10', virginia, '1000.00', '1100.00', '1100.01'],
    ['AUTH-11', summit, '100.00', '110.00', '110.01'],
    ['AUTH-13', california, '1000.00', '1000.00', '1000.01'],
    // MI: +10 % or 50.00, whichever is less.
    ['MI', michigan, '300.00', '330.00', '330.01'],
    ['MI', michigan, '4000.00', '4050.00', '4050.01'],
  ])('%s: $1.name $2 allows $3 and not $4', (_row, law, estimate, fine, tooMuch) => {
    expect(asks(law, estimate, fine)).toBe(false);
    expect(asks(law, estimate, tooMuch)).toBe(true);
  });

  test('AUTH-01: the limit is not rounded', () => {
    expect(limitOf(washington, '2745.55')).toBe('3020.105');
  });

  test('AUTH-06, AUTH-11: small jobs are free of the limit', () => {
    expect(limitOf(ohio, '50.00')).toBeUndefined();
    expect(asks(ohio, '50.00', '500.00')).toBe(false);
    expect(asks(ohio, '50.01', '55.02')).toBe(true);
    expect(asks(summit, '25.00', '90.00')).toBe(false);
  });

  test('AUTH-08: an estimate that is not itemised has no margin', () => {
    expect(limitOf(illinois, '4000.00', false)).toBe('4000');
    expect(limitOf(illinois, '4000.00')).toBe('4400');
  });

  // The table of over-estimate limits at 4,000.00 before tax.
  test('26: estimate 4,000.00 and a part of 350.00 added', () => {
    const limits = [washington, illinois, florida, michigan, newYork, california].map((law) =>
      limitOf(law, '4000.00'),
    );
    expect(limits).toEqual(['4400', '4400', '4050', '4050', '4000', '4000']);
    expect([washington, florida, michigan, newYork].map((law) => asks(law, '4000.00', '4350.00'))).toEqual([
      false,
      true,
      true,
      true,
    ]);
  });
});

const consent = (law: Jurisdiction | undefined, job: string, net: string, more: Partial<ConsentInput> = {}) =>
  consentProblems(
    {
      job: jobOf(`unit: birch-6\n${job}`),
      law,
      charge: { net: dec(net), tax: dec('81.28') },
      itemised: true,
      lines: [],
      format: (amount) => amount.toFixed(2),
      ...more,
    },
    shopBook.catalog,
  );

const SIGNED = (amount: string, more = '') =>
  `{on: 2026-03-05T10:20, by: the owner, taken-by: M, how: signature, amount: ${amount}${more}}`;

describe('a job beyond its authorization', () => {
  test('26: the message says what is authorized, what may be reached, and why', () => {
    const problem = the(
      consent(michigan, `authorizations: [${SIGNED('4000.00')}]`, '4350.00'),
      'over-authorized',
    );
    expect(problem).toMatchObject({
      severity: 'error',
      path: ['authorizations', 0, 'amount'],
      data: { most: '4050' },
    });
    expect(problem.message).toBe(
      'The job comes to 4350.00 before tax; the owner has authorized 4000.00, and it may reach 4050.00 (10% or 50, the smaller). Ask first, and write the new authorization. Check your local rules.',
    );
    expect(consent(washington, `authorizations: [${SIGNED('4000.00')}]`, '4350.00')).toEqual([]);
  });

  test('the latest authorization counts, wherever it stands in the list', () => {
    const both = `authorizations: [${SIGNED('4350.00')}, ${SIGNED('4000.00').replace('03-05', '03-04')}]`;
    expect(consent(newYork, both, '4350.00')).toEqual([]);
  });

  test('tax counts only where the place compares with tax', () => {
    const withTax = place('Place', 'invented', 'percent: 10%, tax: included');
    const job = `authorizations: [${SIGNED('1000.00')}]`;
    expect(consent(washington, job, '1100.00')).toEqual([]);
    expect(the(consent(withTax, job, '1100.00'), 'over-authorized').message).toContain(
      'comes to 1181.28 with tax',
    );
  });

  // A newspaper of 1985: teardown authorized at 165, invoice 726.
  test('23: teardown authorized at 165.00, invoice 726.00', () => {
    const teardown = SIGNED('165.00', ', for: teardown');
    const done = consent(florida, `completed: 2026-03-12\nauthorizations: [${teardown}]`, '726.00');
    expect(the(done, 'over-authorized').message).toContain('the owner has authorized 165.00 for teardown');
    // While nothing more than the teardown is in hand, only the teardown is held against it.
    expect(consent(florida, `authorizations: [${teardown}]`, '726.00')).toEqual([]);
    const torn = { teardown: { net: dec('200.00'), tax: dec('0') } };
    expect(
      the(consent(florida, `authorizations: [${teardown}]`, '726.00', torn), 'over-authorized').message,
    ).toMatch(/^The teardown comes to 200.00/);
  });

  test('work that nobody authorized', () => {
    expect(codesOf(consent(washington, 'completed: 2026-03-12', '500.00'))).toEqual(['not-authorized']);
    expect(consent(washington, '', '500.00')).toEqual([]);
    expect(consent(ohio, 'completed: 2026-03-12', '50.00')).toEqual([]);
  });

  test('without a profile there is no limit to hold it against', () => {
    expect(consent(undefined, `authorizations: [${SIGNED('10.00')}]`, '4000.00')).toEqual([]);
  });
});

describe('the paper of an authorization', () => {
  test('AUTH-01, AUTH-03, AUTH-12: a written estimate above a sum', () => {
    const byPhone = (amount: string) =>
      `authorizations: [{on: 2026-03-05T10:20, by: O, taken-by: M, how: telephone, contact: 555-0117, amount: ${amount}}]`;
    expect(codesOf(consent(washington, byPhone('100.01'), '100.01'))).toEqual(['estimate-not-written']);
    expect(consent(washington, byPhone('100.00'), '100.00')).toEqual([]);
    expect(codesOf(consent(florida, byPhone('101.00'), '101.00'))).toEqual(['estimate-not-written']);
    expect(consent(northCarolina, byPhone('350.00'), '350.00')).toEqual([]);
    expect(codesOf(consent(northCarolina, byPhone('350.01'), '350.01'))).toEqual(['estimate-not-written']);
    expect(consent(washington, `presented: 2026-03-05\n${byPhone('900.00')}`, '900.00')).toEqual([]);
    expect(codesOf(consent(washington, `presented: 2026-03-06\n${byPhone('900.00')}`, '900.00'))).toEqual([
      'estimate-not-written',
    ]);
    expect(consent(washington, `authorizations: [${SIGNED('900.00')}]`, '900.00')).toEqual([]);
  });

  // WA: date, time, the additional cost, and the employee who obtained it.
  test('what it has to record', () => {
    const bare =
      'presented: 2026-03-01\nauthorizations: [{on: 2026-03-05T10:20, by: O, how: in-person, amount: 900.00}]';
    expect(the(consent(washington, bare, '900.00'), 'authorization-incomplete')).toMatchObject({
      severity: 'warning',
      data: { fields: ['taken-by'] },
    });
    expect(consent(michigan, bare, '900.00')).toEqual([]);
  });

  test('a number is asked for only of whoever was not there', () => {
    const law = place('Place', 'invented', 'percent: 10%, record: [contact]');
    const how = (word: string) =>
      consent(law, `authorizations: [{on: 2026-03-05T10:20, by: O, how: ${word}, amount: 9.00}]`, '9.00');
    expect(['signature', 'in-person', 'telephone', 'email', 'text'].map((word) => how(word).length)).toEqual([
      0, 0, 1, 1, 1,
    ]);
  });

  test('another option than the one chosen', () => {
    const job = `
options: {a: {name: A, kind: overhaul}, b: {name: B, kind: exchange}}
chosen: b
authorizations: [${SIGNED('4000.00', ', option: a')}]`;
    expect(codesOf(consent(undefined, job, '4000.00'))).toEqual(['other-option-authorized']);
    expect(consent(undefined, job.replace('chosen: b', 'chosen: a'), '4000.00')).toEqual([]);
  });

  test('declined work that is still on the job', () => {
    const lines = [workLine(['lines', 0], { part: 'HOS' }, shopBook.catalog)];
    const job = `authorizations: [${SIGNED('900.00', ', declined: [hoses]')}]`;
    expect(the(consent(undefined, job, '900.00', { lines }), 'declined-on-job')).toMatchObject({
      path: ['lines', 0],
      message:
        'the owner declined Radiator hoses, but Hose set is still on the job. Take it off, or write the new consent.',
    });
    expect(consent(undefined, job, '900.00')).toEqual([]);
  });
});

// 32: trade articles on third-party payers; the customer's share of the worked example is 1,759.54.
test('32: what the payer excludes is authorized before teardown', () => {
  const lines = [workLine(['lines', 0], { operation: 'rr-unit' }, shopBook.catalog)];
  const share = { customer: dec('1759.54'), notCovered: ['diagnosis', 'fluids', 'programming', 'fees'] };
  const problem = the(consent(undefined, '', '5574.54', { lines, share }), 'share-without-consent');
  expect(problem).toMatchObject({ severity: 'warning', path: ['payers'] });
  expect(problem.message).toContain(
    '1759.54 stays with the customer (not covered: diagnosis, fluids, programming and fees)',
  );
  const agreed = (amount: string) =>
    codesOf(
      consent(undefined, `authorizations: [${SIGNED(amount, ', for: teardown')}]`, '5574.54', {
        lines,
        share,
      }),
    );
  expect(agreed('1759.53')).toEqual(['share-without-consent']);
  expect(agreed('1759.54')).toEqual([]);
  expect(consent(undefined, '', '5574.54', { share })).toEqual([]);
});
