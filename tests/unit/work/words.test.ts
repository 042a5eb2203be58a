/** Words of legal weight: rows CA-09 to CA-14, FTC-01 and FTC-02, and case 27. */
import { describe, expect, test } from 'vitest';
import { claimsIn } from '../../../server/src/work/words.ts';
import { jurisdictionOf } from '../../fixtures/jurisdictions.ts';
import { bookOf, type CheckExtra, checkJob, loud, openNeeds, the } from './fixture.ts';
import { shopBook } from './shop-book.ts';

const place = (name: string, source: string, more: string) =>
  jurisdictionOf(`
id: ${name.toLowerCase()}
name: ${name}
as-of: 2024-01-01
source: ${source}
taxes: []
taxable: {}
${more}`);

/** CA-12 in the words of the rebuilders' pledge: plates, seals, rings, gaskets, filter, bands. */
const california = place(
  'California',
  '16 CCR 3361.1',
  `
words:
  unstated-condition: new
  rebuilt:
    needs: [friction-set, seal-set, gasket-set, sealing-rings, filter, band-set]
    source: rebuilders' pledge, clutchrepair.com/ATRA.htm
before-removal: {records: [external-check], source: 16 CCR 3361.1(a)}
`,
);

const LINES = [
  '{operation: overhaul}',
  '{part: OK-B6}',
  '{part: FR-B6}',
  '{part: FL-B6}',
  '{operation: test-flow}',
  '{part: ATF-B, quantity: 13}',
];

const option = (
  name: string,
  kind: string,
  lines: readonly string[],
  extra: CheckExtra & { unit?: string; say?: string } = {},
) =>
  checkJob(
    shopBook,
    `
unit: ${extra.unit ?? 'birch-6'}
options: {o: {name: '${name}', kind: ${kind}, ${extra.say ? `say: '${extra.say}', ` : ''}lines: [${lines.join(', ')}]}}`,
    { law: california, ...extra },
  );

describe('CA-12, FTC-01: rebuilt and overhauled are earned by the lines', () => {
  test('with everything renewed nothing is said', () => {
    expect(loud(option('Overhaul your unit', 'overhaul', LINES))).toEqual([]);
    expect(loud(option('Rebuilt transmission', 'overhaul', LINES))).toEqual([]);
  });

  test.each([
    ['{part: FL-B6}', 'Filter'],
    ['{part: FR-B6}', 'Friction plates'],
    ['{part: OK-B6}', 'Seals, Gaskets and Sealing rings'],
  ])('without %s the message names what is missing', (line, names) => {
    const result = option(
      'Overhaul your unit',
      'overhaul',
      LINES.filter((one) => one !== line),
    );
    const problem = the(result.problems, 'word-not-earned');
    expect(problem).toMatchObject({ severity: 'warning', path: ['options', 'o', 'kind'] });
    expect(problem.message).toMatch(
      new RegExp(`^California lets a unit be called overhauled only with ${names} on the job as well\\.`),
    );
  });

  test('bands count only where the unit has bands', () => {
    const lines = LINES.map((line) => line.replace('ATF-B, quantity: 13', 'ATF-A, quantity: 9'));
    const alder = option('Overhaul', 'overhaul', lines, { unit: 'alder-4' });
    expect(the(alder.problems, 'word-not-earned').data).toMatchObject({ roles: ['band-set'] });
    expect(loud(option('Overhaul', 'overhaul', [...lines, '{part: BD-A4}'], { unit: 'alder-4' }))).toEqual(
      [],
    );
  });

  test('a repair makes no such claim, unless its words do', () => {
    expect(loud(option('Repair of the third gear', 'repair', ['{part: FR-B6}']))).toEqual([]);
    expect(loud(option('Rebuild the valve body', 'repair', ['{part: VB-C8}']))).toEqual([]);
    expect(loud(option('Transmission rebuild', 'repair', ['{part: FR-B6}']))).toEqual([
      'word-not-earned options.o.name',
    ]);
    expect(loud(option('Repair', 'repair', ['{part: FR-B6}'], { say: 'You get a rebuilt unit.' }))).toEqual([
      'word-not-earned options.o.name',
    ]);
    expect(loud(option('Repair', 'repair', ['{part: FR-B6}'], { say: 'Your unit is not rebuilt.' }))).toEqual(
      [],
    );
  });

  test('a place without such a rule asks for nothing', () => {
    expect(
      loud(
        option('Overhaul', 'overhaul', [LINES[0]!, LINES[4]!, LINES[5]!], {
          law: place('Elsewhere', 'invented', ''),
        }),
      ),
    ).toEqual([]);
  });
});

