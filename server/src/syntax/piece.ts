import type { Node, PairNode, ScalarNode, SyntaxProblem } from './node.ts';
import { problem } from './problems.ts';
import { type PieceReading, readPiece } from './read.ts';

/**
 * `header`: a name at the top of the file with all that belongs to it. `section`: the line that opens a catalog.
 * `entry`: one entry of a catalog. `whole`: a file that is not split (it uses anchors, or has no words in it).
 */
export type PieceKind = 'header' | 'section' | 'entry' | 'whole';

export interface PieceShape {
  readonly kind: PieceKind;
  /** The catalog an entry belongs to; undefined for the others. */
  readonly section: string | undefined;
  /** Column of the line that opened that catalog. */
  readonly sectionIndent: number;
  /** The name at the top, or the entry's id, as the reader gives it; empty when the line has none. */
  readonly key: string;
  /** Column of the line with the key, and its offset: comments may stand above it. */
  readonly indent: number;
  readonly head: number;
  /** Where the key ends, quotes included; the end of the words of its line when there is none. */
  readonly keyEnd: number;
  /** Line breaks in the text. */
  readonly lines: number;
  /** Whether the text has `&name` or `*name`, which may point into other pieces. */
  readonly anchors: boolean;
}

/** Above this a reading is kept with its piece: reading takes milliseconds and such pieces are few. */
const KEEP_ABOVE = 8192;

/** A stretch of a file that is read on its own. Immutable, and the same object in every version that has not changed it. */
export class Piece implements PieceShape {
  readonly kind: PieceKind;
  readonly section: string | undefined;
  readonly sectionIndent: number;
  readonly key: string;
  readonly indent: number;
  readonly head: number;
  readonly keyEnd: number;
  readonly lines: number;
  readonly text: string;
  readonly anchors: boolean;
  /** Where `SourceFile` last put the piece; a hint that it checks before use. */
  shelf = 0;
  #reading: PieceReading | undefined;

  constructor(text: string, shape: PieceShape) {
    this.text = text;
    this.kind = shape.kind;
    this.section = shape.section;
    this.sectionIndent = shape.sectionIndent;
    this.key = shape.key;
    this.indent = shape.indent;
    this.head = shape.head;
    this.keyEnd = shape.keyEnd;
    this.lines = shape.lines;
    this.anchors = shape.anchors;
  }

  /**
   * Nodes and problems of the piece, in offsets of its text. Read anew at each call unless the piece is large:
   * reading an entry takes microseconds, keeping the nodes of a hundred thousand takes a gigabyte.
   */
  read(): PieceReading {
    if (this.#reading) return this.#reading;
    const reading = checked(this, readPiece(this.text));
    if (this.text.length > KEEP_ABOVE) this.#reading = reading;
    return reading;
  }
}

function checked(piece: Piece, reading: PieceReading): PieceReading {
  const { node, problems } = reading;
  const extra: SyntaxProblem[] = [];
  if (node.type !== 'map' || node.flow) {
    if (node.type !== 'empty' && problems.length === 0)
      extra.push(
        problem(
          'yaml-missing-colon',
          node.start,
          firstLineEnd(piece.text, node),
          piece.kind === 'entry'
            ? 'An entry starts with its id and a colon.'
            : 'A file is made of names with values: a name, a colon, a space and a value.',
        ),
      );
  } else if (piece.kind === 'section' && node.pairs[0]?.value.type === 'scalar') {
    const { value } = node.pairs[0];
    extra.push(
      problem(
        'yaml-section-text',
        value.start,
        value.end,
        `Entries of \`${piece.key}\` follow on the lines below. Move this text into an entry, or delete it.`,
      ),
    );
  }
  return extra.length ? { node, problems: [...problems, ...extra] } : reading;
}

function firstLineEnd(text: string, node: Node): number {
  const end = text.slice(node.start, node.end).search(/[\r\n]/);
  return end === -1 ? node.end : node.start + end;
}

/** One name with its value, wherever it is written: at the top (`section` undefined) or in a catalog. */
export interface Entry {
  readonly section: string | undefined;
  readonly key: ScalarNode;
  readonly value: Node;
  readonly pair: PairNode;
}

/** The single name and value of a `header`, `section` or `entry` piece; undefined when its line is too broken for that. */
export function entryOf(piece: Piece, node: Node = piece.read().node): Entry | undefined {
  if (piece.kind === 'whole' || node.type !== 'map') return undefined;
  const pair = node.pairs[0];
  return pair && entry(piece.section, pair);
}

/**
 * All names and values of any piece, in order. A catalog in brackets, and a file that is not split, give their
 * entries here as a split file does.
 */
export function entriesOf(
  piece: Piece,
  splitKeys: ReadonlySet<string>,
  node: Node = piece.read().node,
): Entry[] {
  if (piece.kind === 'header' || piece.kind === 'entry') {
    const only = entryOf(piece, node);
    return only ? [only] : [];
  }
  if (node.type !== 'map') return [];
  const out: Entry[] = [];
  for (const pair of node.pairs) {
    if (splitKeys.has(pair.key.text) && pair.value.type === 'map')
      for (const inner of pair.value.pairs) out.push(entry(pair.key.text, inner));
    else out.push(entry(undefined, pair));
  }
  return out;
}

function entry(section: string | undefined, pair: PairNode): Entry {
  return { section, key: pair.key, value: pair.value, pair };
}
