/**
 * Tables for spreadsheets: RFC 4180, with a mark that it is UTF-8. Text that a spreadsheet would take for a formula
 * begins with an apostrophe (OWASP, CSV injection); figures are ours and stay figures.
 */
import { stringify } from 'csv-stringify/sync';
import { harmless } from '../../../../schemas/exchange/spreadsheet.ts';
import { oneLine } from './plain.ts';

/** `figures`: the columns that hold numbers of ours. */
export function tableCsv(
  columns: readonly string[],
  rows: readonly Readonly<Record<string, string>>[],
  figures: readonly string[],
): string {
  return stringify([...rows], {
    header: true,
    columns: [...columns],
    bom: true,
    record_delimiter: '\r\n',
    cast: {
      string: (value, { column, header }) =>
        header || figures.includes(String(column)) ? value : harmless(oneLine(value)),
    },
  });
}
