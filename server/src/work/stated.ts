/** The findings that a job states, each read and judged. */
import type { JobFinding } from '../../../schemas/kinds/job.ts';
import type { Finding } from '../../../schemas/kinds/rules.ts';
import type { Unit } from '../../../schemas/kinds/units.ts';
import type { Quantity } from '../../../schemas/values/quantity.ts';
import type { Stated } from './facts.ts';
import { judge } from './judge.ts';
import { type LimitTable, unitFact } from './limits.ts';
import type { Catalog, JobFacts, Verdict } from './model.ts';
import { lastNormalStep, type Reading, readReading } from './readings.ts';

/** A finding of a job is its value, or its value with how it was taken. */
export function typedValue(stated: JobFinding): string {
  return typeof stated === 'string' ? stated : stated.value;
}

/** Those that cannot be read are left out; `findingProblems` tells of them. */
export function statedFindings(
  job: JobFacts,
  unit: Unit | undefined,
  catalog: Catalog,
  limitOf: (finding: string) => LimitTable | undefined,
): Stated[] {
  return Object.entries(job.findings ?? {}).flatMap(([id, value]) => {
    const finding = catalog.finding(id);
    const read = finding && readReading(finding, typedValue(value));
    if (!finding || !read?.ok) return [];
    const conditions = (key: string) => conditionOf(key, value, job, unit, catalog);
    const verdict = judgeReading(finding, read.value, unit, limitOf(id), conditions);
    return [{ finding, id, text: typedValue(value), path: ['findings', id], reading: read.value, verdict }];
  });
}

/** What a row of a limit asks for: said with the reading, else found on the job, else a fact of the unit. */
function conditionOf(
  key: string,
  stated: JobFinding,
  job: JobFacts,
  unit: Unit | undefined,
  catalog: Catalog,
): string | undefined {
  if (!catalog.finding(key)) return unit && unitFact(unit, key);
  const here = typeof stated === 'string' ? undefined : stated.at?.[key];
  const elsewhere = job.findings?.[key];
  return here ?? (elsewhere === undefined ? undefined : typedValue(elsewhere));
}

function judgeReading(
  finding: Finding,
  reading: Reading,
  unit: Unit | undefined,
  table: LimitTable | undefined,
  conditions: (key: string) => Quantity | string | undefined,
): Verdict {
  if (reading.kind === 'yes-no') {
    return reading.yes
      ? { judged: 'beyond', text: 'it is there' }
      : { judged: 'normal', text: 'it is not there' };
  }
  if (reading.kind === 'scale') {
    const last = lastNormalStep(finding);
    const normal = reading.step <= last;
    const word = finding.scale?.[last] ?? '';
    return {
      judged: normal ? 'normal' : 'beyond',
      text: `${normal ? 'normal' : 'worse than normal'}: up to ${word} is normal`,
    };
  }
  if (table) return judge(table, reading.quantity, conditions);
  return {
    judged: 'unjudged',
    why: 'no-limit',
    text: `${unit?.name ?? 'the unit family'} has no limit for it`,
  };
}
