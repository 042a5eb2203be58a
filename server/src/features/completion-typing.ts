/**
 * Where in a half-written piece the cursor stands.
 *
 * A file that is being typed is rarely readable as YAML, so nothing here reads it: lines are taken by their
 * indentation, list dashes, brackets and quotes, and what does not fit is passed over. Names that stand below the
 * cursor count as written, so that a name is not offered twice.
 */
import type { Span } from '../syntax/node.ts';
import { FlowScanner } from './completion-flow.ts';
import { type Frame, type FrameSlot, Frames, setText } from './completion-frames.ts';
import { endOfLine, isBlank, nextLine, plainEnd, quoteEnd, skipBlanks } from './completion-text.ts';

export interface Quote {
  readonly mark: '"' | "'";
  readonly closed: boolean;
}

export interface Typing {
  /** From the outermost map down to what is being written. */
  readonly path: readonly (string | number)[];
  /** What each step of the path is taken in. */
  readonly above: readonly Frame[];
  /** The map at the path, as far as it is written. */
  readonly inner: Frame | undefined;
  /** A name can stand here. */
  readonly name: boolean;
  /** A value can stand here. */
  readonly value: boolean;
  /** An item of a list can stand here, with its dash: on a line of its own. */
  readonly dash: boolean;
  /** What is replaced, and as much of it as stands before the cursor. Offsets of the piece. */
  readonly span: Span;
  readonly typed: string;
  readonly quote: Quote | undefined;
  /** A colon follows the name already. */
  readonly colon: boolean;
  /** Where what goes below is lined up: the column of the names around it. */
  readonly column: number;
  readonly flow: boolean;
  /** Spaces that are missing before and after. */
  readonly before: string;
  readonly after: string;
}

/** `around`: the maps that the piece lies in, outermost first; the piece's own names belong to the last. */
export function typingIn(text: string, cursor: number, around: readonly Frame[]): Typing | undefined {
  return new Scanner(text, cursor, around).run();
}

class Scanner {
  readonly #text: string;
  readonly #cursor: number;
  readonly #frames: Frames;
  readonly #slots = new Map<Typing, FrameSlot>();
  /** Column of the name that a `|` or `>` text belongs to. */
  #block: number | undefined;
  #typing: Typing | undefined;

  constructor(text: string, cursor: number, around: readonly Frame[]) {
    this.#text = text;
    this.#cursor = cursor;
    this.#frames = new Frames(around);
  }

  run(): Typing | undefined {
    for (let at = this.#text.charCodeAt(0) === 0xfeff ? 1 : 0; ; ) {
      const next = this.#line(at);
      if (next === -1) break;
      at = next;
    }
    const typing = this.#typing;
    const inner = typing && this.#slots.get(typing)?.inner;
    return inner ? { ...typing, inner } : typing;
  }

