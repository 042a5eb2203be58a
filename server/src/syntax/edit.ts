import {
  afterBreak,
  commentsAbove,
  dashColumn,
  endOfLine,
  endOfValue,
  eolOf,
  locate,
  type Place,
  settingOf,
  spansOfItems,
  startOfLine,
} from './edit-place.ts';
import type { ListNode, MapNode, Node, Path, Plain, Span } from './node.ts';
import { samePlain, toPlain } from './node.ts';
import { readPiece } from './read.ts';
import {
  literalParts,
  type Setting,
  STEP,
  writeFlow,
  writeFlowPair,
  writeItem,
  writeKey,
  writePair,
  writeScalar,
} from './write.ts';

/** A replacement in a piece's text, offsets of the text before all edits. */
export interface TextEdit extends Span {
  readonly text: string;
}

/**
 * Changes to a piece as small replacements that leave comments, quoting and line breaks as they are.
 *
 * Each function takes the piece's text, its root node and the path of what to change, and gives the edits, or undefined
 * when there is no such place, when the place is a repeat (`*name`) of a value written elsewhere, or when the result
 * would not read back as exactly the change asked for. The last is checked on every call.
 */
export type Edits = TextEdit[] | undefined;

export function applyEdits(text: string, edits: readonly TextEdit[]): string {
  let out = '';
  let at = 0;
  for (const edit of [...edits].sort((a, b) => a.start - b.start || a.end - b.end)) {
    out += text.slice(at, edit.start) + edit.text;
    at = edit.end;
  }
  return out + text.slice(at);
}

/** Sets the text of a single value, or fills an empty one. Quoting style stays where it can carry the new text. */
export function setValue(text: string, root: Node, path: Path, value: string): Edits {
  const place = locate(text, root, path);
  if (!place) return undefined;
  const { node } = place;
  const oneLine = text.slice(node.end, endOfLine(text, node.end)).trim() !== '';
  const setting = { ...settingOf(text, place), oneLine };
  let edits: TextEdit[];
  if (node.type === 'empty') {
    const before = text[node.start - 1];
    const bare = place.pair && node.start === place.pair.key.end;
    const lead = bare ? ': ' : before === ':' || before === '-' ? ' ' : '';
    const trail = text[node.start] === '#' ? ' ' : '';
    edits = [
      { start: node.start, end: node.start, text: lead + writeScalar(value, 'plain', setting) + trail },
    ];
  } else if (node.type === 'scalar') {
    edits = setBlockText(text, node, value, setting) ?? [
      { start: node.start, end: node.end, text: writeScalar(value, node.style, setting) },
    ];
  } else return undefined;
  return confirmed(text, root, edits, path, () => value);
}

/** Gives the name at the end of `path` another spelling. Undefined when its group has that name already. */
export function renameKey(text: string, root: Node, path: Path, name: string): Edits {
  const place = locate(text, root, path);
  const pair = place?.pair;
  if (!pair || place.map!.pairs.some((other) => other !== pair && other.key.text === name)) return undefined;
  const edits = [{ start: pair.key.start, end: pair.key.end, text: writeKey(name, pair.key.style) }];
  return confirmed(text, root, edits, path.slice(0, -1), (parent) => {
    const group = parent as { [key: string]: Plain };
    return group && renamed(group, pair.key.text, name);
  });
}

/** Adds `key: value` to the group at `path`, before its pair number `index` or at its end. An empty value becomes a group. */
export function insertPair(
  text: string,
  root: Node,
  path: Path,
  key: string,
  value: Plain,
  index = Number.POSITIVE_INFINITY,
): Edits {
  const place = locate(text, root, path);
  if (!place || (place.node.type !== 'map' && place.node.type !== 'empty')) return undefined;
  const { node } = place;
  if (node.type === 'map' && node.pairs.some((pair) => pair.key.text === key)) return undefined;
  const edits = insertInto(text, place, node.type === 'map' ? node.pairs : [], index, {
    block: (setting) => writePair(key, value, setting),
    flow: () => writeFlowPair(key, value),
    brackets: ['{ ', ' }'],
  });
  return confirmed(text, root, edits, path, (group) => ({
    ...(group as { [key: string]: Plain }),
    [key]: value,
  }));
}

