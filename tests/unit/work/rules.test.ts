/** How rules are asked: conditions, what follows from what, waivers, families that differ, and one problem a thing. */
import { describe, expect, test } from 'vitest';
import { bookOf, checkJob, loud, openNeeds, type TestBook, the } from './fixture.ts';

const HEAD = `
roles:
  a: {name: A, of: part}
  b: {name: B, of: part}
  c: {name: C, of: part}
  job: {name: The job, of: work}
  later: {name: Later, of: work}
findings:
  f: {name: F, kind: yes-no}
  g: {name: G, kind: yes-no, implies: [h]}
  h: {name: H, kind: yes-no}
  s: {name: S, kind: scale, scale: [fine, worn, bad, gone], normal: worn}
  q: {name: Q, kind: scale, scale: [good, poor]}
  m: {name: M, kind: measurement, dimension: pressure}
records: {r: {name: R, needs: [on]}}
`;

const UNITS = `
units:
  u: {name: U, layout: rear, fluid-class: A, traits: [t], cooler: {kind: plate, material: steel, bypass: yes}, converter-lining: paper,
      limits: {m: {rows: [{least: 50 psi, most: 60 psi}]}}}
  v: {name: V, layout: front, fluid-class: A}
`;
const PARTS = `
parts:
  PA: {name: Part A, kind: soft, role: a, condition: new}
  PA2: {name: Two of A, kind: kit, contents: [{part: PA, quantity: 2}], condition: new}
  PB: {name: Part B, kind: soft, role: b}
  PC: {name: Part C, kind: soft, role: c, unit: pair}
  OLD: {name: Old A, kind: soft, superseded-by: {part: PA}}
`;
const LABOR = `
operations:
  do: {name: Do it, work: bench, role: job, record: r}
  all: {name: All of it, work: bench, includes: [do, after]}
  after: {name: After, work: install, role: later}
`;

const book = (rules: string, units = UNITS): TestBook =>
  bookOf({
    rules: `${HEAD}rules:\n${rules.trim().replaceAll(/^/gm, '  ')}`,
    units,
    parts: PARTS,
    labor: LABOR,
  });

const rule = (id: string, when: string, rest = 'requires: [{role: a}]') =>
  `${id}: {when: ${when}, ${rest}, because: So it is., basis: shop}\n`;

/** Whether a rule with this condition holds of a job. */
const holds = (when: string, job: string) =>
  checkJob(book(rule('r1', when)), job.includes('unit:') ? job : `unit: u\n${job}`).rules.length === 1;

