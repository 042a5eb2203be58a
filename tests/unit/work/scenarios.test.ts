/** Cases that were made public, as facts and the answer they should have had. Numbers are those of the list of cases. */
import { describe, expect, test } from 'vitest';
import { dec } from '../../../schemas/values/decimal.ts';
import { bookOf, checkJob, codesOf, loud, openNeeds, the } from './fixture.ts';
import { shopBook, TEXTS } from './shop-book.ts';

// 1: maker's bulletins (TSB-98-23-004; manuals of 2004 to 2010).
test('1: overhaul with metal and no cooler line', () => {
  const result = checkJob(
    shopBook,
    'unit: birch-6\nfindings: {pan-debris: pieces}\nlines: [{operation: overhaul}, {part: ATF-B, quantity: 13}]',
  );
  expect(openNeeds(result, 'requires')).toEqual(['cooler|cooler-flush|radiator', 'flow-test']);
  const cooler = result.problems.find(
    (one) => one.code === 'missing-work' && one.message.startsWith('External cooler'),
  );
  expect(cooler).toMatchObject({ severity: 'error', path: ['findings', 'pan-debris'] });
  expect(cooler?.message).toContain(
    'Metal in the pan: pieces → rule metal-flakes → Metal has gone through the unit',
  );
});

test('1: paste on the magnet is normal and asks for nothing', () => {
  expect(checkJob(shopBook, 'unit: birch-6\nfindings: {pan-debris: paste}').problems).toEqual([]);
});

// 5: a rebuilder's newsletter; an owners' forum.
test('5: coolant without its source', () => {
  const coolant = (more: string) =>
    checkJob(shopBook, `unit: birch-6\nfindings: {coolant-in-fluid: yes}\n${more}`);
  const isSource = (one: { message: string }) =>
    one.message.includes('Proof of the coolant source is required');
  expect(coolant('').problems.filter(isSource)).toHaveLength(1);
  expect(coolant('lines: [{part: RAD}]').problems.filter(isSource)).toEqual([]);
  // The proof that it lies elsewhere, on record and dated, counts as the work.
  const proof = coolant('records: [{record: source-proof, on: 2026-03-03, proof: a.png}]');
  expect(proof.problems.filter(isSource)).toEqual([]);
  expect(proof.requirements.find((one) => one.roles.includes('source-proof'))?.by).toEqual([
    { how: 'record', path: ['records', 0], text: 'Prove the coolant source' },
  ]);
  const undated = coolant('records: [{record: source-proof, proof: a.png}]');
  expect(undated.problems.filter(isSource)).toHaveLength(1);
});

// 6: an owners' forum; failure about two years later.
test('6: coolant and flush only', () => {
  const result = checkJob(
    shopBook,
    'unit: birch-6\nfindings: {coolant-in-fluid: yes}\noptions: {flush: {name: Flush, kind: service, lines: [{operation: flush-return}]}}',
  );
  const problem = the(result.problems, 'forbidden-work');
  expect(problem).toMatchObject({ severity: 'error', path: ['options', 'flush', 'lines', 0] });
  expect(problem.message).toBe(
    'Flush and return must not be on this job (Flush and return). Coolant in the fluid: yes → coolant-overhaul. Coolant attacks seals and the glue of the lining. Take it off.',
  );
});

// 8: a trade article on water in converters.
test('8: water in the fluid, converter marked as reused', () => {
  const result = checkJob(
    shopBook,
    'unit: birch-6\nfindings: {water-in-fluid: yes}\nlines: [{operation: find-water}]\nreuse: [torque-converter]',
  );
  // The missing converter and its forbidden reuse are one thing, told once, where the job says reuse.
  expect(loud(result)).toEqual(['forbidden-reuse reuse.0']);
  expect(the(result.problems, 'forbidden-reuse')).toMatchObject({ severity: 'error' });
  expect(the(result.problems, 'forbidden-reuse').message).toBe(
    'Torque converter must not be reused here. Water in the fluid: yes and the unit: lining paper → water-paper-lining. Wet paper lining lets go. Add TC-R (Torque converter, rebuilt), or write a waiver.',
  );
});

