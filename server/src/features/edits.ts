/** Changes to a file by path, as LSP text edits; comments, quoting and line endings stay. */
import type { TextEdit, WorkspaceEdit } from 'vscode-languageserver-types';
import type { Path } from '../../../schemas/problem.ts';
import type { BookFile } from '../book/file.ts';
import { editsAt } from '../book/piece-edits.ts';
import { type Edits, insertItem, insertPair, remove, renameKey, setValue } from '../syntax/edit.ts';
import type { Node, Plain } from '../syntax/node.ts';
import { pairOf } from '../syntax/node.ts';
import { writePair } from '../syntax/write.ts';

/** Undefined where there is no such place, or the text would not read back as meant. */
export type FileEdits = TextEdit[] | undefined;

export function setAt(file: BookFile, path: Path, value: string): FileEdits {
  return within(file, path, (text, root, at) => setValue(text, root, at, value));
}

export function removeAt(file: BookFile, path: Path): FileEdits {
  return within(file, path, remove);
}

export function renameKeyAt(file: BookFile, path: Path, name: string): FileEdits {
  return within(file, path, (text, root, at) => renameKey(text, root, at, name));
}

export function addPair(file: BookFile, path: Path, key: string, value: Plain): FileEdits {
  if (path.length === 0) return addTop(file, key, value);
  return within(file, path, (text, root, at) => insertPair(text, root, at, key, value));
}

/** Adds items to a list, which is made when it is not there. */
export function addItems(file: BookFile, path: Path, values: readonly Plain[]): FileEdits {
  const found = file.entryAt(path);
  if (path.length === 1 && !found) return addTop(file, String(path[0]), [...values]);
  const parent = path.slice(0, -1);
  const name = String(path.at(-1));
  const holder = path.length > 1 ? nodeAt(file, parent) : undefined;
  if (holder?.type === 'map' && !pairOf(holder, name)) return addPair(file, parent, name, [...values]);
  return joined(
    values.map((value) => within(file, path, (text, root, at) => insertItem(text, root, at, value))),
  );
}

/** Insertions at one place become one, in order: editors refuse edits that overlap. */
function joined(each: readonly FileEdits[]): FileEdits {
  const out: TextEdit[] = [];
  for (const edits of each) {
    if (!edits) return undefined;
    for (const edit of edits) {
      const twin = out.find((one) => JSON.stringify(one.range) === JSON.stringify(edit.range));
      if (twin) twin.newText += edit.newText;
      else out.push({ ...edit });
    }
  }
  return out;
}

/** A new name at the end of the file. */
function addTop(file: BookFile, key: string, value: Plain): FileEdits {
  const { source } = file;
  const last = source.at(source.size - 1);
  const eol = /\r\n|\n|\r/.exec(last.text)?.[0] ?? '\n';
  const end = source.positionOf(last, last.text.length);
  const lead = last.text.length > 0 && !/[\r\n]$/.test(last.text) ? eol : '';
  const text = `${lead}${writePair(key, value, { column: 0, eol, flow: false })}${eol}`;
  return [{ range: { start: end, end }, newText: text }];
}

export function workspaceEdit(file: BookFile, edits: TextEdit[]): WorkspaceEdit {
  return { changes: { [file.uri]: edits } };
}

function within(
  file: BookFile,
  path: Path,
  change: (text: string, root: Node, path: Path) => Edits,
): FileEdits {
  const found = editsAt(file, path, change);
  return found?.edits.map(({ start, end, text }) => ({
    range: file.source.rangeOf(found.piece, { start, end }),
    newText: text,
  }));
}

/** What is written at a place of the file. */
export function nodeAt(file: BookFile, path: Path): Node | undefined {
  const found = file.entryAt(path);
  return found && nodeBelow(found.value, found.rest);
}

function nodeBelow(node: Node, path: Path): Node | undefined {
  let at: Node | undefined = node;
  for (const step of path) {
    at =
      at?.type === 'list'
        ? at.items[Number(step)]
        : at?.type === 'map'
          ? pairOf(at, String(step))?.value
          : undefined;
  }
  return at;
}
