/**
 * The price of one: an override with its reason, else the locked price, else the fixed price, else the schedule
 * (list price rule, or cost through its band, least margin, the cent, the ending).
 */
import type { Part } from '../../../schemas/kinds/parts.ts';
import type { Schedule } from '../../../schemas/kinds/shop.ts';
import type { Path } from '../../../schemas/problem.ts';
import { type Decimal, ZERO } from '../../../schemas/values/decimal.ts';
import { type Amount, given, nothing, quotient, type Source } from './amount.ts';
import { scheduled } from './bands.ts';
import { type Context, entry, notBelowZero, report } from './context.ts';
import { around, pricesOn } from './history.ts';
import { needReason } from './reasons.ts';

export interface UnitPrice {
  /** Undefined when there is nothing to price it by. */
  readonly each: Amount | undefined;
  /** What the amount of the line has to go up to. */
  readonly ending: Amount | undefined;
  readonly cost: Amount | undefined;
  readonly core: Amount | undefined;
}

export interface Typed {
  readonly price?: Decimal | undefined;
  readonly reason?: string | undefined;
}

/** Prices one of a part, as sold. Costs, lists and cores are those in force on the pricing date, or as locked. */
export function unitPrice(context: Context, id: string, part: Part, typed: Typed, path: Path): UnitPrice {
  const costs = costsOf(context, id, part);
  const { each, ending } = priceOf(context, id, part, typed, path, costs);
  return { each, ending, cost: costs.cost, core: costs.core };
}

interface Costs {
  readonly cost: Amount | undefined;
  readonly list: Amount | undefined;
  readonly core: Amount | undefined;
  readonly fixed: Decimal | undefined;
}

function costsOf(context: Context, id: string, part: Part): Costs {
  const locked = entry(context.sale.lock?.parts, id);
  const prices = pricesOn(part, context.on);
  const of = (field: string): Source => ({ kind: 'part', id, field });
  const lockedAt = (field: string): Source => ({ path: ['lock', 'parts', id, field] });

  const figure = (field: 'cost' | 'list' | 'core', label: string): Amount | undefined => {
    const value = prices[field];
    return value && given(label, notBelowZero(context, value, [], label), { source: of(field) });
  };
  const lockedFigure = (field: 'cost' | 'core', label: string): Amount | undefined => {
    const value = locked?.[field];
    return value && given(label, notBelowZero(context, value, [], label), { source: lockedAt(field) });
  };
  return {
    cost: lockedFigure('cost', 'Cost') ?? figure('cost', 'Cost') ?? costFromPack(id, part),
    list: figure('list', 'List price'),
    core: lockedFigure('core', 'Core charge') ?? figure('core', 'Core charge'),
    fixed: prices.price,
  };
}

function costFromPack(id: string, part: Part): Amount | undefined {
  const { pack } = part;
  if (!pack?.cost || pack.of.lte(ZERO)) return undefined;
  const source: Source = { kind: 'part', id, field: 'pack' };
  return quotient(
    'Cost',
    given(`Cost of a ${pack.unit.id}`, pack.cost, { source }),
    given('Holds', pack.of, { measure: 'number', source }),
  );
}

type Price = Pick<UnitPrice, 'each' | 'ending'>;

function priceOf(
  context: Context,
  id: string,
  part: Part,
  typed: Typed,
  path: Path,
  { cost, list, fixed }: Costs,
): Price {
  if (typed.price !== undefined) {
    needReason(context, typed.reason, path, 'price');
    const value = notBelowZero(context, typed.price, [...path, 'price'], 'This price');
    const note = typed.reason ?? 'typed on the job';
    return plain(given('Price each', value, { source: { path: [...path, 'price'] }, note }));
  }
  const locked = entry(context.sale.lock?.parts, id);
  if (locked) {
    const value = notBelowZero(context, locked.price, ['lock', 'parts', id, 'price'], 'This locked price');
    const source: Source = { path: ['lock', 'parts', id, 'price'] };
    return {
      each: given('Price each', value, { source, note: 'locked price' }),
      ending: locked.ending && given('Ending', locked.ending),
    };
  }
  if (fixed !== undefined) {
    const source: Source = { kind: 'part', id, field: 'price' };
    const note = part.reason ?? 'fixed price';
    return plain(given('Price each', notBelowZero(context, fixed, [], 'Fixed price'), { source, note }));
  }
  return bySchedule(context, id, part, path, cost, list);
}

const plain = (each: Amount): Price => ({ each, ending: undefined });
const NONE: Price = { each: undefined, ending: undefined };

function bySchedule(
  context: Context,
  id: string,
  part: Part,
  path: Path,
  cost: Amount | undefined,
  list: Amount | undefined,
): Price {
  const named =
    part.schedule ?? context.shop.pricing?.['by-kind']?.[part.kind] ?? context.shop.pricing?.parts;
  if (named === undefined) {
    unpriced(
      context,
      id,
      part,
      path,
      'nothing says how it is priced. Add `pricing` to shop.yaml, or a price here',
    );
    return NONE;
  }
  const schedule = entry(context.shop.schedules, named);
  if (!schedule) {
    context.complete = false;
    return NONE;
  }
  if (!cost && !(schedule.list === 'at' && list)) {
    unpriced(context, id, part, path, missingCost(context, part));
    return NONE;
  }
  return throughSchedule(context, id, part, path, named, schedule, cost ?? nothing('Cost', 'not said'), list);
}

function throughSchedule(
  context: Context,
  id: string,
  part: Part,
  path: Path,
  name: string,
  schedule: Schedule,
  cost: Amount,
  list: Amount | undefined,
): Price {
  const freight =
    part.freight &&
    given('Freight', notBelowZero(context, part.freight, [], 'Freight'), {
      source: { kind: 'part', id, field: 'freight' },
    });
  const priced = scheduled(schedule, { cost, freight, list, pack: part.pack?.of }, context.places);
  if (!priced) {
    unpriced(
      context,
      id,
      part,
      path,
      `its cost lies above the last band of the schedule ${name}. Leave \`below\` out of that band`,
    );
    return NONE;
  }
  const { each, ending } = priced;
  return { each: { ...each, source: each.source ?? { kind: 'schedule', id: name } }, ending };
}

function missingCost(context: Context, part: Part): string {
  const { ended, starts } = around(part, context.on);
  const spans = [ended && `one ends ${ended}`, starts && `the next starts ${starts}`].filter(Boolean);
  const day = part.prices ? ` on ${context.on}${spans.length > 0 ? ` (${spans.join(', ')})` : ''}` : '';
  return `it has neither cost nor price${day}. Add one to the part, or a price with a reason here`;
}

function unpriced(context: Context, id: string, part: Part, path: Path, why: string): void {
  context.complete = false;
  report(context, 'error', 'price-missing', path, `${part.name} is counted as 0: ${why}.`, {
    related: [{ kind: 'part', id, message: 'Its price is missing.' }],
  });
}
