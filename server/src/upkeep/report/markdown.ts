/** A report as Markdown, for a pull request or a page of the editor: what somebody typed is text there and nothing else. */
import { oneLine } from './plain.ts';
import type { Cell, Place, Report, Table } from './report.ts';

/** `linkTo`: the address of a place; without it nothing is a link. */
export function reportMarkdown(report: Report, linkTo?: (place: Place) => string): string {
  const tables = report.tables.filter((table) => table.rows.length > 0);
  const blocks = [
    `## ${escaped(report.title)}`,
    ...report.lead.map(escaped),
    ...tables.flatMap((table) => tableBlocks(table, linkTo)),
  ];
  return `${blocks.join('\n\n')}\n`;
}

function tableBlocks(
  { title, note, columns, rows, sum }: Table,
  linkTo: ((place: Place) => string) | undefined,
): string[] {
  const shown = ({ text, at }: Cell) =>
    at && linkTo && text !== '' ? `[${escaped(text)}](<${linkTo(at)}>)` : escaped(text);
  const line = (cells: readonly string[]) => `| ${cells.join(' | ')} |`;
  const total = sum?.map(({ text }) => (text === '' ? '' : `**${escaped(text)}**`));
  return [
    `### ${escaped(title)}`,
    ...(note ? [escaped(note)] : []),
    [
      line(columns.map(({ head }) => escaped(head))),
      line(columns.map(({ figure }) => (figure ? '---:' : '---'))),
      ...rows.map((row) => line(row.map(shown))),
      ...(total ? [line(total)] : []),
    ].join('\n'),
  ];
}

/**
 * Every mark of CommonMark and of the tables and formulas laid over it is escaped; an invisible joiner keeps
 * names, numbers and addresses from becoming mentions, references and links.
 */
export function escaped(text: string): string {
  return oneLine(text)
    .replace(/[\\`*_{}[\]<>()|~&$#!]/g, '\\$&')
    .replace(/^([-+]|\d+[.)])(?=\s|$)/, (mark) => mark.replace(/.$/, '\\$&'))
    .replace(/(@|\\#)(?=[\p{L}\p{N}])/gu, '$1\u2060')
    .replace(/:(?=\/\/)/g, ':\u2060')
    .replace(/\bwww\./gi, (match) => `${match.slice(0, 3)}\u2060.`);
}
