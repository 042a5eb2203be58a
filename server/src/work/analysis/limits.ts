/** Limits of unit families: values that cannot be read, rows that are never reached, holes and overlaps. */
import type { Finding } from '../../../../schemas/kinds/rules.ts';
import { type Limit, UNIT_FACTS, type Unit } from '../../../../schemas/kinds/units.ts';
import { type Decimal, dec, ONE } from '../../../../schemas/values/decimal.ts';
import { compareQuantity, convert, type Quantity } from '../../../../schemas/values/quantity.ts';
import { formatRange, type Range } from '../../../../schemas/values/range.ts';
import { append } from '../facts.ts';
import { type LimitRow, type RowCondition, readLimit } from '../limits.ts';
import { type EntryProblem, problemsOf } from './model.ts';

export function limitTables(
  units: Iterable<readonly [string, Unit]>,
  findings: ReadonlyMap<string, Finding>,
): EntryProblem[] {
  return [...units].flatMap(([id, unit]) =>
    Object.entries(unit.limits ?? {}).flatMap(([key, limit]) => {
      const finding = findings.get(key);
      return finding ? tableProblems(id, unit, key, limit, finding, findings) : [];
    }),
  );
}

function tableProblems(
  id: string,
  unit: Unit,
  key: string,
  limit: Limit,
  finding: Finding,
  findings: ReadonlyMap<string, Finding>,
): EntryProblem[] {
  const problem = problemsOf('unit', id);
  const rowAt = (index: number) => ['limits', key, 'rows', index];
  const table = readLimit(limit, finding, (one) => findings.get(one));
  const problems = table.faults.map((fault) =>
    problem('limit-value', 'error', [...rowAt(fault.row), ...fault.field], fault.message),
  );
  for (const [index, row] of table.rows.entries()) {
    if (!row.least && !row.most && !table.faults.some((fault) => fault.row === index)) {
      problems.push(
        problem(
          'limit-without-bound',
          'warning',
          rowAt(index),
          'This row has neither a least nor a most, so every reading passes.',
        ),
      );
    }
    for (const condition of row.conditions) {
      const message = unsaidFact(condition, unit, findings);
      if (message)
        problems.push(
          problem('limit-fact-unsaid', 'warning', [...rowAt(index), 'when', condition.key], message),
        );
    }
    const covering = table.rows.slice(0, index).findIndex((earlier) => covers(earlier, row));
    if (covering >= 0) {
      const message = `Row ${covering + 1} already covers everything that this row does, so it is never reached.`;
      problems.push(problem('limit-row-unreachable', 'warning', rowAt(index), message));
    } else {
      const overlapping = table.rows.slice(0, index).findIndex((earlier) => clashes(earlier, row));
      if (overlapping >= 0) {
        const message = `This row overlaps row ${overlapping + 1} and has another limit; the earlier row counts where both hold.`;
        problems.push(problem('limit-overlap', 'warning', rowAt(index), message));
      }
    }
  }
  return [
    ...problems,
    ...holes(table.rows).map(({ row, text }) => problem('limit-hole', 'warning', rowAt(row), text)),
  ];
}

/** A row that asks for a fact which the family does not tell can never be judged. */
function unsaidFact(
  condition: RowCondition,
  unit: Unit,
  findings: ReadonlyMap<string, Finding>,
): string | undefined {
  const { key } = condition;
  if (findings.has(key)) return undefined;
  const isCooler = key === 'cooler-material' || key === 'cooler-kind' || key === 'thermal-bypass';
  if (isCooler && !unit.cooler)
    return `${unit.name} does not describe its cooler, so this row is never judged. Write \`cooler\`.`;
  if (key === 'converter-lining' && !unit['converter-lining'])
    return `${unit.name} does not say its converter lining, so this row is never judged. Write \`converter-lining\`.`;
  if (!(key in UNIT_FACTS) && 'word' in condition && condition.word !== 'yes' && condition.word !== 'no')
    return `${key} is a trait: a unit has it or not. Write yes or no.`;
  return undefined;
}

