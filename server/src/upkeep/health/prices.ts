/** Prices that are missing, old, or below cost. */
import type { Operation } from '../../../../schemas/kinds/labor.ts';
import type { Part } from '../../../../schemas/kinds/parts.ts';
import { addMonths, type IsoDate } from '../../../../schemas/values/dates.ts';
import type { Book } from '../../book/book.ts';
import { pricesOn } from '../../pricing/history.ts';
import { type Finding, findingOn } from './finding.ts';

export function* neverPriced(book: Book): Generator<Finding> {
  for (const definition of book.registry.all('part')) {
    const part = definition.value as Part | undefined;
    if (part && !hasPrice(part)) yield findingOn('never-priced', definition, 'neither cost nor price');
  }
  for (const definition of book.registry.all('operation')) {
    const operation = definition.value as Operation | undefined;
    if (operation && !hasTime(operation))
      yield findingOn('never-priced', definition, 'neither hours nor a flat price');
  }
}

function hasPrice(part: Part): boolean {
  const { cost, list, price, prices, pack, contents } = part;
  if (part['kit-price'] === 'contents') return contents !== undefined;
  if (cost ?? list ?? price ?? pack?.cost) return true;
  return prices?.some((row) => row.cost ?? row.list ?? row.price) ?? false;
}

function hasTime(operation: Operation): boolean {
  const { hours, price, sublet, steps, adders, minimum } = operation;
  return (hours ?? operation['hours-by'] ?? price ?? sublet ?? steps ?? adders ?? minimum) !== undefined;
}

export function* pricedBelowCost(book: Book, on: IsoDate): Generator<Finding> {
  for (const definition of book.registry.all('part')) {
    const part = definition.value as Part | undefined;
    if (!part) continue;
    const { cost, price } = pricesOn(part, on);
    if (cost && price?.lt(cost))
      yield findingOn('below-cost', definition, `costs ${cost.toString()}, sold at ${price.toString()}`);
  }
}

/** By the last day on which a price of it starts. */
export function oldPrices(book: Book, on: IsoDate, months: number): { findings: Finding[]; undated: number } {
  const limit = addMonths(on, -months);
  const findings: Finding[] = [];
  let undated = 0;
  for (const definition of book.registry.all('part')) {
    const part = definition.value as Part | undefined;
    if (!part || part['kit-price'] === 'contents') continue;
    const last = part.prices
      ?.map(({ from }) => from)
      .sort()
      .at(-1);
    if (last === undefined) undated++;
    else if (last < limit) findings.push(findingOn('old-price', definition, `last priced ${last}`));
  }
  return { findings, undated };
}
