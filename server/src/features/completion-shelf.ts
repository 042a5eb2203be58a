/** Many parts in one long text, so that the engine's own search runs over all of them at once. */
import type { Digest } from './completion-digest.ts';

export type Row = Digest;

/**
 * How well a row matches, lower is better: 0 the start of the number, 1 the start of the name, 2 the start of a word,
 * 3 anywhere, 4 its letters in order.
 */
export interface Ranked {
  readonly row: Row;
  readonly rank: number;
}

/** Before the number and before the name of each row; neither can stand in an id. */
const NUMBER = '\u0001';
const NAME = '\u0002';

export class Shelf {
  readonly #rows: readonly Row[];
  /** Numbers and names in lower case. Made when first searched. */
  #text: string | undefined;
  readonly #starts: Int32Array;
  /** The letters and digits that each row has, a bit each. */
  readonly #letters: Int32Array;
  #roles: Map<string, Row[]> | undefined;

  /** `rows` by number. */
  constructor(rows: readonly Row[]) {
    this.#rows = rows;
    this.#starts = new Int32Array(rows.length);
    this.#letters = new Int32Array(rows.length);
  }

  ofRole(role: string): readonly Row[] {
    if (!this.#roles) {
      this.#roles = new Map();
      for (const row of this.#rows) {
        for (const one of row.roles) {
          const list = this.#roles.get(one);
          if (list) list.push(row);
          else this.#roles.set(one, [row]);
        }
      }
    }
    return this.#roles.get(role) ?? [];
  }

  /** The `most` best matches at least, if there are so many. */
  search(word: string, most: number, passes: (row: Row) => boolean): Ranked[] {
    const found: Ranked[] = [];
    if (word === '') {
      for (const row of this.#rows) {
        if (passes(row)) found.push({ row, rank: 0 });
        if (found.length >= most) break;
      }
      return found;
    }
    const seen = new Set<Row>();
    const take = (index: number, rank: number) => {
      const row = this.#rows[index]!;
      if (seen.has(row) || !passes(row)) return false;
      seen.add(row);
      found.push({ row, rank });
      return true;
    };
    this.#each(NUMBER + word, (index) => take(index, 0) && found.length >= most);
    if (found.length < most) this.#each(NAME + word, (index) => take(index, 1) && found.length >= most);
    if (found.length < most) this.#inside(word, most - found.length, take);
    if (found.length < most) this.#lettersInOrder(word, most - found.length, take);
    return found;
  }

  /** Words that begin so come before those that only hold it, so all hits count until enough have been seen. */
  #inside(word: string, most: number, take: (index: number, rank: number) => boolean): void {
    const text = this.#laidOut();
    const later: number[] = [];
    let taken = 0;
    this.#each(word, (index, at) => {
      if (isLetter(text.charCodeAt(at - 1))) {
        if (later.length < most) later.push(index);
        return false;
      }
      if (take(index, 2)) taken++;
      return taken >= most;
    });
    for (const index of later) if (taken < most && take(index, 3)) taken++;
  }

  #lettersInOrder(word: string, most: number, take: (index: number, rank: number) => boolean): void {
    const text = this.#laidOut();
    const wanted = lettersOf(word, 0, word.length);
    let taken = 0;
    for (let index = 0; index < this.#rows.length && taken < most; index++) {
      if ((this.#letters[index]! & wanted) !== wanted) continue;
      if (inOrder(text, this.#starts[index]!, this.#starts[index + 1] ?? text.length, word) && take(index, 4))
        taken++;
    }
  }

  /** Every row that holds the text, with the place in the long text; stops when told `true`. Goes on after a hit at the next row. */
  #each(what: string, told: (index: number, at: number) => boolean): void {
    const text = this.#laidOut();
    let index = 0;
    for (let at = text.indexOf(what); at !== -1; at = text.indexOf(what, at + 1)) {
      index = this.#indexAt(at, index);
      if (told(index, at)) return;
    }
  }

  /** The row that an offset lies in, at or after a row known. */
  #indexAt(at: number, from: number): number {
    const starts = this.#starts;
    let low = from;
    let step = 1;
    while (low + step < starts.length && starts[low + step]! <= at) {
      low += step;
      step *= 2;
    }
    let high = Math.min(low + step, starts.length);
    while (high - low > 1) {
      const middle = (low + high) >> 1;
      if (starts[middle]! <= at) low = middle;
      else high = middle;
    }
    return low;
  }

  #laidOut(): string {
    if (this.#text !== undefined) return this.#text;
    const pieces: string[] = [];
    let length = 0;
    for (const [i, { id, name }] of this.#rows.entries()) {
      const piece = NUMBER + (id + NAME + name).toLowerCase();
      this.#starts[i] = length;
      this.#letters[i] = lettersOf(piece, 0, piece.length);
      length += piece.length;
      pieces.push(piece);
    }
    this.#text = pieces.join('');
    return this.#text;
  }
}

function isLetter(code: number): boolean {
  return (code >= 97 && code <= 122) || (code >= 48 && code <= 57) || code > 127;
}

function lettersOf(text: string, start: number, end: number): number {
  let bits = 0;
  for (let i = start; i < end; i++) {
    const code = text.charCodeAt(i);
    if (code >= 97 && code <= 122) bits |= 1 << (code - 97);
    else if (code >= 48 && code <= 57) bits |= 1 << (26 + (code % 5));
  }
  return bits;
}

function inOrder(text: string, start: number, end: number, word: string): boolean {
  let at = start;
  for (let i = 0; i < word.length; i++) {
    const code = word.charCodeAt(i);
    if (code === 32) continue;
    while (at < end && text.charCodeAt(at) !== code) at++;
    if (at === end) return false;
    at++;
  }
  return true;
}
