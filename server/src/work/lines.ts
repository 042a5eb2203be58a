/** What a line of a job is to the rules: the roles it fills and the work it does. */
import type { FillLine, Line, OperationLine, PartLine, TemplateLine } from '../../../schemas/kinds/lines.ts';
import type { Part } from '../../../schemas/kinds/parts.ts';
import type { Condition } from '../../../schemas/kinds/shared.ts';
import type { Path } from '../../../schemas/problem.ts';
import { type Decimal, dec, ONE, ZERO } from '../../../schemas/values/decimal.ts';
import type { Catalog, Doing, Fills, WorkLine } from './model.ts';

type Entries = Pick<Catalog, 'part' | 'operation'>;

/** What pricing knows of a line. A fluid filled by capacity has no quantity until it is priced. */
export type Priced = Pick<WorkLine, 'each' | 'amount' | 'core' | 'hours'> & {
  readonly quantity?: Decimal | undefined;
};

/** The roles that so many of a part fill: its own, and those of what its kit holds, kits in kits included. */
export function fillsOfPart(entries: Entries, id: string, quantity: Decimal, stated?: Condition): Fills[] {
  return partFills(entries, id, quantity, stated, []);
}

function partFills(
  entries: Entries,
  id: string,
  quantity: Decimal,
  stated: Condition | undefined,
  inside: readonly string[],
): Fills[] {
  const part = entries.part(id);
  if (!part || inside.includes(id)) return [];
  const how = inside.length > 0 ? 'contains' : 'itself';
  const condition = stated ?? part.condition;
  const fills: Fills[] = [];
  const role = roleOf(entries, part);
  if (role) fills.push({ role, quantity: quantity.times(piecesIn(part)), condition, how, via: id });
  for (const content of part.contents ?? []) {
    const count = quantity.times(content.quantity ?? ONE);
    if (content.part) {
      const own = entries.part(content.part)?.condition;
      fills.push(...partFills(entries, content.part, count, own ?? condition, [...inside, id]));
    } else if (content.role) {
      fills.push({ role: content.role, quantity: count, condition, how: 'contains', via: id });
    }
  }
  return fills;
}

/** A number that has been superseded is what its successor is. */
function roleOf(entries: Entries, part: Part): string | undefined {
  const seen = new Set<Part>();
  for (let at: Part | undefined = part; at && !seen.has(at); ) {
    if (at.role) return at.role;
    seen.add(at);
    const next: string | undefined = at['superseded-by']?.part;
    at = next === undefined ? undefined : entries.part(next);
  }
  return undefined;
}

/** How many single pieces one as sold is: a pair of seals fills the role of a seal twice. */
function piecesIn(part: Part): Decimal {
  if (part.holds !== undefined) return dec(BigInt(part.holds));
  return part.unit?.pieces ?? ONE;
}

/** An operation and everything it includes, itself first. */
export function doingsOf(entries: Entries, id: string): Doing[] {
  const doings: Doing[] = [];
  const seen = new Set<string>();
  const visit = (operation: string): void => {
    const entry = entries.operation(operation);
    if (!entry || seen.has(operation)) return;
    seen.add(operation);
    doings.push({ operation, work: entry.work, how: operation === id ? 'itself' : 'includes' });
    entry.includes?.forEach(visit);
  };
  visit(id);
  return doings;
}

/** The roles that an operation fills, with those of the operations it includes. */
export function fillsOfOperation(entries: Entries, id: string, times: Decimal = ONE): Fills[] {
  return doingsOf(entries, id).flatMap(({ operation, how }) => {
    const role = entries.operation(operation)?.role;
    return role ? [{ role, quantity: times, how, via: operation }] : [];
  });
}

/** A line of a job as the check sees it. Templates are unfolded before. */
export function workLine(
  path: Path,
  line: Exclude<Line, TemplateLine>,
  entries: Entries,
  priced: Priced = {},
): WorkLine {
  const { quantity, ...money } = priced;
  const common = {
    path,
    for: line.for,
    say: line.say,
    optional: line.optional,
    ...money,
  };
  if ('fill' in line || 'part' in line) return partWorkLine(common, line, entries, quantity);
  if ('operation' in line) return operationWorkLine(common, line, entries, quantity);
  if ('fee' in line) {
    return {
      ...common,
      sort: 'fee',
      id: line.fee,
      name: line.fee,
      fills: [],
      does: [],
      quantity: line.quantity ?? ONE,
    };
  }
  const sort = 'sublet' in line ? 'sublet' : 'other';
  const name = 'sublet' in line ? line.sublet : line.other;
  const count = quantity ?? ('other' in line ? line.quantity : undefined) ?? ONE;
  const fills: Fills[] = line.role
    ? [{ role: line.role, quantity: count, condition: line.condition, how: 'itself', via: name }]
    : [];
  return { ...common, sort, name, fills, does: [], condition: line.condition, quantity: count };
}

type Common = Pick<WorkLine, 'path' | 'for' | 'say' | 'optional'> & Omit<Priced, 'quantity'>;

function partWorkLine(
  common: Common,
  line: FillLine | PartLine,
  entries: Entries,
  priced: Decimal | undefined,
): WorkLine {
  const part = entries.part(line.part);
  const stated = 'condition' in line ? line.condition : undefined;
  const quantity = priced ?? ('quantity' in line ? line.quantity : undefined) ?? ONE;
  return {
    ...common,
    sort: 'fill' in line ? 'fill' : 'part',
    id: line.part,
    name: part?.name ?? line.part,
    fills: fillsOfPart(entries, line.part, quantity, stated),
    does: [],
    condition: stated ?? part?.condition,
    quantity,
    sellingUnit: part?.unit,
    loss: 'fill' in line ? line.loss : undefined,
    supplied: 'supplied' in line ? line.supplied : undefined,
  };
}

function operationWorkLine(
  common: Common,
  line: OperationLine,
  entries: Entries,
  priced: Decimal | undefined,
): WorkLine {
  const quantity = priced ?? line.quantity ?? ONE;
  return {
    ...common,
    sort: 'operation',
    id: line.operation,
    name: entries.operation(line.operation)?.name ?? line.operation,
    fills: fillsOfOperation(entries, line.operation, quantity),
    does: quantity.gt(ZERO) ? doingsOf(entries, line.operation) : [],
    quantity,
  };
}
