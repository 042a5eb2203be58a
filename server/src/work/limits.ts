/** Limits of a unit family: tables whose first row that fits the conditions of a reading judges it. */
import type { Finding } from '../../../schemas/kinds/rules.ts';
import type { Limit, Unit, UnitFact } from '../../../schemas/kinds/units.ts';
import { compareQuantity, parseQuantity, type Quantity } from '../../../schemas/values/quantity.ts';
import { parseRange, type Range } from '../../../schemas/values/range.ts';
import { readReading } from './readings.ts';

export interface LimitTable {
  readonly rows: readonly LimitRow[];
  readonly source?: string | undefined;
  /** Rows that could not be read; a table with a mistake judges nothing. */
  readonly faults: readonly LimitFault[];
}

export interface LimitFault {
  readonly row: number;
  readonly field: readonly string[];
  readonly message: string;
}

export interface LimitRow {
  readonly conditions: readonly RowCondition[];
  readonly least?: Quantity | undefined;
  readonly most?: Quantity | undefined;
}

export type RowCondition = {
  readonly key: string;
  readonly name: string;
} /** `places`: how many decimals the ranges of this key are printed with in the table. */ & (
  | { readonly range: Range; readonly places: number }
  | { readonly word: string }
);

type Lookup = (id: string) => Finding | undefined;

export function readLimit(limit: Limit, finding: Finding, lookup: Lookup): LimitTable {
  const faults: LimitFault[] = [];
  const rows = limit.rows.map((row, index): LimitRow => {
    const bound = (field: 'least' | 'most'): Quantity | undefined => {
      const text = row[field];
      if (text === undefined) return undefined;
      const read = readReading(finding, text);
      if (read.ok && read.value.kind === 'measurement') return read.value.quantity;
      const message = read.ok ? `${finding.name} is not a measurement, so it has no limit.` : read.message;
      faults.push({ row: index, field: [field], message });
      return undefined;
    };
    const conditions = Object.entries(row.when ?? {}).flatMap(([key, text]) => {
      const read = readCondition(key, text, lookup);
      if (typeof read !== 'string') return [read];
      faults.push({ row: index, field: ['when', key], message: read });
      return [];
    });
    const least = bound('least');
    const most = bound('most');
    if (least && most && compareQuantity(least, most) > 0) {
      faults.push({ row: index, field: ['least'], message: 'The least is more than the most.' });
    }
    return { conditions, least, most };
  });
  return { rows: withPlaces(rows), source: limit.source, faults };
}

/** A table is printed to one precision: the finest figure of a key tells it for all rows. */
function withPlaces(rows: readonly LimitRow[]): LimitRow[] {
  const places = new Map<string, number>();
  const conditions = rows.flatMap((row) => row.conditions);
  for (const condition of conditions) {
    if ('range' in condition) {
      places.set(condition.key, Math.max(condition.places, places.get(condition.key) ?? 0));
    }
  }
  return rows.map((row) => ({
    ...row,
    conditions: row.conditions.map((one) =>
      'range' in one ? { ...one, places: places.get(one.key)! } : one,
    ),
  }));
}

function placesOf({ low, high }: Range): number {
  const ends = [low, high].filter((end) => end !== undefined);
  return Math.max(...ends.map((end) => end.amount.toString().split('.')[1]?.length ?? 0));
}

function readCondition(key: string, text: string, lookup: Lookup): RowCondition | string {
  const finding = lookup(key);
  const name = finding?.name ?? key.replaceAll('-', ' ');
  if (finding?.kind !== 'measurement') {
    if (finding) {
      const read = readReading(finding, text);
      if (!read.ok) return read.message;
    }
    return { key, name, word: text.trim().toLowerCase() };
  }
  if (!finding.dimension) return `${finding.name} does not say what it measures: give it a dimension.`;
  const ranged = (range: Range) => ({ key, name, range, places: placesOf(range) });
  if (text.includes('..')) {
    const range = parseRange(text, finding.dimension);
    return range.ok ? ranged(range.value) : range.message;
  }
  const exact = parseQuantity(text, finding.dimension);
  return exact.ok ? ranged({ low: exact.value, high: exact.value }) : exact.message;
}

/** What the family itself is, for a row that asks; undefined when its entry does not say. Anything else is a trait. */
export function unitFact(unit: Unit, key: string): string | undefined {
  const facts: Record<UnitFact, string | undefined> = {
    'cooler-material': unit.cooler?.material,
    'cooler-kind': unit.cooler?.kind,
    'thermal-bypass': unit.cooler && (unit.cooler.bypass ? 'yes' : 'no'),
    'converter-lining': unit['converter-lining'],
    layout: unit.layout,
  };
  if (Object.hasOwn(facts, key)) return facts[key as UnitFact];
  return unit.traits?.includes(key) ? 'yes' : 'no';
}