describe('conditions', () => {
  test.each([
    ['{}', '', true],
    ['{finding: f}', 'findings: {f: yes}', true],
    ['{finding: f}', 'findings: {f: no}', false],
    ['{finding: f}', '', false],
    ['{finding: f, is: no}', 'findings: {f: no}', true],
    ['{finding: f, is: no}', '', false],
    ['{finding: s}', 'findings: {s: worn}', false],
    ['{finding: s}', 'findings: {s: bad}', true],
    ['{finding: q}', 'findings: {q: good}', false],
    ['{finding: q}', 'findings: {q: poor}', true],
    ['{finding: s, is: worn}', 'findings: {s: worn}', true],
    ['{finding: s, at-least: bad}', 'findings: {s: gone}', true],
    ['{finding: s, at-least: bad}', 'findings: {s: worn}', false],
    ['{finding: s, at-most: bad}', 'findings: {s: gone}', false],
    ['{finding: s, judged: normal}', 'findings: {s: fine}', true],
    ['{finding: m}', 'findings: {m: 49.9 psi}', true],
    ['{finding: m}', 'findings: {m: 50 psi}', false],
    ['{finding: m, judged: beyond}', 'findings: {m: 61 psi}', true],
    ['{finding: m, judged: unjudged}', 'unit: v\nfindings: {m: 61 psi}', true],
    ['{finding: m, at-least: 400 kPa}', 'findings: {m: 59 psi}', true],
    ['{role: a}', 'lines: [{part: PA}]', true],
    ['{role: a}', 'lines: [{part: PA2}]', true],
    ['{role: a}', 'lines: [{part: OLD}]', true],
    ['{role: a}', 'lines: [{part: PA, quantity: 0}]', false],
    ['{role: later}', 'lines: [{operation: all}]', true],
    ['{operation: after}', 'lines: [{operation: all}]', true],
    ['{work: install}', 'lines: [{operation: all}]', true],
    ['{work: removal}', 'lines: [{operation: all}]', false],
    ['{role: c}', 'lines: [{sublet: By hand, role: c}]', true],
    ['{reuse: a}', 'reuse: [a]', true],
    ['{unit: [v, u]}', '', true],
    ['{unit: [v]}', '', false],
    ['{trait: t}', '', true],
    ['{cooler: plate}', '', true],
    ['{bypass: yes}', '', true],
    ['{bypass: no}', '', false],
    ['{bypass: no}', 'unit: v', false],
    ['{lining: paper}', '', true],
    ['{drive: [4wd, awd]}', 'vehicle: {drive: awd}', true],
    ['{drive: [4wd]}', '', false],
    ['{feature: winch}', 'vehicle: {features: [winch]}', true],
    ['{record: r}', 'records: [{record: r, on: 2026-03-01}]', true],
    ['{record: r}', 'records: [{record: r}]', false],
    ['{option: [repair]}', 'options: {o: {name: O, kind: repair}}', true],
    ['{option: [repair]}', '', false],
    ['{any: []}', '', false],
    ['{all: []}', '', true],
    ['{none: [{finding: f}]}', '', true],
    ['{none: [{finding: f}]}', 'findings: {f: yes}', false],
    ['{finding: f, none: [{role: a}]}', 'findings: {f: yes}\nlines: [{part: PB}]', true],
    ['{any: [{finding: f}, {role: a}]}', 'lines: [{part: PA}]', true],
    ['{none: [{none: [{finding: f}]}]}', 'findings: {f: yes}', true],
    // A finding that follows from another one is there, and at least the first word past normal.
    ['{finding: h}', 'findings: {g: yes}', true],
    ['{finding: h, is: yes}', 'findings: {g: yes}', true],
    ['{finding: h, is: no}', 'findings: {g: yes}', false],
  ])('%s of a job with %j: %s', (when, job, expected) => {
    expect(holds(when, job)).toBe(expected);
  });

  test('a scale or a measurement that follows from a rule', () => {
    const implying = (when: string) =>
      checkJob(
        book(rule('r1', '{finding: f}', 'implies: [s, m]') + rule('r2', when)),
        'unit: u\nfindings: {f: yes}',
      ).rules.length === 2;
    expect(implying('{finding: s}')).toBe(true);
    expect(implying('{finding: s, at-least: bad}')).toBe(true);
    expect(implying('{finding: s, at-least: gone}')).toBe(false);
    expect(implying('{finding: m, judged: beyond}')).toBe(true);
    expect(implying('{finding: m, at-least: 10 psi}')).toBe(false);
  });
});

describe('what follows from what', () => {
  test('a chain of rules and findings, with its reasons', () => {
    const result = checkJob(
      book(
        rule('r1', '{finding: f}', 'implies: [g]') +
          rule('r2', '{finding: h}') +
          rule('r3', '{rule: r2}', 'requires: [{role: b}]'),
      ),
      'unit: u\nfindings: {f: yes}',
    );
    expect(result.rules.map((one) => one.id)).toEqual(['r1', 'r2', 'r3']);
    const b = result.problems.find((one) => one.message.startsWith('B is required'));
    expect(b?.message).toContain('F: yes → rule r1 → G → H → rule r2 → r3.');
    expect(b?.path).toEqual(['findings', 'f']);
  });

  test('a none is asked only when what it looks at is settled', () => {
    const rules =
      rule('a1', '{none: [{finding: h}]}', 'requires: [{role: b}]') +
      rule('z9', '{finding: f}', 'implies: [h]');
    expect(openNeeds(checkJob(book(rules), 'unit: u\nfindings: {f: yes}'), 'requires')).toEqual([]);
    expect(openNeeds(checkJob(book(rules), 'unit: u'), 'requires')).toEqual(['b']);
  });

  test('findings that imply each other hold from what was found', () => {
    const rules = rule('r1', '{finding: f}', 'implies: [h]') + rule('r2', '{finding: h}', 'implies: [f]');
    const result = checkJob(book(rules), 'unit: u\nfindings: {h: yes}');
    expect(result.rules.map((one) => one.id)).toEqual(['r1', 'r2']);
    expect(result.rules[1]?.reasons).toMatchObject([{ text: 'H: yes', because: [] }]);
  });

  test('a rule that hangs on its own opposite is left out, and the job says so', () => {
    const rules =
      rule('r1', '{none: [{rule: r2}]}') +
      rule('r2', '{rule: r1}') +
      rule('r3', '{finding: f}', 'requires: [{role: b}]');
    const result = checkJob(book(rules), 'unit: u\nfindings: {f: yes}');
    expect(openNeeds(result, 'requires')).toEqual(['b']);
    expect(the(result.problems, 'rules-left-out').message).toContain('without the rules r1 and r2');
  });

  test('so is one whose condition has a mistake, inside a none as well', () => {
    const result = checkJob(book(rule('r1', '{none: [{finding: s, is: broken}]}')), 'unit: u');
    expect(result.requirements).toEqual([]);
    expect(the(result.problems, 'rules-left-out').severity).toBe('warning');
  });

  test('a finding written as normal that follows from another is pointed at', () => {
    const result = checkJob(book(rule('r1', '{finding: h}')), 'unit: u\nfindings: {g: yes, h: no}');
    expect(the(result.problems, 'findings-disagree').path).toEqual(['findings', 'h']);
    expect(openNeeds(result, 'requires')).toEqual(['a']);
  });
});

