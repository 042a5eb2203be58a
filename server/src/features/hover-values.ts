/** Single values on hover: what a number is in other units, how far away a date is, what a VIN tells. */
import type { FieldMeta } from '../../../schemas/declare.ts';
import {
  dateOf,
  daysBetween,
  type IsoDate,
  parseDate,
  parseDateTime,
} from '../../../schemas/values/dates.ts';
import { type Decimal, dec, ONE, round } from '../../../schemas/values/decimal.ts';
import { parseMoney } from '../../../schemas/values/money.ts';
import { formatPercent, parsePercent } from '../../../schemas/values/percent.ts';
import { convert, formatQuantity, parseQuantity, type Quantity } from '../../../schemas/values/quantity.ts';
import { parseRange } from '../../../schemas/values/range.ts';
import { parseSellingUnit } from '../../../schemas/values/selling.ts';
import { type Dimension, unitById, unitsOf } from '../../../schemas/values/units.ts';
import { checkVin, explainCheckDigit, type VinContext } from '../../../schemas/values/vin.ts';
import { dayWord, weekday } from './completion-values.ts';
import type { Block } from './hover-blocks.ts';
import type { View } from './hover-view.ts';

const ours = (text: string): Block => ({ is: 'text', text, ours: true });

/** Nothing for values that say all there is by themselves, and for those that cannot be read. */
export function scalarBlocks(view: View, meta: FieldMeta, text: string, key: string | undefined): Block[] {
  switch (meta.scalar) {
    case 'quantity':
      return quantityBlocks(text, meta.dimension as Dimension);
    case 'range':
      return rangeBlocks(text, meta.dimension as Dimension);
    case 'hours':
      return hourBlocks(text);
    case 'money':
      return moneyBlocks(view, text);
    case 'percent':
      return percentBlocks(text, key);
    case 'date':
      return dateBlocks(view, parseDate(text));
    case 'date-time': {
      const parsed = parseDateTime(text);
      return dateBlocks(view, parsed.ok ? { ok: true, value: dateOf(parsed.value) } : parsed);
    }
    case 'choice':
      return wordBlocks(meta, text);
    case 'selling-unit':
      return sellingBlocks(text);
    case 'currency':
      return currencyBlocks(text);
    default:
      return [];
  }
}

/** Rounded for reading: five significant digits, more where the number itself has more. */
function shownAs(quantity: Quantity): string {
  const digits = quantity.amount.toString();
  const whole = digits.replace('-', '').split('.')[0]!;
  const places = whole === '0' ? 5 : Math.max(0, 5 - whole.length);
  return formatQuantity({ ...quantity, amount: plain(round(quantity.amount, places)) });
}

function plain(value: Decimal): Decimal {
  const text = value.toString();
  return dec(text.includes('.') ? text.replace(/\.?0+$/, '') : text);
}

export function quantityBlocks(text: string, dimension: Dimension): Block[] {
  const parsed = parseQuantity(text, dimension);
  if (!parsed.ok) return [];
  const others = unitsOf(dimension).filter((unit) => unit !== parsed.value.unit && unit.id !== '');
  if (others.length === 0) return [];
  const items = others.slice(0, 6).map((unit) => shownAs(convert(parsed.value, unit)));
  return [{ is: 'text', text: `${formatQuantity(parsed.value)} = ${items.join(' = ')}` }];
}

function rangeBlocks(text: string, dimension: Dimension): Block[] {
  const parsed = parseRange(text, dimension);
  if (!parsed.ok) return [];
  const { low, high } = parsed.value;
  const own = (low ?? high)!.unit;
  const other = unitsOf(dimension).find((unit) => unit !== own && unit.id !== '');
  if (!other) return [];
  const ends = [low, high].map((end) => (end ? shownAs(convert(end, other)) : 'any'));
  return [{ is: 'text', text: `${ends.join(' to ')}, both ends included` }];
}

