/** What drain-and-fill leaves of the old fluid: each one changes only what comes out of the pan. */
import { type Decimal, ONE, ZERO } from '../../../../schemas/values/decimal.ts';
import { convert, type Quantity } from '../../../../schemas/values/quantity.ts';

/** Share of old fluid left after so many fills: (1 - drained/total)^fills. Undefined when more drains than there is. */
export function residual(drained: Quantity, total: Quantity, fills: number): Decimal | undefined {
  const shares = keptOf(drained, total);
  // Powers of whole and part, one division: nothing is rounded on the way.
  return shares?.kept.pow(fills).div(shares.whole.pow(fills));
}

const MOST_FILLS = 1000;

/** How many fills until no more than `share` of the old fluid is left; undefined when it never is. */
export function fillsFor(share: Decimal, drained: Quantity, total: Quantity): number | undefined {
  const shares = keptOf(drained, total);
  if (!shares) return undefined;
  let [kept, allowed] = [ONE, share];
  for (let fills = 0; fills <= MOST_FILLS; fills += 1) {
    if (kept.lte(allowed)) return fills;
    kept = kept.times(shares.kept);
    allowed = allowed.times(shares.whole);
  }
  return undefined;
}

function keptOf(drained: Quantity, total: Quantity): { kept: Decimal; whole: Decimal } | undefined {
  const whole = total.amount;
  const kept = whole.minus(convert(drained, total.unit).amount);
  return whole.gt(ZERO) && kept.gte(ZERO) && kept.lte(whole) ? { kept, whole } : undefined;
}
