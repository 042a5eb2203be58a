/** How much is sold: fluid from the capacities of the unit, rounded up to what is sold, and whole ones kept whole. */
import type { FillLine } from '../../../schemas/kinds/lines.ts';
import type { Part } from '../../../schemas/kinds/parts.ts';
import type { Path } from '../../../schemas/problem.ts';
import { type Decimal, ONE, roundUpTo, ZERO } from '../../../schemas/values/decimal.ts';
import { convert, type Quantity } from '../../../schemas/values/quantity.ts';
import { parseSellingUnit, type SellingUnit } from '../../../schemas/values/selling.ts';
import { type Amount, follows, given, nothing, roundedUp, type Source, sumOf } from './amount.ts';
import { type Context, report } from './context.ts';

const EACH = sellingUnit('each');
const QUART = sellingUnit('quart');

function sellingUnit(id: string): SellingUnit {
  const parsed = parseSellingUnit(id);
  if (!parsed.ok) throw new Error(parsed.message);
  return parsed.value;
}

/** What one is: a quart for fluids, an each for everything else, unless the part says. */
export function soldBy(part: Part): SellingUnit {
  return part.unit ?? (part.kind === 'fluid' ? QUART : EACH);
}

/** A quantity as typed, times what a superseded number turns into. Half an each is an error, but still priced. */
export function typedQuantity(
  context: Context,
  part: Part,
  typed: Decimal | undefined,
  factor: Decimal,
  path: Path,
): Amount {
  const unit = soldBy(part);
  const measure = { unit: unit.plural, one: unit.id };
  const at = [...path, 'quantity'];
  const written = given('Quantity', typed ?? ONE, { measure, source: { path: at } });
  const value = written.value.times(factor);
  const quantity = factor.eq(ONE)
    ? written
    : follows('Quantity', value, [written], `${factor} of the new number for one of the old`, { measure });

  const place = typed === undefined ? path : at;
  if (unit.wholeOnly && !value.mod(ONE).eq(ZERO)) {
    report(
      context,
      'error',
      'fractional-quantity',
      place,
      `${part.name} is sold by the ${spoken(unit.id)}: ${value} cannot be sold. Write ${roundUpTo(value, ONE)}.`,
      { data: { quantity: roundUpTo(value, ONE).toString() } },
    );
  }
  const pack = wholePack(part);
  if (pack && !value.mod(pack).eq(ZERO)) {
    const packs = roundUpTo(value, pack);
    report(
      context,
      'error',
      'pack-broken',
      place,
      `${part.name} is sold only by the ${part.pack!.unit.id} of ${pack}: ${value} cannot be sold. Write ${packs}.`,
      { data: { quantity: packs.toString() } },
    );
  }
  return quantity;
}

function wholePack(part: Part): Decimal | undefined {
  return part.pack?.whole && part.pack.of.gt(ZERO) ? part.pack.of : undefined;
}

/**
 * Fluid by the capacity of the unit: the fill, what it does not hold yet (`plus`), what is lost to flush and test;
 * rounded up to whole selling units, or whole packs.
 */
export function fillQuantity(context: Context, part: Part, line: FillLine, path: Path): Amount | undefined {
  const unit = soldBy(part);
  if (unit.unit?.dimension !== 'volume') {
    report(
      context,
      'error',
      'fluid-not-by-volume',
      [...path, 'part'],
      `${part.name} is sold by the ${spoken(unit.id)}, so a fill cannot be counted. Give it a selling unit such as quart or liter.`,
    );
    return undefined;
  }
  const measure = { unit: unit.plural, one: unit.id };
  const asSold = (label: string, volume: Quantity, source: Source): Amount => {
    const value = convert(volume, unit.unit!).amount;
    if (volume.unit === unit.unit) return given(label, value, { measure, source });
    const before = given(label, volume.amount, { measure: { unit: volume.unit.symbol }, source });
    return follows(label, value, [before], 'converted', { measure });
  };

  const terms: Amount[] = [];
  for (const capacity of [line.fill, ...extras(context, line, path)]) {
    const volume = context.unit?.capacities?.[capacity];
    if (!volume) return unknownCapacity(context, capacity, path);
    const source = { kind: 'unit', id: context.sale.unit!, field: `capacities ${capacity}` } as const;
    terms.push(asSold(CAPACITIES[capacity], volume, source));
  }
  if (line.loss) terms.push(asSold('Lost to flush and flow test', line.loss, { path: [...path, 'loss'] }));

  const needed = terms.length === 1 ? terms[0]! : sumOf('Needed', terms, { measure });
  const sold = roundUpTo(needed.value, wholePack(part) ?? ONE);
  if (sold.lt(ZERO)) return nothing('Quantity', 'less than nothing is needed', measure);
  return roundedUp('Quantity', sold, needed);
}

const CAPACITIES = {
  dry: 'Dry fill',
  service: 'Service fill',
  converter: 'Converter',
  'cooler-and-lines': 'Cooler and lines',
} as const;

/** Capacities to add, without those that the dry figure counts already. */
function extras(context: Context, line: FillLine, path: Path): readonly ('converter' | 'cooler-and-lines')[] {
  const counted = line.fill === 'dry' ? (context.unit?.capacities?.includes ?? []) : [];
  return (line.plus ?? []).filter((capacity, index) => {
    const twice = capacity === line.fill || counted.includes(capacity);
    if (twice) {
      report(
        context,
        'information',
        'fill-counted-already',
        [...path, 'plus', index],
        `${CAPACITIES[line.fill]} of ${context.unit?.name} counts this already, so it is not added again. Take it out.`,
        { tags: ['unnecessary'] },
      );
    }
    return !twice;
  });
}

function unknownCapacity(context: Context, capacity: keyof typeof CAPACITIES, path: Path): undefined {
  context.complete = false;
  if (!context.unit) return undefined;
  report(
    context,
    'error',
    'capacity-missing',
    path,
    `${context.unit.name} has no figure for ${CAPACITIES[capacity].toLowerCase()}, so the fluid cannot be counted. Add it to the unit family, or sell the fluid by quantity.`,
    { related: [{ kind: 'unit', id: context.sale.unit!, message: 'Its capacities.' }] },
  );
  return undefined;
}

/** `each` is what stands in a file; nobody says it so. */
function spoken(unit: string): string {
  return unit === 'each' ? 'piece' : unit;
}