describe('how a need is met', () => {
  const needs = (need: string, job: string) =>
    openNeeds(checkJob(book(rule('r1', '{}', `requires: [${need}]`)), `unit: u\n${job}`), 'requires').length >
    0;

  test.each([
    ['{role: a}', 'lines: [{part: PA}]', false],
    ['{role: a}', 'lines: [{part: PA, quantity: 0}]', true],
    ['{role: a}', 'lines: [{part: PA, supplied: yes}]', false],
    ['{role: a, quantity: 2}', 'lines: [{part: PA}]', true],
    ['{role: a, quantity: 2}', 'lines: [{part: PA}, {part: PA}]', false],
    ['{role: a, quantity: 2}', 'lines: [{part: PA2}]', false],
    ['{role: a, quantity: 5}', 'lines: [{part: PA2, quantity: 2}]', true],
    ['{role: c, quantity: 2}', 'lines: [{part: PC}]', false],
    ['{any-of: [a, b]}', 'lines: [{part: PB}]', false],
    ['{any-of: [a, b], quantity: 2}', 'lines: [{part: PA}, {part: PB}]', true],
    ['{role: a, condition: new}', 'lines: [{part: PA, condition: used}]', true],
    ['{role: b, condition: new}', 'lines: [{part: PB}]', true],
    ['{role: b, condition: new}', 'lines: [{part: PB, condition: new}]', false],
    ['{role: job, condition: new}', 'lines: [{operation: all}]', false],
    ['{role: job}', 'records: [{record: r, on: 2026-03-01}]', false],
    ['{role: job}', 'records: [{record: r}]', true],
    ['{role: a}', 'waivers: [{role: a, reason: R, by: O, on: 2026-03-01}]', false],
    ['{role: a}', 'waivers: [{rule: r1, reason: R, by: O, on: 2026-03-01}]', false],
    ['{role: a}', 'waivers: [{role: b, reason: R, by: O, on: 2026-03-01}]', true],
    ['{any-of: [a, b]}', 'waivers: [{role: a, reason: R, by: O, on: 2026-03-01}]', true],
    [
      '{role: a}',
      'authorizations: [{on: 2026-03-01T10:00, by: O, how: signature, amount: 1.00, declined: [a]}]',
      false,
    ],
  ])('%s by %j: open %s', (need, job, open) => {
    expect(needs(need, job)).toBe(open);
  });

  test('how many are there is told', () => {
    const result = checkJob(
      book(rule('r1', '{}', 'requires: [{role: a, quantity: 3}]')),
      'unit: u\nlines: [{part: PA2}]',
    );
    expect(the(result.problems, 'missing-work').message).toMatch(/^A: 2 of 3 on the job\./);
  });

  test('what nothing in the book fills says so', () => {
    const result = checkJob(
      book(rule('r1', '{}', 'requires: [{role: later, quantity: 1}]'), UNITS),
      'unit: u',
    );
    expect(the(result.problems, 'missing-work').message).toContain('Add after (After)');
    const none = bookOf({
      rules: `${HEAD}rules: {r1: {when: {}, requires: [{role: a}], because: So., basis: shop}}`,
      units: UNITS,
    });
    expect(the(checkJob(none, 'unit: u').problems, 'missing-work').message).toBe(
      'A is required and missing. r1. So. Nothing in the book fills this for U: add a line with the role a, or write a waiver.',
    );
  });
});

