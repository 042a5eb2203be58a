/** The figures that the arithmetic of a record works out from what was typed. */
import type { JobRecord } from '../../../../schemas/kinds/job.ts';
import type { Unit } from '../../../../schemas/kinds/units.ts';
import { dec } from '../../../../schemas/values/decimal.ts';
import { formatQuantity, type Quantity } from '../../../../schemas/values/quantity.ts';
import { unitById } from '../../../../schemas/values/units.ts';
import type { Figure } from '../model.ts';
import { residual } from './dilution.ts';
import type { Arithmetic } from './fields.ts';
import { flowRate } from './flow.ts';
import { flushFigures } from './flush.ts';

/** Empty where what the arithmetic needs is not filled in. */
export function figuresOf(
  record: JobRecord,
  counted: Arithmetic | undefined,
  unit: Unit | undefined,
): Figure[] {
  if (counted === 'pulsed-flush') return flush(record, unit?.capacities?.['cooler-and-lines']);
  if (counted === 'flow-test') return flow(record);
  if (counted === 'drain-and-fill') return dilution(record);
  return [];
}

function flush(record: JobRecord, capacity: Quantity | undefined): Figure[] {
  const { duration, forward, reverse, flow: rate } = record;
  if (!duration || !forward || !reverse || !rate) return [];
  const found = flushFigures({ duration, forward, reverse, flow: rate }, capacity);
  if (!found) return [];
  const cycles = shown(found.cycles);
  const volume = shown(found.forwardVolume);
  const figures: Figure[] = [
    {
      name: 'cycles',
      quantity: found.cycles,
      working: `${formatQuantity(duration)} / (${formatQuantity(forward)} + ${formatQuantity(reverse)})`,
    },
    {
      name: 'forward-volume',
      quantity: found.forwardVolume,
      working: `${cycles} cycles x ${formatQuantity(forward)} x ${formatQuantity(rate)}`,
    },
  ];
  if (capacity && found.turnovers) {
    figures.push({
      name: 'turnovers',
      quantity: found.turnovers,
      working: `${volume} / ${formatQuantity(capacity)} in cooler and lines`,
    });
  }
  return figures;
}

function flow({ volume, duration, flow: typed }: JobRecord): Figure[] {
  const timed = volume && duration && flowRate(volume, duration);
  if (timed) {
    return [
      { name: 'rate', quantity: timed, working: `${formatQuantity(volume)} / ${formatQuantity(duration)}` },
    ];
  }
  return typed ? [{ name: 'rate', quantity: typed, working: 'as read' }] : [];
}

function dilution({ drained, total, fills }: JobRecord): Figure[] {
  if (!drained || !total || fills === undefined) return [];
  const share = residual(drained, total, fills);
  if (!share) return [];
  return [
    {
      name: 'residual',
      quantity: { amount: share.times(dec('100')), unit: unitById('%') },
      working: `(1 - ${formatQuantity(drained)} / ${formatQuantity(total)})^${fills}`,
    },
  ];
}

/** A figure as printed: as it is when short, else to two decimals. */
export function shown(quantity: Quantity): string {
  const decimals = quantity.amount.toString().split('.')[1]?.length ?? 0;
  return decimals > 2 ? formatQuantity(quantity, 2) : formatQuantity(quantity);
}