describe('FTC-02: remanufactured is for factories', () => {
  test('work done here is not remanufactured', () => {
    const result = option('Remanufactured transmission', 'overhaul', LINES);
    expect(the(result.problems, 'word-not-earned').message).toContain('is for units rebuilt at a factory');
    expect(loud(option('Factory rebuilt', 'overhaul', LINES))).toEqual(['word-not-earned options.o.name']);
  });

  test('an exchange unit may be, when the part is', () => {
    const exchange = ['{part: EX-B6}', '{operation: test-flow}', '{part: ATF-B, quantity: 13}'];
    expect(loud(option('Remanufactured unit', 'exchange', exchange))).toEqual([]);
  });

  test('the text of a line and its condition have to agree', () => {
    const line = (part: string, say: string) =>
      loud(checkJob(shopBook, `unit: birch-6\nlines: [{part: ${part}, say: ${say}}]`));
    expect(line('TC-R', 'A remanufactured converter.')).toEqual(['word-not-earned lines.0']);
    expect(line('TC-R', 'A rebuilt converter.')).toEqual([]);
    expect(line('EX-B6', 'A rebuilt unit.')).toEqual([
      // The unit is remanufactured, which is rebuilt as well; what a whole unit asks for is another matter.
      'missing-work lines.0',
      'missing-work lines.0',
    ]);
    expect(line('FR-USED', 'Reconditioned plates.')).toEqual(['word-not-earned lines.0']);
    expect(line('FR-B6', 'Rebuilt plates.')).toEqual(['word-not-earned lines.0']);
  });
});

test('CA-11: exchange means another unit than the customer had', () => {
  const result = option('Exchange overhaul', 'overhaul', LINES);
  expect(the(result.problems, 'word-not-earned').message).toContain('"Exchange" means another unit');
});

describe('CA-09, CA-14: before the unit comes out', () => {
  const removal = (law: CheckExtra['law'], more = '') =>
    checkJob(shopBook, `unit: birch-6\nlines: [{operation: rr-unit}]\n${more}`, law ? { law } : {});

  test('CA-09: an inspection from outside is on record', () => {
    expect(openNeeds(removal(california), 'record')).toContain('external-check');
    const done = removal(
      california,
      'records: [{record: external-check, on: 2026-03-02, by: T, result: pass}]',
    );
    expect(openNeeds(done, 'record')).not.toContain('external-check');
    expect(openNeeds(removal(undefined), 'record')).not.toContain('external-check');
    const inside = checkJob(shopBook, 'unit: birch-6\nlines: [{operation: overhaul}]', { law: california });
    expect(openNeeds(inside, 'record')).not.toContain('external-check');
  });

  test('CA-14: Chicago adds a pressure test', () => {
    const chicago = place(
      'Chicago',
      'Municipal Code',
      'before-removal: {records: [external-check, pressure-test], source: Municipal Code}',
    );
    expect(openNeeds(removal(chicago), 'record')).toEqual([
      'external-check',
      'install-check',
      'pressure-test',
    ]);
  });

  test('what the law asks for cannot be waived', () => {
    const waiver =
      'waivers: [{record: external-check, reason: no time, by: the owner, on: 2026-03-02, signed: yes}]';
    const result = removal(california, waiver);
    expect(openNeeds(result, 'record')).toContain('external-check');
    expect(the(result.problems, 'waiver-against-law').path).toEqual(['waivers', 0]);
  });
});

