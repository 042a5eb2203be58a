/** Giving an id another name in every place of the book at once, comments and quoting kept. */
import type { z } from 'zod';
import type { RefKind } from '../../../schemas/declare.ts';
import type { Path } from '../../../schemas/problem.ts';
import { keyOf } from '../../../schemas/walk.ts';
import type { Book } from '../book/book.ts';
import { KIND_WORDS } from '../book/checks.ts';
import type { BookFile } from '../book/file.ts';
import { PARAMETER } from '../book/marks.ts';
import { relative } from '../book/paths.ts';
import { applyEdits, type TextEdit } from '../syntax/edit.ts';
import type { Position, Range } from '../syntax/lines.ts';
import { keyAt, nodeAt, type Plain, samePlain, toPlain } from '../syntax/node.ts';
import type { Piece } from '../syntax/piece.ts';
import { readPiece } from '../syntax/read.ts';
import { writeKey, writeScalar } from '../syntax/write.ts';
import { isRepeat } from './content.ts';
import { type BookEdit, EditCollector, Refusal } from './edit.ts';
import {
  definingMarks,
  type IdMark,
  isParameterText,
  type Meaning,
  meaningOf,
  namingMarks,
  rowsOf,
} from './ids.ts';
import { placeAt, placeIn } from './place.ts';
import { locationOf } from './spot.ts';

/** What would be renamed; undefined where there is no id. Throws a Refusal when the id cannot be renamed at all. */
export function prepareRename(
  book: Book,
  file: BookFile,
  position: Position,
): { range: Range; placeholder: string } | undefined {
  const target = targetAt(book, file, position);
  return target && { range: locationOf(target.mark).range, placeholder: target.meaning.id };
}

/** Throws a Refusal that says why the new name cannot be given. */
export function rename(book: Book, file: BookFile, position: Position, name: string): BookEdit {
  const target = targetAt(book, file, position);
  if (!target) throw new Refusal('There is no id at this place that could be renamed.');
  return renameMeaning(book, target.meaning, name);
}

/** Throws a Refusal that says why the new name cannot be given. */
export function renameMeaning(book: Book, meaning: Meaning, name: string): BookEdit {
  const defining = definitionsOf(book, meaning);
  if (name === meaning.id) return [];
  const naming = namingMarks(book, meaning);
  refuseInvalid(defining, meaning.kind, name);
  refuseCollision(book, meaning, naming, name);

  const word = KIND_WORDS[meaning.kind];
  const collector = new EditCollector();
  const byPiece = Map.groupBy([...defining, ...naming], (mark) => mark.piece);
  for (const [piece, marks] of byPiece) {
    // A repeat follows when what it repeats is renamed.
    const edits = marks
      .filter((mark) => !isRepeat(piece, { ...mark, text: textOf(mark, mark.id) }))
      .map((mark) => ({ mark, edit: editOf(mark, name) }));
    const lost = misread(
      piece,
      marks,
      edits.map(({ edit }) => edit),
      name,
    );
    if (lost) throw cannotWrite(book, lost, name);
    for (const { mark, edit } of edits) {
      const label = mark.is === 'definition' ? `The ${word} itself` : `Where the ${word} is named`;
      collector.add(mark.file, piece, [edit], label);
    }
  }
  return collector.edit;
}

interface Target {
  readonly mark: IdMark;
  readonly meaning: Meaning;
}

function targetAt(book: Book, file: BookFile, position: Position): Target | undefined {
  const { mark } = placeAt(file, position);
  const meaning = mark && meaningOf(book, mark);
  if (!mark || !meaning) return undefined;
  definitionsOf(book, meaning);
  return { mark, meaning };
}

/** The places that bring the id into being; a Refusal where none can be renamed. */
function definitionsOf(book: Book, meaning: Meaning): readonly IdMark[] {
  const defining = definingMarks(book, meaning);
  const word = KIND_WORDS[meaning.kind];
  if (rowsOf(book, meaning).length > 0)
    throw new Refusal(
      `The ${word} "${meaning.id}" comes from a supplier's price file; its number is the supplier's. Write an entry with a number of your own instead.`,
    );
  if (defining.length === 0)
    throw new Refusal(
      `There is no ${word} "${meaning.id}" in this book, so there is nothing to rename. Correct the id where it is named instead.`,
    );
  return defining;
}

function refuseInvalid(defining: readonly IdMark[], kind: RefKind, name: string): void {
  for (const mark of defining) {
    const schema = declaredId(mark);
    const judged = schema?.safeParse(name);
    if (judged && !judged.success)
      throw new Refusal(judged.error.issues[0]?.message ?? `"${name}" cannot be an id.`);
  }
  if (kind === 'parameter' && !PARAMETER.test(`$${name}`))
    throw new Refusal(
      `"${name}" cannot be a parameter: it is written $${name} in the lines, so it begins with a letter and goes on with letters, digits, - or _.`,
    );
}

