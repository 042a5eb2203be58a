/** A price lock written into its job, comments and whatever else stands there kept. */
import type { Path } from '../../../../schemas/problem.ts';
import type { BookFile } from '../../book/file.ts';
import { applyEdits, type Edits, insertPair, remove, setValue } from '../../syntax/edit.ts';
import type { TextChange } from '../../syntax/file.ts';
import { type Node, type Plain, pairOf } from '../../syntax/node.ts';
import { readPiece } from '../../syntax/read.ts';
import { writeFlow, writeFlowPair } from '../../syntax/write.ts';
import type { LockFigures } from './lock.ts';

/** `pricedOn`: the job is priced by the prices of the day of the lock from now on. Undefined where the text does not allow it. */
export function lockChanges(
  file: BookFile,
  figures: LockFigures,
  pricedOn = false,
): TextChange[] | undefined {
  const day = pricedOn ? pricedOnChanges(file, figures.on) : [];
  const lock = file.entryAt(['lock']) ? relocked(file, figures) : [appended(file, figures)];
  return day && lock ? [...day, ...lock] : undefined;
}

/** Groups in the order in which they are written. */
const GROUPS = ['totals', 'rates', 'operations', 'fees'] as const;

function appended({ source }: BookFile, figures: LockFigures): TextChange {
  const last = source.at(source.size - 1);
  const eol = /\r\n|\n|\r/.exec(source.at(0).text)?.[0] ?? '\n';
  const groups = GROUPS.filter((name) => Object.keys(figures[name]).length > 0);
  const parts = Object.entries(figures.parts);
  const lines = [
    'lock:',
    `  on: ${figures.on}`,
    ...groups.map((name) => `  ${name}: ${writeFlow({ ...figures[name] })}`),
    ...(parts.length > 0 ? ['  parts:'] : []),
    ...parts.map(([id, one]) => `    ${writeFlowPair(id, { ...one })}`),
  ];
  const end = source.positionOf(last, last.text.length);
  const lead = last.text === '' || /[\r\n]$/.test(last.text) ? '' : eol;
  return { range: { start: end, end }, text: `${lead}${eol}${lines.join(eol)}${eol}` };
}

/** The figures of a lock that is there, one by one. */
function relocked(file: BookFile, figures: LockFigures): TextChange[] | undefined {
  const found = file.entryAt(['lock']);
  if (!found) return undefined;
  const { piece } = found;
  const draft = new Draft(piece.text);
  draft.set(['lock'], 'on', figures.on);
  for (const name of GROUPS) draft.settle(['lock', name], figures[name]);
  draft.settle(['lock', 'parts'], figures.parts);
  if (draft.failed) return undefined;
  const range = file.source.rangeOf(piece, { start: 0, end: piece.text.length });
  return draft.text === piece.text ? [] : [{ range, text: draft.text }];
}

function pricedOnChanges(file: BookFile, on: string): TextChange[] | undefined {
  const there = file.entryAt(['priced-on']);
  const { piece } = there ?? file.entryAt(['opened']) ?? {};
  if (!piece) return undefined;
  const root = piece.read().node;
  const edits = there
    ? setValue(piece.text, root, ['priced-on'], on)
    : insertPair(piece.text, root, [], 'priced-on', on);
  return edits?.map(({ start, end, text }) => ({ range: file.source.rangeOf(piece, { start, end }), text }));
}

/** A text that is changed step by step, each step as small as it can be. */
class Draft {
  text: string;
  failed = false;

  constructor(text: string) {
    this.text = text;
  }

  /** Makes a group say what it should: figures set, new ones added, others taken out. */
  settle(path: Path, wanted: { readonly [key: string]: Plain }): void {
    const now = this.#at(path);
    const keys = Object.keys(wanted);
    if (now?.type !== 'map') {
      if (keys.length > 0) this.#insert(path.slice(0, -1), String(path.at(-1)), { ...wanted });
      return;
    }
    for (const { key } of now.pairs)
      if (!Object.hasOwn(wanted, key.text)) this.#do((...at) => remove(...at, [...path, key.text]));
    for (const key of keys) {
      const value = wanted[key]!;
      if (typeof value === 'string') this.set(path, key, value);
      else if (this.#at([...path, key])?.type === 'map')
        this.settle([...path, key], value as { [key: string]: Plain });
      else this.#insert(path, key, value);
    }
  }

  set(path: Path, key: string, value: string): void {
    const now = this.#at([...path, key]);
    if (now?.type === 'scalar' && now.text === value) return;
    if (now?.type === 'scalar' || now?.type === 'empty')
      this.#do((...at) => setValue(...at, [...path, key], value));
    else this.#insert(path, key, value);
  }

  #insert(path: Path, key: string, value: Plain): void {
    this.#do((...at) => insertPair(...at, path, key, value));
  }

  #at(path: Path): Node | undefined {
    let node: Node | undefined = this.#root();
    for (const step of path) node = node && pairOf(node, String(step))?.value;
    return node;
  }

  #root(): Node {
    return readPiece(this.text).node;
  }

  #do(change: (text: string, root: Node) => Edits): void {
    const edits = this.failed ? undefined : change(this.text, this.#root());
    if (edits) this.text = applyEdits(this.text, edits);
    else this.failed = true;
  }
}
