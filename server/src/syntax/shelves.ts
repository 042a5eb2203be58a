import type { Piece } from './piece.ts';

/** A run of pieces with its sums. Immutable; versions of a file share the shelves an edit has not touched. */
export interface Shelf {
  readonly id: number;
  readonly pieces: readonly Piece[];
  readonly lines: number;
  readonly length: number;
  readonly anchors: number;
  readonly columns: readonly ColumnCount[];
}

/** How many pieces of a catalog (or of the top, `section` undefined) start at a column. */
export interface ColumnCount {
  readonly section: string | undefined;
  readonly column: number;
  count: number;
}

const FILL = 256;
const MOST = 512;

/**
 * The pieces of a file as a two-level list: an edit copies one shelf of at most 512 pieces and the list of shelves
 * (400 for 100,000 pieces), and finds a line or a piece by halving over the sums of the shelves and then walking one.
 */
export class Shelves {
  readonly list: readonly Shelf[];
  readonly size: number;
  readonly lines: number;
  readonly length: number;
  readonly anchors: number;
  /** Pieces, lines and UTF-16 units before each shelf. */
  readonly #pieceSums: Float64Array;
  readonly #lineSums: Float64Array;
  readonly #lengthSums: Float64Array;
  readonly #nextId: number;

  private constructor(list: readonly Shelf[], nextId: number) {
    this.list = list;
    this.#nextId = nextId;
    const n = list.length;
    this.#pieceSums = new Float64Array(n + 1);
    this.#lineSums = new Float64Array(n + 1);
    this.#lengthSums = new Float64Array(n + 1);
    let anchors = 0;
    for (let i = 0; i < n; i++) {
      const shelf = list[i]!;
      this.#pieceSums[i + 1] = this.#pieceSums[i]! + shelf.pieces.length;
      this.#lineSums[i + 1] = this.#lineSums[i]! + shelf.lines;
      this.#lengthSums[i + 1] = this.#lengthSums[i]! + shelf.length;
      anchors += shelf.anchors;
    }
    this.size = this.#pieceSums[n]!;
    this.lines = this.#lineSums[n]!;
    this.length = this.#lengthSums[n]!;
    this.anchors = anchors;
  }

  static of(pieces: readonly Piece[]): Shelves {
    return new Shelves(fill(pieces, 0), Math.ceil(pieces.length / FILL));
  }

  at(index: number): Piece {
    const s = search(this.#pieceSums, index);
    return this.list[s]!.pieces[index - this.#pieceSums[s]!]!;
  }

  /** Index of a piece, or -1. The piece remembers its shelf; when that is out of date, all shelves are looked through. */
  indexOf(piece: Piece): number {
    for (let s = 0; s < this.list.length; s++) {
      if (this.list[s]!.id !== piece.shelf) continue;
      const at = this.list[s]!.pieces.indexOf(piece);
      if (at !== -1) return this.#pieceSums[s]! + at;
    }
    for (let s = 0; s < this.list.length; s++) {
      const at = this.list[s]!.pieces.indexOf(piece);
      if (at !== -1) return this.#pieceSums[s]! + at;
    }
    return -1;
  }

  /** The last piece that starts at or before a line, and how many lines stand before it. */
  byLine(line: number): { index: number; before: number } {
    return this.#walk(this.#lineSums, line, (piece) => piece.lines);
  }

  /** The last piece that starts at or before an offset of the file, and how many units stand before it. */
  byOffset(offset: number): { index: number; before: number } {
    return this.#walk(this.#lengthSums, offset, (piece) => piece.text.length);
  }

  linesBefore(index: number): number {
    return this.#sumBefore(this.#lineSums, index, (piece) => piece.lines);
  }

  lengthBefore(index: number): number {
    return this.#sumBefore(this.#lengthSums, index, (piece) => piece.text.length);
  }

  slice(from: number, to: number): Piece[] {
    const out: Piece[] = [];
    for (let s = search(this.#pieceSums, from); s < this.list.length; s++) {
      const base = this.#pieceSums[s]!;
      if (base >= to) break;
      const { pieces } = this.list[s]!;
      for (let i = Math.max(0, from - base); i < Math.min(pieces.length, to - base); i++)
        out.push(pieces[i]!);
    }
    return out;
  }

  /** These shelves with the pieces `from` (inclusive) to `to` (exclusive) replaced. */
  replace(from: number, to: number, pieces: readonly Piece[]): Shelves {
    const first = search(this.#pieceSums, Math.min(from, this.size - 1));
    const last = to > from ? search(this.#pieceSums, to - 1) : first;
    const before = this.list[first]!.pieces.slice(0, from - this.#pieceSums[first]!);
    const after = this.list[last]!.pieces.slice(to - this.#pieceSums[last]!);
    const all = before.concat(pieces, after);
    const added =
      all.length === 0
        ? []
        : all.length <= MOST
          ? [shelf(this.list[first]!.id, all)]
          : fill(all, this.#nextId);
    return new Shelves(
      [...this.list.slice(0, first), ...added, ...this.list.slice(last + 1)],
      this.#nextId + added.length,
    );
  }

  #walk(sums: Float64Array, target: number, size: (piece: Piece) => number) {
    const s = search(sums, target);
    let index = this.#pieceSums[s]!;
    let before = sums[s]!;
    for (const piece of this.list[s]!.pieces) {
      if (index === this.size - 1 || before + size(piece) > target) break;
      before += size(piece);
      index++;
    }
    return { index, before };
  }

  #sumBefore(sums: Float64Array, index: number, size: (piece: Piece) => number): number {
    const s = search(this.#pieceSums, index);
    let sum = sums[s]!;
    const { pieces } = this.list[s]!;
    for (let i = this.#pieceSums[s]!; i < index; i++) sum += size(pieces[i - this.#pieceSums[s]!]!);
    return sum;
  }
}

function fill(pieces: readonly Piece[], firstId: number): Shelf[] {
  const out: Shelf[] = [];
  for (let at = 0; at < pieces.length; at += FILL)
    out.push(shelf(firstId + out.length, pieces.slice(at, at + FILL)));
  return out;
}

function shelf(id: number, pieces: readonly Piece[]): Shelf {
  let lines = 0;
  let length = 0;
  let anchors = 0;
  const columns: ColumnCount[] = [];
  for (const piece of pieces) {
    lines += piece.lines;
    length += piece.text.length;
    if (piece.anchors) anchors++;
    piece.shelf = id;
    if (piece.kind === 'whole') continue;
    const { section, indent } = piece;
    const known = columns.find((each) => each.column === indent && each.section === section);
    if (known) known.count++;
    else columns.push({ section, column: indent, count: 1 });
  }
  return { id, pieces, lines, length, anchors, columns };
}

/** The last shelf whose sum is at or below `target` (the last shelf of all when beyond). */
function search(sums: Float64Array, target: number): number {
  let low = 0;
  let high = sums.length - 2;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if (sums[middle]! <= target) low = middle;
    else high = middle - 1;
  }
  return low;
}
