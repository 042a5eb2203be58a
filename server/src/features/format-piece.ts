/**
 * How the lines of one piece are laid out. White space is all that is touched, and nothing inside a text of several
 * lines: those move as a whole with the name they belong to. A layout that would read differently is not given.
 */
import type { ListNode, MapNode, Node, PairNode, ScalarNode } from '../syntax/node.ts';
import { samePlain, toPlain } from '../syntax/node.ts';
import type { Piece } from '../syntax/piece.ts';
import { readPiece } from '../syntax/read.ts';
import { PieceLines } from './piece-lines.ts';

/** Columns from one level to the next. */
export const STEP = 2;

/** The lines of the piece as they should be, line breaks included; undefined for a line that is taken away. */
export type Layout = readonly (string | undefined)[];

export interface Setting {
  /** Where the first name of the piece stands; undefined when only what is inside the lines is tidied. */
  readonly column: number | undefined;
  /** Whether the piece begins the file: no empty lines above its words. */
  readonly first: boolean;
  /** For the piece that ends the file: the line break that it ends with. */
  readonly ending: string | undefined;
}

/** Undefined when the piece cannot be laid out safely. */
export function layoutOf(piece: Piece, setting: Setting): Layout | undefined {
  const { node, problems } = piece.read();
  if (problems.length > 0) return undefined;
  const plan = new Plan(new PieceLines(piece, 0));
  if (!plan.read(node, setting.column ?? 0)) return undefined;
  // A text block at the very end may need the file to end as it does.
  for (const ending of new Set([setting.ending, undefined])) {
    const layout = plan.layout({ ...setting, ending });
    const text = layout.join('');
    if (text === piece.text || isSame(piece.text, text, node)) return layout;
  }
  return undefined;
}

function isSame(before: string, after: string, node: Node): boolean {
  // Only white space may differ, so no comment can be lost.
  if (before.replace(/\s+/g, '') !== after.replace(/\s+/g, '')) return false;
  const again = readPiece(after);
  return again.problems.length === 0 && samePlain(toPlain(again.node), toPlain(node));
}

/** What a line begins with: its column now and then, and how far what hangs on it moves. */
interface Start {
  readonly column: number;
  readonly shift: number;
}

class Plan {
  readonly #lines: PieceLines;
  readonly #text: string;
  /** By line: names and dashes that begin it. */
  readonly #starts = new Map<number, Start>();
  /** Lines inside a text of several lines, and those at whose end it goes on. */
  readonly #inText = new Set<number>();
  readonly #openEnd = new Set<number>();
  /** Offsets of white space that should be one space, with its end. */
  readonly #gaps = new Map<number, number>();

  constructor(lines: PieceLines) {
    this.#lines = lines;
    this.#text = lines.piece.text;
  }

  /** False when the piece is written in a way that is not laid out. */
  read(root: Node, column: number): boolean {
    return this.#node(root, column);
  }

  #node(node: Node, column: number): boolean {
    if (this.#text[node.start] === '*') return true;
    if (node.type === 'scalar') this.#scalar(node);
    if (node.type === 'map')
      return node.flow ? this.#inBrackets(node) : node.pairs.every((pair) => this.#pair(pair, column));
    if (node.type === 'list') return node.flow ? this.#inBrackets(node) : this.#list(node, column);
    return true;
  }

