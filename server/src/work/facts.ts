/** What is known of one option of a job before any rule is asked. */
import type { JobRecord } from '../../../schemas/kinds/job.ts';
import type { Work } from '../../../schemas/kinds/labor.ts';
import type { Finding } from '../../../schemas/kinds/rules.ts';
import type { Unit } from '../../../schemas/kinds/units.ts';
import type { Path } from '../../../schemas/problem.ts';
import { ZERO } from '../../../schemas/values/decimal.ts';
import type { LimitTable } from './limits.ts';
import type { Catalog, Fills, RecordReport, Verdict, WorkInput, WorkLine } from './model.ts';
import type { Reading } from './readings.ts';
import type { RecordReading } from './records/report.ts';
import { judgeRecord } from './records/report.ts';
import { statedFindings } from './stated.ts';

/** One reading of a finding: as the job states it, or as a record holds it. */
export interface Stated {
  readonly finding: Finding;
  readonly id: string;
  readonly text: string;
  readonly path: Path;
  readonly reading: Reading;
  readonly verdict: Verdict;
}

export interface LineFill extends Fills {
  readonly line: WorkLine;
}

export interface Facts {
  readonly input: WorkInput;
  readonly unit: Unit | undefined;
  /** By finding: what the job states, and what the latest record of each kind holds. */
  readonly readings: ReadonlyMap<string, readonly Stated[]>;
  /** Readings of records that a later one of the same kind has replaced. */
  readonly superseded: readonly Stated[];
  readonly roles: ReadonlyMap<string, readonly LineFill[]>;
  readonly operations: ReadonlyMap<string, WorkLine>;
  readonly works: ReadonlyMap<Work, WorkLine>;
  readonly reused: ReadonlyMap<string, Path>;
  /** By kind of record, the latest one. */
  readonly records: ReadonlyMap<string, RecordReport>;
  readonly reports: readonly RecordReport[];
}

export type LimitOf = (unit: Unit, finding: string) => LimitTable | undefined;

export function gatherFacts(input: WorkInput, catalog: Catalog, limitOf: LimitOf): Facts {
  const unit = catalog.unit(input.job.unit);
  const limits = (finding: string) => unit && limitOf(unit, finding);
  const readings = new Map<string, Stated[]>();
  const add = (stated: Stated) => append(readings, stated.id, stated);
  statedFindings(input.job, unit, catalog, limits).forEach(add);

  const records = new Map<string, RecordReport>();
  const reports: RecordReport[] = [];
  const superseded: Stated[] = [];
  const latest = latestRecords(input.job.records ?? []);
  for (const [index, record] of (input.job.records ?? []).entries()) {
    const kind = catalog.record(record.record);
    if (!kind) continue;
    const path = ['records', index];
    const context = {
      unit,
      unitNumber: input.job['unit-number'],
      finding: (id: string) => catalog.finding(id),
      limitOf: limits,
    };
    const judged = judgeRecord(record, path, kind, context);
    reports.push(judged.report);
    const counts = latest.get(record.record) === record;
    if (counts) records.set(record.record, judged.report);
    for (const reading of judged.readings) {
      const stated = statedByRecord(reading, catalog);
      if (stated && counts) add(stated);
      else if (stated) superseded.push(stated);
    }
  }
  return { input, unit, readings, superseded, records, reports, ...factsOfLines(input) };
}

function statedByRecord(reading: RecordReading, catalog: Catalog): Stated | undefined {
  const finding = catalog.finding(reading.finding);
  return (
    finding && {
      finding,
      id: reading.finding,
      text: reading.text,
      path: reading.path,
      reading: { kind: 'measurement', quantity: reading.quantity },
      verdict: reading.verdict,
    }
  );
}

/** The latest record of each kind: by its day, and among those of one day the last in the list. */
function latestRecords(records: readonly JobRecord[]): Map<string, JobRecord> {
  const latest = new Map<string, JobRecord>();
  for (const record of records) {
    const so = latest.get(record.record);
    if (!so?.on || !record.on || record.on >= so.on) latest.set(record.record, record);
  }
  return latest;
}

function factsOfLines(input: WorkInput) {
  const roles = new Map<string, LineFill[]>();
  const operations = new Map<string, WorkLine>();
  const works = new Map<Work, WorkLine>();
  for (const line of input.lines) {
    for (const fill of line.fills) {
      if (fill.quantity.gt(ZERO)) append(roles, fill.role, { ...fill, line });
    }
    for (const { operation, work } of line.does) {
      if (!operations.has(operation)) operations.set(operation, line);
      if (!works.has(work)) works.set(work, line);
    }
  }
  const reused = new Map((input.job.reuse ?? []).map((role, index) => [role, ['reuse', index] as Path]));
  return { roles, operations, works, reused };
}

export function append<K, V>(map: Map<K, V[]>, key: K, value: V): void {
  const list = map.get(key);
  if (list) list.push(value);
  else map.set(key, [value]);
}
