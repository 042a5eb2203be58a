import {
  type Alias,
  type Document,
  isAlias,
  isMap,
  isScalar,
  type Scalar,
  type YAMLMap,
  type YAMLSeq,
} from 'yaml';
import { hasControl } from './characters.ts';
import { type Findings, quoted } from './finding.ts';
import { ALIAS_LIMIT, VALUE_LIMIT } from './limits.ts';
import type { EmptyNode, ListNode, MapNode, Node, PairNode, ScalarNode, ScalarStyle, Span } from './node.ts';

const STYLES: Record<string, ScalarStyle> = {
  PLAIN: 'plain',
  QUOTE_SINGLE: 'single',
  QUOTE_DOUBLE: 'double',
  BLOCK_LITERAL: 'literal',
  BLOCK_FOLDED: 'folded',
};

/**
 * The package's document as nodes of ours: text as typed, aliases unfolded, later duplicates reported.
 * Depth is bounded by the caller, so recursion is safe.
 */
export function project(text: string, doc: Document, found: Findings): Node {
  const root = doc.contents as Item;
  return root && !isBlank(root) ? new Projector(text, found).node(root) : empty(text.length);
}

type Item = Alias | Scalar | YAMLMap | YAMLSeq | null;

class Projector {
  readonly #text: string;
  readonly #found: Findings;
  readonly #anchors = new Map<string, Node | 'open'>();
  #unfolded = 0;
  #limitSaid = false;

  constructor(text: string, found: Findings) {
    this.#text = text;
    this.#found = found;
  }

  node(item: NonNullable<Item>): Node {
    if (isAlias(item)) return this.#alias(item);
    const anchor = item.anchor;
    if (anchor) this.#anchors.set(anchor, 'open');
    const node = isScalar(item)
      ? this.#scalarOrEmpty(item)
      : isMap(item)
        ? this.#map(item)
        : this.#list(item as YAMLSeq);
    if (anchor) this.#anchors.set(anchor, node);
    return node;
  }

  #scalarOrEmpty(item: Scalar): ScalarNode | EmptyNode {
    if (!isBlank(item)) return this.#scalar(item);
    return emptyAfter(this.#text, item.range![0]);
  }

