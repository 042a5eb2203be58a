/** A comparison as flat rows: for a spreadsheet, for another program, and for the report. */
import type { Part } from '../../../../schemas/kinds/parts.ts';
import { type Decimal, dec, ZERO } from '../../../../schemas/values/decimal.ts';
import type { Book } from '../../book/book.ts';
import { tableCsv } from '../report/csv.ts';
import type { LeftOut } from './apply.ts';
import type { Comparison, FigureChange, NewPart, PriceChange } from './compare.ts';

type Sort =
  | 'cost-up'
  | 'cost-down'
  | 'list'
  | 'core'
  | 'superseded'
  | 'held-back'
  | 'blocked'
  | 'new'
  | 'gone'
  | 'unread';

export interface PriceEntry {
  readonly what: Sort;
  /** As the price file has it; the book's, for a part that is gone from it. */
  readonly number: string;
  readonly line: number | null;
  /** The number in the book. */
  readonly part: string | null;
  readonly name: string;
  readonly figure: 'cost' | 'list' | 'core' | null;
  /** Exact digits, in the shop's currency. */
  readonly old: string | null;
  readonly new: string | null;
  /** Of the old one, to one decimal. */
  readonly percent: string | null;
  readonly note: string;
}

/** Every finding as one flat row: a changed figure each, a number that is new, gone, held back or not read. */
export function priceEntries(
  book: Book,
  found: Comparison,
  accepts: (number: string) => boolean,
  leftOut: readonly LeftOut[] = [],
): PriceEntry[] {
  const { held, blocked, clear, fresh } = sorted(found, accepts);
  const refused = new Map(leftOut.map((one) => [one.number, one.why]));
  const ofChange = (change: PriceChange, what?: Sort, note = ''): PriceEntry[] => {
    const { row, definition, part } = change;
    const base = { number: row.number, line: row.line, part: definition.id, name: part.name ?? '' };
    const figures = change.figures.map(
      ({ figure, old, now, share }): PriceEntry => ({
        ...base,
        what: what ?? (figure === 'cost' ? (share?.lt(ZERO) ? 'cost-down' : 'cost-up') : figure),
        figure,
        old: old === undefined ? null : amount(old),
        new: amount(now),
        percent: share === undefined ? null : percentOf(share),
        note,
      }),
    );
    const next: PriceEntry[] =
      change.successor === undefined
        ? []
        : [{ ...base, ...NOTHING, what: what ?? 'superseded', new: change.successor, note }];
    const rows = [...figures, ...next];
    return rows.length > 0 ? rows : [{ ...base, ...NOTHING, what: what ?? 'blocked', note }];
  };
  const ofNew = ({ row }: NewPart, what: Sort, note = ''): PriceEntry => ({
    ...NOTHING,
    what,
    number: row.number,
    line: row.line,
    part: null,
    name: row.name ?? '',
    figure: row.cost ? 'cost' : null,
    new: row.cost ? amount(row.cost) : null,
    note,
  });
  return [
    ...held.flatMap((one) =>
      isChange(one)
        ? ofChange(one, 'held-back', one.doubts.join('; '))
        : [ofNew(one, 'held-back', one.doubts.join('; '))],
    ),
    ...blocked.flatMap((one) => ofChange(one, 'blocked', one.blocked)),
    ...clear.flatMap((one) => ofChange(one, undefined, refused.get(one.row.number) ?? '')),
    ...fresh.map((one) => ofNew(one, 'new', refused.get(one.row.number) ?? '')),
    ...found.gone.map(
      ({ id }): PriceEntry => ({
        ...NOTHING,
        what: 'gone',
        number: id,
        line: null,
        part: id,
        name: nameIn(book, id),
        note: '',
      }),
    ),
    ...found.unread.map(
      ({ number, line, message }): PriceEntry => ({
        ...NOTHING,
        what: 'unread',
        number,
        line,
        part: null,
        name: '',
        note: message,
      }),
    ),
  ];
}

const NOTHING = { figure: null, old: null, new: null, percent: null };

const COLUMNS = [
  'what',
  'number',
  'line',
  'part',
  'name',
  'figure',
  'old',
  'new',
  'percent',
  'note',
] as const;

export function priceCsv(entries: readonly PriceEntry[]): string {
  const rows = entries.map((entry) =>
    Object.fromEntries(COLUMNS.map((column) => [column, String(entry[column] ?? '')])),
  );
  return tableCsv(COLUMNS, rows, ['line', 'old', 'percent']);
}

export function sorted({ changes, fresh }: Comparison, accepts: (number: string) => boolean) {
  const doubtful = ({ doubts, row }: PriceChange | NewPart) => doubts.length > 0 && !accepts(row.number);
  const open = changes.filter(({ blocked }) => blocked === undefined);
  return {
    held: [...open.filter(doubtful), ...fresh.filter(doubtful)],
    blocked: changes.filter(({ blocked }) => blocked !== undefined),
    clear: open.filter((one) => !doubtful(one)),
    fresh: fresh.filter((one) => !doubtful(one)),
  };
}

export function isChange(one: PriceChange | NewPart): one is PriceChange {
  return 'definition' in one;
}

export function isDown({ share }: FigureChange): boolean {
  return share?.lt(ZERO) ?? false;
}

export function nameIn(book: Book, id: string): string {
  return (book.value('part', id) as Part | undefined)?.name ?? '';
}

export function amount(value: Decimal): string {
  return value.toFixed(Math.max(2, value.toString().split('.')[1]?.length ?? 0));
}

const HUNDRED = dec('100');

/** To one decimal. */
export function percentOf(share: Decimal): string {
  return share.times(HUNDRED).toFixed(1);
}