// 10: makers on solenoid data and unit numbers (2017, 2024, TSB 12-AT-017).
test('10: valve body replaced, no programming, no relearn', () => {
  const result = checkJob(shopBook, 'unit: cedar-8\nlines: [{part: VB-C8}]');
  expect(openNeeds(result, 'requires')).toEqual(['programming', 'relearn']);
  expect(openNeeds(result, 'record')).toEqual(['programming']);
  expect(loud(result)).toEqual(['missing-work lines.0', 'missing-work lines.0']);
  const plain = checkJob(shopBook, 'unit: birch-6\nlines: [{part: VB-C8}]');
  expect(plain.problems).toEqual([]);
});

describe('14: fluid of a pan service on an overhaul', () => {
  const overhaul = (fluid: string, priced = {}) =>
    checkJob(
      shopBook,
      `unit: birch-6\noptions: {o: {name: Overhaul, kind: overhaul, lines: [{operation: test-flow}, ${fluid}]}}`,
      { priced },
    );

  // Dry fill 11.62 qt and 1 qt for the flow test make 13; 5 are on the job; 8 at 13.50 are 108.00.
  test('is short by 8 quarts, 108.00', () => {
    const result = overhaul('{fill: service, part: ATF-B}', {
      1: { quantity: dec('5'), each: dec('13.50') },
    });
    const problem = the(result.problems, 'fluid-short');
    expect(problem).toMatchObject({ severity: 'error', data: { short: '8', needed: '13', amount: '108' } });
    expect(problem.message).toBe(
      'Fluid is short by 8 quarts, $108.00: Birch-6 comes back empty and takes 11.62 qt dry fill and 1 for Flow test, which makes 13 quarts; 5 quarts on the job. Write `fill: dry`, or the quantity.',
    );
  });

  test('is fine with 13 quarts, and short without a price as well', () => {
    expect(codesOf(overhaul('{part: ATF-B, quantity: 13}').problems)).not.toContain('fluid-short');
    expect(the(overhaul('{part: ATF-B, quantity: 12}').problems, 'fluid-short').message).toMatch(
      /short by 1 quart:/,
    );
  });

  test('a loss that the fill states counts as well, but not twice', () => {
    const stated = (fluid: string, quantity: string) =>
      the(overhaul(fluid, { 1: { quantity: dec(quantity) } }).problems, 'fluid-short').data?.short;
    expect(stated('{fill: service, part: ATF-B, loss: 1 qt}', '6')).toBe('7');
    expect(stated('{fill: service, part: ATF-B, loss: 2 qt}', '7')).toBe('7');
  });

  test('a pan service and a top-up are no overhaul', () => {
    for (const kind of ['service', 'repair']) {
      const job = `unit: birch-6\noptions: {s: {name: Service, kind: ${kind}, lines: [{part: ATF-B, quantity: 1}]}}`;
      expect(checkJob(shopBook, job).problems).toEqual([]);
    }
  });

  test('a slip of the unit is too much', () => {
    expect(loud(overhaul('{part: ATF-B, quantity: 130}'))).toEqual(['fluid-excess options.o.lines.1']);
  });
});

// 21: suppliers' core terms.
test('21: cracked case and an exchange unit chosen', () => {
  const job = (kind: string) => `
unit: birch-6
findings: {case-cracked: yes}
options: {x: {name: Another unit, kind: ${kind}, lines: [{part: EX-B6}, {part: ATF-B, quantity: 12}, {operation: test-flow}]}}`;
  const priced = { 0: { core: dec('450.00') } };
  const result = checkJob(shopBook, job('exchange'), { priced });
  expect(the(result.problems, 'core-at-risk')).toMatchObject({
    severity: 'warning',
    path: ['options', 'x', 'lines', 0],
    data: { core: '450' },
  });
  expect(the(result.problems, 'core-at-risk').message).toContain(
    '$450.00 may not come back. Case cracked: yes',
  );
  expect(result.coresAtRisk.map((one) => [one.part, one.amount?.toString()])).toEqual([['EX-B6', '450']]);
  expect(checkJob(shopBook, job('exchange')).coresAtRisk).toEqual([]);
  expect(checkJob(shopBook, job('repair'), { priced }).coresAtRisk).toEqual([]);
});

