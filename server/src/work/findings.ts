/** The findings of a job as they were understood, and what is wrong with how they were written down. */
import type { JobFinding } from '../../../schemas/kinds/job.ts';
import type { Finding } from '../../../schemas/kinds/rules.ts';
import type { Problem } from '../../../schemas/problem.ts';
import type { RuleSet } from './compile.ts';
import type { Derived } from './evaluate.ts';
import { type Facts, gatherFacts, type Stated } from './facts.ts';
import { follow } from './fixpoint.ts';
import type { Catalog, FindingFact, JobFacts } from './model.ts';
import { readReading } from './readings.ts';
import { typedValue } from './stated.ts';

export function findingFacts(facts: Facts, derived: Derived, catalog: Catalog): FindingFact[] {
  const stated = [...facts.readings.values()].flat().map(
    (one): FindingFact => ({
      id: one.id,
      name: one.finding.name,
      path: one.path,
      reading: one.text,
      verdict: one.verdict,
      caveat: caveatOf(one, facts.input.job.findings?.[one.id]),
      because: derived.findings.get(one.id) ?? [],
    }),
  );
  const implied = [...derived.findings].flatMap(([id, because]): FindingFact[] => {
    const finding = facts.readings.has(id) ? undefined : catalog.finding(id);
    if (!finding) return [];
    const verdict = { judged: 'beyond', text: 'it follows from other findings' } as const;
    return [{ id, name: finding.name, path: ['findings'], verdict, because }];
  });
  return [...stated, ...implied];
}

/** A negative answer says no more than that it is less than the test can see. */
function caveatOf({ finding, reading }: Stated, stated: JobFinding | undefined): string | undefined {
  const sensitivity = (typeof stated === 'object' ? stated.sensitivity : undefined) ?? finding.sensitivity;
  if (sensitivity === undefined || reading.kind !== 'yes-no' || reading.yes) return undefined;
  return `not seen, which means less than this test can see (${sensitivity}), and not none`;
}

export function findingProblems(facts: Facts, derived: Derived, rules: RuleSet, catalog: Catalog): Problem[] {
  return Object.entries(facts.input.job.findings ?? {}).flatMap(([id, value]) => {
    const finding = catalog.finding(id);
    if (!finding) return [];
    return [
      ...unreadable(id, finding, value, catalog),
      ...(facts.readings.get(id) ?? [])
        .filter((one) => one.path[0] === 'findings')
        .flatMap((one) => [
          ...unjudged(one, facts, rules, catalog),
          ...negative(one, value),
          ...contradicted(one, derived),
        ]),
    ];
  });
}

function unreadable(id: string, finding: Finding, value: JobFinding, catalog: Catalog): Problem[] {
  const at = typeof value === 'string' ? ['findings', id] : ['findings', id, 'value'];
  const read = readReading(finding, typedValue(value));
  const problems: Problem[] = [];
  if (!read.ok) problems.push({ code: 'bad-reading', severity: 'error', message: read.message, path: at });
  for (const [key, text] of Object.entries(typeof value === 'string' ? {} : (value.at ?? {}))) {
    const condition = catalog.finding(key);
    const conditionRead = condition && readReading(condition, text);
    if (conditionRead && !conditionRead.ok) {
      const path = ['findings', id, 'at', key];
      problems.push({ code: 'bad-reading', severity: 'error', message: conditionRead.message, path });
    }
  }
  return problems;
}

function unjudged(
  { id, finding, text, verdict, path }: Stated,
  facts: Facts,
  rules: RuleSet,
  catalog: Catalog,
): Problem[] {
  const family = facts.unit?.name ?? facts.input.job.unit;
  if (verdict.why === 'no-limit') {
    // A temperature or a resistance that no rule wants judged is a plain note.
    if (!rules.judged.has(id)) return [];
    return [
      {
        code: 'no-limit',
        severity: 'information',
        message: `${finding.name} of ${text} cannot be judged: ${verdict.text}. Give ${family} a limit for it, with its source.`,
        path,
        related: [{ kind: 'unit', id: facts.input.job.unit, message: family }],
        data: { unit: facts.input.job.unit, limit: id },
      },
    ];
  }
  if (verdict.why === undefined) return [];
  const missing = verdict.missing ?? [];
  const add = missing
    .map((key) =>
      catalog.finding(key) ? `\`at: {${key}: ...}\` beside the value` : `${key} at the unit family`,
    )
    .join(' and ');
  const mend = verdict.why === 'condition-missing' ? `Write ${add}.` : 'Take the reading again inside it.';
  return [
    {
      code: verdict.why === 'condition-missing' ? 'reading-without-condition' : 'not-testable',
      severity: 'warning',
      message: `${finding.name} of ${text} cannot be judged: ${verdict.text}. ${mend}`,
      path,
      data: { missing },
    },
  ];
}

function negative(stated: Stated, value: JobFinding): Problem[] {
  const caveat = caveatOf(stated, value);
  if (!caveat) return [];
  const message = `${stated.finding.name}: ${caveat}.`;
  return [{ code: 'below-sensitivity', severity: 'hint', message, path: stated.path }];
}

function contradicted(stated: Stated, derived: Derived): Problem[] {
  const because = derived.findings.get(stated.id);
  if (!because || stated.verdict.judged !== 'normal') return [];
  const from = because.map((reason) => reason.text).join(' and ');
  return [
    {
      code: 'findings-disagree',
      severity: 'warning',
      message: `${stated.finding.name} is written as ${stated.text}, but it follows from ${from}. The job is checked as if it were there; mend one of the two.`,
      path: stated.path,
      related: because
        .filter((reason) => reason.kind === 'finding' || reason.kind === 'rule')
        .map(({ kind, id, text }) => ({ kind: kind as 'finding' | 'rule', id, message: text })),
    },
  ];
}

/** The findings of a job that are worse than normal, or follow from others: what a template or an add-on asks for. */
export function heldFindings(job: JobFacts, rules: RuleSet, catalog: Catalog): ReadonlySet<string> {
  const facts = gatherFacts({ job, lines: [] }, catalog, rules.limitOf);
  const { derived } = follow(facts, rules, catalog);
  const worse = [...facts.readings].filter(([, readings]) =>
    readings.some((one) => one.verdict.judged === 'beyond'),
  );
  return new Set([...worse.map(([id]) => id), ...derived.findings.keys()]);
}
