/** Limits of a unit family: tables whose first row that fits the conditions of a reading judges it. */

import type { Finding } from '../../../schemas/kinds/rules.ts';
import type { Limit, Unit, UnitFact } from '../../../schemas/kinds/units.ts';
import { round } from '../../../schemas/values/decimal.ts';
import {
  compareQuantity,
  convert,
  formatQuantity,
  parseQuantity,
  type Quantity,
} from '../../../schemas/values/quantity.ts';
import { formatRange, isWithin, parseRange, type Range } from '../../../schemas/values/range.ts';
import type { Verdict } from './model.ts';
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

/** The reading of a condition: a measurement, or a word; undefined when nobody has said. */
export type ConditionReading = (key: string) => Quantity | string | undefined;

/**
 * Judges a measurement by the first row whose conditions hold. A row that hangs on a reading nobody took stops the
 * search, because it might be the one that counts.
 */
export function judge(table: LimitTable, measured: Quantity, reading: ConditionReading): Verdict {
  if (table.faults.length > 0) {
    return { judged: 'unjudged', why: 'no-limit', text: 'its limit has a mistake and judges nothing' };
  }
  // A table printed in whole degrees is read in whole degrees, but only where no row holds as it stands.
  for (const matches of [holdsExactly, holdsAsPrinted]) {
    for (const row of table.rows) {
      const states = row.conditions.map((condition) => fitOf(condition, reading, matches));
      if (states.includes('fails')) continue;
      const missing = row.conditions.filter((_, index) => states[index] === 'unknown');
      if (missing.length > 0) {
        return {
          judged: 'unjudged',
          why: 'condition-missing',
          missing: missing.map((condition) => condition.key),
          text: `its limit depends on ${missing.map((condition) => condition.name.toLowerCase()).join(' and ')}, which is not written down`,
        };
      }
      return judgedBy(row, measured, table.source);
    }
  }
  return { judged: 'unjudged', why: 'not-testable', text: outsideText(table, reading) };
}

function judgedBy(row: LimitRow, measured: Quantity, source: string | undefined): Verdict {
  const low = row.least && compareQuantity(measured, row.least) < 0;
  const high = row.most && compareQuantity(measured, row.most) > 0;
  const at = row.conditions.map(conditionText).join(', ');
  const bounds = [
    row.least && `at least ${formatQuantity(row.least)}`,
    row.most && `at most ${formatQuantity(row.most)}`,
  ];
  const limit = bounds.filter(Boolean).join(' and ') || 'any reading';
  return {
    judged: low || high ? 'beyond' : 'normal',
    text: `${low ? 'below the limit, ' : high ? 'above the limit, ' : ''}${limit}${at ? ` (${at})` : ''}${source ? `; ${source}` : ''}`,
    least: row.least,
    most: row.most,
  };
}

function conditionText(condition: RowCondition): string {
  const value = 'range' in condition ? formatRange(condition.range) : condition.word;
  return `${condition.name.toLowerCase()} ${value}`;
}

type Fit = (reading: Quantity, condition: Ranged) => boolean;
type Ranged = Extract<RowCondition, { range: Range }>;

function fitOf(
  condition: RowCondition,
  reading: ConditionReading,
  matches: Fit,
): 'holds' | 'fails' | 'unknown' {
  const value = reading(condition.key);
  if (value === undefined) return 'unknown';
  if ('word' in condition) {
    return typeof value === 'string' && value.trim().toLowerCase() === condition.word ? 'holds' : 'fails';
  }
  const quantity = typeof value === 'string' ? readInRange(value, condition.range) : value;
  if (!quantity) return 'unknown';
  return matches(quantity, condition) ? 'holds' : 'fails';
}

function readInRange(text: string, range: Range): Quantity | undefined {
  const dimension = (range.low ?? range.high)!.unit.dimension;
  const read = parseQuantity(text, dimension);
  return read.ok ? read.value : undefined;
}

const holdsExactly: Fit = (reading, { range }) => isWithin(reading, range);

const holdsAsPrinted: Fit = (reading, { range, places }) => {
  const { unit } = (range.low ?? range.high)!;
  return isWithin({ amount: round(convert(reading, unit).amount, places), unit }, range);
};

function outsideText(table: LimitTable, reading: ConditionReading): string {
  const inReach = table.rows.filter((row) =>
    row.conditions.every(
      (condition) => 'range' in condition || fitOf(condition, reading, holdsExactly) === 'holds',
    ),
  );
  const spans = new Map<string, { name: string; range: Range }>();
  for (const condition of inReach.flatMap((row) => row.conditions)) {
    if (!('range' in condition)) continue;
    const { low, high } = condition.range;
    const so = spans.get(condition.key)?.range ?? condition.range;
    spans.set(condition.key, {
      name: condition.name.toLowerCase(),
      range: {
        low: so.low && low && (compareQuantity(low, so.low) < 0 ? low : so.low),
        high: so.high && high && (compareQuantity(high, so.high) > 0 ? high : so.high),
      },
    });
  }
  const covered = [...spans].map(([key, { name, range }]) => {
    const value = reading(key);
    const at =
      value === undefined ? '' : `, not ${typeof value === 'string' ? value : formatQuantity(value)}`;
    return `${name} ${formatRange(range)}${at}`;
  });
  return covered.length > 0
    ? `not testable: its limit covers ${covered.join('; ')}`
    : 'not testable: no row of its limit covers this unit';
}
