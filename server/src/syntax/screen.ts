import type { CST } from 'yaml';
import {
  type Findings,
  isFirstOnLine,
  lineContent,
  lineEnd,
  lineStart,
  nextContent,
  quoted,
  spaces,
} from './finding.ts';
import { DEPTH_LIMIT } from './limits.ts';
import type { Span } from './node.ts';

type Item = CST.CollectionItem;

/**
 * Looks through the token tree of one document for what can be named better here than from the package's own
 * errors, and cuts the tree off below `DEPTH_LIMIT`. Uses its own stack: hostile nesting must not overflow the real one.
 */
export function screen(text: string, root: CST.Document, found: Findings): void {
  const stack: { token: CST.Token; depth: number }[] = [];
  const enter = (token: CST.Token | null | undefined, depth: number) => {
    if (token) stack.push({ token, depth });
  };
  props(root.start, found);
  enter(root.value, 1);
  for (let top = stack.pop(); top; top = stack.pop()) {
    const { token, depth } = top;
    if (token.type === 'single-quoted-scalar' || token.type === 'double-quoted-scalar') {
      unclosedQuote(text, token, found);
      continue;
    }
    if (token.type !== 'block-map' && token.type !== 'block-seq' && token.type !== 'flow-collection')
      continue;
    if (depth > DEPTH_LIMIT) {
      found.add(
        'yaml-too-deep',
        { start: token.offset, end: token.offset + 1 },
        `This is more than ${DEPTH_LIMIT} levels deep. Groups and lists inside each other stop being read here.`,
      );
      token.items.length = 0;
      continue;
    }
    if (token.type === 'flow-collection') unclosedBracket(text, token, found);
    for (const item of (token.items as Item[]).toReversed()) {
      enter(item.value, depth + 1);
      enter(item.key, depth + 1);
    }
    for (const item of token.items as Item[]) {
      props(item.start, found);
      props(item.sep, found);
      if (found.full) continue;
      if (token.type === 'block-map') blockPair(text, item, found);
      else if (token.type === 'flow-collection') flowPair(item, token.start.source === '{', found);
    }
  }
}

function props(tokens: readonly CST.SourceToken[] | undefined, found: Findings): void {
  for (const token of tokens ?? []) {
    const span = { start: token.offset, end: token.offset + token.source.length };
    if (token.type === 'tag') {
      found.add(
        'yaml-tag',
        span,
        `${quoted(token.source)} names a data type, which shop books do not use. Delete it, or put the whole value in quotes.`,
      );
      // The package would build sets and the like for known tags.
      token.type = 'space';
    } else if (token.type === 'explicit-key-ind')
      found.add(
        'yaml-explicit-key',
        span,
        'A question mark before a name is not used here. Write `name: value`.',
      );
  }
}

function unclosedQuote(text: string, token: CST.FlowScalar, found: Findings): void {
  const { source, offset } = token;
  const quote = source[0]!;
  let closed = source.length > 1 && source.endsWith(quote);
  if (closed && quote === '"') {
    let slashes = 0;
    while (source[source.length - 2 - slashes] === '\\') slashes++;
    closed = slashes % 2 === 0;
  }
  if (closed) return;
  const end = lineEnd(text, offset);
  found.add(
    'yaml-unclosed-quote',
    { start: offset, end },
    `The quote that starts here is not closed. Put ${quote} at the end of the text.`,
    isFirstOnLine(text, offset) ? { start: offset, end } : { start: offset, end: offset + 1 },
  );
}

function unclosedBracket(text: string, token: CST.FlowCollection, found: Findings): void {
  const close = token.start.source === '{' ? '}' : ']';
  if (token.end[0]?.source === close) return;
  found.add(
    'yaml-unclosed-bracket',
    { start: token.offset, end: lineEnd(text, token.offset) },
    `The bracket ${token.start.source} is not closed. Put ${close} after the last item; lines inside the brackets are set in deeper than the name before them.`,
  );
}

