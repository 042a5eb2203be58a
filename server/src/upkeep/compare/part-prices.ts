/** What differs in the prices of a part: its own, and those that start on a day. */
import type { Part } from '../../../../schemas/kinds/parts.ts';
import type { Decimal } from '../../../../schemas/values/decimal.ts';
import { pricesOn } from '../../pricing/history.ts';

export const PRICES = {
  cost: 'Cost',
  list: 'List price',
  price: 'Fixed price',
  core: 'Core charge',
} as const;
type Price = keyof typeof PRICES;
const NAMES = Object.keys(PRICES) as Price[];

export interface PriceChange {
  readonly id: string;
  readonly name: string;
  /** `Cost`, `Cost from 2026-05-01`. */
  readonly what: string;
  readonly was: Decimal | undefined;
  readonly now: Decimal | undefined;
}

export function priceChanges(id: string, before: Part, after: Part): PriceChange[] {
  const change = (what: string, was: Decimal | undefined, now: Decimal | undefined): PriceChange[] =>
    same(was, now) ? [] : [{ id, name: after.name, what, was, now }];
  const own = NAMES.flatMap((name) => change(PRICES[name], before[name], after[name]));
  const pack = change('Cost of a pack', before.pack?.cost, after.pack?.cost);
  const days = new Set([...(before.prices ?? []), ...(after.prices ?? [])].map(({ from }) => from));
  const dated = [...days].sort().flatMap((day) => {
    const rowOf = (part: Part) => part.prices?.find(({ from }) => from === day);
    const [was, now] = [rowOf(before), rowOf(after)];
    return NAMES.flatMap((name) => {
      const title = `${PRICES[name]} from ${day}`;
      if (was && now) return change(title, was[name], now[name]);
      // A new day is held against what would have been in force on it.
      if (now) return now[name] === undefined ? [] : change(title, pricesOn(before, day)[name], now[name]);
      return was?.[name] === undefined ? [] : change(title, was[name], pricesOn(after, day)[name]);
    });
  });
  return [...own, ...pack, ...dated];
}

function same(a: Decimal | undefined, b: Decimal | undefined): boolean {
  return a === undefined || b === undefined ? a === b : a.eq(b);
}

/** Fields of a part that `priceChanges` tells. */
export function isPriceField([first, second]: readonly string[]): boolean {
  return (
    first !== undefined && (first in PRICES || first === 'prices' || (first === 'pack' && second === 'cost'))
  );
}
