/**
 * Layout of files: two columns a level, no spaces at line ends, one space after a colon, at most one empty line in a
 * row, one line break at the end. Values and comments stay what they are.
 */
import type { TextEdit } from 'vscode-languageserver-types';
import type { BookFile } from '../book/file.ts';
import type { Position, Range } from '../syntax/lines.ts';
import { type Layout, layoutOf, STEP } from './format-piece.ts';
import { PieceLines } from './piece-lines.ts';

export function formatFile(file: BookFile): TextEdit[] {
  const { source } = file;
  const edits: TextEdit[] = [];
  for (let from = 0; from < source.size; ) {
    const to = endOfCatalog(file, from);
    edits.push(...laidOut(file, from, to, STEP));
    from = to;
  }
  return edits;
}

/** The entries that the range touches are laid out whole, in the column of their catalog. */
export function formatRange(file: BookFile, { start, end }: Range): TextEdit[] {
  const { source } = file;
  return laidOut(file, source.offsetOf(start).index, source.offsetOf(end).index + 1, undefined);
}

/** After a line break: the line that was left is tidied, its column is not touched. */
export function formatOnType(file: BookFile, position: Position): TextEdit[] {
  const line = position.line - 1;
  if (line < 0) return [];
  const { piece, index } = file.source.offsetOf({ line, character: 0 });
  const layout = layoutOf(piece, { column: undefined, first: false, ending: undefined });
  if (!layout) return [];
  const edits = editsOf(new PieceLines(piece, file.source.lineOf(index)), layout);
  return edits.filter(({ range }) => range.start.line === line && range.end.line === line);
}

/** Where the run of entries that begins at an index ends; one further when there is no entry. */
function endOfCatalog({ source }: BookFile, from: number): number {
  const { section } = source.at(from);
  let to = from + 1;
  while (section !== undefined && to < source.size && source.at(to).section === section) to++;
  return to;
}

/**
 * Entries of a catalog have to stand in one column. When one of them cannot be laid out, or others are not asked for,
 * each keeps its own.
 */
function laidOut(file: BookFile, from: number, to: number, column: number | undefined): TextEdit[] {
  const { source } = file;
  const ending = endingOf(file);
  const edits: TextEdit[] = [];
  for (let index = from; index < to; index++) {
    const piece = source.at(index);
    const layout = layoutOf(piece, {
      column: piece.kind === 'entry' ? (column ?? piece.indent) : 0,
      first: index === 0,
      ending: index === source.size - 1 ? ending : undefined,
    });
    if (!layout && column !== undefined && piece.kind === 'entry') return laidOut(file, from, to, undefined);
    if (layout) edits.push(...editsOf(new PieceLines(piece, source.lineOf(index)), layout));
  }
  return edits;
}

/** The line break that the file uses. */
function endingOf({ source }: BookFile): string {
  for (const piece of source.pieces()) {
    const found = /\r\n|\n|\r/.exec(piece.text);
    if (found) return found[0];
  }
  return '\n';
}

/** Edits of single lines, no larger than what differs, so that cursors and marks in the editor stay where they are. */
function editsOf(lines: PieceLines, layout: Layout): TextEdit[] {
  const edits: TextEdit[] = [];
  for (const [line, wanted = ''] of layout.entries()) {
    const now = lines.textOf(line);
    if (now === wanted) continue;
    let start = 0;
    while (start < now.length && start < wanted.length && now[start] === wanted[start]) start++;
    let end = 0;
    const most = Math.min(now.length, wanted.length) - start;
    while (end < most && now[now.length - 1 - end] === wanted[wanted.length - 1 - end]) end++;
    const from = lines.offsetOf(line);
    edits.push({
      range: lines.range({ start: from + start, end: from + now.length - end }),
      newText: wanted.slice(start, wanted.length - end),
    });
  }
  return edits;
}