/** The declaration of the id: of the map's keys, or of the `id:` field. */
function declaredId(mark: IdMark): z.ZodType | undefined {
  const { levels } = placeIn(mark.file, mark.piece, mark.start);
  if (!mark.onKey) return levels.at(-1)?.declared;
  const map = levels.at(-2)?.meant;
  return map && keyOf(map);
}

function refuseCollision(book: Book, meaning: Meaning, naming: readonly IdMark[], name: string): void {
  const taken = definingMarks(book, { ...meaning, id: name })[0];
  const row = rowsOf(book, { ...meaning, id: name })[0];
  if (taken || row) {
    const where = relative(book.root, (taken?.file ?? row!.facts.file).uri);
    throw new Refusal(
      `There is a ${KIND_WORDS[meaning.kind]} "${name}" already, in ${where}; the two would become one. Choose another name.`,
    );
  }
  for (const mark of naming) {
    const other = mark.kinds.find((kind) => kind !== meaning.kind && book.definition(kind, name));
    if (other)
      throw new Refusal(
        `${whereIs(book, mark)} could then mean the ${KIND_WORDS[other]} "${name}" as well. Choose another name.`,
      );
  }
}

/** The id written anew in its own quotes, or in quotes when the new one needs them. */
function editOf(mark: IdMark, name: string): TextEdit {
  const { piece, start, end } = mark;
  const { node } = piece.read();
  const path = pathInPiece(mark);
  if (mark.onKey) {
    const style = keyAt(node, path)?.style ?? 'plain';
    const unsafe = style === 'plain' && writeScalar(name, 'plain', IN_BRACKETS) !== name;
    return { start, end, text: writeKey(name, unsafe ? 'double' : style) };
  }
  const value = nodeAt(node, path);
  const style = value.type === 'scalar' ? value.style : 'plain';
  return { start, end, text: writeScalar(textOf(mark, name), style, IN_BRACKETS) };
}

/** Writing as if inside brackets is safe everywhere. */
const IN_BRACKETS = { column: 0, eol: '\n', flow: true };

function textOf(mark: IdMark, name: string): string {
  return isParameterText(mark) ? `$${name}` : name;
}

function pathInPiece({ piece, path }: IdMark): Path {
  return piece.kind === 'entry' ? path.slice(1) : path;
}

/** The first id that would not read as the new name, or would take something else of its piece with it. */
function misread(
  piece: Piece,
  marks: readonly IdMark[],
  edits: readonly TextEdit[],
  name: string,
): IdMark | undefined {
  const before = toPlain(piece.read().node);
  const after = toPlain(readPiece(applyEdits(piece.text, edits)).node);
  let wanted = before;
  // Deepest first, so that a renamed key does not move what is still to be renamed below it.
  for (const mark of [...marks].sort((a, b) => b.path.length - a.path.length)) {
    const next = replaced(wanted, pathInPiece(mark), mark.onKey, textOf(mark, name));
    if (!next) return mark;
    wanted = next;
  }
  return samePlain(wanted, after) ? undefined : marks[0];
}

/** The value with the text, or the name, at the end of the path replaced; undefined when the group has that name. */
function replaced(value: Plain, path: Path, onKey: boolean, text: string): Plain | undefined {
  const [step, ...rest] = path;
  if (step === undefined) return text;
  if (value === null || typeof value === 'string') return undefined;
  if (Array.isArray(value)) {
    const inner = replaced(value[Number(step)] ?? null, rest, onKey, text);
    return inner === undefined ? undefined : value.with(Number(step), inner);
  }
  const name = String(step);
  const rename = onKey && rest.length === 0;
  if (rename && text in value) return undefined;
  const inner = rename ? value[name]! : replaced(value[name] ?? null, rest, onKey, text);
  if (inner === undefined) return undefined;
  const out: { [key: string]: Plain } = Object.create(null);
  for (const [key, old] of Object.entries(value))
    out[rename && key === name ? text : key] = key === name ? inner : old;
  return out;
}

function cannotWrite(book: Book, mark: IdMark, name: string): Refusal {
  return new Refusal(
    `"${name}" cannot be written at ${whereIs(book, mark)}: its group has that name already, or the value is a repeat (*name) of something else. Change that place by hand first.`,
  );
}

function whereIs(book: Book, mark: IdMark): string {
  const { line } = mark.file.source.positionOf(mark.piece, mark.start);
  return `${relative(book.root, mark.file.uri)}, line ${line + 1}`;
}
