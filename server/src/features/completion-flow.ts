/** Lists and maps in brackets, as far as they are written: `[a, b|`, `{ drive: [4wd], | }`. */

import { type Frame, frame, setText } from './completion-frames.ts';
import { endOfLine, isBlank, nextLine, quoteEnd, skipBlanks } from './completion-text.ts';
import type { Found } from './completion-typing.ts';

export class FlowScanner {
  readonly #text: string;
  readonly #cursor: number;
  readonly #stack: Frame[];
  /** Of the names around the brackets: a line that is not set in deeper has left them. */
  readonly #column: number;
  readonly #capture: (found: Found) => void;
  /** The brackets were left without being closed. */
  #left = false;

  constructor(text: string, cursor: number, stack: Frame[], column: number, capture: (found: Found) => void) {
    this.#text = text;
    this.#cursor = cursor;
    this.#stack = stack;
    this.#column = column;
    this.#capture = capture;
  }

  /** Takes what stands in the brackets that open at `open`; the offset after them, or where they were left. */
  run(open: number): number {
    const text = this.#text;
    const map = text[open] === '{';
    const group = frame(map ? 'map' : 'list', this.#column, map ? '' : 0, true);
    this.#stack.push(group);
    let at = open + 1;
    for (;;) {
      const next = map ? this.#pair(group, at) : this.#item(group, at);
      at = next;
      if (this.#left || at >= text.length) break;
      const mark = text[at];
      at++;
      if (mark !== ',') break;
      if (!map) group.step = Number(group.step) + 1;
    }
    this.#stack.pop();
    return Math.min(at, text.length);
  }

  #item(list: Frame, from: number): number {
    const at = this.#skip(from);
    if (this.#empty(from, at)) {
      this.#found({ value: true, span: this.#here(), before: this.#spaceAfterComma(from) });
      return this.#toMark(at);
    }
    return this.#value(list, at);
  }

  #pair(map: Frame, from: number): number {
    const text = this.#text;
    const at = this.#skip(from);
    map.step = '';
    if (this.#empty(from, at)) {
      this.#found({ name: true, inner: map, span: this.#here(), before: this.#spaceAfterComma(from) });
      return this.#toMark(at);
    }
    if (this.#left || this.#isMark(at)) return at;
    const end = endOfLine(text, at);
    const quoted = text[at] === '"' || text[at] === "'";
    const close = quoted ? quoteEnd(text, at, end) : -1;
    let colon = quoted && close !== -1 ? close + 1 : at;
    const isColon = () =>
      text[colon] === ':' && (quoted || isBlank(text, colon + 1, end) || ',[]{}'.includes(text[colon + 1]!));
    while (colon < end && !isColon() && !(colon > at && this.#isMark(colon)) && !this.#isComment(colon))
      colon++;
    const last = at + text.slice(at, colon).trimEnd().length;
    const named = colon < end && isColon();
    if (!quoted && this.#cursor >= at && this.#cursor <= Math.max(last, named ? last : colon)) {
      this.#found({
        name: true,
        colon: named,
        inner: map,
        span: { start: at, end: Math.max(last, this.#cursor) },
      });
    } else map.pairs.set(text.slice(at, last).replace(/^(["'])(.*)\1$/, '$2'), undefined);
    if (!named) return this.#toMark(colon);
    map.step = text.slice(at, last).replace(/^(["'])(.*)\1$/, '$2');
    const value = this.#skip(colon + 1);
    if (this.#empty(colon + 1, value)) {
      this.#found({ value: true, span: this.#here(), before: this.#cursor === colon + 1 ? ' ' : '' });
      return this.#toMark(value);
    }
    return this.#value(map, value);
  }

  /** A value that starts at `at`, up to the comma or bracket after it. */
  #value(holder: Frame, at: number): number {
    const text = this.#text;
    if (this.#left || this.#isMark(at)) return at;
    const end = endOfLine(text, at);
    const mark = text[at]!;
    if (mark === '[' || mark === '{') return this.#toMark(this.run(at));
    if (mark === '"' || mark === "'") {
      const close = quoteEnd(text, at, end);
      const last = close === -1 ? end : close;
      if (this.#cursor > at && this.#cursor <= last) {
        this.#found({
          value: true,
          span: { start: at + 1, end: last },
          quote: { mark, closed: close !== -1 },
        });
      } else if (close !== -1) setText(holder, text.slice(at + 1, close));
      return this.#toMark(Math.min(last + 1, end));
    }
    let stop = at;
    while (stop < end && !(stop > at && this.#isMark(stop)) && !this.#isComment(stop)) stop++;
    const last = at + text.slice(at, stop).trimEnd().length;
    if (this.#cursor >= at && this.#cursor <= stop) {
      this.#found({ value: true, span: { start: at, end: Math.max(last, this.#cursor) } });
    } else setText(holder, text.slice(at, last));
    return this.#toMark(stop);
  }

  /** Whether the cursor stands where nothing is written between two marks. */
  #empty(from: number, at: number): boolean {
    const { start, end } = { start: from, end: Math.min(at, endOfLine(this.#text, this.#cursor)) };
    if (this.#cursor < start || this.#cursor > Math.max(end, start)) return false;
    return (
      this.#left || at >= this.#text.length || this.#isMark(at) || this.#lineBreakBetween(this.#cursor, at)
    );
  }

  #lineBreakBetween(start: number, end: number): boolean {
    return endOfLine(this.#text, start) < end;
  }

  #spaceAfterComma(from: number): string {
    return this.#cursor === from && this.#text[from - 1] === ',' ? ' ' : '';
  }

  #here() {
    return { start: this.#cursor, end: this.#cursor };
  }

  #found(found: Omit<Found, 'column'>): void {
    this.#capture({ flow: true, column: this.#column, ...found });
  }

  /** Passes what does not belong there, up to the next comma or bracket. */
  #toMark(from: number): number {
    let at = this.#skip(from);
    while (!this.#left && at < this.#text.length && !this.#isMark(at)) at = this.#skip(at + 1);
    return at;
  }

  #isMark(at: number): boolean {
    const ch = this.#text[at];
    return ch === ',' || ch === ']' || ch === '}';
  }

  #isComment(at: number): boolean {
    return this.#text[at] === '#' && at > 0 && /\s/.test(this.#text[at - 1]!);
  }

  /** On an empty line the cursor says how deep it is set in. */
  #cursorColumn(start: number, end: number): number {
    return this.#cursor >= start && this.#cursor <= end ? this.#cursor - start : Number.POSITIVE_INFINITY;
  }

  /** Passes blanks, comments and line breaks; leaves the brackets at a line that is not set in deeper. */
  #skip(from: number): number {
    const text = this.#text;
    for (let at = from; ; ) {
      const end = endOfLine(text, at);
      at = skipBlanks(text, at, end);
      if (at < end && !this.#isComment(at)) return at;
      const line = nextLine(text, end);
      if (line === -1) return text.length;
      const last = endOfLine(text, line);
      const first = skipBlanks(text, line, last);
      const column = first < last ? first - line : this.#cursorColumn(line, last);
      if (column <= this.#column && text[first] !== ']' && text[first] !== '}') {
        this.#left = true;
        return end;
      }
      at = line;
    }
  }
}
