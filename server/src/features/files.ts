/** Paths of other files in the text: pictures, price files, the shop file that another one extends. */
import { z } from 'zod';
import { type FieldMeta, type KindDeclaration, metaOf } from '../../../schemas/declare.ts';
import type { Path } from '../../../schemas/problem.ts';
import { alternativesOf, fieldsOf } from '../../../schemas/walk.ts';
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

/** Every path of a file, in the order of the text. Pieces whose declaration knows no file are not read. */
export function* filesNamedIn(file: BookFile): IterableIterator<FileMark> {
  if (!file.kind) return;
  const names = namesWithFiles(file.kind);
  if (names.size === 0) return;
  for (const piece of file.source.pieces()) {
    if (piece.kind === 'whole' || names.has(piece.section ?? piece.key)) yield* filesNamedBy(file, piece);
  }
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

const named = new WeakMap<KindDeclaration, ReadonlySet<string>>();

/** The top-level names of a kind under which a path can stand. */
function namesWithFiles(kind: KindDeclaration): ReadonlySet<string> {
  let names = named.get(kind);
  if (!names) {
    names = new Set(
      [...fieldsOf(kind.schema).values()].filter((one) => holdsFile(one.schema)).map((one) => one.key),
    );
    named.set(kind, names);
  }
  return names;
}

function holdsFile(schema: z.ZodType, seen = new Set<z.ZodType>()): boolean {
  if (metaOf(schema).file) return true;
  return alternativesOf(schema).some((meant) => {
    if (seen.has(meant)) return false;
    seen.add(meant);
    if (metaOf(meant).file) return true;
    if (meant instanceof z.ZodObject)
      return [...fieldsOf(meant).values()].some((one) => holdsFile(one.schema, seen));
    if (meant instanceof z.ZodArray) return holdsFile(meant.element as z.ZodType, seen);
    return meant instanceof z.ZodRecord && holdsFile(meant.valueType as z.ZodType, seen);
  });
}
