import { COLON, COMMA, HASH, isBreak, opensPlain, SPACE } from './chars.ts';
import { VALUE_LIMIT } from './limits.ts';
import type { ListNode, MapNode, Node, PairNode, ScalarNode } from './node.ts';

const ESCAPES: Record<string, string> = { '"': '"', '\\': '\\', '/': '/', n: '\n', t: '\t' };

/** The parts of the fast reader that stand on one line: quoted texts, and lists and groups in brackets. */
export class FastFlow {
  readonly #text: string;

  constructor(text: string) {
    this.#text = text;
  }

  /** The quoted text that starts here; undefined when it goes over lines, has unusual codes, or is not closed. */
  quoted(start: number): ScalarNode | undefined {
    return this.#text.charCodeAt(start) === 34 ? this.#double(start) : this.#single(start);
  }

  #single(start: number): ScalarNode | undefined {
    const text = this.#text;
    let doubled = false;
    for (let at = start + 1; at < text.length; at++) {
      const ch = text.charCodeAt(at);
      if (isBreak(ch)) return undefined;
      if (ch !== 39) continue;
      if (text.charCodeAt(at + 1) === 39) {
        doubled = true;
        at++;
        continue;
      }
      const inner = text.slice(start + 1, at);
      return scalar(doubled ? inner.replaceAll("''", "'") : inner, 'single', start, at + 1);
    }
    return undefined;
  }

  #double(start: number): ScalarNode | undefined {
    const text = this.#text;
    let escaped = false;
    for (let at = start + 1; at < text.length; at++) {
      const ch = text.charCodeAt(at);
      if (isBreak(ch)) return undefined;
      if (ch === 92) {
        if (!(text[at + 1]! in ESCAPES)) return undefined;
        escaped = true;
        at++;
      } else if (ch === 34) {
        const inner = text.slice(start + 1, at);
        const value = escaped ? inner.replace(/\\(.)/g, (_, code: string) => ESCAPES[code]!) : inner;
        return scalar(value, 'double', start, at + 1);
      }
    }
    return undefined;
  }

  /** The `[ ]` or `{ }` that starts here, on one line, without pairs in lists, empty values or trailing commas. */
  collection(start: number, depth: number): ListNode | MapNode | undefined {
    if (depth <= 0) return undefined;
    return this.#text.charCodeAt(start) === 91 ? this.#list(start, depth) : this.#map(start, depth);
  }

  #list(start: number, depth: number): ListNode | undefined {
    const items: Node[] = [];
    let at = this.#spaces(start + 1);
    if (this.#text.charCodeAt(at) === 93) return { type: 'list', flow: true, items, start, end: at + 1 };
    for (;;) {
      const item = this.#item(at, depth);
      if (!item) return undefined;
      items.push(item);
      at = this.#spaces(item.end);
      const ch = this.#text.charCodeAt(at);
      if (ch === 93) return { type: 'list', flow: true, items, start, end: at + 1 };
      if (ch !== COMMA) return undefined;
      at = this.#spaces(at + 1);
    }
  }

  #map(start: number, depth: number): MapNode | undefined {
    const text = this.#text;
    const pairs: PairNode[] = [];
    let at = this.#spaces(start + 1);
    if (text.charCodeAt(at) === 125) return { type: 'map', flow: true, pairs, start, end: at + 1 };
    for (;;) {
      const key = this.#scalar(at);
      if (!key || key.text === '<<' || key.text.length > 1000) return undefined;
      if (pairs.some((pair) => pair.key.text === key.text)) return undefined;
      at = this.#spaces(key.end);
      if (text.charCodeAt(at) !== COLON || text.charCodeAt(at + 1) !== SPACE) return undefined;
      const value = this.#item(this.#spaces(at + 1), depth);
      if (!value) return undefined;
      pairs.push({ key, value, start: key.start, end: value.end });
      at = this.#spaces(value.end);
      const ch = text.charCodeAt(at);
      if (ch === 125) return { type: 'map', flow: true, pairs, start, end: at + 1 };
      if (ch !== COMMA) return undefined;
      at = this.#spaces(at + 1);
    }
  }

  #item(at: number, depth: number): Node | undefined {
    const ch = this.#text.charCodeAt(at);
    return ch === 91 || ch === 123 ? this.collection(at, depth - 1) : this.#scalar(at);
  }

  #scalar(start: number): ScalarNode | undefined {
    const text = this.#text;
    const first = text.charCodeAt(start);
    if (first === 34 || first === 39) return this.quoted(start);
    if (!opensPlain(text, start)) return undefined;
    let end = start;
    for (let at = start; at < text.length; at++) {
      const ch = text.charCodeAt(at);
      if (ch === SPACE) continue;
      if (ch < SPACE || (ch === HASH && text.charCodeAt(at - 1) === SPACE)) return undefined;
      if (ch === COMMA || ch === 91 || ch === 93 || ch === 123 || ch === 125) break;
      if (ch === COLON && endsName(text.charCodeAt(at + 1))) break;
      end = at + 1;
    }
    return end - start > VALUE_LIMIT ? undefined : scalar(text.slice(start, end), 'plain', start, end);
  }

  #spaces(from: number): number {
    let at = from;
    while (this.#text.charCodeAt(at) === SPACE) at++;
    return at;
  }
}

/** What after a colon makes it the colon of a pair; a comma or bracket does so inside brackets. */
function endsName(ch: number): boolean {
  return (
    ch <= SPACE || Number.isNaN(ch) || ch === COMMA || ch === 91 || ch === 93 || ch === 123 || ch === 125
  );
}

function scalar(text: string, style: ScalarNode['style'], start: number, end: number): ScalarNode {
  return { type: 'scalar', text, style, start, end };
}
