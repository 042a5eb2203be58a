/**
 * A change of the book told in one line: `rates.bench.hourly=165.00`, `schedules.standard.bands.1.factor=2.4`,
 * `rates.*.hourly=+4%`, `parts."A.7".cost=31.00`. Steps of a list count from 0; a star stands for every name or item.
 */
import type { Path } from '../../../../schemas/problem.ts';
import { type Decimal, dec, ONE, parseDecimal, round } from '../../../../schemas/values/decimal.ts';
import { didYouMean } from '../../../../schemas/values/words.ts';
import type { Book } from '../../book/book.ts';
import { BookFile } from '../../book/file.ts';
import { relative } from '../../book/paths.ts';
import { applyEdits, insertPair, setValue } from '../../syntax/edit.ts';
import type { TextChange } from '../../syntax/file.ts';
import { type ListNode, type MapNode, type Node, nodeAt } from '../../syntax/node.ts';
import { entriesOf, type Piece } from '../../syntax/piece.ts';
import { Refused, textAfter } from '../changes.ts';

export interface Setting {
  /** As it was asked for. */
  readonly text: string;
  readonly path: readonly string[];
  readonly value: string;
  /** What a figure is multiplied by, for `+4%`. */
  readonly times: Decimal | undefined;
}

/** A figure that a setting has changed. */
export interface Changed {
  readonly uri: string;
  readonly path: Path;
  readonly was: string;
  readonly now: string;
}

export function parseSetting(text: string): Setting {
  const match = /^\s*((?:"[^"]*"|[^="])+?)\s*=\s*(.*?)\s*$/s.exec(text);
  const steps = [...(match?.[1] ?? '').matchAll(/"([^"]*)"|([^."]+)|(\.)/g)]
    .filter(([, , , dot]) => dot === undefined)
    .map(([, quoted, bare]) => quoted ?? bare!.trim());
  if (!match || steps.length < 2 || steps.includes(''))
    throw new Refused(
      `"${text}" does not say what to change. Write the place with dots and the value after "=", such as rates.bench.hourly=165.00 or rates.*.hourly=+4%.`,
    );
  const value = match[2]!;
  const percent = /^([+-]\d+(?:\.\d+)?)\s*%$/.exec(value);
  return {
    text,
    path: steps,
    value,
    times: percent ? ONE.plus(dec(percent[1]!.replace('+', '')).div(dec('100'))) : undefined,
  };
}

/** Files that nothing is priced by are left alone. */
const OTHERS: ReadonlySet<string> = new Set(['job', 'cases']);

/** Texts of the files that the settings change, and what was changed. Throws a Refused that says what is wrong. */
export function settled(
  book: Book,
  settings: readonly Setting[],
  texts: ReadonlyMap<string, string> = new Map(),
): { readonly texts: Map<string, string>; readonly changed: readonly Changed[] } {
  const out = new Map(texts);
  const changed: Changed[] = [];
  for (const setting of settings) {
    const files = [...filesWith(book, out)].map((file) => ({ file, spots: placesIn(file, setting.path) }));
    // A place that is written is meant before one that could be.
    const there = files.some(({ spots }) => spots.some(isWritten));
    const before = changed.length;
    for (const { file, spots } of files) {
      const meant = there ? spots.filter(isWritten) : spots;
      if (meant.length === 0) continue;
      const text = textAfter(
        file,
        meant.flatMap((spot) => changesAt(book, file, spot, setting, changed)),
      );
      refuseProblems(book, file, BookFile.open(file.uri, text), setting);
      out.set(file.uri, text);
    }
    if (changed.length === before) throw nothingThere(book, setting);
  }
  return { texts: out, changed };
}

function* filesWith(book: Book, texts: ReadonlyMap<string, string>): Generator<BookFile> {
  for (const file of book.files()) {
    if (OTHERS.has(file.kind?.kind ?? 'cases')) continue;
    const text = texts.get(file.uri);
    yield text === undefined ? file : BookFile.open(file.uri, text);
  }
}

/** A piece and the paths in it that a setting means; each leads to a value or to where one can be added. */
interface Spot {
  readonly piece: Piece;
  /** From the root of the piece. */
  readonly path: Path;
  readonly full: Path;
}

function placesIn(file: BookFile, steps: readonly string[]): Spot[] {
  const [first, ...rest] = steps;
  const spots: Spot[] = [];
  for (const piece of piecesFor(file, first!, rest[0])) {
    for (const entry of entriesOf(piece, file.splitKeys)) {
      if ((entry.section ?? entry.key.text) !== first) continue;
      const inCatalog = entry.section !== undefined;
      if (inCatalog && rest[0] !== '*' && rest[0] !== entry.key.text) continue;
      const prefix: Path = inCatalog ? [first, entry.key.text] : [first];
      const rootPath: Path = piece.kind === 'entry' ? [entry.key.text] : prefix;
      for (const below of expanded(entry.value, inCatalog ? rest.slice(1) : rest))
        spots.push({ piece, path: [...rootPath, ...below], full: [...prefix, ...below] });
    }
  }
  return spots;
}

/** In a catalog of a hundred thousand entries one name is looked up, not searched for. */
function piecesFor(
  { source, splitKeys }: BookFile,
  first: string,
  second: string | undefined,
): Iterable<Piece> {
  const only = source.size === 1 ? source.at(0) : undefined;
  if (only) return [only];
  if (!splitKeys.has(first)) return source.find(undefined, first);
  if (second === undefined || second === '*')
    return [...source.pieces()].filter((one) => one.section === first);
  const found = source.find(first, second);
  return found.length > 0 ? found : source.find(undefined, first);
}