// 33: terms of a used-unit seller; a television report on a denied claim.
test('33: warranty with no dated proof of the cooler flow, at the close of the job', () => {
  const job = (more: string) => checkJob(shopBook, `unit: birch-6\nwarranty: plan-24\n${more}`);
  const open = job('');
  expect(the(open.problems, 'missing-record').severity).toBe('hint');
  const closed = job('completed: 2026-03-12\nvehicle: {odometer: 84310 mi}');
  expect(the(closed.problems, 'missing-record')).toMatchObject({ severity: 'warning', path: ['completed'] });
  expect(the(closed.problems, 'missing-record').message).toContain(
    'The warranty 24 months or 24,000 miles holds only with it.',
  );
  expect(closed.warranty).toMatchObject({ unproven: ['flow-test'], withheld: false });
  const proof =
    'records: [{record: flow-test, on: 2026-03-11, proof: a.png, flow: 1.3 gal/min, fluid-temperature: 86 F}]';
  const proven = job(`completed: 2026-03-12\nvehicle: {odometer: 84310 mi}\n${proof}`);
  expect(loud(proven)).toEqual([]);
  expect(proven.warranty?.unproven).toEqual([]);
  const undated = job(
    `completed: 2026-03-12\nvehicle: {odometer: 84310 mi}\n${proof.replace('on: 2026-03-11, ', '')}`,
  );
  expect(undated.warranty?.unproven).toEqual(['flow-test']);
});

// 35: the same report: a cooler was declined, and the claim denied.
describe('35: the customer declines a recommended cooler', () => {
  const declined = (waiver: string, warranty = 'plan-24') =>
    checkJob(shopBook, `unit: birch-6\nfindings: {overheated: yes}\nwarranty: ${warranty}\n${waiver}`);
  const WAIVER = 'waivers: [{role: cooler, reason: price, by: the owner, on: 2026-03-04%}]';

  test('the refusal asks for a signature and says what it costs', () => {
    const result = declined(WAIVER.replace('%', ''));
    expect(the(result.problems, 'unsigned-waiver').message).toBe(
      'the owner declined External cooler without a signature. It costs the warranty 24 months or 24,000 miles. Have it signed and write `signed: yes`.',
    );
    expect(result.requirements.find((one) => one.kind === 'advises')).toMatchObject({
      state: 'waived',
      by: [{ how: 'waiver', path: ['waivers', 0], text: 'declined by the owner on 2026-03-04: price' }],
    });
  });

  test('signed, it still withholds the plan and names what restores it', () => {
    const result = declined(WAIVER.replace('%', ', signed: yes'));
    expect(result.withheld).toMatchObject([
      { plan: 'plan-24', promised: true, restoredBy: ['External cooler'] },
    ]);
    expect(loud(result)).toEqual(['withheld-warranty warranty']);
    expect(the(result.problems, 'withheld-warranty').message).toBe(
      'The warranty 24 months or 24,000 miles cannot be given. Overheated: yes → overheated-cooler. Heat that is not carried off comes back. It comes back with External cooler.',
    );
  });

  test('another plan can be promised, and a cooler brings this one back', () => {
    expect(loud(declined(WAIVER.replace('%', ', signed: yes'), 'plan-12'))).toEqual([]);
    const fitted = checkJob(
      shopBook,
      'unit: birch-6\nfindings: {overheated: yes}\nwarranty: plan-24\nlines: [{part: CLR}]',
    );
    expect(fitted.withheld).toEqual([]);
  });
});

// 39: trade article and a shop's page on tires of all-wheel drives.
test('39: a third transfer case and no tire was measured', () => {
  const bind = (drive: string, more: string) =>
    checkJob(shopBook, `unit: birch-6\nvehicle: {drive: ${drive}}\nlines: [{part: XFER}]\n${more}`);
  const result = bind('4wd', 'findings: {four-wheel-bind: yes}');
  expect(the(result.problems, 'missing-finding')).toMatchObject({
    severity: 'error',
    path: ['findings', 'four-wheel-bind'],
  });
  // The limit of a quarter inch is data of the family.
  expect(loud(bind('4wd', 'findings: {four-wheel-bind: yes, tire-difference: 0.25 in}'))).toEqual([]);
  expect(loud(bind('4wd', 'findings: {four-wheel-bind: yes, tire-difference: 0.26 in}'))).toEqual([
    'forbidden-work lines.0',
  ]);
  expect(loud(bind('rwd', 'findings: {four-wheel-bind: yes}'))).toEqual([]);
});

