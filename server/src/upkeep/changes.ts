/** Changes to files of a book: places count in the text before all of them. */
import type { BookFile } from '../book/file.ts';
import type { TextChange } from '../syntax/file.ts';
import type { Position } from '../syntax/lines.ts';

/** The text with the changes made, whatever order they come in. */
export function textAfter({ source }: BookFile, changes: readonly TextChange[]): string {
  // From the end, so that what is changed does not move what is still to be changed.
  const backwards = [...changes].sort((a, b) => comparePositions(b.range.start, a.range.start));
  return source.edit(backwards).text();
}

function comparePositions(a: Position, b: Position): number {
  return a.line - b.line || a.character - b.character;
}

/** Why something that was asked for cannot be done, in words for the person who asked. */
export class Refused extends Error {}
