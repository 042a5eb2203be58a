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

/** What a hit is worth, by the character before it. */
function rankAfter(before: number): number {
  if (before === NUMBER.charCodeAt(0)) return 0;
  if (before === NAME.charCodeAt(0)) return 1;
  return isLetter(before) ? 3 : 2;
}

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
    if (word === '') return this.#first(most, passes);
    const text = this.#laidOut();
    const byRank: Ranked[][] = [[], [], [], []];
    const keep = (index: number, rank: number) => {
      const row = this.#rows[index];
      const ranked = byRank[rank];
      if (row && ranked && ranked.length < most && passes(row)) ranked.push({ row, rank });
    };
    let index = -1;
    let best = byRank.length;
    for (let at = text.indexOf(word); at !== -1; at = text.indexOf(word, at + 1)) {
      const here = this.#indexAt(at, Math.max(0, index));
      if (here !== index) {
        keep(index, best);
        if (byRank[0]!.length >= most) break;
        index = here;
        best = byRank.length;
      }
      best = Math.min(best, rankAfter(text.charCodeAt(at - 1)));
      if (best === 0) at = this.#endOf(index) - 1;
    }
    keep(index, best);
    return byRank.flat();
  }

  #first(most: number, passes: (row: Row) => boolean): Ranked[] {
    const found: Ranked[] = [];
    for (const row of this.#rows) {
      if (passes(row)) found.push({ row, rank: 0 });
      if (found.length >= most) break;
    }
    return found;
  }

  /** Rows that only have the letters of the word in order, at most so many. */
  searchLetters(word: string, most: number, passes: (row: Row) => boolean): Ranked[] {
    const text = this.#laidOut();
    const wanted = lettersOf(word, 0, word.length);
    const found: Ranked[] = [];
    for (let index = 0; index < this.#rows.length && found.length < most; index++) {
      if ((this.#letters[index]! & wanted) !== wanted) continue;
      if (!inOrder(text, this.#starts[index]!, this.#endOf(index), word)) continue;
      const row = this.#rows[index]!;
      if (passes(row)) found.push({ row, rank: 4 });
    }
    return found;
  }

  #endOf(index: number): number {
    return this.#starts[index + 1] ?? this.#laidOut().length;
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
