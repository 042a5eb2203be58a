/** Positions in the file of offsets in one piece, for features that ask for many of them. */
import type { BookFile } from '../book/file.ts';
import { LineWalker, type Position, type Range } from '../syntax/lines.ts';
import type { Span } from '../syntax/node.ts';
import type { Piece } from '../syntax/piece.ts';

export class PieceLines {
  readonly piece: Piece;
  /** First line of the piece in the file. */
  readonly first: number;
  readonly #starts: number[] = [0];

  constructor(piece: Piece, first: number) {
    this.piece = piece;
    this.first = first;
    const walker = new LineWalker(piece.text);
    for (let at = walker.next(0); at !== -1; at = walker.next(at)) this.#starts.push(at);
  }

  static of(file: BookFile, piece: Piece): PieceLines {
    return new PieceLines(piece, file.source.lineOf(piece));
  }

  /** Line within the piece. */
  lineAt(offset: number): number {
    let low = 0;
    let high = this.#starts.length - 1;
    while (low < high) {
      const middle = (low + high + 1) >> 1;
      if (this.#starts[middle]! <= offset) low = middle;
      else high = middle - 1;
    }
    return low;
  }

  get count(): number {
    return this.#starts.length;
  }

  /** Where a line of the piece starts. */
  offsetOf(line: number): number {
    return this.#starts[line]!;
  }

  /** Text of a line of the piece, its line break included. */
  textOf(line: number): string {
    return this.piece.text.slice(this.#starts[line], this.#starts[line + 1]);
  }

  position(offset: number): Position {
    const line = this.lineAt(offset);
    return { line: this.first + line, character: offset - this.#starts[line]! };
  }

  range(span: Span): Range {
    return { start: this.position(span.start), end: this.position(span.end) };
  }
}

/** The pieces of a file with their first lines, counted along the way. */
export function* piecesWithLines(file: BookFile): IterableIterator<{ piece: Piece; first: number }> {
  let first = 0;
  for (const piece of file.source.pieces()) {
    yield { piece, first };
    first += piece.lines;
  }
}

/** Where the words of a piece end: without the empty lines after them. */
export function contentEnd(piece: Piece): number {
  return piece.text.trimEnd().length;
}
