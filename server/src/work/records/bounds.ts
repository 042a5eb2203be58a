/** Fields and figures of a record against the least and the most that its declaration allows. */
import type { JobRecord } from '../../../../schemas/kinds/job.ts';
import type { RecordKind } from '../../../../schemas/kinds/rules.ts';
import type { Path } from '../../../../schemas/problem.ts';
import { dec } from '../../../../schemas/values/decimal.ts';
import {
  compareQuantity,
  convert,
  formatQuantity,
  parseQuantity,
  type Quantity,
} from '../../../../schemas/values/quantity.ts';
import { unitById } from '../../../../schemas/values/units.ts';
import type { Figure, RecordFault } from '../model.ts';
import { type RecordContext, spoken } from './context.ts';
import { fillsFor } from './dilution.ts';
import { dimensionOf, fieldQuantity } from './fields.ts';
import { shown } from './figures.ts';
import { timeForTurnovers } from './flush.ts';

export function bounds(
  record: JobRecord,
  path: Path,
  kind: RecordKind,
  figures: readonly Figure[],
  context: RecordContext,
): RecordFault[] {
  const faults: RecordFault[] = [];
  for (const [side, limits] of [['least', kind.least ?? {}] as const, ['most', kind.most ?? {}] as const]) {
    for (const [name, text] of Object.entries(limits)) {
      const dimension = dimensionOf(name, kind.counted);
      const limit = dimension && parseQuantity(text, dimension);
      if (!limit?.ok) continue;
      const figure = figures.find((one) => one.name === name);
      const quantity = figure?.quantity ?? fieldQuantity(record, name);
      const at = record[name as keyof JobRecord] === undefined ? path : [...path, name];
      if (!quantity) {
        // A field that `needs` names has been asked for already.
        if (!kind.needs?.includes(name))
          faults.push({ sort: 'unfilled', path, text: cannotCount(name, kind, record, context) });
        continue;
      }
      const compared = compareQuantity(quantity, limit.value);
      if (side === 'least' ? compared >= 0 : compared <= 0) continue;
      const working = figure ? ` (${figure.working})` : '';
      faults.push({
        sort: 'fails',
        path: at,
        text: `${spoken(name)} of ${shown(quantity)}${working} is ${side === 'least' ? 'less' : 'more'} than ${formatQuantity(limit.value)}${remedy(name, limit.value, record, context)}`,
      });
    }
  }
  return faults;
}

function cannotCount(name: string, kind: RecordKind, record: JobRecord, context: RecordContext): string {
  const full =
    kind.counted === 'pulsed-flush' && record.duration && record.forward && record.reverse && record.flow;
  if (name === 'turnovers' && full)
    return `turnovers cannot be counted: ${context.unit?.name ?? 'the unit family'} has no capacity of cooler and lines`;
  return `${spoken(name)} cannot be held against its limit: what it takes is not filled in`;
}

/** What it would have taken to pass. */
function remedy(name: string, limit: Quantity, record: JobRecord, context: RecordContext): string {
  const { duration, forward, reverse, flow } = record;
  const capacity = context.unit?.capacities?.['cooler-and-lines'];
  if (name === 'turnovers' && duration && forward && reverse && flow && capacity) {
    const time = timeForTurnovers({ duration, forward, reverse, flow }, capacity, limit.amount);
    return time ? `: at this flow it has to run ${shown(time)}` : '';
  }
  if (name === 'residual' && record.drained && record.total) {
    const fills = fillsFor(
      convert(limit, unitById('%')).amount.div(dec('100')),
      record.drained,
      record.total,
    );
    return fills === undefined ? '' : `: that takes ${fills} fills`;
  }
  return '';
}
