/** Paths of other files in the text: pictures, price files, the shop file that another one extends. */
import type { FieldMeta } from '../../../schemas/declare.ts';
import type { Path } from '../../../schemas/problem.ts';
import { declarationFor } from '../book/facts.ts';
import type { BookFile } from '../book/file.ts';
import { visit } from '../book/marks.ts';
import { resolve } from '../book/paths.ts';
import type { ScalarNode } from '../syntax/node.ts';
import { entriesOf, type Piece } from '../syntax/piece.ts';
import { prefixOf } from './ids.ts';

export interface FileMark {
  readonly file: BookFile;
  readonly piece: Piece;
  readonly node: ScalarNode;
  /** From the root of the file. */
  readonly path: Path;
  readonly meta: FieldMeta;
  /** What the path leads to; undefined when it is not relative. */
  readonly target: string | undefined;
}

/** Every path of a file, in the order of the text. Pieces that look at nothing outside themselves are not read. */
export function filesNamedIn(file: BookFile): FileMark[] {
  const pieces = Array.from(file.lookingAround, (facts) => facts.piece);
  const inOrder = pieces.sort((a, b) => file.source.indexOf(a) - file.source.indexOf(b));
  return inOrder.flatMap((piece) => filesNamedBy(file, piece));
}

function filesNamedBy(file: BookFile, piece: Piece): FileMark[] {
  const found: FileMark[] = [];
  for (const entry of entriesOf(piece, file.splitKeys)) {
    const declared = file.kind && declarationFor(file.kind, entry);
    if (!declared) continue;
    visit(declared.schema, entry.value, {
      value: (node, _schema, meta, path) => {
        if (node.type !== 'scalar' || !meta.file) return;
        const target = resolve(file.uri, node.text);
        found.push({ file, piece, node, path: [...prefixOf(entry), ...path], meta, target });
      },
    });
  }
  return found;
}
