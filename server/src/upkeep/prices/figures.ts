/** The figures of a part that are in force on a day, and where each is written. */
import type { Part } from '../../../../schemas/kinds/parts.ts';
import type { Path } from '../../../../schemas/problem.ts';
import type { IsoDate } from '../../../../schemas/values/dates.ts';
import type { Decimal } from '../../../../schemas/values/decimal.ts';
import type { SellingUnit } from '../../../../schemas/values/selling.ts';
import { inForce } from '../../pricing/history.ts';
import type { Figure, PriceRow } from './intake.ts';

export interface Written {
  readonly value: Decimal | undefined;
  /** Below the part's entry. */
  readonly path: Path;
}

/** Where a figure stands that counts on a day; where it belongs, when there is none. */
export function figureOf(part: Part, figure: Figure, on: IsoDate): Written {
  const row = rowInForce(part, on);
  const dated = row === undefined ? undefined : part.prices![row]![figure];
  if (dated !== undefined) return { value: dated, path: ['prices', row!, figure] };
  return { value: part[figure], path: [figure] };
}

/** Index in the history of the prices in force on a day. */
export function rowInForce({ prices = [] }: Part, on: IsoDate): number | undefined {
  const row = inForce(prices, on);
  return row && prices.indexOf(row);
}

/** How a row of the supplier counts beside how the book does. */
export type Measure =
  | { readonly as: 'sold' }
  /** The row prices a whole pack: only its cost can be held against the book. */
  | { readonly as: 'pack' }
  | { readonly as: 'other'; readonly book: SellingUnit; readonly file: SellingUnit };

export function measureOf(part: Part, row: PriceRow, each: SellingUnit): Measure {
  const { pack } = part;
  const sold = part.unit ?? each;
  const packed = pack?.cost !== undefined && part.cost === undefined;
  if (row.unit === undefined) return { as: packed ? 'pack' : 'sold' };
  if (pack && row.unit === pack.unit && (packed || row.unit !== sold))
    return pack.cost === undefined ? { as: 'other', book: sold, file: row.unit } : { as: 'pack' };
  if (row.unit !== sold || packed) return { as: 'other', book: packed ? pack.unit : sold, file: row.unit };
  return { as: 'sold' };
}
