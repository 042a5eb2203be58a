import { type Decimal, dec } from './decimal.ts';
import { accepted, type Parsed, refused } from './parsed.ts';
import { DIMENSIONS, type Dimension, UNIT_ROWS } from './unit-table.ts';
import { suggestion } from './words.ts';

export { DIMENSIONS, type Dimension } from './unit-table.ts';

/** The dimensions as words to choose from. */
export const DIMENSION_WORDS = Object.fromEntries(
  Object.entries(DIMENSIONS).map(([name, { spoken }]) => [name, `It is ${spoken}.`]),
) as Record<Dimension, string>;

export interface Unit {
  /** As a shop types it, `F`. */
  readonly id: string;
  /** As it is printed, `°F`. */
  readonly symbol: string;
  readonly name: string;
  readonly dimension: Dimension;
  /** Other ways it may be typed; letter case, and dots, hyphens or spaces between words, do not matter. */
  readonly aliases: readonly string[];
  /**
   * The exact way to the dimension's base unit, kept as a fraction so that nothing is lost:
   * base = (amount + shift) × times ÷ over.
   */
  readonly shift: Decimal;
  readonly times: Decimal;
  readonly over: Decimal;
  /** Common code of UN/CEFACT Recommendation 20, for exchange with other systems. */
  readonly code: string | undefined;
}

/** Every unit, grouped by dimension, the most usual of each first. */
export const UNITS: readonly Unit[] = Object.entries(UNIT_ROWS).flatMap(([dimension, rows]) =>
  rows.map(
    (row): Unit => ({
      id: row.id,
      symbol: row.symbol ?? row.id,
      name: row.name,
      dimension: dimension as Dimension,
      aliases: row.also?.split(',') ?? [],
      shift: dec(row.shift ?? '0'),
      times: dec(row.times),
      over: dec(row.over ?? '1'),
      code: row.code,
    }),
  ),
);

/** What is left of a unit's name when case, dots, hyphens and spaces stop mattering. */
function keyOf(text: string): string {
  return text
    .toLowerCase()
    .replaceAll('μ', 'µ')
    .replaceAll(/[º˚]/g, '°')
    .replace(/^° ?(?=[cf]$)/, '')
    .replaceAll(/[\s.·⋅•*-]+/g, ' ')
    .trim();
}

const BY_KEY: ReadonlyMap<string, Unit> = new Map(
  UNITS.flatMap((unit) =>
    [unit.id, unit.symbol, ...unit.aliases]
      // A count prints without a unit; that must not make a missing unit a count.
      .filter((name) => name !== '')
      .map((name) => [keyOf(name), unit] as const),
  ),
);

/** The unit typed as `text`, in any of its spellings. */
export function findUnit(text: string): Unit | undefined {
  return BY_KEY.get(keyOf(text));
}

/** The unit of a known id. Throws RangeError on any other: text from a file goes to `parseUnit`. */
export function unitById(id: string): Unit {
  const unit = UNITS.find((one) => one.id === id);
  if (!unit) throw new RangeError(`No unit has the id "${id}"`);
  return unit;
}

/** The units of a dimension, the most usual first. */
export function unitsOf(dimension: Dimension): readonly Unit[] {
  return UNITS.filter((unit) => unit.dimension === dimension);
}

/** Reads the name of a unit, of the dimension given if one is. */
export function parseUnit(text: string, dimension?: Dimension): Parsed<Unit> {
  const typed = text.trim();
  const unit = findUnit(typed);
  if (unit && (!dimension || unit.dimension === dimension)) return accepted(unit);
  if (unit && dimension) {
    const fitting = fittingUnit(typed, dimension);
    return refused(
      `"${typed}" measures ${DIMENSIONS[unit.dimension].spoken}; a unit of ${bare(dimension)} is needed, such as ${fitting.id}.`,
    );
  }
  return refused(unknownUnit(typed, dimension));
}

/** What to say of a unit nobody knows: the near ones, else those that would fit. */
export function unknownUnit(typed: string, dimension?: Dimension): string {
  const names = (dimension ? unitsOf(dimension) : UNITS).flatMap((unit) => [unit.id, ...unit.aliases]);
  const near = suggestion(typed, names);
  if (near || !dimension) return `"${typed}" is not a unit known here.${near}`;
  return `"${typed}" is not a unit of ${bare(dimension)}. Write ${listed(dimension)}.`;
}

/** The units of a dimension as a choice to offer: `qt, L, gal or pt`. */
export function listed(dimension: Dimension): string {
  const ids = unitsOf(dimension)
    .slice(0, 4)
    .map((unit) => unit.id);
  const last = ids.pop() ?? '';
  return ids.length > 0 ? `${ids.join(', ')} or ${last}` : last;
}

/**
 * The unit of a dimension that was most likely meant by one of another: `fl oz` by `oz`, `lb-ft` by `lb`,
 * else the usual one.
 */
export function fittingUnit(typed: string, dimension: Dimension): Unit {
  const fitting = unitsOf(dimension);
  const word = keyOf(typed);
  const sharing = fitting.find((unit) => keyOf(unit.id).split(/[ /]/).includes(word));
  return sharing ?? fitting[0]!;
}

function bare(dimension: Dimension): string {
  return DIMENSIONS[dimension].spoken.replace(/^an? /, '');
}
