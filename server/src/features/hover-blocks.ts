/**
 * What a hover shows, before it is Markdown or plain text. Every text in here may come from a file and is escaped;
 * only texts marked `ours` are written by this program and may hold Markdown.
 */
import type { Location, MarkupContent } from 'vscode-languageserver-types';

export type Block =
  | { readonly is: 'title'; readonly text: string; readonly id?: string | undefined }
  | { readonly is: 'text'; readonly text: string; readonly ours?: boolean }
  /** Label and value, one a line; rows without a value are left out. */
  | { readonly is: 'facts'; readonly rows: readonly (readonly [string, string | undefined])[] }
  | { readonly is: 'list'; readonly items: readonly string[] }
  | { readonly is: 'table'; readonly head: readonly string[]; readonly rows: readonly (readonly Cell[])[] }
  /** Lines whose indentation matters. */
  | { readonly is: 'lines'; readonly lines: readonly string[] }
  | { readonly is: 'picture'; readonly uri: string; readonly text: string }
  | { readonly is: 'rule' };

/** A text, or one that leads to where it is written; `lead` stands before it. */
export type Cell = string | { readonly lead: string; readonly text: string; readonly at: Location };

/** Longer texts are cut: a hover is read at a glance. */
const MOST = 1200;

export function shown(blocks: readonly Block[], markdown: boolean): MarkupContent {
  const parts = blocks
    .map((block) => (markdown ? asMarkdown(block) : asPlain(block)))
    .filter((part) => part !== '');
  return { kind: markdown ? 'markdown' : 'plaintext', value: parts.join('\n\n') };
}

function asMarkdown(block: Block): string {
  switch (block.is) {
    case 'title':
      return `**${escaped(block.text)}**${block.id === undefined ? '' : ` ${code(block.id)}`}`;
    case 'text':
      return block.ours ? block.text : escaped(cut(block.text)).replaceAll('\n', '  \n');
    case 'facts':
      return given(block.rows)
        .map(([label, value]) => `- ${label}: ${escaped(oneLine(value))}`)
        .join('\n');
    case 'list':
      return block.items.map((item) => `- ${escaped(oneLine(item))}`).join('\n');
    case 'table':
      return [block.head, block.head.map(() => '---'), ...block.rows]
        .map((row, i) => `| ${row.map((cell) => (i === 1 ? cell : cellMarkdown(cell))).join(' | ')} |`)
        .join('\n');
    case 'lines':
      return fenced(block.lines);
    case 'picture':
      return `![${escaped(oneLine(block.text))}](<${address(block.uri)}>)`;
    case 'rule':
      return '---';
  }
}

function asPlain(block: Block): string {
  switch (block.is) {
    case 'title':
      return block.id === undefined ? block.text : `${block.text} (${block.id})`;
    case 'text':
      return cut(block.ours ? block.text.replace(/[`*]/g, '') : block.text);
    case 'facts':
      return given(block.rows)
        .map(([label, value]) => `${label}: ${oneLine(value)}`)
        .join('\n');
    case 'list':
      return block.items.map((item) => `- ${oneLine(item)}`).join('\n');
    case 'table':
      return columns([block.head, ...block.rows.map((row) => row.map(textOf))]).join('\n');
    case 'lines':
      return block.lines.join('\n');
    case 'picture':
      return `${block.text}: ${block.uri}`;
    case 'rule':
      return '';
  }
}

function textOf(cell: Cell): string {
  return typeof cell === 'string' ? cell : cell.lead + cell.text;
}

/** A place in a file as editors follow it from a hover: `#L12,3`, counted from one. */
function cellMarkdown(cell: Cell): string {
  if (typeof cell === 'string') return escaped(oneLine(cell));
  const { lead, text, at } = cell;
  const { uri, range } = at;
  return `${lead}[${escaped(oneLine(text))}](<${address(uri)}#L${range.start.line + 1},${range.start.character + 1}>)`;
}

/** What would end a Markdown link is written as its code. */
function address(uri: string): string {
  return uri.replace(/[<>\s\\|]/g, encodeURIComponent);
}

function given(rows: readonly (readonly [string, string | undefined])[]): (readonly [string, string])[] {
  return rows.flatMap(([label, value]) =>
    value === undefined || value === '' ? [] : [[label, value] as const],
  );
}

/** Text that Markdown shows as it is. */
export function escaped(text: string): string {
  return text.replace(/[\\`*_{}[\]<>#|~&]/g, '\\$&').replace(/^(\s*)([-+]|\d+[.)])(?=\s|$)/gm, '$1\\$2');
}

/** In backticks, more of them than the text has in a row. */
export function code(text: string): string {
  const ticks = '`'.repeat(Math.max(0, ...(text.match(/`+/g) ?? []).map((run) => run.length)) + 1);
  const pad = text.startsWith('`') || text.endsWith('`') ? ' ' : '';
  return `${ticks}${pad}${oneLine(text)}${pad}${ticks}`;
}

function fenced(lines: readonly string[]): string {
  const text = lines.join('\n');
  const ticks = '`'.repeat(Math.max(2, ...(text.match(/`+/g) ?? []).map((run) => run.length)) + 1);
  return `${ticks}text\n${text}\n${ticks}`;
}

function oneLine(text: string): string {
  return cut(text.replace(/\s+/g, ' ').trim());
}

function cut(text: string): string {
  const trimmed = text.trim();
  return trimmed.length > MOST ? `${trimmed.slice(0, MOST).replace(/[\ud800-\udbff]$/, '')} …` : trimmed;
}

function columns(rows: readonly (readonly string[])[]): string[] {
  const widths = rows[0]!.map((_, i) => Math.max(...rows.map((row) => oneLine(row[i] ?? '').length)));
  return rows.map((row) =>
    row
      .map((cell, i) => oneLine(cell).padEnd(widths[i]!))
      .join('  ')
      .trimEnd(),
  );
}
