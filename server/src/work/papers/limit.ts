/** How far a bill may go over its estimate without new consent. What a place allows is data of its jurisdiction. */
import type { Jurisdiction } from '../../../../schemas/kinds/jurisdiction.ts';
import { type Decimal, greatest, least, ZERO } from '../../../../schemas/values/decimal.ts';
import { formatPercent } from '../../../../schemas/values/percent.ts';

export type ConsentRule = NonNullable<Jurisdiction['authorization']>;

export interface Limit {
  /** The most that may be charged; undefined where jobs of this size are free of any limit. Not rounded. */
  readonly most: Decimal | undefined;
  readonly excess: Decimal;
  /** How the limit came about: `10% or 50.00, the smaller`. */
  readonly text: string;
}

/**
 * The limit over an estimate, both as the rule compares them (with or without tax). A rule with neither percent nor
 * amount allows no excess.
 */
export function limitOver(rule: ConsentRule, estimate: Decimal, itemised: boolean): Limit {
  const free = rule['applies-above'];
  if (free && estimate.lte(free)) {
    return { most: undefined, excess: ZERO, text: `jobs up to ${free} are free of a limit` };
  }
  if (rule['itemised-only'] && !itemised) {
    return { most: estimate, excess: ZERO, text: 'an estimate that is not itemised has no margin' };
  }
  const share = rule.percent && estimate.times(rule.percent);
  const asPercent = rule.percent && formatPercent(rule.percent);
  const amount = rule.amount;
  let excess = share ?? amount ?? ZERO;
  let text = asPercent ?? amount?.toString() ?? 'nothing over it';
  if (share && amount) {
    const larger = rule.pick === 'larger';
    excess = larger ? greatest(share, amount) : least(share, amount);
    text = `${asPercent} or ${amount}, the ${larger ? 'larger' : 'smaller'}`;
  }
  if (rule.cap && excess.gt(rule.cap)) {
    excess = rule.cap;
    text = `${text}, but no more than ${rule.cap}`;
  }
  return { most: estimate.plus(excess), excess, text };
}

/** Whether a charge needs consent beyond the estimate it was given for. */
export function needsConsent(
  rule: ConsentRule,
  estimate: Decimal,
  charge: Decimal,
  itemised = true,
): boolean {
  const { most } = limitOver(rule, estimate, itemised);
  return most !== undefined && charge.gt(most);
}
