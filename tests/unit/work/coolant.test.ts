/**
 * Coolant in the fluid: rows GLY-01 to GLY-13 of the published values. A contaminated unit does not leave with an
 * incomplete estimate unnoticed, and a complete one raises no alarm.
 */
import { describe, expect, test } from 'vitest';
import { dec } from '../../../schemas/values/decimal.ts';
import { convert, quantity } from '../../../schemas/values/quantity.ts';
import { unitById } from '../../../schemas/values/units.ts';
import { bookOf, checkJob, loud, openNeeds, the } from './fixture.ts';
import { COMPLETE, shopBook } from './shop-book.ts';

const coolant = (lines: string, more = '') =>
  checkJob(
    shopBook,
    `unit: birch-6\nfindings: {coolant-in-fluid: yes}\n${more}\nlines:${lines.trim() === '' ? ' []' : `\n${lines}`}`,
  );

/** The complete estimate without the lines that name one of these. */
const without = (...ids: string[]) =>
  COMPLETE.split('\n')
    .filter((line) => !ids.some((id) => line.includes(id)))
    .join('\n');

describe('GLY-01, GLY-03, GLY-04, FLOW-02: what coolant asks for', () => {
  test('an empty estimate lacks every step, one problem for each', () => {
    const result = coolant('');
    expect(openNeeds(result, 'requires')).toEqual([
      'cooler-flush',
      'cooler|radiator|source-proof',
      'filter',
      'flow-test',
      'friction-set',
      'gasket-set',
      'nylon-washers',
      'overhaul',
      'seal-set',
      'torque-converter',
    ]);
    const missing = result.problems.filter((one) => one.code === 'missing-work');
    expect(missing).toHaveLength(10);
    expect(new Set(missing.map((one) => one.message)).size).toBe(10);
    expect(
      missing.every((one) => one.severity === 'error' && one.path.join('.') === 'findings.coolant-in-fluid'),
    ).toBe(true);
  });

  test('a complete estimate raises nothing', () => {
    const result = coolant(COMPLETE);
    expect(loud(result)).toEqual([]);
    expect(openNeeds(result, 'requires')).toEqual([]);
  });

  test.each([
    ['OK-B6', ['gasket-set', 'seal-set']],
    ['FR-B6', ['friction-set']],
    ['NW-B6', ['nylon-washers']],
    ['TC-R', ['torque-converter']],
    ['FL-B6', ['filter']],
    ['operation: overhaul', ['overhaul']],
    ['RAD', ['cooler|radiator|source-proof']],
    ['flush-cooler', ['cooler-flush']],
    ['test-flow', ['flow-test']],
  ])('without %s exactly %j is missing', (id, roles) => {
    const result = coolant(without(id));
    expect(openNeeds(result, 'requires')).toEqual(roles);
    expect(loud(result)).toHaveLength(roles.length);
  });

  test('the message names the finding, the rule, the reason and what would satisfy it', () => {
    const { message, related, data } = the(coolant(without('TC-R')).problems, 'missing-work');
    expect(message).toBe(
      'Torque converter is required and missing. Coolant in the fluid: yes → coolant-converter. The converter holds coolant behind one port. Add TC-R (Torque converter, rebuilt), or write a waiver.',
    );
    expect(related?.map((one) => `${one.kind} ${one.id}`)).toEqual([
      'rule coolant-converter',
      'finding coolant-in-fluid',
    ]);
    expect(data).toMatchObject({ roles: ['torque-converter'], fillers: [{ kind: 'part', id: 'TC-R' }] });
  });

  test('a used plate does not meet a need of a new one', () => {
    const result = coolant(COMPLETE.replace('FR-B6', 'FR-USED'));
    expect(openNeeds(result, 'requires')).toEqual(['friction-set']);
    expect(the(result.problems, 'missing-work').message).toMatch(
      /^Friction plates has to be new, and Friction plates is used\./,
    );
  });

  test('bands are asked only of a family that has them', () => {
    expect(openNeeds(coolant(''), 'requires')).not.toContain('band-set');
    expect(coolant('').notAsked).toContainEqual({ role: 'band-set', rule: 'coolant-overhaul' });
    const alder = checkJob(shopBook, 'unit: alder-4\nfindings: {coolant-in-fluid: yes}');
    expect(openNeeds(alder, 'requires')).toContain('band-set');
  });

  test('solenoids are practice only and stay advice', () => {
    const result = coolant(without('SOL', 'HOS'));
    expect(loud(result)).toEqual([]);
    expect(openNeeds(result, 'advises')).toEqual(['hoses', 'solenoid']);
    const advised = result.problems.filter((one) => one.code === 'advised-work');
    expect(advised.map((one) => one.severity)).toEqual(['information', 'information']);
  });
});

