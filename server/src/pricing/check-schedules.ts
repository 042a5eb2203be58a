/** What is wrong with a price schedule by itself: bands that cannot be reached, and edges where the price falls. */
import type { Schedule, Shop } from '../../../schemas/kinds/shop.ts';
import type { Path, Problem, Severity } from '../../../schemas/problem.ts';
import { minorDigits } from '../../../schemas/values/currency.ts';
import { type Decimal, dec, ONE, ZERO } from '../../../schemas/values/decimal.ts';
import { figure, given } from './amount.ts';
import { scheduled } from './bands.ts';

/** Problems of a shop's schedules, by their place in the shop file. */
export function checkSchedules(shop: Shop): Problem[] {
  const places = minorDigits(shop.currency ?? 'USD') ?? 2;
  return Object.entries(shop.schedules ?? {}).flatMap(([id, schedule]) => {
    const path = ['schedules', id];
    return [
      ...checkOrder(schedule, path, places),
      ...checkEdges(schedule, path, places),
      ...checkMargin(schedule, path),
    ];
  });
}

function problem(
  severity: Severity,
  code: string,
  path: Path,
  message: string,
  data?: Problem['data'],
): Problem {
  return { severity, code, path, message, ...(data ? { data } : {}) };
}

/** Bands rise, and only the last one is open. */
function checkOrder({ bands }: Schedule, path: Path, places: number): Problem[] {
  const found: Problem[] = [];
  let from = ZERO;
  bands.forEach(({ below }, index) => {
    const at = [...path, 'bands', index];
    const last = index === bands.length - 1;
    if (below === undefined && !last) {
      found.push(
        problem(
          'error',
          'band-open-early',
          at,
          'Only the last band may be without `below`: those after it are never reached. Say where this one ends.',
        ),
      );
    } else if (below?.lte(from)) {
      found.push(
        problem(
          'error',
          'band-out-of-order',
          [...at, 'below'],
          `This band ends at ${figure(below, places)}, not above ${figure(from, places)} where it begins, so nothing falls into it. Put the bands in rising order of cost.`,
        ),
      );
    } else if (below !== undefined && last) {
      found.push(
        problem(
          'error',
          'band-last-closed',
          [...at, 'below'],
          `A part that costs ${figure(below, places)} or more has no price: the last band has no end. Leave out \`below\`.`,
        ),
      );
    }
    if (below?.gt(from)) from = below;
  });
  return found;
}

/** Where one band ends and the next begins, a dearer part may sell for less than a cheaper one. */
function checkEdges(schedule: Schedule, path: Path, places: number): Problem[] {
  if (schedule.how === 'graduated') return [];
  const smallest = ONE.div(dec('10').pow(places));
  return schedule.bands.flatMap(({ below }, index) => {
    if (below === undefined || index === schedule.bands.length - 1 || below.lte(smallest)) return [];
    const under = below.minus(smallest);
    const before = priceOf(schedule, under, places);
    const after = priceOf(schedule, below, places);
    if (!before || !after || after.gte(before)) return [];
    const [dearer, cheaper] = [figure(below, places), figure(under, places)];
    return [
      problem(
        'warning',
        'band-edge-drop',
        [...path, 'bands', index, 'below'],
        `A part that costs ${cheaper} sells for ${figure(before, places)}, and one that costs ${dearer} for only ${figure(after, places)}. Write \`how: graduated\`, or bring the two factors closer.`,
        { costs: [cheaper, dearer], prices: [before.toString(), after.toString()] },
      ),
    ];
  });
}

function priceOf(schedule: Schedule, cost: Decimal, places: number): Decimal | undefined {
  // The edge is a matter of the bands; banded per purchase unit, it is the cost of one as bought.
  return scheduled(schedule, { cost: given('Cost', cost) }, places)?.each.value;
}

function checkMargin(schedule: Schedule, path: Path): Problem[] {
  const margin = schedule['least-margin'];
  if (margin === undefined || margin.lt(ONE)) return [];
  return [
    problem(
      'error',
      'margin-without-price',
      [...path, 'least-margin'],
      'A margin of 100% or more has no price: price = cost / (1 - margin). This least margin is not applied; write less than 100%.',
    ),
  ];
}
