/** An edit of the book as whole new texts, for whoever writes files. */
import { textAfter } from '../../upkeep/changes.ts';
import type { BookEdit } from '../edit.ts';

/** By URI. */
export function textsOf(edit: BookEdit): Map<string, string> {
  return new Map(
    edit.map(({ file, edits }) => [
      file.uri,
      textAfter(
        file,
        edits.map(({ range, newText }) => ({ range, text: newText })),
      ),
    ]),
  );
}