describe('one missing thing is one problem', () => {
  test('several rules that ask for the same', () => {
    const rules = rule('r1', '{finding: f}') + rule('r2', '{finding: g}') + rule('r3', '{}');
    const result = checkJob(book(rules), 'unit: u\nfindings: {f: yes, g: yes}');
    const problem = the(result.problems, 'missing-work');
    expect(problem.message).toContain('F: yes → r1. So it is. Also asked for by r2 and r3.');
    expect(result.requirements[0]?.asked.map((one) => one.id)).toEqual(['r1', 'r2', 'r3']);
  });

  test('a choice that the missing thing would meet as well', () => {
    const rules = rule('r1', '{}') + rule('r2', '{}', 'requires: [{any-of: [a, b]}]');
    expect(loud(checkJob(book(rules), 'unit: u'))).toHaveLength(1);
    expect(the(checkJob(book(rules), 'unit: u').problems, 'missing-work').message).toContain(
      'Also asked for by r2.',
    );
    expect(openNeeds(checkJob(book(rules), 'unit: u\nlines: [{part: PB}]'), 'requires')).toEqual(['a']);
  });

  test('what is asked for only while the missing thing is absent', () => {
    const rules =
      rule('r1', '{}') + rule('r2', '{none: [{role: a}]}', 'needs-finding: [f], requires: [{role: b}]');
    const result = checkJob(book(rules), 'unit: u');
    expect(openNeeds(result, 'requires')).toEqual(['a', 'b']);
    expect(loud(result)).toEqual(['missing-work unit']);
    const waived = checkJob(
      book(rules),
      'unit: u\nwaivers: [{role: a, reason: R, by: O, on: 2026-03-01, signed: yes}]',
    );
    expect(loud(waived)).toEqual(['missing-finding unit', 'missing-work unit']);
    const both = rule('r3', '{}', 'requires: [{role: b}]');
    expect(loud(checkJob(book(rules + both), 'unit: u'))).toEqual(['missing-work unit', 'missing-work unit']);
  });

  test('advice on what is required anyway is silent', () => {
    const rules = rule('r1', '{}') + rule('r2', '{}', 'advises: [{role: a}]');
    expect(checkJob(book(rules), 'unit: u').problems).toHaveLength(1);
  });

  test('required and reused is told where the job says reused', () => {
    const rules = rule('r1', '{}', 'requires: [{role: a}], forbids-reuse: [a]');
    expect(loud(checkJob(book(rules), 'unit: u\nreuse: [a]'))).toEqual(['forbidden-reuse reuse.0']);
    const required = checkJob(book(rule('r1', '{}')), 'unit: u\nreuse: [a]');
    expect(loud(required)).toEqual(['missing-work reuse.0']);
    expect(the(required.problems, 'missing-work').message).toContain('The job says that it is reused.');
  });

  test('rules that disagree are one problem, whatever the job does', () => {
    const rules = rule('r1', '{}') + rule('r2', '{finding: f}', 'forbids: [a]');
    for (const lines of ['', 'lines: [{part: PA}]']) {
      const result = checkJob(book(rules), `unit: u\nfindings: {f: yes}\n${lines}`);
      expect(result.problems.map((one) => one.code)).toEqual(['rules-disagree']);
      expect(result.problems[0]?.message).toBe(
        'A is required (r1) and forbidden (r2) on this job. Mend one of the rules.',
      );
    }
  });

  test('the first of two works that is missing counts as missing work', () => {
    const rules = rule('r1', '{}', 'order: [{first: job, next: later}]');
    expect(openNeeds(checkJob(book(rules), 'unit: u\nlines: [{operation: after}]'), 'requires')).toEqual([
      'job',
    ]);
    expect(loud(checkJob(book(rules), 'unit: u'))).toEqual([]);
    // Bench work comes before installation on the bench sheet, however the lines stand.
    expect(loud(checkJob(book(rules), 'unit: u\nlines: [{operation: after}, {operation: do}]'))).toEqual([]);
    const turned = rule('r1', '{}', 'order: [{first: later, next: job}]');
    expect(loud(checkJob(book(turned), 'unit: u\nlines: [{operation: do}, {operation: after}]'))).toEqual([
      'wrong-order lines.0',
    ]);
  });
});

