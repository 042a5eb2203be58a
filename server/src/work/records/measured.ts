/** The measurements that a record holds, each judged by the limit of the unit family. */
import type { JobRecord } from '../../../../schemas/kinds/job.ts';
import type { Finding, RecordKind } from '../../../../schemas/kinds/rules.ts';
import type { Path } from '../../../../schemas/problem.ts';
import { compareQuantity, type Quantity } from '../../../../schemas/values/quantity.ts';
import { judge } from '../judge.ts';
import { unitFact } from '../limits.ts';
import type { Figure, RecordFault, Verdict } from '../model.ts';
import { readReading } from '../readings.ts';
import { nameOf, type RecordContext } from './context.ts';
import { fieldQuantity } from './fields.ts';
import { shown } from './figures.ts';

/** A measurement that a record holds. */
export interface RecordReading {
  readonly finding: string;
  readonly quantity: Quantity;
  readonly text: string;
  readonly path: Path;
  readonly verdict: Verdict;
}

export function measurementsOf(
  record: JobRecord,
  path: Path,
  kind: RecordKind,
  figures: readonly Figure[],
  context: RecordContext,
): { readings: RecordReading[]; faults: RecordFault[] } {
  const readings: RecordReading[] = [];
  const faults: RecordFault[] = [];
  const conditions = (key: string): Quantity | string | undefined => {
    if (context.finding(key))
      return record.at?.[key] ?? fieldQuantity(record, key) ?? record.measurements?.[key];
    return context.unit && unitFact(context.unit, key);
  };
  for (const id of new Set([...(kind.measures ?? []), ...Object.keys(record.measurements ?? {})])) {
    const finding = context.finding(id);
    if (!finding) continue;
    const typed = record.measurements?.[id];
    const found = typed === undefined ? fromFields(record, path, kind, finding, id, figures) : undefined;
    const read = typed === undefined ? undefined : readReading(finding, typed);
    const typedPath = [...path, 'measurements', id];
    if (read && !read.ok) faults.push({ sort: 'fails', path: typedPath, text: read.message });
    const quantity = read?.ok && read.value.kind === 'measurement' ? read.value.quantity : found?.quantity;
    if (!quantity) continue;
    const table = context.limitOf(id);
    const verdict: Verdict = table
      ? judge(table, quantity, conditions)
      : {
          judged: 'unjudged',
          why: 'no-limit',
          text: `${context.unit?.name ?? 'the unit family'} has no limit for it`,
        };
    readings.push({ finding: id, quantity, text: shown(quantity), path: found?.path ?? typedPath, verdict });
  }
  return { readings, faults };
}

/** A measurement that a field of the record already holds: the rate of a flow test, the temperature of a level check. */
function fromFields(
  record: JobRecord,
  path: Path,
  kind: RecordKind,
  finding: Finding,
  id: string,
  figures: readonly Figure[],
): { quantity: Quantity; path: Path } | undefined {
  const named = fieldQuantity(record, id);
  if (named && named.unit.dimension === finding.dimension) return { quantity: named, path: [...path, id] };
  if (kind.counted === 'flow-test' && finding.dimension === 'flow') {
    const rate = figures.find((figure) => figure.name === 'rate');
    return rate && { quantity: rate.quantity, path: [...path, record.volume ? 'volume' : 'flow'] };
  }
  if (kind.counted === 'level-check' && finding.dimension === 'temperature') {
    const temperature = record['fluid-temperature'];
    return temperature && { quantity: temperature, path: [...path, 'fluid-temperature'] };
  }
  return undefined;
}

export function outside(reading: RecordReading, kind: RecordKind, context: RecordContext): RecordFault[] {
  const { verdict } = reading;
  if (verdict.judged === 'normal' || verdict.why === 'no-limit') return [];
  const sort = verdict.why === 'condition-missing' ? 'unfilled' : 'fails';
  const text = `${nameOf(context, reading.finding)} of ${reading.text}: ${verdict.text}${levelHint(reading, kind)}`;
  return [{ sort, path: reading.path, text }];
}

/** Fluid grows with heat: a level set on hot fluid is low once it cools (and the other way round). */
function levelHint({ quantity, verdict }: RecordReading, kind: RecordKind): string {
  if (kind.counted !== 'level-check') return '';
  if (verdict.most && compareQuantity(quantity, verdict.most) > 0)
    return '. Set too hot, the unit is probably underfilled: check the level again inside the window';
  if (verdict.least && compareQuantity(quantity, verdict.least) < 0)
    return '. Set too cold, the unit is probably overfilled: check the level again inside the window';
  return '';
}
