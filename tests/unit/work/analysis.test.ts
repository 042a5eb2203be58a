/** Mistakes that are found when rules, findings, records and limits are written. */
import { describe, expect, test } from 'vitest';
import { analysed, type Texts } from './fixture.ts';
import { TEXTS } from './shop-book.ts';

const told = (texts: Texts) =>
  analysed(texts).map(({ kind, id, problem }) =>
    `${kind} ${id}: ${problem.code} ${problem.path.join('.')}`.trimEnd(),
  );
const severities = (texts: Texts) =>
  analysed(texts).map((one) => `${one.problem.code} ${one.problem.severity}`);
const message = (texts: Texts, code: string) =>
  analysed(texts).find((one) => one.problem.code === code)?.problem.message;

const HEAD = `
roles:
  a: {name: A, of: part}
  b: {name: B, of: part}
  job: {name: Job, of: work}
findings:
  f: {name: F, kind: yes-no}
  g: {name: G, kind: yes-no}
  s: {name: S, kind: scale, scale: [fine, worn, bad], normal: worn}
  m: {name: M, kind: measurement, dimension: pressure}
  t: {name: T, kind: measurement, dimension: temperature}
`;
const UNITS = `
units:
  u: {name: U, layout: rear, fluid-class: A, traits: [fast], components: [a, b]}
  v: {name: V, layout: front, fluid-class: A, cooler: {kind: plate, material: steel, bypass: yes}}
`;
const PARTS = `
parts:
  PA: {name: PA, kind: soft, role: a}
  PB: {name: PB, kind: soft, role: b, condition: rebuilt}`;
const LABOR = 'operations: {do: {name: Do, work: bench, role: job}}';

const book = (rules: string, units = UNITS): Texts => ({
  rules: `${HEAD}rules:\n${rules.trim().replaceAll(/^/gm, '  ')}`,
  units,
  parts: PARTS,
  labor: LABOR,
});
const rule = (id: string, when: string, rest = 'requires: [{role: a}]') =>
  `${id}: {when: ${when}, ${rest}, because: So., basis: shop}\n`;

test('the book of the other tests has no mistakes', () => {
  expect(analysed(TEXTS).map((one) => `${one.id} ${one.problem.code} ${one.problem.message}`)).toEqual([]);
});

describe('values of conditions', () => {
  test.each([
    ['{finding: f, is: maybe}', 'condition-value when.is'],
    ['{finding: f, at-least: yes}', 'condition-value when.at-least'],
    ['{finding: s, at-least: flaky}', 'condition-value when.at-least'],
    ['{finding: m, at-least: 50 F}', 'condition-value when.at-least'],
    ['{any: [{finding: g}, {none: [{finding: s, is: x}]}]}', 'condition-value when.any.1.none.0.is'],
    ['{at-least: bad}', 'condition-without-finding when.at-least'],
    ['{role: a, judged: beyond}', 'condition-without-finding when.judged'],
    ['{finding: s, at-least: bad, at-most: fine}', 'unreachable-rule when.at-least'],
  ])('%s: %s', (when, expected) => {
    expect(told(book(rule('r', when)))).toContain(`rule r: ${expected}`);
  });

  test('a near word is offered', () => {
    expect(message(book(rule('r', '{finding: s, is: word}')), 'condition-value')).toContain(
      'Did you mean "worn"?',
    );
  });

  test('a need that names nothing', () => {
    expect(told(book(rule('r', '{}', 'requires: [{role: a}, {quantity: 2}]')))).toEqual([
      'rule r: need-without-role requires.1',
    ]);
  });
});

