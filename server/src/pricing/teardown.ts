/** A teardown is a sale of its own: what it costs to open the unit, and what is owed if the owner then declines. */
import type { Catalog, Policy, Priced, Sale, SaleLine } from './model.ts';
import { price } from './price.ts';

export interface Teardown {
  /** Removal, teardown, and the parts that it destroys. */
  readonly lines: readonly SaleLine[];
  /** Reassembly and refitting. */
  readonly ifDeclined: readonly SaleLine[];
  /** The owner takes it apart: nothing is put together. */
  readonly inBoxes: boolean;
}

export interface PricedTeardown {
  readonly teardown: Priced;
  /** All of it, when the repair is declined afterwards. */
  readonly declined: Priced;
}

/**
 * Prices both ways out of a teardown. The lines of `sale` itself do not count, nor do its warranty and the cores that
 * came back: they belong to the repair.
 */
export function priceTeardown(sale: Sale, parts: Teardown, catalog: Catalog, policy: Policy): PricedTeardown {
  const opening: Sale = { ...sale, warranty: undefined, cores: undefined };
  const teardown = price({ ...opening, lines: parts.lines }, catalog, policy);
  if (parts.inBoxes || parts.ifDeclined.length === 0) return { teardown, declined: teardown };
  const declined = price({ ...opening, lines: [...parts.lines, ...parts.ifDeclined] }, catalog, policy);
  return { teardown, declined };
}
