/**
 * A book in one string, for tests that show what is asked and the whole answer on one screen.
 *
 *   === b6.parts.yaml        a file; those that do not end in .yaml are other files of the folder (price files, pictures)
 *   <|>                      a cursor; may stand several times
 *
 * Indentation that all lines share is taken off.
 */
import type { Book } from '../../../server/src/book/book.ts';
import type { BookFile } from '../../../server/src/book/file.ts';
import { Workspace } from '../../../server/src/book/workspace.ts';
import type { BookEdit } from '../../../server/src/features/edit.ts';
import type { Position, Range } from '../../../server/src/syntax/lines.ts';

export const ROOT = 'file:///shop/';
const CURSOR = '<|>';

export interface Fixture {
  readonly workspace: Workspace;
  readonly book: Book;
  /** The file with the (first) cursor; the first file when there is none. */
  readonly file: BookFile;
  readonly position: Position;
  readonly cursors: readonly { readonly file: BookFile; readonly position: Position }[];
  named(name: string): BookFile;
  /** One line a place: `b6.parts.yaml:3:   [TC-1]:`, line numbers from 1. */
  show(places: readonly { readonly uri: string; readonly range: Range }[]): string[];
  /** Changed lines by file, `-` before and `+` after. */
  changes(edit: BookEdit): string[];
}

export function fixture(source: string, options: { eol?: string } = {}): Fixture {
  const texts = new Map<string, string>();
  const others = new Map<string, Uint8Array>();
  const marks: { uri: string; position: Position }[] = [];
  for (const { name, text } of split(dedent(source))) {
    const uri = uriOf(name);
    const [plain, cursors] = withoutCursors(text);
    const content = options.eol ? plain.replaceAll('\n', options.eol) : plain;
    if (/\.ya?ml$/.test(name)) texts.set(uri, content);
    else others.set(uri, new TextEncoder().encode(content));
    marks.push(...cursors.map((position) => ({ uri, position })));
  }
  const workspace = new Workspace([ROOT], {
    read: (uri) => others.get(uri),
    size: (uri) => others.get(uri)?.length,
  });
  workspace.load(texts);
  const first = [...texts.keys()][0]!;
  const fileAt = (uri: string) => workspace.bookOf(uri)?.file(uri) ?? fail(`no file ${uri}`);
  const cursors = marks.map(({ uri, position }) => ({ file: fileAt(uri), position }));
  const file = cursors[0]?.file ?? fileAt(first);
  return {
    workspace,
    book: workspace.bookOf(file.uri)!,
    file,
    position: cursors[0]?.position ?? { line: 0, character: 0 },
    cursors,
    named: (name) => fileAt(uriOf(name)),
    show: (places) => places.map(({ uri, range }) => showPlace(fileAt(uri), range)),
    changes: (edit) => edit.flatMap(({ file: changed, edits }) => changesIn(changed, edits)),
  };
}

/** A file of the book by its name. */
export function uriOf(name: string): string {
  return ROOT + name.split('/').map(encodeURIComponent).join('/');
}

function showPlace(file: BookFile, { start, end }: Range): string {
  const line = linesOf(file)[start.line] ?? '';
  const stop = end.line === start.line ? end.character : line.length;
  const more = end.line === start.line ? '' : `…${end.line + 1}`;
  const shown = `${line.slice(0, start.character)}[${line.slice(start.character, stop)}${more}]${line.slice(stop)}`;
  return `${decodeURIComponent(file.uri.slice(ROOT.length))}:${start.line + 1}: ${shown}`;
}

function changesIn(file: BookFile, edits: readonly { range: Range; newText: string }[]): string[] {
  const before = file.source.text();
  let after = before;
  const offset = ({ line, character }: Position) => {
    const place = file.source.offsetOf({ line, character });
    let at = place.offset;
    for (let i = 0; i < place.index; i++) at += file.source.at(i).text.length;
    return at;
  };
  for (const { range, newText } of [...edits].sort((a, b) => offset(b.range.start) - offset(a.range.start)))
    after = after.slice(0, offset(range.start)) + newText + after.slice(offset(range.end));
  const name = decodeURIComponent(file.uri.slice(ROOT.length));
  const old = before.split(/\r?\n/);
  const now = after.split(/\r?\n/);
  const out: string[] = [name];
  if (old.length !== now.length) return [name, ...now.map((line) => `+ ${line}`)];
  for (const [i, line] of old.entries()) if (line !== now[i]) out.push(`- ${line}`, `+ ${now[i]}`);
  return out;
}

function linesOf(file: BookFile): string[] {
  return file.source.text().split(/\r\n|\n|\r/);
}

function split(source: string): { name: string; text: string }[] {
  return source
    .split(/^=== /m)
    .slice(1)
    .map((part) => {
      const end = part.indexOf('\n');
      return { name: part.slice(0, end).trim(), text: part.slice(end + 1) };
    });
}

function withoutCursors(text: string): [string, Position[]] {
  const positions: Position[] = [];
  let plain = '';
  for (const [i, part] of text.split(CURSOR).entries()) {
    if (i > 0) {
      const lines = plain.split('\n');
      positions.push({ line: lines.length - 1, character: lines.at(-1)!.length });
    }
    plain += part;
  }
  return [plain, positions];
}

function dedent(source: string): string {
  const lines = source
    .replace(/^\n/, '')
    .replace(/\n[ ]*$/, '\n')
    .split('\n');
  const margin = Math.min(...lines.filter((line) => line.trim() !== '').map((line) => line.search(/\S/)));
  return lines.map((line) => line.slice(margin)).join('\n');
}

function fail(message: string): never {
  throw new Error(message);
}
