import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { REF_KINDS } from '../../../schemas/declare.ts';
import { NO_HOST } from '../../../server/src/book/host.ts';
import { Workspace } from '../../../server/src/book/workspace.ts';
import type { BookEdit } from '../../../server/src/features/edit.ts';
import { definingMarks, namingMarks, rowsOf } from '../../../server/src/features/ids.ts';
import { rename } from '../../../server/src/features/rename.ts';

const FOLDER = new URL('../../../samples/quarrow-creek/', import.meta.url).pathname;
const ROOT = 'file:///quarrow-creek/';

function demo(): Map<string, string> {
  const names = readdirSync(FOLDER, { recursive: true, encoding: 'utf8' }).filter((name) =>
    name.endsWith('.yaml'),
  );
  return new Map(names.map((name) => [ROOT + name, readFileSync(join(FOLDER, name), 'utf8')]));
}

function texts(workspace: Workspace): Record<string, string> {
  return Object.fromEntries(
    workspace.books.flatMap((book) =>
      [...book.files()].map((file) => [file.uri, file.source.text()] as const),
    ),
  );
}

function apply(workspace: Workspace, edit: BookEdit): void {
  for (const { file, edits } of edit) {
    // From the end, so that earlier positions stay what they are.
    const order = [...edits].sort(
      (a, b) => b.range.start.line - a.range.start.line || b.range.start.character - a.range.start.character,
    );
    workspace.edit(
      file.uri,
      order.map(({ range, newText }) => ({ range, text: newText })),
    );
  }
}

describe('renaming in the demo book', () => {
  it('moves every use along, makes no problem, and is undone by renaming back', () => {
    const workspace = new Workspace([ROOT], NO_HOST);
    workspace.load(demo());
    const before = texts(workspace);
    const kinds = new Set<string>();
    for (const kind of REF_KINDS) {
      const book = workspace.books[0]!;
      const ids = [...book.registry.all(kind)].filter((one) => one.row === undefined).slice(0, 3);
      for (const { id } of ids) {
        const meaning = { kind, id, home: undefined };
        if (rowsOf(book, meaning).length > 0) continue;
        const [mark] = definingMarks(book, meaning);
        const uses = namingMarks(book, meaning).length;
        const name = `${id} renamed`;
        const { file, piece } = mark!;
        apply(workspace, rename(book, file, file.source.positionOf(piece, mark!.start), name));

        const renamed = { kind, id: name, home: undefined };
        expect(definingMarks(book, meaning)).toEqual([]);
        expect(namingMarks(book, meaning)).toEqual([]);
        expect([kind, id, namingMarks(book, renamed).length]).toEqual([kind, id, uses]);

        const [there] = definingMarks(book, renamed);
        const back = there!.file.source.positionOf(there!.piece, there!.start);
        apply(workspace, rename(book, there!.file, back, id));
        expect(texts(workspace)).toEqual(before);
        kinds.add(kind);
      }
    }
    // Of every kind that the whole book knows, at least one.
    expect([...kinds].sort()).toEqual(
      expect.arrayContaining(['finding', 'operation', 'part', 'rate', 'role', 'rule', 'unit']),
    );
  });
});