function hourBlocks(text: string): Block[] {
  const hours = parseQuantity(/[a-z]/i.test(text) ? text : `${text} h`, 'time');
  if (!hours.ok) return [];
  const minutes = convert(hours.value, unitById('min'));
  return [
    {
      is: 'text',
      text: `${formatQuantity(convert(hours.value, unitById('h')))} = ${formatQuantity(minutes)}`,
    },
  ];
}

function moneyBlocks(view: View, text: string): Block[] {
  const parsed = parseMoney(text, 2, { fine: true });
  return parsed.ok ? [{ is: 'text', text: view.printer.money(parsed.value) }] : [];
}

/** Markup and margin are mixed up often, so each is shown as the other. */
function percentBlocks(text: string, key: string | undefined): Block[] {
  const parsed = parsePercent(text);
  if (!parsed.ok) return [];
  const share = parsed.value;
  const rounded = (value: Decimal) => formatPercent(round(value, 4));
  if (key === 'markup')
    return [
      ours(
        `A markup of ${formatPercent(share)} is a margin of ${rounded(share.div(ONE.plus(share)))} and a factor of ${ONE.plus(share)}.`,
      ),
    ];
  if (key === 'margin' && share.lt(ONE)) {
    const factor = ONE.div(ONE.minus(share));
    return [
      ours(
        `A margin of ${formatPercent(share)} is a markup of ${rounded(factor.minus(ONE))} and a factor of ${round(factor, 4)}.`,
      ),
    ];
  }
  return [ours(`${formatPercent(share)} of 100.00 is ${share.times(dec('100')).toFixed(2)}.`)];
}

function dateBlocks(view: View, parsed: { ok: true; value: IsoDate } | { ok: false }): Block[] {
  if (!parsed.ok) return [];
  const { value } = parsed;
  const away = view.today === undefined ? '' : `, ${dayWord(daysBetween(view.today, value))}`;
  return [{ is: 'text', text: `${weekday(value)}, ${view.printer.date(value)}${away}` }];
}

function wordBlocks(meta: FieldMeta, word: string): Block[] {
  const meaning = meta.choices && Object.hasOwn(meta.choices, word) ? meta.choices[word] : undefined;
  return meaning === undefined ? [] : [{ is: 'title', text: word }, ours(meaning)];
}

function sellingBlocks(text: string): Block[] {
  const parsed = parseSellingUnit(text);
  if (!parsed.ok) return [];
  const { id, unit, wholeOnly, pieces } = parsed.value;
  const what = [
    unit && `${id} (${unit.symbol})`,
    pieces && `${pieces} ${pieces.eq(ONE) ? 'piece' : 'pieces'}`,
    wholeOnly ? 'sold whole only' : 'sold in any fraction',
  ];
  return [ours(`${what.filter(Boolean).join(', ')}.`)];
}

function currencyBlocks(code: string): Block[] {
  try {
    const name = new Intl.DisplayNames('en', { type: 'currency', fallback: 'none' }).of(code);
    return name ? [ours(`${name} (ISO 4217).`)] : [];
  } catch {
    return [];
  }
}

/** What the number tells (49 CFR 565.15), and what is wrong with it. */
export function vinBlocks(text: string, context: VinContext): Block[] {
  const report = checkVin(text, context);
  const steps = explainCheckDigit(report.normalized);
  const [year, other] = report.modelYears;
  return [
    { is: 'title', text: report.normalized },
    {
      is: 'facts',
      rows: [
        [
          'Check digit',
          report.checkDigit &&
            (report.checkDigit.actual === report.checkDigit.expected
              ? `${report.checkDigit.actual}, right`
              : `${report.checkDigit.actual}; ${report.checkDigit.expected} would be right`),
        ],
        [
          'Counted',
          steps &&
            `${steps.products.join(' + ')} = ${steps.sum}; remainder of 11 is ${steps.remainder}, so ${steps.digit}`,
        ],
        [
          'Model year',
          year === undefined ? undefined : other === undefined ? String(year) : `${year} or ${other}`,
        ],
        [
          'Built for',
          report.northAmerican ? 'North America' : 'elsewhere, where the check digit is not asked for',
        ],
      ],
    },
    ...report.problems.map(({ message }): Block => ({ is: 'text', text: message })),
  ];
}
