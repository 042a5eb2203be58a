/** What holds of any rules and any job: order does not matter, asking ends, needs are met, claims of the analysis are true. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Condition, Finding, Role, Rule } from '../../schemas/kinds/rules.ts';
import { isoDate } from '../../schemas/values/dates.ts';
import { ONE } from '../../schemas/values/decimal.ts';
import {
  type AnalysisCatalog,
  analyse,
  type Catalog,
  check,
  compile,
  type RuleBook,
  type WorkInput,
  type WorkLine,
  type WorkResult,
} from '../../server/src/work/index.ts';

const ROLES = ['a', 'b', 'c'];
const FINDINGS: Record<string, Finding> = {
  f: { name: 'F', kind: 'yes-no' },
  g: { name: 'G', kind: 'yes-no', implies: ['h'] },
  h: { name: 'H', kind: 'yes-no' },
  s: { name: 'S', kind: 'scale', scale: ['fine', 'worn', 'bad'], normal: 'fine' },
};
const RULES = ['r0', 'r1', 'r2', 'r3', 'r4'];
const UNITS = { u: ['fast'], v: [] as string[] };

const leaf: fc.Arbitrary<Condition> = fc.oneof(
  fc.constantFrom('f', 'g', 'h', 's').map((finding) => ({ finding })),
  fc.record({ finding: fc.constantFrom('f', 'h'), is: fc.constantFrom('yes', 'no') }),
  fc.record({ finding: fc.constant('s'), 'at-least': fc.constantFrom('worn', 'bad') }),
  fc.record({ finding: fc.constant('s'), 'at-most': fc.constantFrom('fine', 'worn') }),
  fc.record({
    finding: fc.constant('s'),
    judged: fc.constantFrom('normal', 'beyond'),
  }) as fc.Arbitrary<Condition>,
  fc.constantFrom(...ROLES).map((role) => ({ role })),
  fc.constantFrom(...ROLES).map((reuse) => ({ reuse })),
  fc.constantFrom('u', 'v').map((unit) => ({ unit: [unit] })),
  fc.constant({ trait: 'fast' }),
  fc.constantFrom(...RULES).map((rule) => ({ rule })),
);
const condition = fc.letrec<{ node: Condition }>((tie) => ({
  node: fc.oneof(
    { maxDepth: 3, withCrossShrink: true },
    leaf,
    fc.array(tie('node'), { maxLength: 3 }).map((all) => ({ all })),
    fc.array(tie('node'), { maxLength: 3 }).map((any) => ({ any })),
    fc.array(tie('node'), { minLength: 1, maxLength: 2 }).map((none) => ({ none })),
  ),
})).node;

const need = fc.oneof(
  fc.constantFrom(...ROLES).map((role) => ({ role })),
  fc.constant({ 'any-of': ['a', 'b'] as string[] }),
);
const rule: fc.Arbitrary<Rule> = fc.record({
  when: condition,
  requires: fc.array(need, { maxLength: 2 }),
  forbids: fc.array(fc.constantFrom(...ROLES), { maxLength: 1 }),
  implies: fc.array(fc.constantFrom('f', 'g', 'h', 's'), { maxLength: 1 }),
  because: fc.constant('So.'),
  basis: fc.constant('shop' as const),
});
const rules = fc
  .array(rule, { minLength: 1, maxLength: RULES.length })
  .map((list) => Object.fromEntries(list.map((one, index) => [RULES[index]!, one])));

interface Given {
  readonly findings: Record<string, string>;
  readonly roles: readonly string[];
  readonly reuse: string[];
  readonly unit: 'u' | 'v';
}
const given: fc.Arbitrary<Given> = fc.record({
  findings: fc.record(
    {
      f: fc.constantFrom('yes', 'no'),
      g: fc.constantFrom('yes', 'no'),
      h: fc.constantFrom('yes', 'no'),
      s: fc.constantFrom('fine', 'worn', 'bad'),
    },
    { requiredKeys: [] },
  ) as fc.Arbitrary<Record<string, string>>,
  roles: fc.subarray(ROLES),
  reuse: fc.subarray(ROLES),
  unit: fc.constantFrom('u', 'v'),
});

const role: Role = { name: 'Role', of: 'part' };
const unitOf = (id: string) => ({
  name: id,
  layout: 'rear' as const,
  'fluid-class': 'A',
  traits: UNITS[id as 'u' | 'v'],
});
const catalog: Catalog & AnalysisCatalog = {
  unit: unitOf,
  role: () => role,
  finding: (id) => FINDINGS[id],
  record: () => undefined,
  caution: () => undefined,
  part: () => undefined,
  operation: () => undefined,
  warranty: () => undefined,
  fillers: (id) => [{ kind: 'part', id: `P-${id}` }],
  units: () => Object.keys(UNITS).map((id) => [id, unitOf(id)] as const),
  records: () => [],
  warranties: () => [],
};

const bookOf = (all: Record<string, Rule>): RuleBook => ({
  rules: new Map(Object.entries(all)),
  findings: new Map(Object.entries(FINDINGS)),
  replacements: new Map(),
});

const lineOf = (id: string, index: number): WorkLine => ({
  path: ['lines', index],
  sort: 'part',
  id: `P-${id}`,
  name: `Part ${id}`,
  fills: [{ role: id, quantity: ONE, condition: 'new', how: 'itself', via: `P-${id}` }],
  does: [],
  condition: 'new',
  quantity: ONE,
});

function run(all: Record<string, Rule>, job: Given, waived: readonly string[] = []): WorkResult {
  const on = isoDate('2026-03-01');
  const input: WorkInput = {
    job: {
      opened: on,
      unit: job.unit,
      findings: job.findings,
      reuse: job.reuse,
      waivers: waived.map((id) => ({ role: id, reason: 'price', by: 'the owner', on, signed: true })),
    },
    lines: job.roles.map(lineOf),
  };
  return check(input, compile(bookOf(all)), catalog);
}

const missingRoles = (result: WorkResult) =>
  result.requirements
    .filter((one) => one.kind === 'requires' && one.state === 'missing')
    .map((one) => one.roles.join('|'));

/** A second reading of conditions, as plain as can be, over what the check says holds. */
function holds(
  when: Condition,
  job: Given,
  heldRules: ReadonlySet<string>,
  implied: ReadonlySet<string>,
): boolean {
  const inner = (list: Condition[]) => list.map((one) => holds(one, job, heldRules, implied));
  const parts: boolean[] = [];
  if (when.all) parts.push(inner(when.all).every(Boolean));
  if (when.any) parts.push(inner(when.any).some(Boolean));
  if (when.none) parts.push(!inner(when.none).some(Boolean));
  if (when.role) parts.push(job.roles.includes(when.role));
  if (when.reuse) parts.push(job.reuse.includes(when.reuse));
  if (when.unit) parts.push(when.unit.includes(job.unit));
  if (when.trait) parts.push(UNITS[job.unit].includes(when.trait));
  if (when.rule) parts.push(heldRules.has(when.rule));
  if (when.finding) parts.push(findingHolds(when, job.findings[when.finding], implied.has(when.finding)));
  return parts.every(Boolean);
}

