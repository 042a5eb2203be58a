/** One record of a job held against its declaration and the limits of the unit family. */
import type { JobRecord } from '../../../../schemas/kinds/job.ts';
import type { RecordKind } from '../../../../schemas/kinds/rules.ts';
import type { Path } from '../../../../schemas/problem.ts';
import { dec } from '../../../../schemas/values/decimal.ts';
import { compareQuantity, formatQuantity, type Quantity } from '../../../../schemas/values/quantity.ts';
import type { Figure, RecordFault, RecordReport } from '../model.ts';
import { bounds } from './bounds.ts';
import { nameOf, type RecordContext, spoken } from './context.ts';
import { figuresOf, shown } from './figures.ts';
import { measurementsOf, outside, type RecordReading } from './measured.ts';

export type { RecordContext, RecordReading };

export interface JudgedRecord {
  readonly report: RecordReport;
  readonly readings: readonly RecordReading[];
}

export function judgeRecord(
  record: JobRecord,
  path: Path,
  kind: RecordKind,
  context: RecordContext,
): JudgedRecord {
  const figures = figuresOf(record, kind.counted, context.unit);
  const measured = measurementsOf(record, path, kind, figures, context);
  const faults = [
    ...unfilled(record, path, kind, context, measured.readings),
    ...measured.faults,
    ...(kind['as-found'] ? [] : measured.readings.flatMap((reading) => outside(reading, kind, context))),
    ...bounds(record, path, kind, figures, context),
    ...contradictions(record, path, kind, figures, context),
  ];
  const report: RecordReport = { record: record.record, path, passes: faults.length === 0, figures, faults };
  return { report, readings: measured.readings };
}

function unfilled(
  record: JobRecord,
  path: Path,
  kind: RecordKind,
  context: RecordContext,
  readings: readonly RecordReading[],
): RecordFault[] {
  const filled = (name: string) =>
    record[name as keyof JobRecord] !== undefined ||
    (name === 'unit-number' && context.unitNumber !== undefined);
  const fields = (kind.needs ?? []).filter((name) => !filled(name));
  const findings = (kind.measures ?? []).filter(
    (id) => record.measurements?.[id] === undefined && !readings.some((reading) => reading.finding === id),
  );
  return [...fields.map(spoken), ...findings.map((id) => nameOf(context, id))].map((what) => ({
    sort: 'unfilled',
    path,
    text: `${what} is not filled in`,
  }));
}

function contradictions(
  record: JobRecord,
  path: Path,
  kind: RecordKind,
  figures: readonly Figure[],
  context: RecordContext,
): RecordFault[] {
  const faults: RecordFault[] = [];
  const fails = (field: string, text: string) => faults.push({ sort: 'fails', path: [...path, field], text });
  const rate = figures.find((figure) => figure.name === 'rate');
  if (rate && record.volume && record.flow && !agrees(record.flow, rate.quantity)) {
    fails(
      'flow',
      `a flow of ${formatQuantity(record.flow)} is written, but ${rate.working} is ${shown(rate.quantity)}`,
    );
  }
  const number = record['unit-number'];
  if (number && context.unitNumber && number !== context.unitNumber) {
    fails('unit-number', `unit identity number ${number} is not the one of the job, ${context.unitNumber}`);
  }
  if (kind.counted === 'road-test' && record.codes && record.codes.length > 0) {
    fails('codes', `trouble codes came back: ${record.codes.join(', ')}`);
  }
  if (record.result === 'fail' && !kind['as-found']) fails('result', 'it says that it failed');
  return faults;
}

/** Whether a figure as typed is another one rounded to the decimals that were typed. */
function agrees(typed: Quantity, exact: Quantity): boolean {
  const places = typed.amount.toString().split('.')[1]?.length ?? 0;
  const half = dec(`0.${'0'.repeat(places)}5`);
  const low = { amount: typed.amount.minus(half), unit: typed.unit };
  const high = { amount: typed.amount.plus(half), unit: typed.unit };
  return compareQuantity(low, exact) <= 0 && compareQuantity(exact, high) <= 0;
}