  #pair({ key, value }: PairNode, column: number): boolean {
    if (!this.#starting(key.start, column)) return false;
    this.#scalar(key);
    const colon = /^[ \t]*:/.exec(this.#text.slice(key.end));
    if (!colon) return false;
    this.#gap(key.end + colon[0].length);
    if (value.type === 'empty') return true;
    const below = this.#lines.lineAt(value.start) > this.#lines.lineAt(key.end);
    const hanging = below && (value.type === 'scalar' || value.flow) && this.#text[value.start] !== '*';
    if (hanging && !this.#starting(value.start, column + STEP)) return false;
    return this.#node(value, column + STEP);
  }

  #list(list: ListNode, column: number): boolean {
    let from = list.start;
    return list.items.every((item) => {
      const dash = this.#dashIn(from, item.start);
      from = item.end;
      if (dash === -1 || !this.#starting(dash, column)) return false;
      this.#gap(dash + 1);
      if (item.type === 'empty') return true;
      const below = this.#lines.lineAt(item.start) > this.#lines.lineAt(dash);
      const single = item.type === 'scalar' || item.flow;
      if (below && single && this.#text[item.start] !== '*' && !this.#starting(item.start, column + STEP))
        return false;
      return this.#node(item, column + STEP);
    });
  }

  /** The first dash that is not inside a comment. */
  #dashIn(from: number, to: number): number {
    const between = this.#text
      .slice(from, to + 1)
      .replace(/#[^\r\n]*/g, (comment) => ' '.repeat(comment.length));
    const at = between.indexOf('-');
    return at === -1 ? -1 : from + at;
  }

  #inBrackets(node: MapNode | ListNode): boolean {
    const inside = (one: Node): void => {
      if (one.type === 'scalar') this.#scalar(one);
      if (one.type === 'map')
        for (const { key, value } of one.pairs) {
          this.#scalar(key);
          inside(value);
        }
      if (one.type === 'list') one.items.forEach(inside);
    };
    inside(node);
    return true;
  }

  #scalar(node: ScalarNode): void {
    const first = this.#lines.lineAt(node.start);
    let last = this.#lines.lineAt(node.end);
    const block = node.style === 'literal' || node.style === 'folded';
    // The empty lines after a text that keeps its end (`|+`) are part of it.
    if (block && /^[|>][-\d]*\+/.test(this.#text.slice(node.start, node.start + 4)))
      while (last + 1 < this.#lines.count && this.#lines.textOf(last + 1).trim() === '') last++;
    for (let line = first + 1; line <= last; line++) this.#inText.add(line);
    if (!block) for (let line = first; line < last; line++) this.#openEnd.add(line);
    if (block) for (let line = first + 1; line <= last; line++) this.#openEnd.add(line);
  }

  /** Notes that something begins at the offset and should stand at the column; false when it cannot be moved there. */
  #starting(offset: number, column: number): boolean {
    const line = this.#lines.lineAt(offset);
    const before = this.#lines.textOf(line).slice(0, this.#lines.position(offset).character);
    if (/^\ufeff? *$/.test(before)) {
      this.#starts.set(line, { column, shift: column - before.replace('\ufeff', '').length });
      return true;
    }
    // On the line of a dash; anything else before it (`? `, a tab, a tag) is left as it is.
    if (!/^\ufeff? *(- +)+$/.test(before)) return false;
    // What hangs on this line hangs on what begins here, and moves with it.
    const start = this.#starts.get(line);
    if (start) this.#starts.set(line, { ...start, shift: column - this.#lines.position(offset).character });
    return true;
  }

  #gap(offset: number): void {
    const space = /^[ \t]{2,}(?=[^\s#])|^\t(?=[^\s#])/.exec(this.#text.slice(offset, offset + 200));
    if (space) this.#gaps.set(offset, offset + space[0].length);
  }

  layout({ column, first, ending }: Setting): (string | undefined)[] {
    const reindent = column !== undefined;
    const out: (string | undefined)[] = [];
    let shift = 0;
    let empty = first;
    for (let line = 0; line < this.#lines.count; line++) {
      const [body, end] = parts(this.#lines.textOf(line));
      if (this.#inText.has(line)) {
        const moved = reindent ? moveBy(body, shift) : body;
        out.push((this.#openEnd.has(line) ? moved : moved.trimEnd()) + end);
        empty = false;
      } else if (body.trim() === '') {
        out.push(empty ? undefined : end);
        empty = true;
      } else {
        const start = this.#starts.get(line);
        if (start) shift = start.shift;
        const text = this.#openEnd.has(line)
          ? this.#withGaps(line, body)
          : this.#withGaps(line, body).trimEnd();
        out.push((reindent ? this.#placed(line, text, shift) : text) + end);
        empty = false;
      }
    }
    if (ending !== undefined) this.#end(out, ending);
    return out;
  }

  /** One line break at the end of the file, and nothing after it. */
  #end(out: (string | undefined)[], ending: string): void {
    let last = out.length - 1;
    while (last > 0 && !this.#inText.has(last) && (out[last] ?? '').trim() === '') out[last--] = undefined;
    if (!/[\r\n]$/.test(out[last] ?? '')) out[last] += ending;
  }

  /** Comments go with the line whose column they share, the next one first; other lines with what they hang on. */
  #placed(line: number, text: string, shift: number): string {
    const start = this.#starts.get(line);
    if (start) return indented(text, start.column);
    if (!/^[ \t]*#/.test(text)) return moveBy(text, shift);
    const column = text.length - text.trimStart().length;
    const near = this.#nextStart(line) ?? [];
    const above = this.#startsAbove(line);
    const partner = [...near, ...above].find((one) => one.now === column);
    return partner ? indented(text, partner.column) : moveBy(text, shift);
  }

  #nextStart(line: number): { now: number; column: number }[] | undefined {
    for (let at = line + 1; at < this.#lines.count; at++) {
      const start = this.#starts.get(at);
      if (start) return [{ now: this.#columnOf(at), column: start.column }];
    }
    return undefined;
  }

  #startsAbove(line: number): { now: number; column: number }[] {
    const out: { now: number; column: number }[] = [];
    let least = Number.POSITIVE_INFINITY;
    for (let at = line - 1; at >= 0 && least > 0; at--) {
      const start = this.#starts.get(at);
      const now = start ? this.#columnOf(at) : least;
      if (!start || now >= least) continue;
      least = now;
      out.push({ now, column: start.column });
    }
    return out;
  }

  #columnOf(line: number): number {
    const text = this.#lines.textOf(line);
    return text.length - text.trimStart().length;
  }

  #withGaps(line: number, body: string): string {
    const from = this.#lines.offsetOf(line);
    let out = '';
    let at = from;
    for (const [start, end] of [...this.#gaps].sort((a, b) => a[0] - b[0])) {
      if (start < from || start >= from + body.length) continue;
      out += `${this.#text.slice(at, start)} `;
      at = end;
    }
    return out + this.#text.slice(at, from + body.length);
  }
}

function indented(text: string, column: number): string {
  const mark = text.startsWith('\ufeff') ? '\ufeff' : '';
  return mark + ' '.repeat(column) + text.slice(mark.length).trimStart();
}

function moveBy(text: string, shift: number): string {
  if (text === '' || shift === 0) return text;
  if (shift > 0) return ' '.repeat(shift) + text;
  const room = text.length - text.replace(/^ +/, '').length;
  return text.slice(Math.min(room, -shift));
}

/** A line without its break, and the break. */
function parts(source: string): [string, string] {
  const end = /(?:\r\n|\n|\r)$/.exec(source)?.[0] ?? '';
  return [source.slice(0, source.length - end.length), end];
}
