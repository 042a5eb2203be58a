/** What can be folded: catalogs, entries, groups and lists on several lines, long texts, runs of comments. */
import type { FoldingRange } from 'vscode-languageserver-types';
import type { BookFile } from '../book/file.ts';
import type { Node, PairNode } from '../syntax/node.ts';
import { contentEnd, PieceLines, piecesWithLines } from './piece-lines.ts';

/** Editors show no more than this many. */
const MOST = 5000;

export function folding(file: BookFile, most = MOST): FoldingRange[] {
  const outer = outerRanges(file);
  // Of a file with more entries than can be folded nothing inside them is looked at.
  const all = outer.length >= most ? outer : [...outer, ...innerRanges(file)];
  const seen = new Set<number>();
  return all.filter(({ startLine }) => !seen.has(startLine) && seen.add(startLine)).slice(0, most);
}

/** Catalogs first, then entries and names at the top. */
function outerRanges(file: BookFile): FoldingRange[] {
  const catalogs: { startLine: number; endLine: number }[] = [];
  const entries: FoldingRange[] = [];
  for (const { piece, first } of piecesWithLines(file)) {
    if (piece.kind === 'whole') continue;
    const lines = new PieceLines(piece, first);
    const startLine = lines.position(piece.head).line;
    const endLine = lines.position(contentEnd(piece)).line;
    const catalog = catalogs.at(-1);
    if (piece.kind === 'section') catalogs.push({ startLine, endLine });
    else if (piece.section !== undefined && catalog) catalog.endLine = endLine;
    if (piece.kind !== 'section' && endLine > startLine) entries.push({ startLine, endLine });
  }
  return [...catalogs.filter(({ startLine, endLine }) => endLine > startLine), ...entries];
}

function innerRanges(file: BookFile): FoldingRange[] {
  const ranges: FoldingRange[] = [];
  for (const { piece, first } of piecesWithLines(file)) {
    if (piece.lines < 2) continue;
    const lines = new PieceLines(piece, first);
    ranges.push(...nodeRanges(lines, piece.read().node), ...commentRanges(lines));
  }
  return ranges;
}

function nodeRanges(lines: PieceLines, root: Node): FoldingRange[] {
  const ranges: FoldingRange[] = [];
  const add = (start: number, end: number) => {
    const startLine = lines.position(start).line;
    const endLine = lines.position(end).line;
    if (endLine > startLine) ranges.push({ startLine, endLine });
  };
  const pair = ({ key, value }: PairNode) => {
    add(key.start, value.end);
    inside(value);
  };
  const inside = (node: Node): void => {
    if (node.type === 'map') node.pairs.forEach(pair);
    if (node.type !== 'list') return;
    for (const item of node.items) {
      if (item.type !== 'empty') add(item.start, item.end);
      inside(item);
    }
  };
  inside(root);
  return ranges;
}

function commentRanges(lines: PieceLines): FoldingRange[] {
  const ranges: FoldingRange[] = [];
  let start = -1;
  for (let line = 0; line <= lines.count; line++) {
    if (line < lines.count && /^[ \t]*#/.test(lines.textOf(line))) {
      if (start === -1) start = line;
      continue;
    }
    if (start !== -1 && line - start > 1)
      ranges.push({ startLine: lines.first + start, endLine: lines.first + line - 1, kind: 'comment' });
    start = -1;
  }
  return ranges;
}
