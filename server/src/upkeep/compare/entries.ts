/** The entries of two states of a book that are not the same text in both. */
import type { KindDeclaration } from '../../../../schemas/declare.ts';
import type { Book } from '../../book/book.ts';
import type { BookFile } from '../../book/file.ts';
import { relative } from '../../book/paths.ts';
import { type Plain, toPlain } from '../../syntax/node.ts';
import { entriesOf, type Piece } from '../../syntax/piece.ts';

/** A catalog entry, or one name at the top of a file. */
export interface Noted {
  readonly file: BookFile;
  readonly kind: KindDeclaration;
  readonly section: string | undefined;
  /** The id of a catalog entry; the name of a field of the file else. */
  readonly key: string;
  /** What a field of a file belongs to: an id, or a path where the file has none. */
  readonly owner: string;
  readonly piece: Piece;
}

export interface Pair {
  readonly before: Noted | undefined;
  readonly after: Noted | undefined;
}

export function differingEntries(before: Book, after: Book): Pair[] {
  const [was, now] = [noted(before, after), noted(after, before)];
  const pairs: Pair[] = [];
  for (const [key, one] of was) {
    const other = now.get(key);
    if (one.piece.text !== other?.piece.text) pairs.push({ before: one, after: other });
  }
  for (const [key, one] of now) if (!was.has(key)) pairs.push({ before: undefined, after: one });
  return pairs;
}

/** Read anew at each call: nodes of a whole catalog are not kept. */
export function plainOf({ file, piece, section, key }: Noted): Plain {
  const entry = entriesOf(piece, file.splitKeys).find(
    (one) => one.section === section && one.key.text === key,
  );
  return entry ? toPlain(entry.value) : null;
}

/** Of files that are not the same text in the other book. */
function noted(book: Book, other: Book): Map<string, Noted> {
  const found = new Map<string, Noted>();
  for (const file of book.files()) {
    const { kind } = file;
    if (!kind || kind.kind === 'cases') continue;
    if (other.file(file.uri)?.source.text() === file.source.text()) continue;
    const { id } = file.value;
    const owner = typeof id === 'string' ? id : relative(book.root, file.uri);
    const add = (piece: Piece, section: string | undefined, key: string) => {
      const name = JSON.stringify(section === undefined ? [kind.kind, owner, key] : [section, key]);
      if (!found.has(name)) found.set(name, { file, kind, section, key, owner, piece });
    };
    for (const piece of file.source.pieces()) {
      if (piece.kind === 'entry') add(piece, piece.section, piece.key);
      else
        for (const { section, key } of entriesOf(piece, file.splitKeys))
          if (section !== undefined || !(key.text === 'kind' || file.splitKeys.has(key.text)))
            add(piece, section, key.text);
    }
  }
  return found;
}
