import { toPlain } from '../../../server/src/syntax/node.ts';
import { readPiece } from '../../../server/src/syntax/read.ts';

/** The text with each problem's span in marks, one line a problem: `code: «span»`. */
export function problemsOf(text: string): string[] {
  return readPiece(text).problems.map(
    ({ code, start, end }) => `${code}: «${text.slice(start, end)}» at ${start}`,
  );
}

/** Values as JSON-like plain data, so that a test reads as text in, data out. */
export function valuesOf(text: string): unknown {
  return JSON.parse(JSON.stringify(toPlain(readPiece(text).node)));
}
