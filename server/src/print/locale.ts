/** Money, numbers, dates and quantities as a shop prints them, and the words of its papers. */
import type { Shop } from '../../../schemas/kinds/shop.ts';
import { dateOf, type IsoDate, type IsoDateTime } from '../../../schemas/values/dates.ts';
import { type Decimal, dec, round } from '../../../schemas/values/decimal.ts';
import { formatMoney } from '../../../schemas/values/money.ts';
import { convert, type Quantity } from '../../../schemas/values/quantity.ts';
import { type Dimension, unitById } from '../../../schemas/values/units.ts';
import type { JobEstimate } from '../estimate/estimate.ts';
import { type Word, wordsFor } from './words/index.ts';

export interface Printer {
  readonly lang: string;
  money(value: Decimal): string;
  number(value: Decimal): string;
  percent(fraction: Decimal): string;
  date(date: IsoDate): string;
  /** Shorter, for a column: `Mar 5, 2026`. */
  shortDate(date: IsoDate): string;
  dateTime(date: IsoDateTime): string;
  quantity(quantity: Quantity): string;
  /** A count with the unit it is sold in: `13 quarts`. */
  counted(quantity: Decimal, unit: string): string;
  say(word: Word, values?: Readonly<Record<string, string | number>>): string;
  /** A word that may not be there: of a selling unit, a condition. */
  maybe(word: string, fallback: string): string;
  list(items: readonly string[]): string;
}

const FALLBACK = 'en-US';

/** In the order in which a text gives their forms (Unicode CLDR, plural rules). */
const CASES: readonly Intl.LDMLPluralRule[] = ['zero', 'one', 'two', 'few', 'many', 'other'];

export function printerFor(estimate: Pick<JobEstimate, 'policy'>): Printer {
  const { currency, shop } = estimate.policy;
  const lang = known(shop.locale);
  const words = wordsFor(lang, shop.words);
  const plurals = new Intl.PluralRules(lang);
  const day = new Intl.DateTimeFormat(lang, { dateStyle: 'long', timeZone: 'UTC' });
  const short = new Intl.DateTimeFormat(lang, { dateStyle: 'medium', timeZone: 'UTC' });
  const decimals = new Intl.NumberFormat(lang, { maximumFractionDigits: 20 });
  const time = new Intl.DateTimeFormat(lang, { timeStyle: 'short', timeZone: 'UTC' });
  const percents = new Intl.NumberFormat(lang, { style: 'percent', maximumFractionDigits: 20 });
  const joined = new Intl.ListFormat(lang, { type: 'conjunction' });
  const number = (value: Decimal) => decimals.format(value.toString() as Intl.StringNumericLiteral);
  const noon = (value: IsoDate) => new Date(`${value}T12:00:00Z`);
  const date = (value: IsoDate) => day.format(noon(value));

  const fill = (template: string, values: Readonly<Record<string, string | number>>): string => {
    const forms = template.split('|');
    return (formFor(forms, values.n) ?? template).replaceAll(/\{(\w+)\}/g, (whole, name: string) =>
      String(values[name] ?? whole),
    );
  };

  /** One form for all, one for one and one for more, or one for each case that the language counts in. */
  const formFor = (forms: readonly string[], n: string | number | undefined): string | undefined => {
    if (forms.length === 1 || n === undefined) return forms[0];
    const which = plurals.select(Number(n));
    if (forms.length === 2) return which === 'one' ? forms[0] : forms[1];
    const cases = CASES.filter((one) => plurals.resolvedOptions().pluralCategories.includes(one));
    return forms[cases.indexOf(which)] ?? forms.at(-1);
  };

  return {
    lang,
    number,
    date,
    shortDate: (value) => short.format(noon(value)),
    money: (value) => formatMoney(value, currency, lang),
    percent: (fraction) => percents.format(fraction.toString() as Intl.StringNumericLiteral),
    dateTime: (value) => `${date(dateOf(value))}, ${time.format(new Date(`${value.slice(0, 16)}Z`))}`,
    quantity: (value) => {
      const { amount, unit } = inUnitsOf(value, shop.units);
      const figure = number(amount);
      return unit.symbol === '' || unit.symbol === '%' || unit.symbol === '°'
        ? `${figure}${unit.symbol}`
        : `${figure}\u00a0${unit.symbol}`;
    },
    counted: (quantity, unit) =>
      fill(words.get(`unit.${unit}`) ?? `{n} ${unit}`, { n: quantity.toString() }).replace(
        quantity.toString(),
        number(quantity),
      ),
    say: (word, values = {}) => fill(words.get(word) ?? word, values),
    maybe: (word, fallback) => words.get(word) ?? fallback,
    list: (items) => joined.format(items),
  };
}

/** What a quantity is printed in, by the shop's units; what is typed in them already stays as typed. */
const PREFERRED: Readonly<
  Record<NonNullable<Shop['units']>, Partial<Record<Dimension, readonly [unit: string, places: number]>>>
> = {
  us: {},
  imperial: { volume: ['imp qt', 1], distance: ['mi', 0] },
  metric: {
    volume: ['L', 1],
    distance: ['km', 0],
    length: ['mm', 2],
    temperature: ['C', 0],
    pressure: ['kPa', 0],
    flow: ['L/min', 1],
    torque: ['N·m', 0],
    mass: ['kg', 1],
  },
};

const METRIC_SYMBOLS = new Set([
  'L',
  'mL',
  'km',
  'm',
  'cm',
  'mm',
  '°C',
  'kPa',
  'bar',
  'L/min',
  'N·m',
  'kg',
  'g',
]);

function inUnitsOf(quantity: Quantity, units: Shop['units']): Quantity {
  const [id, places] = PREFERRED[units ?? 'us'][quantity.unit.dimension] ?? [];
  if (id === undefined || places === undefined || quantity.unit.id === id) return quantity;
  if (units === 'metric' && METRIC_SYMBOLS.has(quantity.unit.symbol)) return quantity;
  const unit = unitById(id);
  const converted = convert(quantity, unit);
  return { unit, amount: dec(round(converted.amount, places).toString()) };
}

function known(locale: string | undefined): string {
  try {
    return locale && Intl.NumberFormat.supportedLocalesOf(locale).length > 0 ? locale : FALLBACK;
  } catch {
    return FALLBACK;
  }
}