function blockPair(text: string, item: Item, found: Findings): void {
  const { key, sep, value } = item;
  if (isExplicit(item)) return;
  const colon = sep?.find((token) => token.type === 'map-value-ind');
  if (!key) {
    if (colon) noName(colon, found);
    return;
  }
  if (key.type === 'block-seq') {
    const span = lineContent(text, key.offset);
    found.add('yaml-bad-indent', span, 'This dash does not line up with the lines it belongs to.', span);
    return;
  }
  if (!('source' in key)) {
    if (!colon) noColon(text, key.offset, found);
    return;
  }
  if (key.source.includes('\n')) brokenKey(text, key.offset, key.offset + key.source.length, found);
  else if (!colon) noColon(text, key.offset, found);
  else if (value?.type === 'block-map' && !sep?.some((token) => token.type === 'newline'))
    colonInValue(text, value, found);
}

function isExplicit(item: Item): boolean {
  return item.start.some((token) => token.type === 'explicit-key-ind');
}

function noName(colon: CST.SourceToken, found: Findings): void {
  found.add(
    'yaml-missing-name',
    { start: colon.offset, end: colon.offset + 1 },
    'There is no name before this colon. Write `name: value`.',
  );
}

function flowPair(item: Item, inMap: boolean, found: Findings): void {
  const { key, sep, value } = item;
  const colon = sep?.find((token) => token.type === 'map-value-ind');
  if (!key && colon && !isExplicit(item)) noName(colon, found);
  // `{qty:2}` is a name without a value to YAML; nobody means that.
  if (!inMap || key?.type !== 'scalar' || value || colon) return;
  const tight = /^([^\s:]+):(?!\/\/)(\S.*)$/.exec(key.source);
  if (tight)
    found.add(
      'yaml-missing-space',
      { start: key.offset, end: key.offset + key.source.length },
      `Put a space after the colon: ${quoted(`${tight[1]}: ${tight[2]}`)}.`,
    );
}

/** A name that runs over lines: either its first line lacks the colon, or its last is set in too deep. */
function brokenKey(text: string, start: number, end: number, found: Findings): void {
  if (text[start] === '"' || text[start] === "'") {
    if (text[end - 1] === text[start] && end > start + 1) {
      const span = { start, end: lineEnd(text, start) };
      found.add(
        'yaml-unclosed-quote',
        span,
        'This quote runs on into the next lines. Close it on this line.',
        {
          ...span,
        },
      );
    }
    return;
  }
  if (isFirstOnLine(text, start)) noColon(text, start, found);
  else {
    const span = lineContent(text, nextContent(text, lineStart(text, end)).start);
    misplaced(text, span, found);
  }
}

export function misplaced(text: string, span: Span, found: Findings): void {
  const columns = span.start - lineStart(text, span.start);
  found.add(
    'yaml-bad-indent',
    span,
    `This line is set in by ${spaces(columns)}, which does not line up with the lines it belongs to.`,
    span,
  );
}

function noColon(text: string, offset: number, found: Findings): void {
  const span = { start: offset, end: lineEnd(text, offset) };
  const words = text.slice(span.start, span.end);
  const tight = /^("[^"]*"|'[^']*'|[^\s:"'[\]{}]+):(\S.*)$/.exec(words);
  if (tight)
    found.add(
      'yaml-missing-space',
      span,
      `Put a space after the colon: ${quoted(`${tight[1]}: ${tight[2]}`)}.`,
      span,
    );
  else
    found.add(
      'yaml-missing-colon',
      span,
      `There is no colon in ${quoted(words)}. Write a name, a colon, a space and a value.`,
      span,
    );
}

function colonInValue(text: string, value: CST.BlockMap, found: Findings): void {
  const first = value.items[0];
  const key = first?.key;
  if (key && 'source' in key && String(key.source).includes('\n')) return;
  const start = key && 'offset' in key ? key.offset : value.offset;
  const span = { start, end: lineEnd(text, start) };
  const colon = first?.sep?.find((token) => token.type === 'map-value-ind');
  found.add(
    'yaml-colon-in-value',
    span,
    `The value ${quoted(text.slice(span.start, span.end))} has a colon in it. Put the whole value in quotes.`,
    colon ? { start: colon.offset, end: span.end } : span,
  );
}
