import { type Decimal, dec, ONE } from './decimal.ts';
import { accepted, type Parsed, refused } from './parsed.ts';
import { convert } from './quantity.ts';
import { findUnit, type Unit, unitById } from './units.ts';
import { suggestion } from './words.ts';

/** What a price is for one of: an each, a quart, an hour. */
export interface SellingUnit {
  readonly id: string;
  readonly plural: string;
  /** Half a one cannot be sold. */
  readonly wholeOnly: boolean;
  /** The measure it is, when it is one. */
  readonly unit: Unit | undefined;
  /** How many single pieces it is, when that is fixed: a pair is two. A set or case says its own count. */
  readonly pieces: Decimal | undefined;
  /** Common code of UN/CEFACT Recommendation 20 (from memory). */
  readonly code: string;
  readonly aliases: readonly string[];
}

function packed(id: string, plural: string, code: string, aliases: string[], pieces?: Decimal): SellingUnit {
  return { id, plural, wholeOnly: true, unit: undefined, pieces, code, aliases };
}

function measured(id: string, plural: string, unitId: string): SellingUnit {
  const unit = unitById(unitId);
  return { id, plural, wholeOnly: false, unit, pieces: undefined, code: unit.code ?? '', aliases: [] };
}

export const SELLING_UNITS: readonly SellingUnit[] = [
  packed('each', 'each', 'EA', ['ea', 'piece', 'pieces', 'pc', 'pcs'], ONE),
  packed('pair', 'pairs', 'PR', ['pr'], dec('2')),
  packed('set', 'sets', 'SET', []),
  packed('kit', 'kits', 'KT', []),
  packed('case', 'cases', 'CS', []),
  packed('box', 'boxes', 'BX', []),
  measured('quart', 'quarts', 'qt'),
  measured('liter', 'liters', 'L'),
  measured('gallon', 'gallons', 'gal'),
  measured('pint', 'pints', 'pt'),
  measured('fluid ounce', 'fluid ounces', 'fl oz'),
  measured('imperial quart', 'imperial quarts', 'imp qt'),
  measured('imperial gallon', 'imperial gallons', 'imp gal'),
  measured('foot', 'feet', 'ft'),
  measured('inch', 'inches', 'in'),
  measured('meter', 'meters', 'm'),
  measured('pound', 'pounds', 'lb'),
  measured('kilogram', 'kilograms', 'kg'),
  measured('hour', 'hours', 'h'),
];

/** Reads `each`, `pair`, `quart` or `qt`, `hour`. */
export function parseSellingUnit(text: string): Parsed<SellingUnit> {
  const typed = text.trim();
  const word = typed.toLowerCase();
  const unit = findUnit(typed);
  const found = SELLING_UNITS.find(
    (one) =>
      one.id === word || one.plural === word || one.aliases.includes(word) || (unit && one.unit === unit),
  );
  if (found) return accepted(found);
  const near = suggestion(
    word,
    SELLING_UNITS.map((one) => one.id),
  );
  return refused(
    `"${typed}" is not something parts are sold by. Write each, pair, set, quart, liter or foot.${near}`,
  );
}

/** How many of `to` make one of `from` (a gallon is 4 quarts, a pair 2 each), or undefined where nothing fixes it. */
export function sellingFactor(from: SellingUnit, to: SellingUnit): Decimal | undefined {
  if (from === to) return ONE;
  if (from.pieces && to.pieces) return from.pieces.div(to.pieces);
  if (from.unit && from.unit.dimension === to.unit?.dimension) {
    return convert({ amount: ONE, unit: from.unit }, to.unit).amount;
  }
  return undefined;
}