describe('rules that never hold', () => {
  const never = (when: string, more = '') =>
    told(book(rule('r', when) + more)).includes('rule r: unreachable-rule when');

  test.each([
    '{any: []}',
    '{finding: f, none: [{finding: f}]}',
    '{all: [{finding: f, is: yes}, {finding: f, is: no}]}',
    '{all: [{finding: s, is: fine}, {finding: s, at-least: bad}]}',
    '{all: [{finding: s}, {finding: s, at-most: worn}]}',
    '{finding: s, judged: normal, all: [{finding: s}]}',
    '{all: [{finding: m, at-least: 60 psi}], none: [{finding: m, at-least: 50 psi}]}',
    '{all: [{finding: m}], none: [{finding: m, judged: beyond}]}',
    '{role: a, none: [{any: [{role: a}, {role: b}]}]}',
    '{drive: [fwd], all: [{drive: [rwd, 4wd]}]}',
    '{option: [used], none: [{option: [used, exchange]}]}',
    '{unit: [u], trait: slow}',
    '{unit: [u], cooler: plate}',
    '{trait: fast, bypass: yes}',
    '{all: [{any: [{unit: [u]}, {trait: slow}]}, {unit: [v]}]}',
    '{rule: x}',
  ])('%s', (when) => {
    expect(never(when, rule('x', '{any: []}', 'requires: [{role: b}]'))).toBe(true);
  });

  // Sound: what might hold is never called unreachable.
  test.each([
    '{}',
    '{none: []}',
    '{finding: f, all: [{finding: g}]}',
    '{any: [{all: [{finding: f}], none: [{finding: f}]}, {finding: g}]}',
    '{all: [{finding: m, at-least: 60 psi}, {finding: m, at-most: 50 psi}]}', // two readings, of the job and of a record
    '{all: [{finding: m, at-least: 50 psi}], none: [{finding: m, at-least: 60 psi}]}',
    '{all: [{finding: m, judged: beyond}], none: [{finding: m, at-least: 60 psi}]}',
    '{all: [{finding: s, at-least: worn}], none: [{finding: s}]}',
    '{role: a, none: [{role: b}]}',
    '{drive: [fwd, rwd], all: [{drive: [rwd, 4wd]}]}',
    '{none: [{drive: [fwd, rwd, 4wd, awd]}]}', // a vehicle that does not say
    '{trait: fast, none: [{cooler: plate}]}',
    '{unit: [v], bypass: yes}',
    '{record: r, none: [{rule: y}]}',
  ])('%s may hold', (when) => {
    expect(never(when, rule('y', '{finding: g}', 'requires: [{role: b}]'))).toBe(false);
  });

  test('a finding that follows from another may be there although it was written as absent', () => {
    const implied = rule('x', '{finding: g}', 'implies: [f]');
    expect(never('{all: [{finding: f}, {finding: f, is: no}]}')).toBe(true);
    expect(never('{all: [{finding: f}, {finding: f, is: no}]}', implied)).toBe(false);
  });

  test('a rule that is switched off on purpose is not called unreachable', () => {
    const off = UNITS.replaceAll('layout:', 'rules: {r: {applies: no, because: not here}}, layout:');
    expect(told(book(rule('r', '{finding: f}'), off))).toEqual([]);
    const only = UNITS.replace('u: {name: U,', 'u: {name: U, rules: {r: {applies: no, because: not here}},');
    expect(told(book(rule('r', '{trait: fast}'), only))).toEqual(['rule r: unreachable-rule when']);
  });

  test('a condition too large to look at is left alone', () => {
    const many = Array.from({ length: 12 }, (_, i) => `{any: [{feature: a${i}}, {feature: b${i}}]}`).join(
      ', ',
    );
    expect(told(book(rule('r', `{all: [${many}, {any: []}]}`)))).toEqual([]);
  });
});

describe('circles', () => {
  test('through none, over rules and findings', () => {
    const rules =
      rule('x', '{none: [{finding: f}]}', 'implies: [g]') +
      rule('y', '{finding: g}', 'implies: [f]') +
      rule('z', '{none: [{rule: y}]}');
    expect(told(book(rules))).toEqual(['rule x: rule-circle when', 'rule y: rule-circle when']);
    expect(message(book(rules), 'rule-circle')).toContain('(x, y, finding f and finding g)');
  });

  test('a circle without none is none', () => {
    expect(
      told(book(rule('x', '{finding: f}', 'implies: [g]') + rule('y', '{finding: g}', 'implies: [f]'))),
    ).toEqual([]);
  });

  test('a rule that looks at its own opposite', () => {
    expect(told(book(rule('x', '{none: [{rule: x}]}')))).toEqual(['rule x: rule-circle when']);
    expect(told(book(rule('x', '{none: [{none: [{finding: f}]}]}', 'implies: [f]')))).toEqual([]);
  });

  test('of rules in the place of each other', () => {
    const rules =
      rule('x', '{finding: f}', 'requires: [{role: a}], instead-of: y') +
      rule('y', '{finding: g}', 'requires: [{role: b}], instead-of: x');
    expect(told(book(rules))).toEqual([
      'rule x: replaced-in-circle instead-of',
      'rule y: replaced-in-circle instead-of',
    ]);
  });
});