describe('waivers', () => {
  const WAIVED = 'waivers: [{role: a, reason: price, by: Oakes, on: 2026-03-01}]';

  test('one that sets required work aside asks for a signature', () => {
    const result = checkJob(book(rule('r1', '{}')), `unit: u\n${WAIVED}`);
    expect(the(result.problems, 'unsigned-waiver').message).toBe(
      'Oakes declined A without a signature. Have it signed and write `signed: yes`.',
    );
    expect(result.requirements[0]).toMatchObject({ state: 'waived' });
    expect(
      loud(checkJob(book(rule('r1', '{}')), `unit: u\n${WAIVED.replace('}]', ', signed: yes}]')}`)),
    ).toEqual([]);
  });

  test('one of advice does not', () => {
    expect(checkJob(book(rule('r1', '{}', 'advises: [{role: a}]')), `unit: u\n${WAIVED}`).problems).toEqual(
      [],
    );
  });

  test('a waiver of one rule leaves what another asks for', () => {
    const rules = rule('r1', '{}') + rule('r2', '{}');
    const waiver = (id: string) => `{rule: ${id}, reason: price, by: O, on: 2026-03-01, signed: yes}`;
    expect(loud(checkJob(book(rules), `unit: u\nwaivers: [${waiver('r1')}]`))).toEqual(['missing-work unit']);
    expect(loud(checkJob(book(rules), `unit: u\nwaivers: [${waiver('r1')}, ${waiver('r2')}]`))).toEqual([]);
  });

  test('what is forbidden can be agreed on by its rule, and not by its role', () => {
    const rules = rule('r1', '{}', 'forbids: [a], forbids-reuse: [b]');
    const job = (waiver: string) =>
      loud(checkJob(book(rules), `unit: u\nlines: [{part: PA}]\nreuse: [b]\nwaivers: [${waiver}]`));
    expect(job('{role: a, reason: price, by: O, on: 2026-03-01, signed: yes}')).toEqual([
      'forbidden-reuse reuse.0',
      'forbidden-work lines.0',
    ]);
    expect(job('{rule: r1, reason: price, by: O, on: 2026-03-01, signed: yes}')).toEqual([]);
  });

  test('the law is not waived', () => {
    const lawful = rule('r1', '{}').replace('basis: shop', 'basis: law');
    const result = checkJob(book(lawful), `unit: u\n${WAIVED}`);
    expect(loud(result)).toEqual(['missing-work unit', 'waiver-against-law waivers.0']);
    expect(the(result.problems, 'missing-work').message).toContain(
      'The law asks for it, so no waiver lifts it.',
    );
  });

  test('required work that is only optional is pointed at', () => {
    const result = checkJob(book(rule('r1', '{}')), 'unit: u\nlines: [{part: PA, optional: yes}]');
    expect(loud(result)).toEqual(['required-but-optional lines.0']);
    expect(
      loud(checkJob(book(rule('r1', '{}')), 'unit: u\nlines: [{part: PA, optional: yes}, {part: PA}]')),
    ).toEqual([]);
  });
});

test('a part of work that is optional itself may be optional as well', () => {
  const texts = {
    rules: HEAD,
    units: UNITS,
    parts: PARTS,
    labor: 'operations: {fit: {name: Fit A, work: bench, parts: [{role: a}]}}',
  };
  const job = (operation: string) =>
    loud(
      checkJob(bookOf(texts), `unit: u\nlines: [{operation: fit${operation}}, {part: PA, optional: yes}]`),
    );
  expect(job(', optional: yes')).toEqual([]);
  expect(job('')).toEqual(['required-but-optional lines.1']);
});

