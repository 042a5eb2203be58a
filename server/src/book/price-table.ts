/**
 * A supplier's price file as rows, however it comes: encoding, separator and decimal mark are found, and what stands
 * around the table (letterhead, comments, blank lines, totals) is left out.
 */
import { parse } from 'csv-parse/sync';

export type Encoding = 'utf-8' | 'utf-16le' | 'utf-16be' | 'windows-1252';

/** UTF-16 units in one row; anything longer is a quote that was never closed. */
const LONGEST_ROW = 100_000;
/** Rows; a supplier's whole list is a fifth of this. */
const MOST_ROWS = 500_000;
/** Rows that may stand above the headings. */
const ABOVE_HEAD = 60;

export const DELIMITERS = [',', ';', '\t', '|'] as const;

export interface Row {
  /** Cells without the space around them; none is missing, so that there are at least as many as headings. */
  readonly record: readonly string[];
  /** Line of the file on which it ends, from 1. */
  readonly line: number;
  /** Cells that stand under no heading: a separator inside a value moves all that follows it. */
  readonly overflows: boolean;
}

export interface PriceTable {
  readonly delimiter: string;
  readonly head: Row;
  readonly rows: readonly Row[];
  /** False when no row is a row of headings; `head` is then the first one. */
  readonly found: boolean;
}

/**
 * The text of a file and its encoding. A byte order mark counts, then `stated`, then UTF-8; undefined where the bytes
 * do not hold with that. `guess`: bytes that are not UTF-8 are read as Windows-1252.
 */
export function textOf(
  bytes: Uint8Array,
  stated?: Encoding,
  guess = false,
): { readonly text: string; readonly encoding: Encoding } | undefined {
  const encoding = markOf(bytes) ?? stated ?? 'utf-8';
  try {
    return { text: new TextDecoder(encoding, { fatal: true }).decode(bytes), encoding };
  } catch {
    return guess && encoding === 'utf-8' ? textOf(bytes, 'windows-1252') : undefined;
  }
}

function markOf([first, second]: Uint8Array): Encoding | undefined {
  if (first === 0xff && second === 0xfe) return 'utf-16le';
  return first === 0xfe && second === 0xff ? 'utf-16be' : undefined;
}

/**
 * The rows under the headings, or what keeps the file from being read.
 *
 * @param isHead whether a row is the one with the headings.
 */
export function tableOf(
  text: string,
  isHead: (record: readonly string[]) => boolean,
  delimiter?: string,
): PriceTable | string {
  const chosen = delimiter ?? delimiterOf(text, isHead);
  const records = recordsOf(text, chosen);
  if (typeof records === 'string') return records;
  if (records.length > MOST_ROWS) return 'The price file has more than 500,000 rows; split it.';
  const at = headAt(records, isHead);
  const head = records[Math.max(0, at)];
  if (!head) return 'The price file is empty.';
  const width = head.record.length;
  const body = records
    .slice(Math.max(0, at) + 1)
    .filter(({ record }) => !isBlank(record) && !isComment(record) && !isTotal(record));
  // Some programs end every row with separators that the headings lack.
  const widest = Math.max(width, usualLength(body));
  const rows = body.map(({ record, line }) => ({
    record: record.length < width ? [...record, ...Array(width - record.length).fill('')] : record,
    line,
    overflows: record.length > widest || record.slice(width).some((cell) => cell !== ''),
  }));
  return { delimiter: chosen, head: { ...head, overflows: false }, rows, found: at !== -1 };
}

type Line = Omit<Row, 'overflows'>;

/** The length that more than half of the rows have; 0 when there is none such. */
function usualLength(rows: readonly Line[]): number {
  const counts = new Map<number, number>();
  for (const { record } of rows) counts.set(record.length, (counts.get(record.length) ?? 0) + 1);
  return [...counts].find(([, count]) => count * 2 > rows.length)?.[0] ?? 0;
}

function headAt(records: readonly Line[], isHead: (record: readonly string[]) => boolean): number {
  return records.slice(0, ABOVE_HEAD).findIndex(({ record }) => !isComment(record) && isHead(record));
}