// 40: terms of a used-unit seller.
test('40: a used unit with parts only for 90 days', () => {
  const job = `
unit: birch-6
options:
  used: {name: Used unit, kind: used, warranty: parts-90, lines: [{part: US-B6}, {part: ATF-B, quantity: 12}, {operation: test-flow}]}`;
  const result = checkJob(shopBook, job, { labor: '1154.40' });
  expect(the(result.problems, 'labor-not-covered')).toMatchObject({
    severity: 'information',
    path: ['options', 'used', 'warranty'],
    data: { labor: '1154.4' },
  });
  expect(the(result.problems, 'labor-not-covered').message).toContain(
    'the customer pays the labor, $1,154.40',
  );
  expect(result.warranty?.laborNotCovered?.toString()).toBe('1154.4');
});

// 41: owners' forum, a converter that was not seated.
test('41: no converter seating on record', () => {
  const result = checkJob(
    shopBook,
    'unit: birch-6\nfindings: {pump-broken: yes}\nlines: [{operation: rr-unit}]\ncompleted: 2026-03-12',
  );
  expect(the(result.problems, 'missing-record')).toMatchObject({ severity: 'warning' });
  expect(the(result.problems, 'missing-record').message).toBe(
    'The record Install check is not on file. install work on the job (Unit out and in) → install-is-measured. A converter that is not seated breaks the pump.',
  );
});

// 42: bulletin 03-07-30-023.
test('42: debris of the converter clutch on a family with the bolt bulletin', () => {
  const debris = (unit: string) =>
    openNeeds(checkJob(shopBook, `unit: ${unit}\nfindings: {converter-debris: yes}`), 'requires');
  expect(debris('birch-6')).toEqual(['bolt-check']);
  expect(debris('alder-4')).toEqual([]);
});

// 43: an advice column: a clamp left on a cooler line by other work.
describe('43: a cause outside the unit, by a third party', () => {
  const cause = (fields: string, more = '') =>
    checkJob(
      shopBook,
      `unit: birch-6\ncause: {what: A clamp was left on the cooler line, ${fields}}\n${more}`,
    );

  test('keeps a picture as evidence', () => {
    const result = cause('outside: yes, third-party: yes, cured: The clamp was taken off');
    expect(loud(result)).toEqual(['cause-without-picture cause.third-party']);
    expect(
      loud(
        cause(
          'outside: yes, third-party: yes, cured: The clamp was taken off, pictures: [{picture: clamp.png}]',
        ),
      ),
    ).toEqual([]);
  });

  test('is cured, or the warranty waits', () => {
    const open = cause('outside: yes', 'warranty: plan-12');
    expect(loud(open)).toEqual(['cause-not-cured cause']);
    expect(open.withheld).toMatchObject([{ plan: 'plan-12', promised: true }]);
    const byRole = cause('outside: yes, cured: radiator', 'warranty: plan-12');
    expect(the(byRole.problems, 'cause-not-cured').message).toContain('Add Radiator');
    expect(
      cause('outside: yes, cured: radiator', 'warranty: plan-12\nlines: [{part: RAD}]').withheld,
    ).toEqual([]);
  });

  test('a cure that a rule asks for as well is told once', () => {
    const coolant = 'findings: {coolant-in-fluid: yes}\nwarranty: plan-12';
    const result = cause('outside: yes, cured: radiator', coolant);
    expect(codesOf(result.problems)).not.toContain('cause-not-cured');
    expect(result.withheld).toMatchObject([{ plan: 'plan-24' }, { plan: 'plan-12', promised: true }]);
  });

  test('a cause that names a finding needs the finding', () => {
    expect(loud(cause('finding: overheated'))).toEqual(['cause-not-found cause.finding']);
    expect(
      loud(
        cause(
          'finding: metal-inside',
          'findings: {bearing-failed: yes}\nlines: [{operation: cooler-service}, {part: ATF-B, quantity: 1}]',
        ),
      ),
    ).toEqual([]);
  });
});

