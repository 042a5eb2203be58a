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

/** Walks line starts; remembers where the next of each kind of break is, so that a text without one is searched once. */
export class LineWalker {
  readonly #text: string;
  #lf = -1;
  #cr = -1;

  constructor(text: string) {
    this.#text = text;
  }

  /** Offset after the line break that ends the line holding `from`, or -1 when no break follows. Call with rising offsets. */
  next(from: number): number {
    if (this.#lf < from) this.#lf = this.#find('\n', from);
    if (this.#cr < from) this.#cr = this.#find('\r', from);
    if (this.#cr < this.#lf) return this.#cr + 1 === this.#lf ? this.#lf + 1 : this.#cr + 1;
    return this.#lf < this.#text.length ? this.#lf + 1 : -1;
  }

  #find(what: string, from: number): number {
    const at = this.#text.indexOf(what, from);
    return at === -1 ? this.#text.length : at;
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