function findingHolds(when: Condition, stated: string | undefined, implied: boolean): boolean {
  const scale = ['fine', 'worn', 'bad'];
  if (when.finding === 's') {
    const step = stated === undefined ? -1 : scale.indexOf(stated);
    const least = when['at-least'];
    const most = when['at-most'];
    if (least) return step >= scale.indexOf(least) || (implied && least === 'worn');
    if (most) return stated !== undefined && step <= scale.indexOf(most);
    if (when.judged === 'normal') return step === 0;
    return step > 0 || implied;
  }
  if (when.is === 'no') return stated === 'no';
  return stated === 'yes' || implied;
}

describe('asking rules', () => {
  test('what comes out is exactly what follows: no rule is forgotten, none holds without its condition', () => {
    fc.assert(
      fc.property(rules, given, (all, job) => {
        const result = run(all, job);
        const held = new Set(result.rules.map((one) => one.id));
        const leftOut = new Set(compile(bookOf(all)).leftOut.map((one) => one.id));
        const follows = (id: string) =>
          Object.entries(all).some(([from, one]) => held.has(from) && one.implies?.includes(id)) ||
          Object.entries(FINDINGS).some(
            ([from, one]) => one.implies?.includes(id) && (job.findings[from] === 'yes' || implied.has(from)),
          );
        const implied = new Set(result.findings.filter((one) => one.because.length > 0).map((one) => one.id));
        for (const id of Object.keys(FINDINGS)) expect(implied.has(id), `finding ${id}`).toBe(follows(id));
        for (const [id, one] of Object.entries(all)) {
          if (!leftOut.has(id)) expect(held.has(id), `rule ${id}`).toBe(holds(one.when, job, held, implied));
        }
      }),
      { numRuns: 1500 },
    );
  });

  test('the order of rules does not matter', () => {
    fc.assert(
      fc.property(
        rules.chain((all) =>
          fc.tuple(
            fc.constant(all),
            fc.shuffledSubarray(Object.entries(all), { minLength: Object.keys(all).length }),
          ),
        ),
        given,
        ([all, shuffled], job) => {
          expect(run(Object.fromEntries(shuffled), job)).toEqual(run(all, job));
        },
      ),
      { numRuns: 300 },
    );
  });

  test('every chain of reasons comes to an end at something the job says', () => {
    fc.assert(
      fc.property(rules, given, (all, job) => {
        const walk = (reasons: WorkResult['rules'][number]['reasons'], depth: number): void => {
          expect(depth).toBeLessThan(20);
          for (const reason of reasons) walk(reason.because, depth + 1);
        };
        for (const { reasons } of run(all, job).rules) walk(reasons, 0);
      }),
      { numRuns: 300 },
    );
  });
});

