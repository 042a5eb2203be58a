import { type FileProblem, fileProblems } from './file-problems.ts';
import { KeyIndex } from './keys.ts';
import { WHOLE_LIMIT } from './limits.ts';
import { countLines, offsetIn, type Position, positionIn, type Range } from './lines.ts';
import type { Span, SyntaxProblem } from './node.ts';
import { Piece } from './piece.ts';
import { splitPieces } from './pieces.ts';
import { Shelves } from './shelves.ts';

/** One change as editors send it: the text between two positions replaced. */
export interface TextChange {
  readonly range: Range;
  readonly text: string;
}

/** A piece with an offset in its text. */
export interface Place {
  readonly piece: Piece;
  readonly index: number;
  readonly offset: number;
}

/**
 * A version of a file as pieces. Immutable: `edit` gives a new version that shares every piece the edit has not
 * touched, and has exactly the pieces that opening the new text would give.
 */
export class SourceFile {
  readonly uri: string;
  readonly splitKeys: ReadonlySet<string>;
  readonly #shelves: Shelves;
  readonly #keys: KeyIndex;
  #problems: readonly FileProblem[] | undefined;

  private constructor(uri: string, splitKeys: ReadonlySet<string>, shelves: Shelves, keys: KeyIndex) {
    this.uri = uri;
    this.splitKeys = splitKeys;
    this.#shelves = shelves;
    this.#keys = keys;
  }

  /** `splitKeys` are the top-level names whose entries become pieces of their own. */
  static open(uri: string, text: string, splitKeys: ReadonlySet<string>): SourceFile {
    const pieces = splitPieces(text, splitKeys);
    if (text.length <= WHOLE_LIMIT && pieces.some((piece) => piece.anchors)) {
      const whole = wholePiece(text);
      return new SourceFile(uri, splitKeys, Shelves.of([whole]), KeyIndex.of([whole]));
    }
    return new SourceFile(uri, splitKeys, Shelves.of(pieces), KeyIndex.of(pieces));
  }

  /** The version after the changes, each of which counts positions in the result of the one before; or a whole new text. */
  edit(changes: readonly TextChange[] | string): SourceFile {
    if (typeof changes === 'string') return this.#replaceAll(changes);
    let file: SourceFile = this;
    for (const change of changes) file = file.#apply(change);
    return file;
  }

  /** How many pieces there are; at least one. */
  get size(): number {
    return this.#shelves.size;
  }

  /** UTF-16 units in the whole file. */
  get length(): number {
    return this.#shelves.length;
  }

  /** Lines in the whole file: line breaks plus one. */
  get lineCount(): number {
    return this.#shelves.lines + 1;
  }

  at(index: number): Piece {
    return this.#shelves.at(index);
  }

  *pieces(): IterableIterator<Piece> {
    for (const shelf of this.#shelves.list) yield* shelf.pieces;
  }

  /** Index of a piece of this version, or -1. */
  indexOf(piece: Piece): number {
    return this.#shelves.indexOf(piece);
  }

  /** The pieces with this name at the top, or this id in a catalog; several when it is given twice. */
  find(section: string | undefined, key: string): Piece[] {
    return this.#keys.find(section, key);
  }

  /** The piece that holds the start of a line; the last piece when the line is past the end. */
  pieceAt(line: number): Piece {
    return this.at(this.#shelves.byLine(Math.max(0, line)).index);
  }

  /** First line of a piece in the file, from 0. */
  lineOf(piece: Piece | number): number {
    return this.#shelves.linesBefore(this.#index(piece));
  }

  positionOf(piece: Piece | number, offset: number): Position {
    const index = this.#index(piece);
    const inside = positionIn(this.at(index).text, offset);
    return { line: this.#shelves.linesBefore(index) + inside.line, character: inside.character };
  }

  rangeOf(piece: Piece | number, span: Span): Range {
    const index = this.#index(piece);
    return { start: this.positionOf(index, span.start), end: this.positionOf(index, span.end) };
  }

  /** The piece and offset at a position. Past the end of a line gives its end, past the end of the file the file's end. */
  offsetOf(position: Position): Place {
    const { index, before } = this.#shelves.byLine(Math.max(0, position.line));
    const piece = this.at(index);
    return { piece, index, offset: offsetIn(piece.text, { ...position, line: position.line - before }) };
  }

  /** The piece and offset at an offset of the whole file. */
  placeOf(fileOffset: number): Place {
    const { index, before } = this.#shelves.byOffset(Math.max(0, fileOffset));
    const piece = this.at(index);
    return { piece, index, offset: Math.min(fileOffset - before, piece.text.length) };
  }

  text(): string {
    return this.#shelves.list.map((shelf) => shelf.pieces.map((piece) => piece.text).join('')).join('');
  }

  /** What only the whole file shows: names given twice in different pieces, entries out of line. Offsets are the piece's. */
  get problems(): readonly FileProblem[] {
    this.#problems ??= fileProblems(this, this.#shelves.list, this.#keys.repeats());
    return this.#problems;
  }

  /** Every problem of the file with its place, for a command line; reads every piece. */
  *allProblems(): IterableIterator<{ range: Range; problem: SyntaxProblem }> {
    let index = 0;
    for (const piece of this.pieces()) {
      for (const problem of piece.read().problems) yield { range: this.rangeOf(index, problem), problem };
      index++;
    }
    for (const problem of this.problems) yield { range: this.rangeOf(problem.piece, problem), problem };
  }

  /** The pieces that are in one version and not in the other, found by comparing shelves. */
  changedFrom(before: SourceFile): { removed: Piece[]; added: Piece[] } {
    const old = before.#shelves.list;
    const now = this.#shelves.list;
    let start = 0;
    while (start < old.length && start < now.length && old[start] === now[start]) start++;
    let oldEnd = old.length;
    let nowEnd = now.length;
    while (oldEnd > start && nowEnd > start && old[oldEnd - 1] === now[nowEnd - 1]) {
      oldEnd--;
      nowEnd--;
    }
    const oldPieces = new Set(old.slice(start, oldEnd).flatMap((shelf) => shelf.pieces));
    const added: Piece[] = [];
    for (const shelf of now.slice(start, nowEnd))
      for (const piece of shelf.pieces) if (!oldPieces.delete(piece)) added.push(piece);
    return { removed: [...oldPieces], added };
  }

  #index(piece: Piece | number): number {
    return typeof piece === 'number' ? piece : this.indexOf(piece);
  }

  #apply(change: TextChange): SourceFile {
    let start = this.offsetOf(change.range.start);
    let end = this.offsetOf(change.range.end);
    if (end.index < start.index || (end.index === start.index && end.offset < start.offset))
      [start, end] = [end, start];
    return this.#splice(start, end, change.text);
  }

  #splice(start: Place, end: Place, text: string): SourceFile {
    const anchored = this.#shelves.anchors > 0 && this.length <= WHOLE_LIMIT;
    if (anchored) {
      const whole = this.text();
      const from = this.#shelves.lengthBefore(start.index) + start.offset;
      const to = this.#shelves.lengthBefore(end.index) + end.offset;
      return SourceFile.open(this.uri, whole.slice(0, from) + text + whole.slice(to), this.splitKeys);
    }
    // One piece before the edit, because the edited lines may turn out to belong to it.
    const first = Math.max(0, start.index - 1);
    const head = this.#join(first, start.index) + start.piece.text.slice(0, start.offset) + text;
    const { section, sectionIndent } = this.at(first);
    const context = first === 0 ? undefined : { section, sectionIndent, fileStart: false };
    for (let reach = 1; ; reach *= 4) {
      const last = Math.min(this.size, end.index + 1 + reach);
      const window = head + end.piece.text.slice(end.offset) + this.#join(end.index + 1, last);
      const old = this.#shelves.slice(first, last);
      const fresh = splitPieces(window, this.splitKeys, context);
      if (last < this.size && !alike(fresh.at(-1), old.at(-1)!)) continue;
      return this.#settle(first, old, fresh);
    }
  }