test('GLY-02: the cooler is repaired before the lines are flushed', () => {
  const early = COMPLETE.replace('  - operation: flush-cooler\n', '').replace(
    '  - operation: fit-cooler\n',
    '  - operation: flush-cooler\n  - operation: fit-cooler\n',
  );
  const result = coolant(early);
  expect(loud(result)).toEqual(['wrong-order lines.8']);
  expect(the(result.problems, 'wrong-order').message).toMatch(
    /^Fitting the cooler comes before Cooler flush/,
  );
});

test('GLY-03: a converter is not replaced for color or mileage alone', () => {
  const job = (findings: string, line: string) =>
    loud(checkJob(shopBook, `unit: birch-6\nfindings: ${findings}\nlines: [${line}]`));
  expect(job('{fluid-discolored: yes}', '{part: TC-R}')).toEqual(['no-reason-to-replace lines.0']);
  expect(job('{high-mileage: yes}', '{part: TC-R, for: high-mileage}')).toEqual([
    'no-reason-to-replace lines.0',
  ]);
  expect(job('{fluid-discolored: yes, converter-blue: yes}', '{part: TC-R}')).toEqual([]);
  expect(job('{fluid-discolored: yes}', '{part: FL-B6}')).toEqual([]);
  // What a rule requires needs no reason of its own.
  expect(job('{high-mileage: yes, water-in-fluid: yes}', '{part: TC-R}, {operation: find-water}')).toEqual(
    [],
  );
  expect(job('{}', '{part: TC-R}')).toEqual([]);
});

test('GLY-05: a cooler that has to be new is data of the family, not code', () => {
  const rule = `
roles: {overhaul: {name: Overhaul, of: work}, cooler: {name: Cooler, of: part}}
rules:
  new-cooler:
    when: {role: overhaul}
    requires: [{role: cooler, condition: new}]
    because: This maker fits a new cooler whenever the unit was apart.
    basis: maker
    source: GLY-05`;
  const units = (applies: string) => `
units:
  truck: {name: Truck, layout: rear, fluid-class: B, rules: {new-cooler: {applies: ${applies}, because: its maker cleans it}}}`;
  const labor = 'operations: {overhaul: {name: Overhaul, work: bench, role: overhaul}}';
  for (const [applies, missing] of [
    ['yes', ['cooler']],
    ['no', []],
  ] as const) {
    const book = bookOf({ rules: rule, units: units(applies), labor });
    expect(openNeeds(checkJob(book, 'unit: truck\nlines: [{operation: overhaul}]'), 'requires')).toEqual(
      missing,
    );
  }
});

test('GLY-06: metal that follows from a failed bearing reaches the rules about metal', () => {
  const result = checkJob(shopBook, 'unit: birch-6\nfindings: {bearing-failed: yes}\nreuse: [filter]');
  expect(openNeeds(result, 'requires')).toEqual(['cooler|cooler-flush|radiator', 'flow-test']);
  const flow = result.problems.find(
    (one) => one.code === 'missing-work' && one.message.startsWith('Cooler flow test'),
  );
  expect(flow?.message).toContain('Bearing failed: yes → Metal has gone through the unit → metal-cooler.');
  expect(openNeeds(result, 'reuse')).toEqual(['filter']);
});

