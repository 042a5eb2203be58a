import { readFast } from './fast.ts';
import { readFull } from './full.ts';
import type { Node, SyntaxProblem } from './node.ts';

export interface PieceReading {
  readonly node: Node;
  readonly problems: readonly SyntaxProblem[];
}

const NONE: readonly SyntaxProblem[] = [];

/** Text of a piece to nodes and problems, in offsets of the piece. Never throws; broken text gives what can be saved. */
export function readPiece(text: string): PieceReading {
  const node = readFast(text);
  return node ? { node, problems: NONE } : readFull(text);
}