// CA-09 second half, CA-10, CA-13: conditions of a unit, which rules can state and a list of words cannot.
describe('what depends on the unit is a rule', () => {
  const book = bookOf({
    rules: `
roles:
  overhaul: {name: Overhaul, of: work}
  unit-removal: {name: Removal, of: work}
  torque-converter: {name: Converter, of: part}
  differential-seals: {name: Differential seals, of: part}
findings: {converter-inspection: {name: Converter as found, kind: scale, scale: [sound, spoiled]}}
records: {code-readout: {name: Codes as found, as-found: yes}}
rules:
  codes-first: {when: {work: removal, trait: electronic}, needs-record: [code-readout], because: The law wants the codes read., basis: law, source: CA-09}
  converter-is-examined:
    when: {role: overhaul, none: [{role: torque-converter}]}
    needs-finding: [converter-inspection]
    because: The converter is part of the transmission.
    basis: law
    source: CA-13
  one-oil-supply: {when: {role: overhaul}, requires: [{role: differential-seals}], because: It shares the oil of the transmission., basis: law, source: CA-10}`,
    units: `
units:
  transaxle: {name: Transaxle, layout: front, fluid-class: A, traits: [electronic], components: [torque-converter, differential-seals]}
  rear: {name: Rear, layout: rear, fluid-class: A, components: [torque-converter]}`,
    labor: `
operations:
  overhaul: {name: Overhaul, work: bench, role: overhaul}
  out: {name: Removal, work: removal, role: unit-removal}`,
  });
  const job = (unit: string, line: string) => checkJob(book, `unit: ${unit}\nlines: [{operation: ${line}}]`);

  test('CA-09: codes of an electronic unit', () => {
    expect(openNeeds(job('transaxle', 'out'), 'record')).toEqual(['code-readout']);
    expect(openNeeds(job('rear', 'out'), 'record')).toEqual([]);
  });

  test('CA-10: a transaxle with one oil supply covers its differential', () => {
    expect(openNeeds(job('transaxle', 'overhaul'), 'requires')).toEqual(['differential-seals']);
    expect(openNeeds(job('rear', 'overhaul'), 'requires')).toEqual([]);
  });

  test('CA-13: the converter is examined or replaced', () => {
    expect(openNeeds(job('rear', 'overhaul'), 'finding')).toEqual(['converter-inspection']);
  });
});

describe('27: a part that does not say new, used or rebuilt', () => {
  const strict = place('Strictland', 'invented', 'words: {unstated-condition: missing}');
  const book = bookOf({
    rules: 'roles: {radiator: {name: Radiator, of: part}}',
    parts: 'parts: {RAD: {name: Radiator, kind: cooling}, OIL: {name: Fluid, kind: fluid, unit: quart}}',
    units: 'units: {any: {name: Any, layout: front, fluid-class: A}}',
  });
  const job = (line: string, law: CheckExtra['law']) =>
    checkJob(book, `unit: any\nlines: [${line}]`, law ? { law } : {}).problems.filter(
      (one) => one.code === 'condition-not-said',
    );

  test('is an error where the law asks for the word', () => {
    expect(the(job('{part: RAD}', strict), 'condition-not-said')).toMatchObject({
      severity: 'error',
      path: ['lines', 0],
    });
  });

  test('is told to count as new where the law reads silence so', () => {
    expect(the(job('{part: RAD}', california), 'condition-not-said')).toMatchObject({
      severity: 'information',
    });
    expect(job('{part: RAD}', california)[0]?.message).toContain('In California it then counts as new');
  });

  test('is nothing when it is said, when the customer brings it, or when it is fluid', () => {
    expect(job('{part: RAD, condition: used}', strict)).toEqual([]);
    expect(job('{part: RAD, supplied: yes}', strict)).toEqual([]);
    expect(job('{part: OIL, quantity: 2}', strict)).toEqual([]);
    expect(job('{part: RAD}', undefined)).toEqual([]);
  });

  // Where silence counts as new, it also meets a need of a new part.
  test('counts for a need of a new part only where silence means new', () => {
    const rules = `
roles: {radiator: {name: Radiator, of: part}}
rules: {r: {when: {}, requires: [{role: radiator, condition: new}], because: So., basis: shop}}`;
    const parts = 'parts: {RAD: {name: Radiator, kind: cooling, role: radiator}}';
    const asking = bookOf({
      rules,
      parts,
      units: 'units: {any: {name: Any, layout: front, fluid-class: A}}',
    });
    const needs = (law: CheckExtra['law']) =>
      openNeeds(checkJob(asking, 'unit: any\nlines: [{part: RAD}]', law ? { law } : {}), 'requires');
    expect(needs(california)).toEqual([]);
    expect(needs(undefined)).toEqual(['radiator']);
  });
});

test('words that claim and words that do not', () => {
  expect(claimsIn('A rebuilt, overhauled and re-manufactured unit')).toEqual([
    'rebuilt',
    'overhauled',
    'remanufactured',
  ]);
  expect(claimsIn('Factory-rebuilt unit')).toEqual(['factory rebuilt']);
  expect(claimsIn('It has never been rebuilt; this is not a remanufactured unit')).toEqual([]);
  expect(claimsIn('Rebuilding the pump')).toEqual([]);
  expect(claimsIn('Overhaul of your transmission')).toEqual(['overhauled']);
  expect(claimsIn('')).toEqual([]);
});
