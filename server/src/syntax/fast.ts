import { hasControl } from './characters.ts';
import { COLON, CR, DASH, HASH, isBreak, LF, opensPlain, SPACE, TAB } from './chars.ts';
import { FastFlow } from './fast-flow.ts';
import { fastText } from './fast-text.ts';
import { VALUE_LIMIT } from './limits.ts';
import type { EmptyNode, ListNode, MapNode, Node, PairNode, ScalarNode } from './node.ts';

/**
 * Reads the plain part of YAML that ordinary entries are written in: nested names and lists, values on one line, flow
 * lists and groups on one line, `|` and `>` texts without special cases, comments. Gives undefined for anything else,
 * and for anything wrong: then `full.ts` reads. A test holds the two to the same nodes and offsets.
 */
export function readFast(text: string): Node | undefined {
  if (hasControl(text) || text.includes('\ufeff') || /\r(?!\n)/.test(text)) return undefined;
  return new FastReader(text).root();
}

const DEPTH = 32;
const KEY_LENGTH = 1000;

class FastReader {
  readonly #text: string;
  readonly #flow: FastFlow;
  /** Start of the next words and their column; -1 at the end of the text. */
  #at = 0;
  #column = -1;
  /** Where the words of the last value end. */
  #end = 0;
  #depth = 0;

  constructor(text: string) {
    this.#text = text;
    this.#flow = new FastFlow(text);
  }

  root(): Node | undefined {
    if (!this.#advance(0)) return undefined;
    if (this.#column === -1) return empty(this.#text.length);
    const node = this.#block(this.#column);
    return node && this.#column === -1 ? node : undefined;
  }

  /** Moves to the next words below, from a line start. False on a tab before them. */
  #advance(lineStart: number): boolean {
    const text = this.#text;
    const { length } = text;
    let line = lineStart;
    let at = line;
    while (at < length) {
      const ch = text.charCodeAt(at);
      if (ch === SPACE) at++;
      else if (ch === LF) line = ++at;
      else if (ch === HASH) at = this.#lineEnd(at);
      else if (ch === CR) at++;
      else if (ch === TAB) return false;
      else {
        this.#at = at;
        this.#column = at - line;
        // `---` and `...` are no names at the first column.
        return !(
          at === line &&
          (ch === DASH || ch === 46) &&
          text.charCodeAt(at + 1) === ch &&
          text.charCodeAt(at + 2) === ch
        );
      }
    }
    this.#at = length;
    this.#column = -1;
    return true;
  }

  #lineEnd(from: number): number {
    const nl = this.#text.indexOf('\n', from);
    return nl === -1 ? this.#text.length : nl;
  }

