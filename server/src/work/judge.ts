/** A measurement against the limit of its unit family: the first row that fits its conditions judges it. */
import { round } from '../../../schemas/values/decimal.ts';
import {
  compareQuantity,
  convert,
  formatQuantity,
  parseQuantity,
  type Quantity,
} from '../../../schemas/values/quantity.ts';
import { formatRange, isWithin, type Range } from '../../../schemas/values/range.ts';
import type { LimitRow, LimitTable, RowCondition } from './limits.ts';
import type { Verdict } from './model.ts';

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
  const taken = eachOnce(reading, table);
  // A table printed in whole degrees is read in whole degrees, but only where no row holds as it stands.
  for (const matches of [holdsExactly, holdsAsPrinted]) {
    for (const row of table.rows) {
      const open = openConditions(row, taken, matches);
      if (open === undefined) continue;
      if (open.length === 0) return judgedBy(row, measured, table.source);
      const names = open.map((condition) => condition.name.toLowerCase()).join(' and ');
      return {
        judged: 'unjudged',
        why: 'condition-missing',
        missing: open.map((condition) => condition.key),
        text: `its limit depends on ${names}, which is not written down`,
      };
    }
  }
  return { judged: 'unjudged', why: 'not-testable', text: outsideText(table, taken) };
}

/** Conditions of a row that nobody has taken; undefined when one of the others fails. */
function openConditions(row: LimitRow, reading: ConditionReading, matches: Fit): RowCondition[] | undefined {
  const open: RowCondition[] = [];
  for (const condition of row.conditions) {
    const fit = fitOf(condition, reading, matches);
    if (fit === 'fails') return undefined;
    if (fit === 'unknown') open.push(condition);
  }
  return open;
}

/** Each reading is asked for and read once, though every row looks at it. */
function eachOnce(reading: ConditionReading, table: LimitTable): ConditionReading {
  const taken = new Map<string, Quantity | string | undefined>();
  for (const condition of table.rows.flatMap((row) => row.conditions)) {
    if (taken.has(condition.key)) continue;
    const value = reading(condition.key);
    const read =
      'range' in condition && typeof value === 'string' ? readInRange(value, condition.range) : value;
    taken.set(condition.key, read);
  }
  return (key) => taken.get(key);
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
  if (typeof value === 'string') return 'fails';
  return matches(value, condition) ? 'holds' : 'fails';
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