  #scalar(item: Scalar): ScalarNode {
    const [start, valueEnd] = item.range!;
    const style = STYLES[item.type ?? 'PLAIN'] ?? 'plain';
    const end =
      style === 'literal' || style === 'folded' ? contentEnd(this.#text, start, valueEnd) : valueEnd;
    let value = String(item.value);
    if (value.length > VALUE_LIMIT) {
      this.#found.add(
        'yaml-long-value',
        { start, end },
        `This value is longer than ${VALUE_LIMIT.toLocaleString('en-US')} characters and is cut there. Is a quote or bracket closed too late?`,
      );
      value = value.slice(0, VALUE_LIMIT);
    }
    if (style === 'double' && hasControl(value))
      this.#found.add(
        'yaml-control-character',
        { start, end },
        'A backslash code in this text stands for a character that cannot be printed. Delete it.',
      );
    return { type: 'scalar', text: value, style, start, end };
  }

  #map(item: YAMLMap): MapNode {
    const flow = item.flow === true;
    const pairs: PairNode[] = [];
    const first = new Map<string, ScalarNode>();
    for (const pair of item.items as { key: Item; value: Item }[]) {
      const key = this.#key(pair.key);
      const value = pair.value ? this.node(pair.value) : empty(key.end);
      pairs.push({ key, value, start: key.start, end: Math.max(key.end, value.end) });
      const before = first.get(key.text);
      if (before) this.#duplicate(before, key);
      else first.set(key.text, key);
      if (key.text === '<<' && key.style === 'plain')
        this.#found.add(
          'yaml-merge-key',
          key,
          'Merging with << is not supported. Write the fields out here, or use a template.',
        );
    }
    return {
      type: 'map',
      flow,
      pairs,
      ...this.#extent(item, flow && this.#text[item.range![0]] === '{', pairs),
    };
  }

  #list(item: YAMLSeq): ListNode {
    const flow = item.flow === true;
    const items = (item.items as Item[]).map((child) => (child ? this.node(child) : empty(item.range![1])));
    return { type: 'list', flow, items, ...this.#extent(item, true, items) };
  }

  /** From the opening bracket, dash or first name to the closing bracket or the end of the last value. */
  #extent(item: YAMLMap | YAMLSeq, ownStart: boolean, children: readonly Span[]): Span {
    const [start, valueEnd] = item.range!;
    const last = children.at(-1);
    const from = ownStart || !children[0] ? start : children[0].start;
    if (item.flow && ownStart) return { start: from, end: Math.max(valueEnd, last?.end ?? 0) };
    return { start: from, end: last ? Math.max(from, last.end) : from };
  }

  #key(item: Item): ScalarNode {
    if (item && isAlias(item)) {
      const node = this.#alias(item);
      if (node.type === 'scalar') return node;
    } else if (item && isScalar(item)) {
      if (item.anchor) this.node(item);
      return isBlank(item)
        ? { type: 'scalar', text: '', style: 'plain', start: item.range![0], end: item.range![0] }
        : this.#scalar(item);
    }
    const [start, end] = item?.range ?? [0, 0];
    const source = this.#text.slice(start, end).trimEnd();
    const span = { start, end: start + source.length };
    if (!(item && isAlias(item)))
      this.#found.add(
        'yaml-key-not-text',
        span,
        'A name is a single text, not a list or a group. Put it in quotes.',
      );
    return { type: 'scalar', text: source, style: 'plain', ...span };
  }

  #duplicate(first: ScalarNode, again: ScalarNode): void {
    if (this.#found.full) return;
    const lines = this.#text.slice(first.start, again.start).split('\n').length - 1;
    const where = lines === 0 ? 'on this line' : lines === 1 ? 'on the line above' : `${lines} lines above`;
    this.#found.add(
      'yaml-duplicate-key',
      again,
      `${quoted(again.text)} is already given ${where}. The first one counts; delete or rename one of them.`,
    );
  }

  #alias(item: Alias): Node {
    const [start, end] = item.range!;
    const span = { start, end };
    const target = this.#anchors.get(item.source);
    if (target === undefined || target === 'open') {
      this.#found.add(
        'yaml-unknown-alias',
        span,
        target
          ? `${quoted(`*${item.source}`)} would repeat itself inside itself. Write the value out.`
          : `Nothing above is marked ${quoted(`&${item.source}`)}. If the text really starts with *, put it in quotes.`,
      );
      return { type: 'scalar', text: this.#text.slice(start, end), style: 'plain', ...span };
    }
    const copy = this.#copy(target, span);
    if (copy) return copy;
    if (!this.#limitSaid)
      this.#found.add(
        'yaml-alias-limit',
        span,
        `Repeats with * add up to more than ${ALIAS_LIMIT.toLocaleString('en-US')} values from here on. Write some of them out.`,
      );
    this.#limitSaid = true;
    return empty(start);
  }

  /** The value again, placed where its alias stands, so that a position inside it is the alias. */
  #copy(node: Node, span: Span): Node | undefined {
    if (++this.#unfolded > ALIAS_LIMIT) return undefined;
    if (node.type === 'scalar' || node.type === 'empty') return { ...node, ...span };
    if (node.type === 'list') {
      const items: Node[] = [];
      for (const child of node.items) {
        const copy = this.#copy(child, span);
        if (!copy) return undefined;
        items.push(copy);
      }
      return { ...node, items, ...span };
    }
    const pairs: PairNode[] = [];
    for (const pair of node.pairs) {
      const value = this.#copy(pair.value, span);
      if (!value) return undefined;
      pairs.push({ key: { ...pair.key, ...span }, value, ...span });
    }
    return { ...node, pairs, ...span };
  }
}

function isBlank(item: NonNullable<Item>): boolean {
  return isScalar(item) && item.type === 'PLAIN' && item.source === '' && item.range![0] === item.range![1];
}

function empty(at: number): EmptyNode {
  return { type: 'empty', start: at, end: at };
}

/** An empty value stands after its colon or dash and one space, whatever spaces and comments follow. */
function emptyAfter(text: string, offset: number): EmptyNode {
  let at = offset;
  while (text[at - 1] === ' ' || text[at - 1] === '\t') at--;
  return empty(text[at] === ' ' ? at + 1 : at);
}

/** Where the last line with words ends, before its line break: the empty lines after a block text are not in its span. */
function contentEnd(text: string, start: number, end: number): number {
  let at = end;
  while (at > start && ' \t\r\n'.includes(text[at - 1]!)) at--;
  while (at < end && (text[at] === ' ' || text[at] === '\t')) at++;
  return at;
}
