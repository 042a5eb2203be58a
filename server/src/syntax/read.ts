import { readFull } from './full.ts';
import type { Node, SyntaxProblem } from './node.ts';

export interface PieceReading {
  readonly node: Node;
  readonly problems: readonly SyntaxProblem[];
}

/** Text of a piece to nodes and problems, in offsets of the piece. Never throws; broken text gives what can be saved. */
export function readPiece(text: string): PieceReading {
  return readFull(text);
}
