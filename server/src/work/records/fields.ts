/** The fields of a record, and the figures that its arithmetic adds to them. */
import { metaOf } from '../../../../schemas/declare.ts';
import { type JobRecord, jobRecord } from '../../../../schemas/kinds/job.ts';
import type { ARITHMETIC } from '../../../../schemas/kinds/rules.ts';
import { dec } from '../../../../schemas/values/decimal.ts';
import type { Quantity } from '../../../../schemas/values/quantity.ts';
import { type Dimension, unitById } from '../../../../schemas/values/units.ts';

export type Arithmetic = keyof typeof ARITHMETIC;

export const RECORD_FIELDS: ReadonlySet<string> = new Set(
  Object.keys(jobRecord.shape).filter((name) => name !== 'record'),
);

/** Fields that hold an amount, with what it measures. */
const MEASURED_FIELDS: ReadonlyMap<string, Dimension> = new Map(
  Object.entries(jobRecord.shape).flatMap(([name, schema]) => {
    const meta = metaOf(schema);
    const dimension = meta.scalar === 'count' ? 'count' : meta.dimension;
    return dimension ? [[name, dimension as Dimension] as const] : [];
  }),
);

export const FIGURES: Readonly<Record<Arithmetic, Readonly<Record<string, Dimension>>>> = {
  'pulsed-flush': { cycles: 'count', 'forward-volume': 'volume', turnovers: 'count' },
  'flow-test': { rate: 'flow' },
  'drain-and-fill': { residual: 'concentration' },
  'level-check': {},
  measurements: {},
  programming: {},
  'road-test': {},
};

/** What a field or figure of a kind of record measures; undefined for one it does not have. */
export function dimensionOf(name: string, counted: Arithmetic | undefined): Dimension | undefined {
  return MEASURED_FIELDS.get(name) ?? (counted && FIGURES[counted][name]);
}

/** Fields and figures that `least` and `most` can name. */
export function measurableNames(counted: Arithmetic | undefined): string[] {
  return [...MEASURED_FIELDS.keys(), ...Object.keys(counted ? FIGURES[counted] : {})];
}

export function fieldQuantity(record: JobRecord, name: string): Quantity | undefined {
  const value = MEASURED_FIELDS.has(name) ? record[name as keyof JobRecord] : undefined;
  if (typeof value === 'number') return { amount: dec(BigInt(value)), unit: unitById('times') };
  return value as Quantity | undefined;
}
