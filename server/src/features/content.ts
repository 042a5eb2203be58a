/** How single values stand in the text. */
import type { Span } from '../syntax/node.ts';
import type { Piece } from '../syntax/piece.ts';

/** The inside of a value: what stands between its quotes. */
export function contentSpan(piece: Piece, { start, end }: Span): Span {
  const first = piece.text[start];
  const quoted = end - start >= 2 && (first === '"' || first === "'") && piece.text[end - 1] === first;
  return quoted ? { start: start + 1, end: end - 1 } : { start, end };
}

/** Whether a text is read through a repeat (`*name`) of what is written elsewhere. */
export function isRepeat(piece: Piece, node: Span & { readonly text: string }): boolean {
  return piece.text[node.start] === '*' && node.text !== piece.text.slice(node.start, node.end);
}
