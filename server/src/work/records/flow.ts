/** Rate of flow from a timed volume. */
import { dec, ZERO } from '../../../../schemas/values/decimal.ts';
import { convert, type Quantity } from '../../../../schemas/values/quantity.ts';
import { unitById } from '../../../../schemas/values/units.ts';

/** Volume over time, per minute: 1 qt in 20 s is 0.75 gal/min. Undefined when no time passed. */
export function flowRate(volume: Quantity, duration: Quantity): Quantity | undefined {
  const seconds = convert(duration, unitById('s')).amount;
  if (!seconds.gt(ZERO)) return undefined;
  const [volumeUnit, flowUnit] = METRIC.has(volume.unit.id) ? ['L', 'L/min'] : ['gal', 'gal/min'];
  const amount = convert(volume, unitById(volumeUnit!)).amount.times(dec('60')).div(seconds);
  return { amount, unit: unitById(flowUnit!) };
}

const METRIC: ReadonlySet<string> = new Set(['L', 'mL', 'cc']);
