import type { ListNode, MapNode, Node, PairNode, Path, Span } from './node.ts';
import type { Setting } from './write.ts';

/** A node on its path, with what an edit has to know around it. */
export interface Place {
  readonly node: Node;
  readonly parent: MapNode | ListNode | undefined;
  /** The group and the pair the node is the value of, if it is one. */
  readonly map: MapNode | undefined;
  readonly pair: PairNode | undefined;
  /** Whether brackets surround the node. */
  readonly inFlow: boolean;
}

export function locate(text: string, root: Node, path: Path): Place | undefined {
  let place: Place = { node: root, parent: undefined, map: undefined, pair: undefined, inFlow: false };
  for (const step of path) {
    const { node, inFlow } = place;
    if (node.type !== 'map' && node.type !== 'list') return undefined;
    const within = inFlow || node.flow;
    const pair = node.type === 'map' ? node.pairs.find((each) => each.key.text === String(step)) : undefined;
    const child = node.type === 'list' ? node.items[Number(step)] : pair?.value;
    if (!child || isRepeat(text, child)) return undefined;
    place = { node: child, parent: node, map: pair && (node as MapNode), pair, inFlow: within };
  }
  return place;
}

function isRepeat(text: string, node: Node): boolean {
  if (text[node.start] !== '*' || node.start === node.end) return false;
  return node.type !== 'scalar' || node.text !== text.slice(node.start, node.end);
}

/** Column of the name or dash that carries the node. */
export function settingOf(text: string, place: Place): Setting {
  const owner = place.pair ? place.pair.key.start : place.node.start;
  const column = place.pair ? owner - startOfLine(text, owner) : dashColumn(text, owner);
  return { column, eol: eolOf(text), flow: place.inFlow };
}

export function dashColumn(text: string, at: number): number {
  const dash = dashBefore(text, at);
  return dash === -1 ? 0 : dash - startOfLine(text, dash);
}

/** The dash of a list item whose value starts at `at`, on this line or on one above with only comments between; or -1. */
function dashBefore(text: string, at: number): number {
  const before = /-[ \t]*(?:(?:#[^\r\n]*)?(?:\r\n|\n|\r)[ \t]*)*(?:&\S+[ \t]*)?$/.exec(
    text.slice(Math.max(0, at - 4096), at),
  );
  return before ? Math.max(0, at - 4096) + before.index : -1;
}

export function eolOf(text: string): string {
  return /\r\n|\n|\r/.exec(text)?.[0] ?? '\n';
}

export function startOfLine(text: string, offset: number): number {
  let at = offset;
  while (at > 0 && text[at - 1] !== '\n' && text[at - 1] !== '\r') at--;
  return at === 0 && text[0] === '\ufeff' ? 1 : at;
}

export function endOfLine(text: string, offset: number): number {
  let at = offset;
  while (at < text.length && text[at] !== '\n' && text[at] !== '\r') at++;
  return at;
}

export function afterBreak(text: string, offset: number): number {
  if (text[offset] === '\r' && text[offset + 1] === '\n') return offset + 2;
  return offset < text.length ? offset + 1 : offset;
}

/** Items with their dashes. */
export function spansOfItems(text: string, list: ListNode): Span[] {
  if (list.flow) return [...list.items];
  return list.items.map((item, i) => ({
    start: i === 0 ? list.start : dashBefore(text, item.start),
    end: item.end,
  }));
}

/** Where the last line of a value ends, before its line break. The empty lines after a `|+` text are part of it. */
export function endOfValue(text: string, span: Span): number {
  let at = endOfLine(text, span.end);
  const source = text.slice(span.start, span.end);
  if (!/[|>][-\d]*\+/.test(source)) return at;
  for (let next = afterBreak(text, at); next > at; next = afterBreak(text, at)) {
    const end = endOfLine(text, next);
    if (text.slice(next, end).trim() !== '' || end === text.length) break;
    at = end;
  }
  return at;
}

/** Start of the comment lines right above a line, at its own column; else the start of the line itself. */
export function commentsAbove(text: string, offset: number): number {
  let line = startOfLine(text, offset);
  const column = offset - line;
  while (line > 0) {
    const above = startOfLine(text, text[line - 1] === '\n' && text[line - 2] === '\r' ? line - 2 : line - 1);
    const content = text.slice(above, line);
    if (content.length - content.trimStart().length !== column || content.trimStart()[0] !== '#') break;
    line = above;
  }
  return line;
}