test('a chain tells what was found, and not what was not', () => {
  const rules =
    rule('base', '{none: [{option: [put-back]}]}', 'implies: []') +
    rule('r1', '{rule: base, all: [{role: b}]}') +
    rule('r2', '{rule: base}', 'requires: [{role: c}]');
  const result = checkJob(book(rules), 'unit: u\nlines: [{part: PB}]');
  const told = result.problems.map((one) => one.message.split('. ')[1]);
  expect(told).toEqual(['B on the job → r1', 'rule base → r2']);
});

describe('families and rules that differ', () => {
  const units = (applies: string) =>
    UNITS.replace(
      'v: {name: V,',
      `v: {name: V, rules: {r1: {applies: ${applies}, because: its maker differs}},`,
    );
  const needs = (rules: string, applies: string) =>
    openNeeds(checkJob(book(rules, units(applies)), 'unit: v'), 'requires');

  test('a family can be free of a rule', () => {
    expect(needs(rule('r1', '{}'), 'no')).toEqual([]);
    expect(needs(rule('r1', '{}'), 'yes')).toEqual(['a']);
  });

  test('a rule that stands in place of another switches it off, unless a family wants it', () => {
    const rules = rule('r1', '{}') + rule('r2', '{}', 'requires: [{role: b}], instead-of: r1');
    expect(openNeeds(checkJob(book(rules), 'unit: v'), 'requires')).toEqual(['b']);
    expect(needs(rules, 'yes')).toEqual(['a', 'b']);
  });

  test('a chain of replacements leaves the last; a circle leaves them all', () => {
    const chain =
      rule('r1', '{}') +
      rule('r2', '{}', 'requires: [{role: b}], instead-of: r1') +
      rule('r3', '{}', 'requires: [{role: c}], instead-of: r2');
    expect(openNeeds(checkJob(book(chain), 'unit: v'), 'requires')).toEqual(['c']);
    const circle =
      rule('r1', '{}', 'requires: [{role: a}], instead-of: r2') +
      rule('r2', '{}', 'requires: [{role: b}], instead-of: r1');
    expect(openNeeds(checkJob(book(circle), 'unit: v'), 'requires')).toEqual(['a', 'b']);
  });

  test('a family that lists what it has is asked for no other part, but for any work', () => {
    const listed = UNITS.replace('v: {name: V,', 'v: {name: V, components: [b],');
    const rules = rule('r1', '{}', 'requires: [{role: a}, {any-of: [a, b]}, {role: job}]');
    const result = checkJob(book(rules, listed), 'unit: v');
    expect(openNeeds(result, 'requires')).toEqual(['b', 'job']);
    expect(result.notAsked).toEqual([{ role: 'a', rule: 'r1' }]);
  });
});

describe('a unit that is put back together without repair', () => {
  const rules = rule('r1', '{finding: f}') + rule('r2', '{work: bench}', 'requires: [{role: b}]');
  const put = (kind: string) =>
    checkJob(
      book(rules),
      `unit: u\nfindings: {f: yes}\noptions: {o: {name: O, kind: ${kind}, lines: [{operation: do}]}}`,
    );

  test('is not asked for what was found, but for what the work itself needs', () => {
    expect(openNeeds(put('put-back'), 'requires')).toEqual(['b']);
    expect(put('put-back').requirements.find((one) => one.roles[0] === 'a')).toMatchObject({
      state: 'waived',
      by: [{ how: 'option', path: ['options', 'o'] }],
    });
    expect(openNeeds(put('repair'), 'requires')).toEqual(['a', 'b']);
  });
});

describe('lines that say what they are for', () => {
  const job = (line: string, findings: string) =>
    loud(checkJob(book('{}'), `unit: u\nfindings: ${findings}\nlines: [${line}]`));

  test('name a finding that the job has', () => {
    expect(job('{part: PA, for: f}', '{f: yes}')).toEqual([]);
    expect(job('{part: PA, for: h}', '{g: yes}')).toEqual([]);
    expect(job('{part: PA, for: f}', '{f: no}')).toEqual(['reason-not-found lines.0']);
    expect(job('{part: PA, for: f}', '{}')).toEqual(['reason-not-found lines.0']);
  });
});

test('an unknown family is checked with the rules that do not need it', () => {
  const result = checkJob(
    book(rule('r1', '{finding: f}') + rule('r2', '{trait: t}', 'requires: [{role: b}]')),
    'unit: w\nfindings: {f: yes}',
  );
  expect(openNeeds(result, 'requires')).toEqual(['a']);
});