function recordsOf(text: string, delimiter: string): Line[] | string {
  const read = (lenient: boolean) =>
    parse(text, {
      bom: true,
      info: true,
      max_record_size: LONGEST_ROW,
      relax_column_count: true,
      relax_quotes: lenient,
      skip_empty_lines: true,
      to: MOST_ROWS + 1,
      trim: true,
      delimiter,
    }) as unknown as { record: string[]; info: { lines: number } }[];
  try {
    return lined(read(false));
  } catch {
    // Inches and names in quotes that were not doubled.
    try {
      return lined(read(true));
    } catch (error) {
      // How many rows were read before the one that is wrong.
      const { records } = error as { records?: number };
      const from = records === undefined ? '' : ` from row ${records + 1} on`;
      return `The price file cannot be read${from}: a quote is not closed, or stands inside a value without being doubled.`;
    }
  }
}

function lined(records: readonly { record: string[]; info: { lines: number } }[]): Line[] {
  return records.map(({ record, info }) => ({ record, line: info.lines }));
}

/** The separator with which the headings are found, else the one that the first line has most of. */
function delimiterOf(text: string, isHead: (record: readonly string[]) => boolean): string {
  const start = text.split(/\r\n|\n|\r/, ABOVE_HEAD);
  const times = (one: string) => start.join('\n').split(one).length;
  const byUse = DELIMITERS.toSorted((a, b) => times(b) - times(a));
  const fits = byUse.find((one) =>
    start.some((line) => {
      const records = recordsOf(line, one);
      return typeof records !== 'string' && headAt(records, isHead) !== -1;
    }),
  );
  const inFirst = (one: string) => start[0]!.split(one).length;
  return fits ?? DELIMITERS.reduce((best, one) => (inFirst(one) > inFirst(best) ? one : best));
}

function isBlank(record: readonly string[]): boolean {
  return record.every((cell) => cell === '');
}

/** `# valid until June`, `// page 2`. A number that begins with such a sign has no space behind it. */
function isComment([first = '', ...rest]: readonly string[]): boolean {
  return /^(#|\/\/)(\s|$)/.test(first) || (/^(#|\/\/)/.test(first) && isBlank(rest));
}

const TOTAL =
  /^(sub-?\s?|grand\s)?totals?\b(?!.*\d.*[a-z])|^(end of (file|list)|(number|count) of (items|parts|rows|records))\b/i;

function isTotal(record: readonly string[]): boolean {
  const first = record.find((cell) => cell !== '') ?? '';
  return TOTAL.test(first) && record.filter((cell) => cell !== '').length <= 3;
}

/** `$1,234.50`, `1,234.50 USD`: the amount without its currency. */
const PRICED = /^(?:\p{Sc}|[A-Z]{3})?\s*(.*?)\s*(?:\p{Sc}|[A-Z]{3})?$/u;
const GAPS = /(?<=\d)[\s\u00a0\u202f'’](?=\d{3}(?!\d))/g;

/** The digits of an amount as the book writes them; what is none stays as it is. */
export function amountIn(cell: string, mark: '.' | ','): string {
  const bare = (PRICED.exec(cell.trim())?.[1] || cell).replace(GAPS, '');
  if (mark === '.') return bare;
  return /^-?(\d{1,3}(\.\d{3})+|\d*)(,\d+)?$/.test(bare) ? bare.replaceAll('.', '').replace(',', '.') : bare;
}

/** The decimal mark that the amounts of a file show; three digits behind a mark show nothing. */
export function decimalMarkOf(cells: Iterable<string>): '.' | ',' {
  let points = 0;
  let commas = 0;
  for (const cell of cells) {
    const amount = PRICED.exec(cell.trim())?.[1] ?? cell;
    if (/\.(\d{1,2}|\d{4,})-?\)?$|,\d{3}\./.test(amount)) points++;
    else if (/,(\d{1,2}|\d{4,})-?\)?$|\.\d{3},/.test(amount)) commas++;
  }
  return commas > points ? ',' : '.';
}
