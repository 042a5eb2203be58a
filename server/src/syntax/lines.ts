/** A place in a file as editors count it: lines and UTF-16 units from 0, with \n, \r\n and a lone \r as line ends. */
export interface Position {
  readonly line: number;
  readonly character: number;
}

export interface Range {
  readonly start: Position;
  readonly end: Position;
}

const LF = 10;
const CR = 13;

/** Walks line starts; remembers where the next carriage return is, so that a text without any is searched once. */
export class LineWalker {
  readonly #text: string;
  #cr: number;

  constructor(text: string, from = 0) {
    this.#text = text;
    this.#cr = text.indexOf('\r', from);
  }

  /** Offset after the line break that ends the line holding `from`, or -1 when no break follows. */
  next(from: number): number {
    const nl = this.#text.indexOf('\n', from);
    if (this.#cr !== -1 && this.#cr < from) this.#cr = this.#text.indexOf('\r', from);
    if (this.#cr !== -1 && (nl === -1 || this.#cr < nl)) {
      const after = this.#cr + 1;
      return after === nl ? nl + 1 : after;
    }
    return nl === -1 ? -1 : nl + 1;
  }
}

/** How many line breaks the text has. */
export function countLines(text: string): number {
  const walker = new LineWalker(text);
  let count = 0;
  for (let at = walker.next(0); at !== -1; at = walker.next(at)) count++;
  return count;
}

/** Line and character of an offset, counted from the start of `text`. Past the end gives the end. */
export function positionIn(text: string, offset: number): Position {
  const at = Math.max(0, Math.min(offset, text.length));
  const walker = new LineWalker(text);
  let line = 0;
  let start = 0;
  for (let next = walker.next(0); next !== -1 && next <= at; next = walker.next(next)) {
    line++;
    start = next;
  }
  return { line, character: at - start };
}

/** Offset of a place in `text`. A character past the end of its line gives the end of the line, before its break. */
export function offsetIn(text: string, position: Position): number {
  const walker = new LineWalker(text);
  let start = 0;
  for (let line = 0; line < position.line; line++) {
    const next = walker.next(start);
    if (next === -1) return text.length;
    start = next;
  }
  let end = walker.next(start);
  if (end === -1) end = text.length;
  else {
    if (text.charCodeAt(end - 1) === LF) end--;
    if (end > start && text.charCodeAt(end - 1) === CR) end--;
  }
  return Math.min(start + Math.max(0, position.character), end);
}
