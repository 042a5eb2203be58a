/** A pulsed cooler flush: forward for some seconds, backward for some, over and over. */

import { type Decimal, dec, ZERO } from '../../../../schemas/values/decimal.ts';
import type { Quantity } from '../../../../schemas/values/quantity.ts';
import { convert } from '../../../../schemas/values/quantity.ts';
import { unitById } from '../../../../schemas/values/units.ts';

export interface PulsedFlush {
  readonly duration: Quantity;
  readonly forward: Quantity;
  readonly reverse: Quantity;
  readonly flow: Quantity;
}

export interface FlushFigures {
  readonly cycles: Quantity;
  /** What was pushed through in the forward direction. */
  readonly forwardVolume: Quantity;
  /** How often that fills cooler and lines; undefined without their capacity. */
  readonly turnovers: Quantity | undefined;
}

const SECONDS_A_MINUTE = dec('60');

/**
 * cycles = duration / (forward + reverse); forward volume = cycles x forward x flow; turnovers = forward volume /
 * capacity of cooler and lines. Undefined when a cycle takes no time or the circuit holds nothing.
 */
export function flushFigures(flush: PulsedFlush, capacity: Quantity | undefined): FlushFigures | undefined {
  const { duration, forward, cycle, perMinute } = inSecondsAndLiters(flush);
  if (!cycle.gt(ZERO)) return undefined;
  // Products first: one division at the end keeps a figure that comes out even exact.
  const pushed = duration.times(forward).times(perMinute);
  const per = cycle.times(SECONDS_A_MINUTE);
  const circuit = capacity && convert(capacity, unitById('L')).amount;
  return {
    cycles: { amount: duration.div(cycle), unit: unitById('times') },
    forwardVolume: convert(
      { amount: pushed.div(per), unit: unitById('L') },
      capacity?.unit ?? unitById('qt'),
    ),
    turnovers: circuit?.gt(ZERO)
      ? { amount: pushed.div(per.times(circuit)), unit: unitById('times') }
      : undefined,
  };
}

/** How long such a flush has to run for so many turnovers; undefined when nothing ever moves. */
export function timeForTurnovers(
  flush: PulsedFlush,
  capacity: Quantity,
  turnovers: Decimal,
): Quantity | undefined {
  const { forward, cycle, perMinute } = inSecondsAndLiters(flush);
  const pushedPerCycle = forward.times(perMinute);
  if (!pushedPerCycle.gt(ZERO)) return undefined;
  const needed = convert(capacity, unitById('L')).amount.times(turnovers);
  // Seconds are needed x 60 x cycle / pushed a cycle; the 60 falls away for minutes.
  return { amount: needed.times(cycle).div(pushedPerCycle), unit: unitById('min') };
}

function inSecondsAndLiters({ duration, forward, reverse, flow }: PulsedFlush) {
  const seconds = (time: Quantity) => convert(time, unitById('s')).amount;
  return {
    duration: seconds(duration),
    forward: seconds(forward),
    cycle: seconds(forward).plus(seconds(reverse)),
    perMinute: convert(flow, unitById('L/min')).amount,
  };
}
