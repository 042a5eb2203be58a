import { CR, DASH, LF, SPACE, TAB } from './chars.ts';
import { VALUE_LIMIT } from './limits.ts';
import type { ScalarNode } from './node.ts';

/**
 * The `|` or `>` text whose mark stands at `start`, below a name or dash at `column`, and where the next line starts.
 * Undefined where it is not simple: digits or `+` after the mark, a comment there, empty lines first, lines set in
 * further in a `>` text, lines of blanks only that count as words.
 */
export function fastText(
  text: string,
  start: number,
  column: number,
): { node: ScalarNode; next: number } | undefined {
  const folded = text.charCodeAt(start) === 62;
  const strip = text.charCodeAt(start + 1) === DASH;
  let at = start + (strip ? 2 : 1);
  while (text.charCodeAt(at) === SPACE) at++;
  if (text.charCodeAt(at) === CR) at++;
  if (text.charCodeAt(at) !== LF) return undefined;
  let line = at + 1;
  let margin = -1;
  let value = '';
  let blanks = 0;
  let end = -1;
  while (line < text.length) {
    let first = line;
    while (text.charCodeAt(first) === SPACE) first++;
    let stop = text.indexOf('\n', first);
    if (stop === -1) stop = text.length;
    const next = stop + 1;
    if (text.charCodeAt(stop - 1) === CR && stop < text.length && stop > first) stop--;
    const indent = first - line;
    if (first === stop) {
      if (margin === -1 || indent > margin) return undefined;
      blanks++;
    } else {
      if (indent <= column) break;
      if (text.charCodeAt(first) === TAB) return undefined;
      if (margin === -1) margin = indent;
      if (indent < margin || (folded && indent > margin)) return undefined;
      const words = text.slice(line + margin, stop);
      if (end === -1) value = words;
      else if (folded && blanks === 0) value += ` ${words}`;
      else value += '\n'.repeat(folded ? blanks : blanks + 1) + words;
      blanks = 0;
      end = stop;
    }
    line = next;
  }
  if (end === -1 || value.length >= VALUE_LIMIT) return undefined;
  const style = folded ? 'folded' : 'literal';
  const node: ScalarNode = { type: 'scalar', text: strip ? value : `${value}\n`, style, start, end };
  return { node, next: Math.min(line, text.length) };
}