/** Whether a row holds wherever a later one does. */
function covers(earlier: LimitRow, later: LimitRow): boolean {
  return earlier.conditions.every((condition) =>
    later.conditions.some((other) => other.key === condition.key && contains(condition, other)),
  );
}

function contains(a: RowCondition, b: RowCondition): boolean {
  if ('word' in a || 'word' in b) return 'word' in a && 'word' in b && a.word === b.word;
  const lowFits =
    !a.range.low || (b.range.low !== undefined && compareQuantity(a.range.low, b.range.low) <= 0);
  const highFits =
    !a.range.high || (b.range.high !== undefined && compareQuantity(a.range.high, b.range.high) >= 0);
  return lowFits && highFits;
}

/** Whether two rows can hold of one reading, by more than a shared end, and judge it differently. */
function clashes(a: LimitRow, b: LimitRow): boolean {
  const keys = a.conditions.map((condition) => condition.key);
  // A row with more conditions than a later one is an exception to it, which is what the order of rows is for.
  if (keys.length !== b.conditions.length || !b.conditions.every((condition) => keys.includes(condition.key)))
    return false;
  const meet = a.conditions.every((condition) => {
    const other = b.conditions.find((one) => one.key === condition.key)!;
    if ('word' in condition || 'word' in other)
      return 'word' in condition && 'word' in other && condition.word === other.word;
    return overlap(condition.range, other.range);
  });
  return meet && !(same(a.least, b.least) && same(a.most, b.most));
}

function overlap(a: Range, b: Range): boolean {
  const startsBefore = (low: Quantity | undefined, high: Quantity | undefined) =>
    !low || !high || compareQuantity(low, high) < 0;
  return startsBefore(a.low, b.high) && startsBefore(b.low, a.high);
}

function same(a: Quantity | undefined, b: Quantity | undefined): boolean {
  return a && b ? compareQuantity(a, b) === 0 : a === b;
}

interface Ranged {
  readonly index: number;
  readonly name: string;
  readonly range: Range;
  readonly step: Decimal;
}

interface Hole {
  readonly row: number;
  readonly text: string;
}

/** Gaps between the ranges of rows that otherwise ask for the same; one step of the printed figures is no gap. */
function holes(rows: readonly LimitRow[]): Hole[] {
  const groups = new Map<string, Ranged[]>();
  for (const [index, row] of rows.entries()) {
    const ranged = row.conditions.filter((condition) => 'range' in condition);
    const [first] = ranged;
    if (ranged.length !== 1 || !first) continue;
    const words = row.conditions
      .filter((condition) => 'word' in condition)
      .map((one) => `${one.key}=${one.word}`);
    const key = [first.key, ...words.toSorted()].join(' ');
    const name = first.name.toLowerCase();
    append(groups, key, { index, name, range: first.range, step: stepOf(first.places) });
  }
  return [...groups.values()].flatMap((group) => {
    const ordered = group.toSorted((a, b) => byLow(a.range, b.range));
    const found: Hole[] = [];
    let reach: Range | undefined;
    for (const { index, name, range, step } of ordered) {
      if (reach?.high && range.low && isGap(reach, range, step)) {
        const text = `There is no row between ${name} ${formatRange(reach)} and ${formatRange(range)}: a reading there cannot be judged.`;
        found.push({ row: index, text });
      }
      if (!reach || !range.high || (reach.high && compareQuantity(range.high, reach.high) > 0)) reach = range;
    }
    return found;
  });
}

function byLow(a: Range, b: Range): number {
  if (!a.low || !b.low) return Number(Boolean(a.low)) - Number(Boolean(b.low));
  return compareQuantity(a.low, b.low);
}

function isGap(before: Range, after: Range, step: Decimal): boolean {
  const high = before.high!;
  return convert(after.low!, high.unit).amount.minus(high.amount).gt(step);
}

/** The least difference between two figures as printed: 1 for whole degrees, 0.1 for tenths. */
function stepOf(places: number): Decimal {
  return ONE.div(dec('10').pow(places));
}
