/** Figures replaced where they stand: of an entry nothing but the digits changes. */
import type { Path } from '../../../../schemas/problem.ts';
import { type Decimal, parseDecimal } from '../../../../schemas/values/decimal.ts';
import type { BookFile } from '../../book/file.ts';
import { editsAt, rootPath } from '../../book/piece-edits.ts';
import { applyEdits, type Edits, insertPair, setValue, type TextEdit } from '../../syntax/edit.ts';
import { type Node, nodeAt, type Plain, samePlain, toPlain } from '../../syntax/node.ts';
import type { Piece } from '../../syntax/piece.ts';
import { readPiece } from '../../syntax/read.ts';
import type { FigureChange } from './compare.ts';

export interface Digits extends FigureChange {
  /** Of the part. */
  readonly id: string;
}

export interface DigitEdits {
  readonly piece: Piece;
  readonly edits: readonly TextEdit[];
}

/** Pieces between two chances to stop. */
const STRIDE = 128;

/**
 * Yields how many figures are done. The edits of each figure; none for one that cannot be changed from here (a repeat of a value written elsewhere).
 * All figures of a piece are tried at once and read back at once; only where that fails each goes by itself.
 */
export function* digitEdits(
  file: BookFile,
  all: readonly Digits[],
): Generator<number, Map<Digits, DigitEdits>> {
  const made = new Map<Digits, DigitEdits>();
  let pieces = 0;
  for (const [piece, group] of byPiece(file, all)) {
    if (pieces++ % STRIDE === 0) yield made.size;
    const root = piece.read().node;
    const quick = group.map(({ digits, path }) => ({
      digits,
      edit: quickEdit(piece.text, root, path, digits),
      path,
    }));
    if (quick.every(({ edit }) => edit !== undefined) && readsBack(piece, root, quick)) {
      for (const { digits, edit } of quick) made.set(digits, { piece, edits: [edit!] });
      continue;
    }
    for (const { digits } of group) {
      const slow = slowEdits(file, digits);
      if (slow) made.set(digits, slow);
    }
  }
  return made;
}

interface Located {
  readonly digits: Digits;
  /** From the root of the piece. */
  readonly path: Path;
}

function byPiece(file: BookFile, all: readonly Digits[]): Map<Piece, Located[]> {
  const groups = new Map<Piece, Located[]>();
  for (const digits of all) {
    const path = ['parts', digits.id, ...digits.path];
    const found = file.entryAt(path);
    if (!found) continue;
    const located = { digits, path: rootPath(found.piece, path, found.rest) };
    const group = groups.get(found.piece);
    if (group) group.push(located);
    else groups.set(found.piece, [located]);
  }
  return groups;
}

/** Digits in place of digits, inside the quotes that may be around them. */
function quickEdit(text: string, root: Node, path: Path, digits: Digits): TextEdit | undefined {
  const node = nodeAt(root, path);
  if (node.type !== 'scalar' || !says(node, digits)) return undefined;
  const quote =
    node.style === 'plain' ? 0 : node.style === 'single' || node.style === 'double' ? 1 : undefined;
  if (quote === undefined) return undefined;
  const [start, end] = [node.start + quote, node.end - quote];
  return text.slice(start, end) === node.text
    ? { start, end, text: digitsFor(digits.now, node.text) }
    : undefined;
}

/** Whether the piece, so edited, says what it said before but for these figures. */
function readsBack(
  piece: Piece,
  root: Node,
  edits: readonly { readonly digits: Digits; readonly edit: TextEdit | undefined; readonly path: Path }[],
): boolean {
  const wanted = toPlain(root);
  for (const { path, edit } of edits) {
    let at = wanted as { [key: string | number]: Plain };
    for (const step of path.slice(0, -1)) at = at?.[step] as typeof at;
    if (at === null || at === undefined) return false;
    at[path.at(-1)!] = edit!.text;
  }
  const text = applyEdits(
    piece.text,
    edits.map(({ edit }) => edit!),
  );
  return samePlain(toPlain(readPiece(text).node), wanted);
}

/** What stands there is the figure that is to change, and not another one. */
function says(node: Node, { old }: Digits): boolean {
  const read = node.type === 'scalar' ? parseDecimal(node.text) : undefined;
  return old !== undefined && read?.ok === true && read.value.eq(old);
}

function slowEdits(file: BookFile, digits: Digits): DigitEdits | undefined {
  const path = ['parts', digits.id, ...digits.path];
  if (digits.old === undefined) {
    const insert = (text: string, root: Node, at: Path): Edits =>
      insertPair(text, root, at, digits.figure, digitsFor(digits.now));
    return editsAt(file, path.slice(0, -1), insert);
  }
  return editsAt(file, path, (text, root, at) => {
    const node = nodeAt(root, at);
    if (node.type !== 'scalar' || !says(node, digits)) return undefined;
    return setValue(text, root, at, digitsFor(digits.now, node.text));
  });
}

/** The digits to write: with as many decimals as the figure has, or those that stand there; without any where there were none. */
export function digitsFor(now: Decimal, written = '0.00'): string {
  const places = now.toString().split('.')[1]?.length ?? 0;
  const before = written.split('.')[1]?.length ?? 0;
  return now.toFixed(Math.max(places, before || (places > 0 ? 2 : 0)));
}