  /** Checks that only spaces and a comment follow on the line, then moves to the next words. */
  #finishLine(from: number): boolean {
    const text = this.#text;
    let at = from;
    while (text.charCodeAt(at) === SPACE) at++;
    const ch = text.charCodeAt(at);
    if (ch === HASH) {
      if (at === from) return false;
      at = this.#lineEnd(at);
    } else if (at < text.length && !isBreak(ch)) return false;
    return this.#advance(at);
  }

  /** The list or group whose first line stands at the current words. */
  #block(column: number): Node | undefined {
    if (++this.#depth > DEPTH) return undefined;
    const node = this.#isDash(this.#at) ? this.#list(column) : this.#map(column);
    this.#depth--;
    return node;
  }

  #isDash(at: number): boolean {
    if (this.#text.charCodeAt(at) !== DASH) return false;
    const next = this.#text.charCodeAt(at + 1);
    return next === SPACE || isBreak(next) || at + 1 === this.#text.length;
  }

  #map(column: number): MapNode | undefined {
    const start = this.#at;
    const pairs: PairNode[] = [];
    const names = new Names();
    do {
      const key = this.#key();
      if (!key || !names.add(pairs, key.text)) return undefined;
      const value = this.#value(this.#end, column, true);
      if (!value) return undefined;
      pairs.push({ key, value, start: key.start, end: Math.max(key.end, value.end) });
      if (this.#column > column) return undefined;
    } while (this.#column === column && !this.#isDash(this.#at));
    if (this.#column === column) return undefined;
    return { type: 'map', flow: false, pairs, start, end: pairs[pairs.length - 1]!.end };
  }

  #list(column: number): ListNode | undefined {
    const start = this.#at;
    const items: Node[] = [];
    do {
      const item = this.#value(this.#at + 1, column, false);
      if (!item || this.#column > column) return undefined;
      items.push(item);
    } while (this.#column === column && this.#isDash(this.#at));
    const last = items[items.length - 1]!;
    return { type: 'list', flow: false, items, start, end: last.end };
  }

  /** The name at the current words; leaves `#end` after its colon. */
  #key(): ScalarNode | undefined {
    const text = this.#text;
    const start = this.#at;
    const first = text.charCodeAt(start);
    let key: ScalarNode | undefined;
    let at: number;
    if (first === 34 || first === 39) {
      key = this.#flow.quoted(start);
      if (!key) return undefined;
      at = key.end;
      while (text.charCodeAt(at) === SPACE) at++;
    } else {
      at = this.#colon(start);
      if (at === -1) return undefined;
      let end = at;
      while (text.charCodeAt(end - 1) === SPACE) end--;
      key = { type: 'scalar', text: text.slice(start, end), style: 'plain', start, end };
      if (key.text === '<<') return undefined;
    }
    if (text.charCodeAt(at) !== COLON || at - start > KEY_LENGTH) return undefined;
    const next = text.charCodeAt(at + 1);
    if (next !== SPACE && !isBreak(next) && at + 1 < text.length) return undefined;
    this.#end = at + 1;
    return key;
  }

  /** Where the colon after a plain name stands, or -1. */
  #colon(start: number): number {
    const text = this.#text;
    if (!opensPlain(text, start)) return -1;
    for (let at = start; at < text.length; at++) {
      const ch = text.charCodeAt(at);
      if (ch === COLON) {
        const next = text.charCodeAt(at + 1);
        if (next === SPACE || isBreak(next) || at + 1 === text.length) return at;
      } else if (ch < SPACE || (ch === HASH && text.charCodeAt(at - 1) === SPACE)) return -1;
    }
    return -1;
  }

  /** What stands after a colon or dash, on its line or below. */
  #value(after: number, column: number, inMap: boolean): Node | undefined {
    const text = this.#text;
    let at = after;
    while (text.charCodeAt(at) === SPACE) at++;
    const ch = text.charCodeAt(at);
    if (at === text.length || isBreak(ch) || ch === HASH) {
      if (!this.#finishLine(after)) return undefined;
      const below = this.#column > column || (inMap && this.#column === column && this.#isDash(this.#at));
      return below ? this.#block(this.#column) : empty(text.charCodeAt(after) === SPACE ? after + 1 : after);
    }
    if (ch === 124 || ch === 62) {
      const long = fastText(text, at, column);
      return long && this.#advance(long.next) && this.#column <= column ? long.node : undefined;
    }
    if (!inMap && (this.#isDash(at) || this.#isPair(at))) {
      this.#column += at - this.#at;
      this.#at = at;
      return this.#block(this.#column);
    }
    const node = this.#inline(at, ch);
    return node && this.#finishLine(node.end) ? node : undefined;
  }

  /** Whether the words after a dash are a name with its colon, so that a group starts on the dash's line. */
  #isPair(at: number): boolean {
    const ch = this.#text.charCodeAt(at);
    if (ch !== 34 && ch !== 39) return this.#colon(at) !== -1;
    const quoted = this.#flow.quoted(at);
    let end = quoted ? quoted.end : at;
    while (this.#text.charCodeAt(end) === SPACE) end++;
    return this.#text.charCodeAt(end) === COLON;
  }

  #inline(at: number, ch: number): Node | undefined {
    if (ch === 34 || ch === 39) return this.#flow.quoted(at);
    if (ch === 91 || ch === 123) return this.#flow.collection(at, DEPTH - this.#depth);
    if (!opensPlain(this.#text, at)) return undefined;
    return this.#plain(at);
  }

  /** Plain words up to the end of the line or a comment. */
  #plain(start: number): ScalarNode | undefined {
    const text = this.#text;
    const { length } = text;
    let end = start;
    let at = start;
    for (; at < length; at++) {
      const ch = text.charCodeAt(at);
      if (ch === SPACE) continue;
      if (ch < SPACE) break;
      if (ch === HASH && text.charCodeAt(at - 1) === SPACE) break;
      if (ch === COLON) {
        const next = text.charCodeAt(at + 1);
        if (next === SPACE || next === TAB || isBreak(next) || at + 1 === length) return undefined;
      }
      end = at + 1;
    }
    if (text.charCodeAt(at) === TAB || end - start > VALUE_LIMIT) return undefined;
    return { type: 'scalar', text: text.slice(start, end), style: 'plain', start, end };
  }
}

/** Sees repeated names in a group; compares one by one while the group is small, and only when a cheap mark is taken. */
class Names {
  #marks = 0;
  #set: Set<string> | undefined;

  /** False when the group has the name already. */
  add(pairs: readonly PairNode[], name: string): boolean {
    if (this.#set) {
      if (this.#set.has(name)) return false;
      this.#set.add(name);
      return true;
    }
    const mark = 1 << ((name.length * 7 + name.charCodeAt(0) + name.charCodeAt(name.length - 1) * 3) & 31);
    if (this.#marks & mark) for (const pair of pairs) if (pair.key.text === name) return false;
    this.#marks |= mark;
    if (pairs.length === 16) this.#set = new Set([...pairs.map((pair) => pair.key.text), name]);
    return true;
  }
}

function empty(at: number): EmptyNode {
  return { type: 'empty', start: at, end: at };
}
