/** Numbers that took the place of others: the chain is followed to its end, and every number kept. */
import type { Part } from '../../../schemas/kinds/parts.ts';
import type { IsoDate } from '../../../schemas/values/dates.ts';
import { type Decimal, ONE } from '../../../schemas/values/decimal.ts';
import type { Catalog } from './model.ts';

export interface Chain {
  /** The number that is sold. */
  readonly id: string;
  readonly part: Part;
  /** As written first, as sold last. */
  readonly numbers: readonly string[];
  /** How many as sold for one as written. */
  readonly factor: Decimal;
  /** What else changes with it: reprogramming, a bracket. */
  readonly needs: readonly string[];
  /** The chain comes back to a number that it has passed; the number as written is sold. */
  readonly cycle: boolean;
  /** A number of the chain is not in the book; the last known one is sold. */
  readonly broken: boolean;
}

/**
 * Follows a number to the one that is sold on a day. Undefined when the number itself is not in the book.
 *
 * @param kept numbers whose price is locked: the chain stops there, as it stood when the estimate was presented.
 */
export function chainOf(
  catalog: Pick<Catalog, 'part'>,
  written: string,
  on: IsoDate,
  kept: (id: string) => boolean = () => false,
): Chain | undefined {
  const first = catalog.part(written);
  if (!first) return undefined;
  let at = { id: written, part: first };
  let factor = ONE;
  const numbers = [written];
  const needs: string[] = [];
  for (;;) {
    const next = at.part['superseded-by'];
    if (!next || (next.from !== undefined && next.from > on) || kept(at.id))
      return { ...at, numbers, factor, needs, cycle: false, broken: false };
    if (numbers.includes(next.part)) {
      const chain = [...numbers, next.part];
      return { id: written, part: first, numbers: chain, factor: ONE, needs: [], cycle: true, broken: false };
    }
    const part = catalog.part(next.part);
    if (!part) return { ...at, numbers, factor, needs, cycle: false, broken: true };
    at = { id: next.part, part };
    factor = factor.times(next.quantity ?? ONE);
    numbers.push(next.part);
    if (next.needs !== undefined) needs.push(next.needs);
  }
}
