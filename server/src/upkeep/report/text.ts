/** A report for a terminal. */
import { oneLine } from './plain.ts';
import type { Cell, Report, Table } from './report.ts';

const WIDEST = 48;

export function reportText(report: Report): string {
  const tables = report.tables.filter((table) => table.rows.length > 0);
  return [[report.title, ...report.lead].map(oneLine), ...tables.map(tableText)]
    .map((lines) => lines.join('\n'))
    .join('\n\n');
}

function tableText({ title, note, columns, rows, sum }: Table): string[] {
  const all = [columns.map(({ head }) => head), ...rows.map(texts), ...(sum ? [texts(sum)] : [])];
  const longest = (i: number) => Math.max(...all.map((row) => lengthOf(row[i] ?? '')));
  // The last column has room to the end of the line.
  const widths = columns.map((_, i) => (i < columns.length - 1 ? Math.min(WIDEST, longest(i)) : longest(i)));
  const line = (row: readonly string[]) =>
    columns
      .map(({ figure }, i) => padded(row[i] ?? '', widths[i]!, figure ?? false))
      .join('  ')
      .trimEnd();
  const rule = widths.map((width) => '─'.repeat(width)).join('──');
  const [head, ...body] = all;
  const total = sum ? body.splice(-1) : [];
  return [
    oneLine(title),
    ...(note ? [oneLine(note)] : []),
    line(head!),
    rule,
    ...body.map(line),
    ...(sum ? [rule, ...total.map(line)] : []),
  ];
}

function texts(row: readonly Cell[]): string[] {
  return row.map(({ text }) => oneLine(text));
}

/** Characters as they are seen, not as they are stored. */
function lengthOf(text: string): number {
  return [...text].length;
}

function padded(text: string, width: number, right: boolean): string {
  const shown = lengthOf(text) > width ? `${[...text].slice(0, width - 1).join('')}…` : text;
  const room = ' '.repeat(width - lengthOf(shown));
  return right ? room + shown : shown + room;
}
