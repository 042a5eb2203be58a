/** Growing selections: word, value, field, line of the job, list, entry, catalog, file. */
import type { SelectionRange } from 'vscode-languageserver-types';
import type { BookFile } from '../book/file.ts';
import type { Position, Range } from '../syntax/lines.ts';
import type { Span } from '../syntax/node.ts';
import { contentSpan } from './content.ts';
import { contentEnd } from './piece-lines.ts';
import { innermost, type Place, placeAt } from './place.ts';

export function selection(file: BookFile, positions: readonly Position[]): SelectionRange[] {
  return positions.map((position) => {
    const place = placeAt(file, position);
    const { piece } = place;
    const inside = spansAround(place).map((span) => file.source.rangeOf(piece, span));
    const ranges = [{ start: position, end: position }, ...inside, ...catalogRange(place), wholeRange(file)];
    return chain(ranges);
  });
}

function spansAround(place: Place): Span[] {
  const spans: Span[] = [];
  const inner = innermost(place);
  if (place.on === 'key' && inner.pair) spans.push(contentSpan(place.piece, inner.pair.key), inner.pair.key);
  for (const level of place.levels.toReversed()) {
    const { node, pair } = level;
    const onItsKey = place.on === 'key' && level === inner;
    if (node.type === 'scalar' && !onItsKey) spans.push(contentSpan(place.piece, node));
    if (!onItsKey) spans.push(node);
    if (pair) spans.push(pair);
  }
  return spans;
}

function catalogRange({ file, piece }: Place): Range[] {
  const { source } = file;
  const head = piece.section === undefined ? undefined : source.find(undefined, piece.section)[0];
  if (!head) return [];
  let last = source.indexOf(piece);
  while (last + 1 < source.size && source.at(last + 1).section === piece.section) last++;
  const end = source.positionOf(last, contentEnd(source.at(last)));
  return [{ start: source.positionOf(head, head.head), end }];
}

function wholeRange({ source }: BookFile): Range {
  const last = source.size - 1;
  return { start: { line: 0, character: 0 }, end: source.positionOf(last, source.at(last).text.length) };
}

/** From the smallest up; what does not hold the one before it, or is the same, is left out. */
function chain(ranges: readonly Range[]): SelectionRange {
  const kept: Range[] = [];
  for (const range of ranges) {
    const last = kept.at(-1);
    if (!last || (holds(range, last) && !holds(last, range))) kept.push(range);
  }
  const [first, ...rest] = kept.reverse();
  let selected: SelectionRange = { range: first! };
  for (const range of rest) selected = { range, parent: selected };
  return selected;
}

function holds(outer: Range, inner: Range): boolean {
  return !before(inner.start, outer.start) && !before(outer.end, inner.end);
}

function before(a: Position, b: Position): boolean {
  return a.line < b.line || (a.line === b.line && a.character < b.character);
}
