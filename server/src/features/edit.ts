/** A change to files of the book as a feature gives it: protocol-free, each part with a word why. */
import type { BookFile } from '../book/file.ts';
import type { TextEdit } from '../syntax/edit.ts';
import type { Range } from '../syntax/lines.ts';
import type { Piece } from '../syntax/piece.ts';

export interface LabelledEdit {
  readonly range: Range;
  readonly newText: string;
  /** What the editor's preview groups it under: 'Number of the part', 'Lines that name it'. */
  readonly label: string;
  /** Made only when it is ticked in the preview. */
  readonly confirm?: boolean;
}

export interface FileEdit {
  readonly file: BookFile;
  readonly edits: readonly LabelledEdit[];
}

/** By file; ranges do not overlap. */
export type BookEdit = readonly FileEdit[];

/** Why something that was asked for cannot be done, in words for the person who asked. */
export class Refusal extends Error {}

/** Collects edits of pieces into one change of the book. */
export class EditCollector {
  readonly #byFile = new Map<BookFile, LabelledEdit[]>();

  add(file: BookFile, piece: Piece, edits: readonly TextEdit[], label: string, confirm = false): void {
    for (const { start, end, text } of edits)
      this.addAt(file, {
        range: file.source.rangeOf(piece, { start, end }),
        newText: text,
        label,
        ...(confirm && { confirm }),
      });
  }

  addAt(file: BookFile, edit: LabelledEdit): void {
    const list = this.#byFile.get(file);
    if (list) list.push(edit);
    else this.#byFile.set(file, [edit]);
  }

  get edit(): BookEdit {
    return [...this.#byFile].map(([file, edits]) => ({ file, edits }));
  }
}