describe('GLY-07, GLY-08: a negative test is not zero', () => {
  test('a no is told with what the test can see', () => {
    const result = checkJob(shopBook, 'unit: birch-6\nfindings: {coolant-in-fluid: no}');
    expect(loud(result)).toEqual([]);
    expect(the(result.problems, 'below-sensitivity')).toMatchObject({ severity: 'hint' });
    expect(result.findings[0]?.caveat).toBe(
      'not seen, which means less than this test can see (300 mg/kg), and not none',
    );
  });

  test('the test of this job counts before the usual one', () => {
    const result = checkJob(
      shopBook,
      'unit: birch-6\nfindings: {coolant-in-fluid: {value: no, sensitivity: 100 mg/kg}}',
    );
    expect(result.findings[0]?.caveat).toContain('100 mg/kg');
  });

  test('a yes has no such caveat', () => {
    expect(coolant(COMPLETE).findings[0]?.caveat).toBeUndefined();
  });
});

describe('GLY-09 to GLY-13: water, by the limit of the family', () => {
  const water = (unit: string, reading: string) =>
    checkJob(shopBook, `unit: ${unit}\nfindings: {water-content: ${reading}}`);

  test.each([
    // GLY-09: 600 mg/kg; GLY-11: a tablespoon in 9.5 L is about 1,830 mg/kg.
    ['birch-6', '600 mg/kg', 'normal'],
    ['birch-6', '601 mg/kg', 'beyond'],
    ['birch-6', '1830 ppm', 'beyond'],
    // A published heavy-duty figure of 0.2 % is 2,000 mg/kg: makers differ, so the same water passes here.
    ['alder-4', '1830 ppm', 'normal'],
    ['alder-4', '0.21%', 'beyond'],
    // GLY-12: the range of the laboratory method, 10 to 25,000 mg/kg.
    ['birch-6', '10 mg/kg', 'normal'],
    ['birch-6', '25000 mg/kg', 'beyond'],
  ])('%s at %s is %s', (unit, reading, judged) => {
    expect(water(unit, reading).findings.find((one) => one.id === 'water-content')?.verdict.judged).toBe(
      judged,
    );
  });

  test('GLY-10: 600 mg/kg in 10 L of fluid is about 5.1 g, less than a tablespoon of 14.8 mL', () => {
    // Density of 0.85 kg/L assumed by the source; 1 mL of water weighs 1 g.
    const grams = quantity('600', 'mg/kg').amount.times(dec('10')).times(dec('0.85')).div(dec('1000'));
    expect(grams.toString()).toBe('5.1');
    expect(grams.lt(convert(quantity('1', 'tbsp'), unitById('mL')).amount)).toBe(true);
  });

  test('GLY-13: water condemns a paper-lined converter, and only that', () => {
    const paper = checkJob(
      shopBook,
      'unit: birch-6\nfindings: {water-in-fluid: yes}\nreuse: [torque-converter]',
    );
    expect(openNeeds(paper, 'requires')).toEqual(['torque-converter', 'water-search']);
    const carbon = checkJob(
      shopBook,
      'unit: alder-4\nfindings: {water-in-fluid: yes}\nreuse: [torque-converter]',
    );
    expect(openNeeds(carbon, 'requires')).toEqual(['water-search']);
    expect(openNeeds(carbon, 'reuse')).toEqual([]);
  });

  test('water beyond the limit is water in the fluid, with the reading in the chain', () => {
    const result = water('birch-6', '1830 ppm');
    const search = result.problems.find((one) => one.message.startsWith('Search for the water entry'));
    expect(search?.message).toContain(
      'Water content: 1830 ppm, above the limit, at most 600 mg/kg; GLY-09 → rule water-beyond → Water in the fluid → water-entry.',
    );
  });
});
