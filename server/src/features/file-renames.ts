/** Files of the book that are moved or renamed: the paths that lead to them, and the paths inside them, follow. */
import type { Book } from '../book/book.ts';
import { folderOf, isInside } from '../book/paths.ts';
import { writeScalar } from '../syntax/write.ts';
import { type BookEdit, EditCollector } from './edit.ts';
import { type FileMark, filesNamedIn } from './files.ts';

export interface Move {
  readonly oldUri: string;
  readonly newUri: string;
}

/** Edits to the files as they are before the move. */
export function fileRenames(book: Book, moves: readonly Move[]): BookEdit {
  const collector = new EditCollector();
  for (const file of book.files()) {
    for (const mark of filesNamedIn(file)) {
      const path = newPath(mark, moves);
      if (path === undefined) continue;
      const text = writeScalar(path, mark.node.style, { column: 0, eol: '\n', flow: true });
      collector.add(
        file,
        mark.piece,
        [{ start: mark.node.start, end: mark.node.end, text }],
        'Paths of files that move',
      );
    }
  }
  return collector.edit;
}

/** The path that leads to the same file after the moves; undefined when the one in the text still does. */
function newPath({ file, target }: FileMark, moves: readonly Move[]): string | undefined {
  if (target === undefined) return undefined;
  const from = movedTo(file.uri, moves);
  const to = movedTo(target, moves);
  if (from === file.uri && to === target) return undefined;
  const path = pathBetween(from, to);
  return path === pathBetween(file.uri, target) ? undefined : path;
}

function movedTo(uri: string, moves: readonly Move[]): string {
  for (const { oldUri, newUri } of moves) {
    if (uri === oldUri) return newUri;
    const folder = oldUri.endsWith('/') ? oldUri : `${oldUri}/`;
    if (isInside(folder, uri)) return `${newUri.replace(/\/$/, '')}/${uri.slice(folder.length)}`;
  }
  return uri;
}

/** A relative path as it is written in a file. */
function pathBetween(fromUri: string, toUri: string): string {
  const from = folderOf(fromUri).split('/');
  const to = toUri.split('/');
  let shared = 0;
  while (shared < from.length - 1 && shared < to.length - 1 && from[shared] === to[shared]) shared++;
  const up = from.slice(shared, -1).map(() => '..');
  return [...up, ...to.slice(shared)].map(decodeURIComponent).join('/');
}