describe('contradictions', () => {
  const pair = (first: string, second: string) => {
    const texts = book(
      rule('x', first) +
        rule('y', second, 'forbids: [a]') +
        rule('own', '{option: [overhaul, repair]}', 'cautions: []') +
        rule('then', '{finding: h}', 'implies: [k]') +
        rule('worse', '{finding: s, at-least: bad}', 'implies: [h]'),
    );
    const more = '  h: {name: H, kind: yes-no}\n  k: {name: K, kind: yes-no, implies: [g]}\n';
    return { ...texts, rules: texts.rules!.replace('findings:\n', `findings:\n${more}`) };
  };

  test('proven, where one holds whenever the other does', () => {
    for (const [first, second] of [
      ['{finding: f}', '{finding: f}'],
      ['{finding: f, all: [{role: b}]}', '{finding: f}'],
      ['{finding: f}', '{any: [{finding: f}, {finding: g}]}'],
      ['{finding: s, at-least: bad}', '{finding: s}'],
    ]) {
      expect(severities(pair(first!, second!)), `${first} ${second}`).toEqual(['rules-contradict error']);
    }
    expect(told(pair('{finding: f}', '{finding: f}'))).toEqual(['rule x: rules-contradict requires.0']);
    expect(told(book(rule('x', '{}', 'requires: [{role: a}], forbids: [a]')))).toEqual([
      'rule x: rules-contradict requires.0',
    ]);
  });

  test('possible, where nothing keeps them apart', () => {
    const offOnV = UNITS.replace(
      'v: {name: V,',
      'v: {name: V, rules: {y: {applies: no, because: not here}},',
    );
    expect(severities({ ...pair('{finding: f}', '{finding: f, trait: fast}'), units: offOnV })).toEqual([
      'rules-contradict error',
    ]);
    expect(severities({ ...pair('{finding: f, role: b}', '{finding: f}'), units: offOnV })).toEqual([
      'rules-may-contradict information',
    ]);
    expect(severities(pair('{finding: f}', '{finding: g}'))).toEqual(['rules-may-contradict information']);
  });

  test('none, where something does', () => {
    for (const [first, second] of [
      ['{finding: f}', '{finding: g, none: [{finding: f}]}'],
      ['{unit: [u]}', '{unit: [v]}'],
      ['{finding: s, is: fine}', '{finding: s}'],
      ['{option: [used]}', '{option: [repair]}'],
      ['{trait: fast}', '{bypass: yes}'],
      // What follows from a finding, from a rule, or from the rule that is asked for.
      ['{finding: k}', '{finding: f, none: [{finding: g}]}'],
      ['{finding: s, at-least: bad}', '{finding: f, none: [{finding: h}]}'],
      ['{finding: s, at-least: bad}', '{finding: f, none: [{finding: g}]}'],
      ['{finding: f, rule: own}', '{option: [used]}'],
    ]) {
      expect(told(pair(first!, second!)), `${first} ${second}`).toEqual([]);
    }
    const choice =
      rule('x', '{finding: f}', 'requires: [{any-of: [a, b]}]') + rule('y', '{finding: f}', 'forbids: [a]');
    expect(told(book(choice))).toEqual([]);
    const replaced = rule('x', '{finding: f}') + rule('y', '{finding: f}', 'forbids: [a], instead-of: x');
    expect(told(book(replaced))).toEqual([]);
    const family = UNITS.replaceAll('layout:', 'rules: {x: {applies: no, because: not here}}, layout:');
    expect(told({ ...pair('{finding: f}', '{finding: f}'), units: family })).toEqual([]);
  });

  test('opposite orders', () => {
    const orders =
      rule('x', '{finding: f}', 'order: [{first: a, next: b}]') +
      rule('y', '{finding: f}', 'order: [{first: b, next: a}]');
    expect(told(book(orders))).toEqual(['rule x: rules-contradict order.0']);
    const apart = orders.replace('y: {when: {finding: f}', 'y: {when: {none: [{finding: f}]}');
    expect(told(book(apart))).toEqual([]);
  });
});

test('two rules that say the same, in other words', () => {
  const rules =
    rule('x', '{finding: f, role: b}') +
    rule('y', '{all: [{role: b}, {finding: f}]}') +
    rule('z', '{finding: f, role: b}', 'advises: [{role: a}]');
  expect(told(book(rules))).toEqual(['rule y: same-rule when']);
});

