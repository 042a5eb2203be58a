/** Shorter stretches the engine copies by itself. */
const SLICE_COPIES = 13;

/**
 * A stretch of a text as a string of its own. A plain `slice` of a file would keep the whole file in memory for as long
 * as one piece lives. Joining two slices and then searching the result from its end makes the engine write it out; a
 * test holds it to that, because it is the engine's choice (it drops an `indexOf` here as being without effect).
 */
export function ownCopy(text: string, start: number, end: number): string {
  if (end - start < SLICE_COPIES) return text.slice(start, end);
  const joined = text.slice(start, start + 1) + text.slice(start + 1, end);
  joined.lastIndexOf('\n');
  return joined;
}

const BATCH = 1 << 15;

/**
 * Copies of neighbouring stretches, taken in rising order. Of a long text they are cut from common copies of about
 * 32,000 characters, which costs a tenth of copying each; a stretch then keeps such a batch in memory, not the file.
 */
export class Copies {
  readonly #text: string;
  #batch = '';
  #from = 0;

  constructor(text: string) {
    this.#text = text;
  }

  take(start: number, end: number): string {
    if (this.#text.length < BATCH) return ownCopy(this.#text, start, end);
    if (end > this.#from + this.#batch.length) {
      this.#from = start;
      this.#batch = ownCopy(this.#text, start, Math.min(this.#text.length, Math.max(end, start + BATCH)));
    }
    return this.#batch.slice(start - this.#from, end - this.#from);
  }
}
