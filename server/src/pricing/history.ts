/** Prices by the day they start. */
import type { Part } from '../../../schemas/kinds/parts.ts';
import { addDays, type IsoDate } from '../../../schemas/values/dates.ts';

type Dated = NonNullable<Part['prices']>[number];

/** Prices of a part in force on a day; what the history does not say is taken from the part itself. */
export function pricesOn(part: Part, on: IsoDate): Pick<Dated, 'cost' | 'list' | 'price' | 'core'> {
  const dated = part.prices && inForce(part.prices, on);
  if (!dated) return part;
  return {
    cost: dated.cost ?? part.cost,
    list: dated.list ?? part.list,
    price: dated.price ?? part.price,
    core: dated.core ?? part.core,
  };
}

/** The row that started last and has not ended. */
export function inForce(rows: readonly Dated[], on: IsoDate): Dated | undefined {
  let found: Dated | undefined;
  for (const row of rows) {
    if (row.from > on || (row.until !== undefined && row.until < on)) continue;
    if (!found || row.from > found.from) found = row;
  }
  return found;
}

/** When the nearest prices end and start around a day without one: for the message. */
export function around(
  part: Part,
  on: IsoDate,
): { readonly ended: IsoDate | undefined; readonly starts: IsoDate | undefined } {
  let ended: IsoDate | undefined;
  let starts: IsoDate | undefined;
  for (const { from, until } of part.prices ?? []) {
    if (until !== undefined && until < on && (ended === undefined || until > ended)) ended = until;
    if (from > on && (starts === undefined || from < starts)) starts = from;
  }
  return { ended, starts };
}

export interface Seam {
  readonly kind: 'gap' | 'overlap';
  /** Index of the later row. */
  readonly row: number;
  readonly first: IsoDate;
  readonly last: IsoDate;
}

/** Days that no row of a history covers, and days that two do. A row without an end runs until the next one starts. */
export function seams(rows: readonly Dated[]): Seam[] {
  const inOrder = rows
    .map((row, index) => ({ row, index }))
    .toSorted((a, b) => (a.row.from < b.row.from ? -1 : a.row.from > b.row.from ? 1 : a.index - b.index));
  const found: Seam[] = [];
  for (let at = 1; at < inOrder.length; at += 1) {
    const before = inOrder[at - 1]!.row;
    const { row, index } = inOrder[at]!;
    if (row.from === before.from) {
      found.push({ kind: 'overlap', row: index, first: row.from, last: before.until ?? row.from });
    } else if (before.until !== undefined && before.until >= row.from) {
      found.push({ kind: 'overlap', row: index, first: row.from, last: before.until });
    } else if (before.until !== undefined && addDays(before.until, 1) < row.from) {
      found.push({
        kind: 'gap',
        row: index,
        first: addDays(before.until, 1),
        last: addDays(row.from, -1),
      });
    }
  }
  return found;
}