  /** Puts the new pieces in, keeping the old objects at both ends where nothing has changed. */
  #settle(first: number, old: readonly Piece[], fresh: readonly Piece[]): SourceFile {
    let front = 0;
    while (front < old.length && front < fresh.length && alike(fresh[front], old[front]!)) front++;
    let back = 0;
    while (
      back < old.length - front &&
      back < fresh.length - front &&
      alike(fresh[fresh.length - 1 - back], old[old.length - 1 - back]!)
    )
      back++;
    const removed = old.slice(front, old.length - back);
    const added = fresh.slice(front, fresh.length - back);
    if (removed.length === 0 && added.length === 0) return this;
    const shelves = this.#shelves.replace(first + front, first + front + removed.length, added);
    if (shelves.anchors > 0 && shelves.length <= WHOLE_LIMIT) {
      const text = shelves.list.flatMap((shelf) => shelf.pieces.map((piece) => piece.text)).join('');
      return SourceFile.open(this.uri, text, this.splitKeys);
    }
    const keys = this.#keys.replace(removed, added, () => shelves.slice(0, shelves.size));
    return new SourceFile(this.uri, this.splitKeys, shelves, keys);
  }

  #join(from: number, to: number): string {
    return this.#shelves
      .slice(from, to)
      .map((piece) => piece.text)
      .join('');
  }

  /** A whole new text: the pieces it shares with this version at both ends stay. */
  #replaceAll(text: string): SourceFile {
    let front = 0;
    let from = 0;
    for (const piece of this.pieces()) {
      if (front === this.size - 1 || !text.startsWith(piece.text, from)) break;
      from += piece.text.length;
      front++;
    }
    let back = this.size;
    let to = text.length;
    while (back > front + 1) {
      const { length } = this.at(back - 1).text;
      if (to - length < from || !text.startsWith(this.at(back - 1).text, to - length)) break;
      to -= length;
      back--;
    }
    const last = this.at(back - 1);
    return this.#splice(
      { piece: this.at(front), index: front, offset: 0 },
      { piece: last, index: back - 1, offset: last.text.length },
      text.slice(from, to),
    );
  }
}

/** The same text taken the same way: with the head fixed, the key follows from the text. */
function alike(a: Piece | undefined, b: Piece): boolean {
  return (
    a !== undefined &&
    a.kind === b.kind &&
    a.section === b.section &&
    a.sectionIndent === b.sectionIndent &&
    a.head === b.head &&
    a.text === b.text
  );
}

function wholePiece(text: string): Piece {
  return new Piece(text, {
    kind: 'whole',
    section: undefined,
    sectionIndent: -1,
    key: '',
    indent: 0,
    head: 0,
    keyEnd: 0,
    lines: countLines(text),
    anchors: true,
  });
}