describe('meeting needs', () => {
  test('putting a missing role on the job leaves nothing missing of that role', () => {
    fc.assert(
      fc.property(rules, given, (all, job) => {
        for (const roles of missingRoles(run(all, job))) {
          const [first] = roles.split('|');
          const after = missingRoles(run(all, { ...job, roles: [...job.roles, first!] }));
          expect(after.filter((one) => one.split('|').includes(first!))).toEqual([]);
        }
      }),
      { numRuns: 500 },
    );
  });

  test('a waiver of every role turns what is missing into waived, and no other rule comes to hold', () => {
    fc.assert(
      fc.property(rules, given, (all, job) => {
        const before = run(all, job);
        const after = run(all, job, ROLES);
        expect(missingRoles(after)).toEqual([]);
        expect(after.rules.map((one) => one.id)).toEqual(before.rules.map((one) => one.id));
        const state = new Map(after.requirements.map((one) => [one.id, one.state]));
        for (const one of before.requirements) {
          if (one.state === 'missing') expect(state.get(one.id)).toBe('waived');
          else expect(state.get(one.id)).toBe(one.state);
        }
      }),
      { numRuns: 500 },
    );
  });

  test('each missing role is told at most once', () => {
    fc.assert(
      fc.property(rules, given, (all, job) => {
        const told = run(all, job)
          .problems.filter((one) => one.code === 'missing-work')
          .map((one) => JSON.stringify(one.data?.roles));
        expect(new Set(told).size).toBe(told.length);
      }),
      { numRuns: 300 },
    );
  });
});

describe('the analysis claims only what is true', () => {
  test('a rule that is called unreachable holds of no job', () => {
    let claims = 0;
    fc.assert(
      fc.property(rules, fc.array(given, { minLength: 5, maxLength: 5 }), (all, jobs) => {
        const never = analyse(bookOf(all), catalog)
          .filter((one) => one.problem.code === 'unreachable-rule')
          .map((one) => one.id);
        claims += never.length;
        for (const job of jobs) {
          for (const { id } of run(all, job).rules) expect(never).not.toContain(id);
        }
      }),
      { numRuns: 600 },
    );
    expect(claims).toBeGreaterThan(50);
  });

  test('rules that meet on a job and ask for opposite things were told of when they were written', () => {
    let met = 0;
    fc.assert(
      fc.property(rules, given, (all, job) => {
        const held = new Set(run(all, job).rules.map((one) => one.id));
        const told = new Set(
          analyse(bookOf(all), catalog)
            .filter((one) => one.problem.code.startsWith('rules-'))
            .map((one) => `${one.id} ${one.problem.related?.[0]?.id}`),
        );
        for (const asking of held) {
          for (const against of held) {
            const roles =
              all[asking]!.requires?.flatMap((one) => ('role' in one && one.role ? [one.role] : [])) ?? [];
            if (!roles.some((one) => all[against]!.forbids?.includes(one))) continue;
            met += 1;
            expect(told).toContain(`${asking} ${against}`);
          }
        }
      }),
      { numRuns: 600 },
    );
    expect(met).toBeGreaterThan(50);
  });
});