describe('catalog gaps', () => {
  test('a role that nothing fills for a family that has it', () => {
    const units = UNITS.replace('components: [a, b]', 'components: [a, b, c]');
    const texts = { ...book(rule('r', '{finding: f}', 'requires: [{role: c}]'), units) };
    const withRole = {
      ...texts,
      rules: texts.rules!.replace('  b: {name: B', '  c: {name: C, of: part}\n  b: {name: B'),
    };
    expect(told(withRole)).toEqual(['rule r: catalog-gap requires.0']);
    expect(message(withRole, 'catalog-gap')).toMatch(/^Nothing in the book fills C for U and V,/);
    // Only the families that the rule can hold for, and that have the part.
    const fast = { ...withRole, rules: withRole.rules.replace('when: {finding: f}', 'when: {trait: fast}') };
    expect(message(fast, 'catalog-gap')).toMatch(/^Nothing in the book fills C for U,/);
    expect(
      told({
        ...withRole,
        units: UNITS.replace('fluid-class: A, cooler', 'fluid-class: A, components: [a], cooler'),
      }),
    ).toEqual([]);
  });

  test('one of several is enough, and a new one has to be new', () => {
    expect(told(book(rule('r', '{finding: f}', 'requires: [{any-of: [a, job]}]')))).toEqual([]);
    expect(told(book(rule('r', '{finding: f}', 'requires: [{role: a, condition: new}]')))).toEqual([]);
    expect(told(book(rule('r', '{finding: f}', 'requires: [{role: b, condition: new}]')))).toEqual([
      'rule r: catalog-gap requires.0',
    ]);
    expect(severities(book(rule('r', '{finding: f}', 'advises: [{role: b, condition: new}]')))).toEqual([
      'catalog-gap information',
    ]);
  });

  test('a condition on a role that nothing brings onto a job', () => {
    const texts = book(rule('r', '{role: c}'));
    const withRole = {
      ...texts,
      rules: texts.rules!.replace('  b: {name: B', '  c: {name: C, of: part}\n  b: {name: B'),
    };
    expect(severities(withRole)).toEqual(['role-not-sold information']);
    expect(told(book(rule('r', '{role: b}')))).toEqual([]);
  });
});

describe('findings, records, reasons', () => {
  const findings = (text: string) => told({ rules: `findings: {x: {name: X, ${text}}}` });
  const record = (text: string) => told({ rules: `${HEAD}records: {x: {name: X, ${text}}}` });

  test.each([
    ['kind: measurement', ['finding-without-dimension kind']],
    ['kind: scale', ['finding-without-scale kind']],
    ['kind: scale, scale: [one]', ['finding-without-scale scale']],
    ['kind: scale, scale: [one, two, One]', ['scale-word-twice scale.2']],
    ['kind: scale, scale: [one, two], normal: tow', ['scale-word-unknown normal']],
    ['kind: yes-no, scale: [one, two]', ['finding-field-unused scale']],
    ['kind: yes-no, dimension: flow', ['finding-field-unused dimension']],
    ['kind: scale, scale: [one, two], normal: two', []],
    ['kind: measurement, dimension: flow', []],
  ])('finding %s', (text, expected) => {
    expect(findings(text)).toEqual(expected.map((one) => `finding x: ${one}`));
  });

  test.each([
    ['needs: [duraton]', ['record-field-unknown needs.0']],
    ['needs: [duration, proof, on]', []],
    ['least: {turnovers: 8}', ['record-field-unknown least.turnovers']],
    ['counted: pulsed-flush, least: {turnovers: 8, fluid-temperature: 140 F}', []],
    ['least: {fluid-temperature: 140 psi}', ['record-bound least.fluid-temperature']],
    ['most: {residual: 10%}, counted: drain-and-fill', []],
    ['measures: [f]', ['record-measures measures.0']],
    ['counted: flow-test, measures: [m]', ['record-not-judged counted']],
    ['counted: level-check', ['record-not-judged counted']],
    ['counted: level-check, measures: [t]', []],
  ])('record %s', (text, expected) => {
    expect(record(text)).toEqual(expected.map((one) => `record x: ${one}`));
  });

  test('a reason that is none as well', () => {
    expect(
      told({ rules: `${HEAD}replacements: {x: {role: a, accepted: [f, g], not-accepted: [g]}}` }),
    ).toEqual(['replacement x: reason-both-ways not-accepted.0']);
  });
});

