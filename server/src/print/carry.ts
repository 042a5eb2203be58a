/** A long table in leaves that each fit a page, with the total carried from one to the next. */
import { type Decimal, ZERO } from '../../../schemas/values/decimal.ts';
import type { Row, Table } from './doc.ts';

export interface Leaf {
  readonly brought?: Row | undefined;
  readonly rows: readonly Row[];
  readonly carried?: Row | undefined;
}

/** What a page holds, in lines of text. */
const PAGE = 36;
const NOTE_WIDTH = 78;

export function leavesOf(table: Table): readonly Leaf[] {
  const { carry, rows } = table;
  if (!carry) return [{ rows }];
  const leaves: { rows: Row[]; end: Decimal }[] = [{ rows: [], end: ZERO }];
  // The heading of the section stands above the first leaf.
  let used = 4;
  let running = ZERO;
  for (const [i, row] of rows.entries()) {
    const next = rows[i + 1];
    // A heading stays with what it heads.
    const needed = linesOf(row) + (row.as === 'group' && next ? linesOf(next) : 0);
    if (row.adds === undefined && row.as === 'subtotal' ? false : used + needed > PAGE) {
      leaves.push({ rows: [], end: running });
      used = 2;
    }
    leaves.at(-1)!.rows.push(row);
    used += linesOf(row);
    running = running.plus(row.adds ?? ZERO);
    leaves.at(-1)!.end = running;
  }
  const blank = table.columns.slice(2).map(() => '');
  const rowOf = (label: string, value: Decimal): Row => ({
    as: 'subtotal',
    cells: [label, ...blank, carry.money(value)],
  });
  return leaves.map((leaf, i) => ({
    brought: i > 0 ? rowOf(carry.brought, leaves[i - 1]!.end) : undefined,
    rows: leaf.rows,
    carried: i < leaves.length - 1 ? rowOf(carry.forward, leaf.end) : undefined,
  }));
}

function linesOf(row: Row): number {
  return 1.3 + (row.note ? Math.ceil(row.note.length / NOTE_WIDTH) * 0.9 : 0);
}