  /** Takes a line, and those that its brackets or quotes go on over. The start of the next one, or -1 at the end. */
  #line(start: number): number {
    const text = this.#text;
    const end = endOfLine(text, start);
    const at = skipBlanks(text, start, end);
    const column = at - start;
    const here = this.#cursor >= start && this.#cursor <= end;
    if (at === end) {
      if (here) this.#blankLine(this.#cursor - start, end);
      return nextLine(text, end);
    }
    if (this.#block !== undefined && column > this.#block) return nextLine(text, end);
    this.#block = undefined;
    const ch = text[at];
    const passed =
      ch === '#' || (ch === '%' && column === 0) || /^(---|\.\.\.)(\s|$)/.test(text.slice(at, at + 4));
    if (passed || (here && this.#cursor < at)) {
      if (!passed) this.#structure(at, column, end);
      return nextLine(text, end);
    }
    const last = this.#structure(at, column, end);
    return nextLine(text, endOfLine(text, last));
  }

  /** The cursor on a line with nothing on it: its column says what it belongs to. */
  #blankLine(column: number, end: number): void {
    if (this.#block !== undefined) {
      if (column > this.#block || this.#nextColumn(end) > this.#block) return;
    }
    const fits = (one: Frame) => !one.flow && (one.column === column || (one.column < column && one.pending));
    let at = this.#frames.stack.findLastIndex(fits);
    // A list may stand at the column of its name: there a name is likelier than a dash.
    if (this.#frames.stack[at]?.type === 'list' && this.#frames.stack[at - 1]?.column === column) at--;
    const found = this.#frames.stack[at];
    if (!found) return;
    const span = { start: this.#cursor, end: this.#cursor };
    if (found.column < column) {
      this.#capture(at, { span, name: true, value: true, dash: found.type === 'map', column, inSlot: true });
    } else if (found.type === 'map') {
      this.#capture(at, { span, name: true, inner: found, column });
    } else {
      found.step = found.items.length;
      this.#capture(at, { span, name: true, value: true, dash: true, column, inSlot: false });
    }
  }

  #nextColumn(end: number): number {
    const text = this.#text;
    for (let at = nextLine(text, end); at !== -1; at = nextLine(text, endOfLine(text, at))) {
      const last = endOfLine(text, at);
      const first = skipBlanks(text, at, last);
      if (first < last) return first - at;
    }
    return -1;
  }

  /** Places what stands at a column into the maps and lists; the offset up to which text was taken. */
  #structure(at: number, column: number, end: number): number {
    const text = this.#text;
    const dash = text[at] === '-' && isBlank(text, at + 1, end);
    if (!dash && this.#within(at, end) && this.#dashMissing(at, column, end)) return end;
    if (!this.#frames.open(column, dash)) return end;
    if (dash) {
      const list = this.#frames.top;
      const first = skipBlanks(text, at + 1, end);
      if (first < end && !(text[first] === '#' && first > at + 1)) {
        return this.#structure(first, column + first - at, end);
      }
      if (this.#within(at + 1, end) && this.#cursor <= first) {
        const span = { start: this.#cursor, end: this.#cursor };
        const before = this.#cursor === at + 1 ? ' ' : '';
        const inside = column + Math.max(2, this.#cursor - at);
        this.#capture(this.#frames.stack.length - 1, {
          span,
          name: true,
          value: true,
          before,
          column: inside,
          inSlot: true,
        });
      }
      list.pending = true;
      return end;
    }
    const colon = this.#colonOf(at, end);
    if (colon === -1) return this.#unnamed(at, column, end);
    const map = this.#frames.mapAt(column);
    const quoted = text[at] === '"' || text[at] === "'";
    const name = text
      .slice(at, colon)
      .trim()
      .replace(/^(["'])(.*)\1$/, '$2');
    const atName = this.#within(at, colon);
    map.step = name;
    map.pending = false;
    map.slot = undefined;
    if (!atName) map.pairs.set(name, undefined);
    else if (!quoted) {
      const span = { start: at, end: at + text.slice(at, colon).trimEnd().length };
      if (this.#cursor <= span.end)
        this.#capture(this.#frames.stack.length - 1, { span, name: true, colon: true, inner: map, column });
    }
    return this.#value(colon + 1, end, map);
  }

  /** A word at the column of a list's dashes: the next item, its dash not typed yet. */
  #dashMissing(at: number, column: number, end: number): boolean {
    const depth = this.#frames.stack.findLastIndex((one) => one.column === column && !one.flow);
    const list = this.#frames.stack[depth];
    if (list?.type !== 'list' || this.#frames.stack[depth - 1]?.column === column) return false;
    if (this.#colonOf(at, end) !== -1) return false;
    list.step = list.items.length;
    const span = { start: at, end: Math.max(plainEnd(this.#text, at, end), this.#cursor) };
    this.#capture(depth, { span, name: true, value: true, dash: true, column });
    return true;
  }

  /** The colon that ends a name starting here, or -1. */
  #colonOf(at: number, end: number): number {
    const text = this.#text;
    const mark = text[at]!;
    if (mark === '"' || mark === "'") {
      const close = quoteEnd(text, at, end);
      if (close === -1) return -1;
      const colon = skipBlanks(text, close + 1, end);
      return text[colon] === ':' && isBlank(text, colon + 1, end) ? colon : -1;
    }
    if ('[{|>&*!?@`'.includes(mark)) return -1;
    const last = plainEnd(text, at, end);
    for (let i = at; i < last; i++) if (text[i] === ':' && isBlank(text, i + 1, end)) return i;
    return -1;
  }

  /** Text without a colon: a name that is being typed, or a value. */
  #unnamed(at: number, column: number, end: number): number {
    const text = this.#text;
    const above = this.#frames.top;
    if (above.pending && '[{|>&*!"\''.includes(text[at]!)) return this.#value(at, end, above, true);
    const first = above.pending;
    const map = this.#frames.mapAt(column);
    const last = plainEnd(text, at, end);
    if (this.#within(at, end)) {
      if (this.#cursor > last && text[skipBlanks(text, last, end)] === '#') return end;
      const span = { start: at, end: Math.max(last, this.#cursor) };
      if (first) {
        above.slot = { inner: map };
        const dash = above.type === 'map';
        this.#capture(this.#frames.stack.length - 2, {
          span,
          name: true,
          value: true,
          dash,
          column,
          inSlot: true,
          inner: map,
        });
      } else this.#capture(this.#frames.stack.length - 1, { span, name: true, inner: map, column });
    } else if (first) setText(above, text.slice(at, last));
    return end;
  }

  /** What follows a colon, or a value on a line of its own. */
  #value(from: number, end: number, holder: Frame, ownLine = false): number {
    const text = this.#text;
    const at = skipBlanks(text, from, end);
    const depth = this.#frames.stack.indexOf(holder);
    const place = { value: true, column: holder.column };
    if (at === end || (text[at] === '#' && (at > from || ownLine))) {
      holder.pending = true;
      if (this.#within(from, at)) {
        const before = this.#cursor === from && text[from - 1] === ':' ? ' ' : '';
        const after = text[this.#cursor] === '#' ? ' ' : '';
        this.#capture(depth, {
          ...place,
          span: { start: this.#cursor, end: this.#cursor },
          before,
          after,
          inSlot: true,
        });
      }
      return end;
    }
    holder.pending = false;
    const mark = text[at]!;
    if (mark === '&' || mark === '!') {
      let next = at;
      while (next < end && !isBlank(text, next, end)) next++;
      return this.#value(next, end, holder, ownLine);
    }
    if ((mark === '|' || mark === '>') && /^[|>][-+\d]*[ \t]*(#.*)?$/.test(text.slice(at, end))) {
      this.#block = holder.column;
      return end;
    }
    if (mark === '[' || mark === '{') {
      const found = (one: Found) => this.#capture(this.#frames.stack.length - 1, one);
      return new FlowScanner(text, this.#cursor, this.#frames.stack, holder.column, found).run(at);
    }
    if (mark === '*') return end;
    if (mark === '"' || mark === "'") return this.#quoted(at, end, holder, depth);
    const last = plainEnd(text, at, end);
    if (!this.#within(at, end)) setText(holder, text.slice(at, last));
    else if (this.#cursor <= last || text[skipBlanks(text, last, end)] !== '#') {
      this.#capture(depth, { ...place, span: { start: at, end: Math.max(last, this.#cursor) } });
    }
    return end;
  }

  #quoted(at: number, end: number, holder: Frame, depth: number): number {
    const text = this.#text;
    const mark = text[at] as Quote['mark'];
    const close = quoteEnd(text, at, end);
    const here = this.#within(at + 1, close === -1 ? end : close);
    if (close !== -1 && !here) setText(holder, text.slice(at + 1, close));
    if (here) {
      const span = { start: at + 1, end: close === -1 ? end : close };
      const quote = { mark, closed: close !== -1 };
      this.#capture(depth, { value: true, column: holder.column, span, quote });
    }
    if (close !== -1 || here) return end;
    // It may end further down, as long as the lines are set in deeper than the name.
    for (let line = nextLine(text, end); line !== -1; ) {
      const last = endOfLine(text, line);
      const first = skipBlanks(text, line, last);
      if (first < last && first - line <= holder.column) break;
      const found = quoteEnd(text, line - 1, last, mark);
      if (found !== -1) return last;
      line = nextLine(text, last);
    }
    return end;
  }

  #within(start: number, end: number): boolean {
    return this.#cursor >= start && this.#cursor <= end;
  }

  /** Keeps the place: `depth` is the innermost map or list around what is being written. */
  #capture(depth: number, found: Found): void {
    const { inner, inSlot, ...rest } = found;
    const atName = inner !== undefined && inner === this.#frames.stack[depth];
    const frames = this.#frames.stack.slice(0, depth + 1);
    const above = atName ? frames.slice(0, -1) : frames;
    this.#typing = {
      name: false,
      value: false,
      dash: false,
      quote: undefined,
      colon: false,
      flow: false,
      before: '',
      after: '',
      ...rest,
      path: above.map((one) => one.step),
      above,
      inner,
      typed: this.#text.slice(found.span.start, this.#cursor),
    };
    if (inSlot) {
      const holder = this.#frames.stack[depth]!;
      holder.slot ??= { inner: undefined };
      this.#slots.set(this.#typing, holder.slot);
    }
  }
}

export interface Found extends Partial<Omit<Typing, 'path' | 'above' | 'typed'>> {
  readonly span: Span;
  readonly column: number;
  /** What is written below, later in the piece, is what is being written here. */
  readonly inSlot?: boolean;
}