describe('limits', () => {
  const rows = (text: string, unit = '') =>
    told({
      rules: HEAD,
      units: `units: {x: {name: X, layout: rear, fluid-class: A, ${unit}limits: {m: {rows: [${text}]}}}}`,
    }).map((one) => one.replace('unit x: ', ''));
  const STEEL = 'cooler: {kind: plate, material: steel}, ';

  test.each([
    ['{least: 50 psi, most: 60 psi}', []],
    ['{least: 50 F}', ['limit-value limits.m.rows.0.least']],
    ['{when: {t: 10-20 F}, least: 5 psi}', ['limit-value limits.m.rows.0.when.t']],
    ['{when: {f: often}, least: 5 psi}', ['limit-value limits.m.rows.0.when.f']],
    ['{least: 60 psi, most: 50 psi}', ['limit-value limits.m.rows.0.least']],
    ['{when: {t: 10..20 F}}', ['limit-without-bound limits.m.rows.0']],
    ['{least: 5 psi}, {when: {t: 10..20 F}, least: 6 psi}', ['limit-row-unreachable limits.m.rows.1']],
    ['{when: {t: 10..20 F}, least: 5 psi}, {least: 6 psi}', []],
    [
      '{when: {t: 10..20 F}, least: 5 psi}, {when: {t: 12..18 F}, least: 6 psi}',
      ['limit-row-unreachable limits.m.rows.1'],
    ],
    [
      '{when: {t: 10..20 F}, least: 5 psi}, {when: {t: 15..30 F}, least: 6 psi}',
      ['limit-overlap limits.m.rows.1'],
    ],
    ['{when: {t: 10..20 F}, least: 5 psi}, {when: {t: 15..30 F}, least: 5 psi}', []],
    ['{when: {t: 10..20 F}, least: 5 psi}, {when: {t: 20..30 F}, least: 6 psi}', []],
    // A table in whole degrees has no gap between 20 and 21; one of two degrees is a gap.
    ['{when: {t: 10..20 F}, least: 5 psi}, {when: {t: 21..30 F}, least: 6 psi}', []],
    [
      '{when: {t: 10..20 F}, least: 5 psi}, {when: {t: 22..30 F}, least: 6 psi}',
      ['limit-hole limits.m.rows.1'],
    ],
    [
      '{when: {t: 10.0..20.0 F}, least: 5 psi}, {when: {t: 20.5..30.0 F}, least: 6 psi}',
      ['limit-hole limits.m.rows.1'],
    ],
    [
      '{when: {t: 22..30 F}, least: 6 psi}, {when: {t: ..20 F}, least: 5 psi}',
      ['limit-hole limits.m.rows.0'],
    ],
  ])('%s: %j', (text, expected) => {
    expect(rows(text)).toEqual(expected);
  });

  test('rows by material are groups of their own', () => {
    const table = ['steel', 'aluminum'].flatMap((metal) => [
      `{when: {t: 10..20 F, cooler-material: ${metal}}, least: 5 psi}`,
      `{when: {t: 21..30 F, cooler-material: ${metal}}, least: 6 psi}`,
    ]);
    expect(rows(table.join(', '), STEEL)).toEqual([]);
    expect(rows(table.toSpliced(1, 1).join(', '), STEEL)).toEqual([]);
    expect(rows(table.with(1, table[1]!.replace('21', '25')).join(', '), STEEL)).toEqual([
      'limit-hole limits.m.rows.1',
    ]);
  });

  test('a fact that the family does not tell', () => {
    expect(rows('{when: {cooler-material: steel}, least: 5 psi}')).toEqual([
      'limit-fact-unsaid limits.m.rows.0.when.cooler-material',
    ]);
    expect(rows('{when: {cooler-material: steel}, least: 5 psi}', STEEL)).toEqual([]);
    expect(rows('{when: {converter-lining: paper}, least: 5 psi}')).toEqual([
      'limit-fact-unsaid limits.m.rows.0.when.converter-lining',
    ]);
    expect(rows('{when: {fast: maybe}, least: 5 psi}')).toEqual([
      'limit-fact-unsaid limits.m.rows.0.when.fast',
    ]);
    expect(rows('{when: {fast: yes}, least: 5 psi}')).toEqual([]);
  });
});
