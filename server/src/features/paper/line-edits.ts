/** What changed between two texts as edits of lines, so that what did not change is not touched. */
import type { Range } from '../../syntax/lines.ts';

export interface LineEdit {
  readonly range: Range;
  readonly newText: string;
}

/** Above this many pairs of lines to compare, all that differs is one edit. */
const MOST_PAIRS = 4_000_000;

export function lineEdits(before: string, after: string): LineEdit[] {
  const [old, fresh] = [linesOf(before), linesOf(after)];
  let start = 0;
  while (start < old.length && start < fresh.length && old[start] === fresh[start]) start++;
  let same = 0;
  while (
    same < old.length - start &&
    same < fresh.length - start &&
    old[old.length - 1 - same] === fresh[fresh.length - 1 - same]
  )
    same++;
  const [a, b] = [old.slice(start, old.length - same), fresh.slice(start, fresh.length - same)];
  const kept = a.length * b.length > MOST_PAIRS ? [] : inCommon(a, b);
  const edits: LineEdit[] = [];
  let [x, y] = [0, 0];
  for (const [i, j] of [...kept, [a.length, b.length] as const]) {
    if (i > x || j > y)
      edits.push({
        range: { start: placeOf(old, start + x), end: placeOf(old, start + i) },
        newText: b.slice(y, j).join(''),
      });
    [x, y] = [i + 1, j + 1];
  }
  return edits;
}

/** Lines with their ends. */
function linesOf(text: string): string[] {
  return text === '' ? [] : text.split(/(?<=\r\n|\n|\r(?!\n))/);
}

/** The start of a line; beyond the last, the end of the text. */
function placeOf(lines: readonly string[], line: number): Range['start'] {
  const last = lines[lines.length - 1];
  if (line < lines.length || last === undefined) return { line, character: 0 };
  return /[\r\n]$/.test(last) ? { line, character: 0 } : { line: line - 1, character: last.length };
}

/** Places of the longest run of lines that both have in the same order. */
function inCommon(a: readonly string[], b: readonly string[]): (readonly [number, number])[] {
  const wide = b.length + 1;
  const longest = new Uint32Array((a.length + 1) * wide);
  for (let i = a.length - 1; i >= 0; i--)
    for (let j = b.length - 1; j >= 0; j--)
      longest[i * wide + j] =
        a[i] === b[j]
          ? longest[(i + 1) * wide + j + 1]! + 1
          : Math.max(longest[(i + 1) * wide + j]!, longest[i * wide + j + 1]!);
  const kept: (readonly [number, number])[] = [];
  let [i, j] = [0, 0];
  while (i < a.length && j < b.length) {
    if (a[i] === b[j]) kept.push([i++, j++]);
    else if (longest[(i + 1) * wide + j]! >= longest[i * wide + j + 1]!) i++;
    else j++;
  }
  return kept;
}