/** Existing places below a node; the last step may name a field that is not written yet. */
function expanded(node: Node, steps: readonly string[]): Path[] {
  const [step, ...rest] = steps;
  if (step === undefined) return [[]];
  if (node.type === 'list') {
    const wanted = step === '*' ? node.items.map((_, i) => i) : [Number(step)];
    return wanted
      .filter((i) => node.items[i] !== undefined)
      .flatMap((i) => expanded(node.items[i]!, rest).map((path) => [i, ...path]));
  }
  if (node.type !== 'map') return [];
  const pairs = step === '*' ? node.pairs : node.pairs.filter(({ key }) => key.text === step);
  if (pairs.length === 0 && step !== '*' && rest.length === 0) return [[step]];
  return pairs.flatMap(({ key, value }) => expanded(value, rest).map((path) => [key.text, ...path]));
}

function changesAt(
  book: Book,
  file: BookFile,
  spot: Spot,
  setting: Setting,
  changed: Changed[],
): TextChange[] {
  const { piece, path, full } = spot;
  const root = piece.read().node;
  const written = isWritten(spot);
  const node = written ? nodeAt(root, path) : undefined;
  const starred = setting.path.includes('*');
  const where = `${full.join('.')} in ${relative(book.root, file.uri)}`;
  if (node?.type === 'map' || node?.type === 'list') {
    if (starred) return [];
    const holds = holdings(node);
    const first = holds.find(([, text]) => isFigure(text)) ?? holds[0];
    const names = holds.map(([name]) => name).join(', ');
    throw new Refused(
      `${where} holds ${names}. Say which: ${setting.path.join('.')}.${first?.[0] ?? 'name'}=${setting.value}`,
    );
  }
  const was = node?.type === 'scalar' ? node.text : '';
  // A star means what is written; it adds nothing.
  if (was === '' && (starred || setting.times)) return [];
  const now = setting.times ? multiplied(was, setting.times, where) : setting.value;
  if (was === now) {
    changed.push({ uri: file.uri, path: full, was, now });
    return [];
  }
  const edits = written
    ? setValue(piece.text, root, path, now)
    : insertPair(piece.text, root, path.slice(0, -1), String(path.at(-1)), now);
  if (!edits || applyEdits(piece.text, edits) === piece.text)
    throw new Refused(
      `${where} cannot be changed this way. Change a copy of the file and give it: --with FILE`,
    );
  changed.push({ uri: file.uri, path: full, was, now });
  return edits.map(({ start, end, text }) => ({ range: file.source.rangeOf(piece, { start, end }), text }));
}

/** What a group or a list holds: names or numbers, and the text of each that is a single value. */
function holdings(node: MapNode | ListNode): [string, string][] {
  const text = (one: Node) => (one.type === 'scalar' ? one.text : '');
  return node.type === 'map'
    ? node.pairs.map(({ key, value }) => [key.text, text(value)])
    : node.items.map((item, i) => [String(i), text(item)]);
}

function isFigure(text: string): boolean {
  return parseDecimal(text.replace(/%$/, '')).ok;
}

function isWritten({ piece, path }: Spot): boolean {
  const parent = nodeAt(piece.read().node, path.slice(0, -1));
  const last = path.at(-1);
  if (parent.type === 'list') return parent.items[Number(last)] !== undefined;
  return parent.type === 'map' && parent.pairs.some(({ key }) => key.text === last);
}

/** As many decimals as were typed, two at least. */
function multiplied(was: string, times: Decimal, where: string): string {
  const percent = was.endsWith('%');
  const read = parseDecimal(percent ? was.slice(0, -1) : was);
  if (!read.ok) throw new Refused(`${where} is "${was}", which is no figure to take a percentage of.`);
  const typed = was.replace('%', '').split('.')[1]?.length ?? 0;
  const places = Math.max(typed, 2);
  return `${round(read.value.times(times), places).toFixed(places)}${percent ? '%' : ''}`;
}

/** What the new value makes wrong. */
function refuseProblems(book: Book, before: BookFile, after: BookFile, setting: Setting): void {
  const known = new Set(problemsOf(before));
  const fresh = problemsOf(after).find((one) => !known.has(one));
  if (fresh) throw new Refused(`${setting.text}, in ${relative(book.root, after.uri)}: ${fresh}`);
}

function problemsOf(file: BookFile): string[] {
  return [...file.troubled].flatMap(({ problems }) => problems.map(({ message }) => message));
}

function nothingThere(book: Book, { text, path }: Setting): Refused {
  const [first = '', second] = path;
  const names = new Set<string>();
  const below = new Set<string>();
  for (const file of book.files()) {
    if (OTHERS.has(file.kind?.kind ?? 'cases')) continue;
    for (const piece of file.source.pieces()) {
      if (piece.kind === 'header' || piece.kind === 'section') names.add(piece.key);
      if (piece.section === first) below.add(piece.key);
      if (piece.kind !== 'header' || piece.key !== first) continue;
      const value = nodeAt(piece.read().node, [first]);
      if (value.type === 'map') for (const { key } of value.pairs) below.add(key.text);
    }
  }
  const [word, known] = names.has(first) ? [second ?? '', below] : [first, names];
  const meant = didYouMean(word, [...known]);
  const help =
    meant.length > 0
      ? ` Did you mean ${meant.join(' or ')}?`
      : known.size <= 12
        ? ` There is: ${[...known].join(', ')}.`
        : '';
  return new Refused(
    `"${text}" finds nothing to change in this book: "${word}" is not there, or not what follows it.${help}`,
  );
}