/** Adds an item to the list at `path`, before item number `index` or at its end. An empty value becomes a list. */
export function insertItem(
  text: string,
  root: Node,
  path: Path,
  value: Plain,
  index = Number.POSITIVE_INFINITY,
): Edits {
  const place = locate(text, root, path);
  if (!place || (place.node.type !== 'list' && place.node.type !== 'empty')) return undefined;
  const { node } = place;
  const edits = insertInto(text, place, node.type === 'list' ? node.items : [], index, {
    block: (setting) => writeItem(value, setting),
    flow: () => writeFlow(value),
    brackets: ['[', ']'],
  });
  return confirmed(text, root, edits, path, (list) => {
    const items = [...((list ?? []) as Plain[])];
    items.splice(Math.min(index, items.length), 0, value);
    return items;
  });
}

/** Removes the pair or item at `path` with the comment lines written right above it. A group left without any becomes empty. */
export function remove(text: string, root: Node, path: Path): Edits {
  const place = locate(text, root, path);
  const parent = place?.parent;
  if (!place || !parent) return undefined;
  const children: readonly Span[] = parent.type === 'map' ? parent.pairs : spansOfItems(text, parent);
  const at = parent.type === 'map' ? parent.pairs.indexOf(place.pair!) : Number(path.at(-1));
  const edits = [parent.flow ? flowRemoval(parent, children, at) : blockRemoval(text, children, at)];
  return confirmed(text, root, edits, path.slice(0, -1), (group) => {
    if (Array.isArray(group)) return group.length === 1 && !parent.flow ? null : group.toSpliced(at, 1);
    const { [String(path.at(-1))]: _gone, ...rest } = group as { [key: string]: Plain };
    return Object.keys(rest).length === 0 && !parent.flow ? null : rest;
  });
}

/** A `|` or `>` text gets new lines under its old header, which may carry a comment. */
function setBlockText(text: string, node: Node, value: string, setting: Setting): TextEdit[] | undefined {
  if (node.type !== 'scalar' || (node.style !== 'literal' && node.style !== 'folded')) return undefined;
  const headerEnd = endOfLine(text, node.start);
  const first = afterBreak(text, headerEnd);
  const parts = literalParts(value, setting.column + STEP);
  const mark = /^[|>][-+\d]*/.exec(text.slice(node.start, headerEnd));
  if (!parts || !mark || node.end <= first) return undefined;
  return [
    { start: node.start, end: node.start + mark[0].length, text: parts.indicator },
    { start: first, end: node.end, text: parts.lines.join(setting.eol) },
  ];
}

interface Writers {
  block(setting: Setting): string;
  flow(): string;
  readonly brackets: readonly [string, string];
}

function insertInto(
  text: string,
  place: Place,
  children: readonly Span[],
  index: number,
  write: Writers,
): TextEdit[] {
  const { node } = place;
  const eol = eolOf(text);
  const flow = place.inFlow || (node.type !== 'empty' && node.type !== 'scalar' && node.flow);
  if (flow) return [flowInsertion(text, place, children, index, write)];
  if (node.type === 'empty') return [fillEmpty(text, place, eol, write)];
  const spans = node.type === 'list' ? spansOfItems(text, node) : children;
  const column = spans[0]!.start - startOfLine(text, spans[0]!.start);
  const source = write.block({ column, eol, flow: false });
  const pad = ' '.repeat(column);
  if (index <= 0) {
    const { start } = spans[0]!;
    const line = startOfLine(text, start);
    if (text.slice(line, start).trim() !== '') return [{ start, end: start, text: source + eol + pad }];
    const at = commentsAbove(text, start);
    return [{ start: at, end: at, text: pad + source + eol }];
  }
  const before = spans[Math.min(index, spans.length) - 1]!;
  const at = endOfValue(text, before);
  return [{ start: at, end: at, text: eol + pad + source }];
}

