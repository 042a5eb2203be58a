/** What stands at a position of a file: the nodes around it beside their declarations, and the id under the cursor. */
import type { z } from 'zod';
import { type FieldMeta, metaOf } from '../../../schemas/declare.ts';
import type { Path } from '../../../schemas/problem.ts';
import { alternativeFor, childOf } from '../../../schemas/walk.ts';
import type { BookFile } from '../book/file.ts';
import { shapeOfNode } from '../book/judge.ts';
import type { Position } from '../syntax/lines.ts';
import type { ListNode, MapNode, Node, PairNode, Span } from '../syntax/node.ts';
import type { Piece } from '../syntax/piece.ts';
import { type IdMark, idsIn } from './ids.ts';

/** A node that holds the position, beside what the declarations say of it. */
export interface Level {
  readonly node: Node;
  /** From the root of the file. */
  readonly path: Path;
  /** As declared, with its wrappers; undefined where nothing is declared. */
  readonly declared: z.ZodType | undefined;
  /** The alternative of it that the node is meant to be. */
  readonly meant: z.ZodType | undefined;
  readonly meta: FieldMeta;
  /** The pair whose value it is; undefined for items of lists and the root. */
  readonly pair: PairNode | undefined;
  /** Inside text that may hold `$parameters`. */
  readonly templated: boolean;
}

export interface Place {
  readonly file: BookFile;
  readonly piece: Piece;
  /** In the piece's text. */
  readonly offset: number;
  /**
   * From the root of the file to the innermost node. An entry of a catalog stands under a level for the catalog,
   * whose node then holds only the entries of this piece. When `on` is 'key', the last level is the value of that key.
   */
  readonly levels: readonly Level[];
  /** On a key, on or at the edge of a single value, or between: white space, comments, punctuation, an empty line. */
  readonly on: 'key' | 'value' | 'gap';
  /** The id under the cursor. */
  readonly mark: IdMark | undefined;
}

export function placeAt(file: BookFile, position: Position): Place {
  const { piece, offset } = file.source.offsetOf(position);
  return placeIn(file, piece, offset);
}

export function placeIn(file: BookFile, piece: Piece, offset: number): Place {
  return { file, piece, offset, ...levelsAt(file, piece, offset), mark: markAt(file, piece, offset) };
}

/** The id that the offset lies in, or at either end of. */
export function markAt(file: BookFile, piece: Piece, offset: number): IdMark | undefined {
  return idsIn(file, piece).find((mark) => holds(mark, offset));
}

export function innermost(place: Place): Level {
  return place.levels.at(-1)!;
}

function levelsAt(file: BookFile, piece: Piece, offset: number): { levels: Level[]; on: Place['on'] } {
  const { node } = piece.read();
  const { text } = piece;
  const schema = file.kind?.schema;
  const levels = [levelOf(node, schema, [], undefined, false)];
  const { section } = piece;
  if (section !== undefined && columnOf(text, offset) > piece.sectionIndent) {
    const record = schema && childOf(schema, section);
    levels.push(levelOf(node, record, [section], undefined, false));
  }
  for (;;) {
    const level = levels.at(-1)!;
    const pair = level.node.type === 'map' ? pairAround(text, level.node, offset) : undefined;
    const index = level.node.type === 'list' ? itemAround(text, level.node, offset) : -1;
    const step = pair ? pair.key.text : index;
    const child = pair?.value ?? (level.node.type === 'list' ? level.node.items[index] : undefined);
    if (!child) break;
    const declared = level.meant && childOf(level.meant, step);
    levels.push(levelOf(child, declared, [...level.path, step], pair, level.templated));
    if (pair && holds(pair.key, offset)) return { levels, on: 'key' };
  }
  const inner = levels.at(-1)!.node;
  const single = inner.type === 'scalar' || inner.type === 'empty';
  return { levels, on: single && holds(inner, offset) ? 'value' : 'gap' };
}

function levelOf(
  node: Node,
  declared: z.ZodType | undefined,
  path: Path,
  pair: PairNode | undefined,
  inTemplate: boolean,
): Level {
  const meant = declared && alternativeFor(declared, shapeOfNode(node));
  const outer = declared ? metaOf(declared) : {};
  const meta = { ...(meant ? metaOf(meant) : {}), ...outer };
  return { node, path, declared, meant, meta, pair, templated: inTemplate || outer.templated !== undefined };
}

/** In block style a name owns the lines below it up to the next name, as far as they stand deeper than it does. */
function pairAround(text: string, map: MapNode, offset: number): PairNode | undefined {
  const pair = map.pairs.findLast((one) => one.key.start <= offset);
  if (!pair || offset <= pair.end) return pair;
  if (map.flow) return /^[^,{}[\]\r\n]*$/.test(text.slice(pair.end, offset)) ? pair : undefined;
  return ownsBelow(text, pair.end, offset, columnOf(text, pair.key.start)) ? pair : undefined;
}

function itemAround(text: string, list: ListNode, offset: number): number {
  if (list.flow) return list.items.findIndex((item) => holds(item, offset));
  // The dash stands on the line of its item.
  const index = list.items.findLastIndex((item) => lineStart(text, item.start) <= offset);
  const item = list.items[index];
  if (!item || offset <= item.end) return index;
  return ownsBelow(text, item.end, offset, columnOf(text, list.start)) ? index : -1;
}

function ownsBelow(text: string, end: number, offset: number, column: number): boolean {
  return !/[\r\n]/.test(text.slice(end, offset)) || columnOf(text, offset) > column;
}

function columnOf(text: string, offset: number): number {
  return offset - lineStart(text, offset);
}

function lineStart(text: string, offset: number): number {
  let at = offset;
  while (at > 0 && text[at - 1] !== '\n' && text[at - 1] !== '\r') at--;
  return at;
}

function holds(span: Span, offset: number): boolean {
  return span.start <= offset && offset <= span.end;
}
