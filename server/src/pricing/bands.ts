/** From cost to price: a markup, and a schedule of bands that holds one markup for each range of cost. */
import type { Band, Schedule } from '../../../schemas/kinds/shop.ts';
import { type Decimal, dec, greatest, least, ONE, round, ZERO } from '../../../schemas/values/decimal.ts';
import {
  type Amount,
  atLeast,
  atMost,
  endingUp,
  given,
  named,
  product,
  quotient,
  rounded,
  roundedUp,
  sumOf,
} from './amount.ts';

/** A factor, a markup on cost or a margin of the price. */
export type Markup = Pick<Band, 'factor' | 'markup' | 'margin'>;

/** Cost times factor; cost x (1 + markup); cost / (1 - margin). A margin of 100% or more has no price: cost stays. */
export function markedUp(label: string, rule: Markup, cost: Amount): Amount {
  const { factor, markup, margin } = rule;
  if (margin !== undefined) {
    if (margin.gte(ONE)) return named(label, cost);
    const note = () =>
      `a margin of ${percent(margin)} leaves ${percent(ONE.minus(margin))} of the price as cost`;
    return quotient(label, cost, given('Share that is cost', ONE.minus(margin), { measure: 'share' }), {
      note,
    });
  }
  const times = greatest(ZERO, factor ?? ONE.plus(markup ?? ZERO));
  const note = markup && (() => `a markup of ${percent(markup)}`);
  return product(label, [cost, given('Factor', times, { measure: 'number' })], note ? { note } : {});
}

/** The cost that goes through the bands, and what else the schedule looks at. All for one as sold. */
export interface Costed {
  readonly cost: Amount;
  readonly freight?: Amount | undefined;
  readonly list?: Amount | undefined;
  /** How many as sold are bought at once. */
  readonly pack?: Decimal | undefined;
}

/** Price of one; `ending` is what the line's amount has still to go up to, where the schedule says per line. */
export interface Scheduled {
  readonly each: Amount;
  readonly ending: Amount | undefined;
}

/**
 * Cost through its band, then the list price rule, the least margin, the cent, and the ending.
 * Undefined when no band holds the cost: the last one is closed.
 */
export function scheduled(schedule: Schedule, costed: Costed, places: number): Scheduled | undefined {
  const list = schedule.list === 'ignore' ? undefined : costed.list;
  if (list && schedule.list === 'at')
    return { each: rounded(named('Price each', list), places), ending: undefined };

  const basis = basisOf(schedule, costed);
  const banded = throughBands(schedule, basis, costed.pack);
  if (!banded) return undefined;
  let price = banded;
  if (list && schedule.list === 'at-least') price = atLeast(price, list);
  if (list && schedule.list === 'at-most') price = atMost(price, list);
  price = leaveMargin(schedule, rounded(price, places), basis, places);

  if (schedule.ending === undefined) return { each: price, ending: undefined };
  const ending = given('Ending', schedule.ending);
  if (schedule['ending-per'] === 'line') return { each: price, ending };
  const ended = withEnding('Price each', price, ending);
  return {
    each: list && schedule.list === 'at-most' && ended.value.gt(list.value) ? price : ended,
    ending: undefined,
  };
}

function basisOf(schedule: Schedule, { cost, freight }: Costed): Amount {
  if (schedule.basis !== 'landed' || !freight) return cost;
  return sumOf('Landed cost', [cost, freight]);
}

function throughBands(schedule: Schedule, basis: Amount, pack: Decimal | undefined): Amount | undefined {
  if (schedule.on !== 'purchase-unit' || pack === undefined || pack.lte(ZERO))
    return bandPrice(schedule, basis);
  const held = given('Holds', pack, { measure: 'number' });
  const whole = bandPrice(schedule, product('Cost of one as bought', [basis, held]));
  return whole && quotient('Price each', named('Price of one as bought', whole), held);
}

/** What a cost becomes, exactly. */
export function bandPrice(schedule: Schedule, cost: Amount): Amount | undefined {
  return schedule.how === 'graduated' ? graduated(schedule.bands, cost) : whole(schedule.bands, cost);
}

function whole(bands: readonly Band[], cost: Amount): Amount | undefined {
  const band = bands.find(({ below }) => below === undefined || cost.value.lt(below));
  return band && markedUp('Price each', band, cost);
}

/** Each slice of the cost at its own band. */
function graduated(bands: readonly Band[], cost: Amount): Amount | undefined {
  const slices: Amount[] = [];
  let from = ZERO;
  for (const band of bands) {
    const until = band.below === undefined ? cost.value : least(band.below, cost.value);
    if (until.gt(from) || slices.length === 0) {
      const slice = given(`Slice from ${from}`, until.minus(from));
      slices.push(markedUp('Slice', band, slice));
      from = until;
    }
    if (band.below === undefined || cost.value.lt(band.below)) return sumOf('Price each', slices);
  }
  return undefined;
}

/** Up to the price that leaves the schedule's least margin over the cost. */
function leaveMargin(schedule: Schedule, price: Amount, basis: Amount, places: number): Amount {
  const margin = schedule['least-margin'];
  if (margin === undefined || margin.gte(ONE)) return price;
  const exact = markedUp('Price with the least margin', { margin }, basis);
  if (price.value.gte(exact.value)) return price;
  const up = round(exact.value, places, 'up');
  return atLeast(price, up.eq(exact.value) ? exact : roundedUp(exact.label, up, exact));
}

/**
 * The next amount at or above that ends so: 0.95 in every unit, 9.95 in every ten.
 */
export function withEnding(label: string, price: Amount, ending: Amount): Amount {
  let period = ONE;
  while (ending.value.gte(period)) period = period.times(TEN);
  const over = price.value.mod(period);
  const base = price.value.minus(over).plus(ending.value);
  const value = over.gt(ending.value) ? base.plus(period) : base;
  return value.eq(price.value) ? price : endingUp(label, value, price, ending);
}

const TEN = dec('10');

function percent(share: Decimal): string {
  return `${share.times(dec('100'))}%`;
}