function fillEmpty(text: string, place: Place, eol: string, write: Writers): TextEdit {
  const { node, pair } = place;
  if (!pair && !place.parent) {
    const lead = text === '' || /[\r\n]$/.test(text) ? '' : eol;
    return {
      start: text.length,
      end: text.length,
      text: lead + write.block({ column: 0, eol, flow: false }) + eol,
    };
  }
  if (!pair) {
    const lead = text[node.start - 1] === '-' ? ' ' : '';
    const column = dashColumn(text, node.start) + STEP;
    const source = lead + write.block({ column, eol, flow: false });
    return { start: node.start, end: node.start, text: text[node.start] === '#' ? `${source} ` : source };
  }
  const column = pair.key.start - startOfLine(text, pair.key.start) + STEP;
  const at = endOfLine(text, node.start);
  return { start: at, end: at, text: eol + ' '.repeat(column) + write.block({ column, eol, flow: false }) };
}

function flowInsertion(
  text: string,
  place: Place,
  children: readonly Span[],
  index: number,
  write: Writers,
): TextEdit {
  const { node } = place;
  if (node.type === 'empty') {
    const before = text[node.start - 1];
    const bare = place.pair && node.start === place.pair.key.end;
    const lead = bare ? ': ' : before === ':' ? ' ' : '';
    return { start: node.start, end: node.start, text: lead + write.brackets.join(write.flow()) };
  }
  if (children.length === 0) return { start: node.start + 1, end: node.start + 1, text: write.flow() };
  if (index < children.length) {
    const { start } = children[Math.max(0, index)]!;
    return { start, end: start, text: `${write.flow()}, ` };
  }
  const { end } = children.at(-1)!;
  return { start: end, end, text: `, ${write.flow()}` };
}

function blockRemoval(text: string, children: readonly Span[], at: number): TextEdit {
  const child = children[at]!;
  const end = endOfValue(text, child);
  const line = startOfLine(text, child.start);
  if (text.slice(line, child.start).trim() === '')
    return { start: commentsAbove(text, child.start), end: afterBreak(text, end), text: '' };
  // On the line of a dash: what follows moves up to it.
  if (at === children.length - 1) return { start: child.start, end, text: '' };
  let next = afterBreak(text, end);
  while (/\s/.test(text[next] ?? 'x')) next++;
  return { start: child.start, end: next, text: '' };
}

function flowRemoval(parent: MapNode | ListNode, children: readonly Span[], at: number): TextEdit {
  if (children.length === 1) return { start: parent.start + 1, end: parent.end - 1, text: '' };
  if (at < children.length - 1) return { start: children[at]!.start, end: children[at + 1]!.start, text: '' };
  return { start: children[at - 1]!.end, end: children[at]!.end, text: '' };
}

function renamed(group: { [key: string]: Plain }, from: string, to: string): Plain {
  const out: { [key: string]: Plain } = Object.create(null);
  for (const [key, value] of Object.entries(group)) out[key === from ? to : key] = value;
  return out;
}

/** The edits, if the text they give reads as the old one with only the value at `path` changed, and has no new problems. */
function confirmed(
  text: string,
  root: Node,
  edits: TextEdit[],
  path: Path,
  change: (old: Plain) => Plain,
): Edits {
  const wanted = replaceAt(toPlain(root), path, change);
  const { node, problems } = readPiece(applyEdits(text, edits));
  if (!samePlain(toPlain(node), wanted)) return undefined;
  return problems.length > 0 && problems.length > readPiece(text).problems.length ? undefined : edits;
}

function replaceAt(value: Plain, path: Path, change: (old: Plain) => Plain): Plain {
  const [step, ...rest] = path;
  if (step === undefined) return change(value);
  if (Array.isArray(value))
    return value.map((item, i) => (i === Number(step) ? replaceAt(item, rest, change) : item));
  const out: { [key: string]: Plain } = Object.create(null);
  for (const [key, inner] of Object.entries(value as { [key: string]: Plain }))
    out[key] = key === String(step) ? replaceAt(inner, rest, change) : inner;
  return out;
}