// 45: a trade association's case of engine oil, and one of the wrong fluid.
describe('45: fluid of another class', () => {
  const filled = (line: string, unit = 'birch-6') => checkJob(shopBook, `unit: ${unit}\nlines: [${line}]`);

  test('is an error, with the right fluid named', () => {
    const result = filled('{part: ATF-A, quantity: 5}');
    expect(the(result.problems, 'wrong-fluid')).toMatchObject({ severity: 'error', path: ['lines', 0] });
    expect(the(result.problems, 'wrong-fluid').message).toBe(
      'Fluid A is of fluid class A; Birch-6 takes class B and no other. Use ATF-B (Fluid B).',
    );
    expect(loud(filled('{fill: dry, part: OIL-E}'))).toEqual(['wrong-fluid lines.0']);
  });

  test('a transfer case has fluid of its own', () => {
    expect(filled('{part: TCF, quantity: 2}').problems).toEqual([]);
    expect(loud(filled('{fill: dry, part: TCF}'))).toEqual(['wrong-fluid lines.0']);
  });
});

describe('rows of required work that no case shows', () => {
  test('CVT magnets: typical build-up forbids the assembly, foreign material asks for it', () => {
    const cvt = (word: string, line = '') =>
      checkJob(shopBook, `unit: dogwood-v\nfindings: {magnets: ${word}}\nlines: [${line}]`);
    expect(loud(cvt('typical', '{part: CVT}'))).toEqual(['forbidden-work lines.0']);
    expect(openNeeds(cvt('foreign'), 'requires')).toEqual(['cvt-unit']);
    expect(loud(cvt('foreign', '{part: CVT}'))).toEqual([]);
    expect(cvt('clean').problems).toEqual([]);
  });

  test('hybrid: nothing is removed before the high voltage is off, by rule', () => {
    const hybrid = (lines: string) => checkJob(shopBook, `unit: fir-e\nlines: [${lines}]`);
    const bare = hybrid('{operation: rr-unit}');
    expect(openNeeds(bare, 'requires')).toEqual(['hv-off']);
    expect(loud(hybrid('{operation: rr-unit}, {operation: hv-off}'))).toEqual(['wrong-order lines.0']);
    expect(loud(hybrid('{operation: hv-off}, {operation: rr-unit}'))).toEqual([]);
    expect(
      checkJob(shopBook, 'unit: birch-6\nlines: [{operation: rr-unit}]').cautions.map((one) => one.id),
    ).toEqual(['lift']);
  });

  test('a part that an operation cannot be done without', () => {
    const book = bookOf({
      rules: 'roles: {pan-gasket: {name: Pan gasket, of: part}}',
      parts: 'parts: {PG: {name: Pan gasket, kind: soft, role: pan-gasket}}',
      labor: 'operations: {pan: {name: Pan service, work: in-vehicle, parts: [{role: pan-gasket}]}}',
      units: 'units: {any: {name: Any, layout: front, fluid-class: A}}',
    });
    const result = checkJob(book, 'unit: any\nlines: [{operation: pan}]');
    expect(the(result.problems, 'missing-work').message).toBe(
      'Pan gasket is required and missing. Pan service on the job. That work cannot be done without it. Add PG (Pan gasket), or write a waiver.',
    );
    expect(loud(checkJob(book, 'unit: any\nlines: [{operation: pan}, {part: PG}]'))).toEqual([]);
    expect(loud(checkJob(book, 'unit: any\nlines: [{operation: pan, quantity: 2}, {part: PG}]'))).toEqual([
      'missing-work lines.0',
    ]);
  });
});

test('cautions come once each, with the authority and everything that brings them up', () => {
  const result = checkJob(
    shopBook,
    'unit: birch-6\nfindings: {coolant-in-fluid: no}\nlines: [{operation: rr-unit}, {operation: cooler-service}]',
  );
  expect(result.cautions.map((one) => [one.id, one.authority, one.from.length])).toEqual([
    ['lift', 'lift maker; ANSI/ALI ALOIM', 1],
    ['hot-fluid', 'the vehicle maker; the safety data sheet of the fluid', 4],
    ['compressed-air', 'OSHA 29 CFR 1910.242(b)', 2],
    ['contaminated-fluid', 'EPA and the waste hauler', 1],
  ]);
  const hybrid = checkJob(shopBook, 'unit: fir-e\nlines: [{operation: hv-off}, {operation: rr-unit}]');
  expect(hybrid.cautions.map((one) => one.id)).toEqual(['lift', 'high-voltage', 'implants']);
  expect(TEXTS.labor).toContain('authority');
});
