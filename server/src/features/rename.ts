/** Giving an id another name in every place of the book at once, comments and quoting kept. */
import type { PrepareRenameResult } from 'vscode-languageserver-types';
import { metaOf, type RefKind } from '../../../schemas/declare.ts';
import { childOf, keyOf } from '../../../schemas/walk.ts';
import type { Book } from '../book/book.ts';
import { KIND_WORDS } from '../book/checks.ts';
import type { BookFile } from '../book/file.ts';
import { PARAMETER } from '../book/marks.ts';
import { relative } from '../book/paths.ts';
import { type Edits, renameKey, setValue } from '../syntax/edit.ts';
import type { Position } from '../syntax/lines.ts';
import { type BookEdit, EditCollector, Refusal } from './edit.ts';
import {
  definingMarks,
  type IdMark,
  idsIn,
  isParameterText,
  type Meaning,
  meaningOf,
  namingMarks,
  rowsOf,
  sameMeaning,
} from './ids.ts';
import { placeAt } from './place.ts';
import { locationOf } from './spot.ts';

/** What would be renamed; undefined where there is no id. Throws a Refusal when the id cannot be renamed at all. */
export function prepareRename(book: Book, file: BookFile, position: Position): PrepareRenameResult | undefined {
  const target = targetAt(book, file, position);
  return target && { range: locationOf(target.mark).range, placeholder: target.meaning.id };
}

/** Throws a Refusal that says why the new name cannot be given. */
export function rename(book: Book, file: BookFile, position: Position, name: string): BookEdit {
  const target = targetAt(book, file, position);
  if (!target) throw new Refusal('There is no id at this place that could be renamed.');
  const { meaning, defining } = target;
  if (name === meaning.id) return [];
  const naming = namingMarks(book, meaning);
  refuseInvalid(defining, meaning.kind, name);
  refuseCollision(book, meaning, naming, name);

  const word = KIND_WORDS[meaning.kind];
  const collector = new EditCollector();
  const done = new Set<string>();
  for (const mark of [...defining, ...naming]) {
    const edits = editOf(mark, name);
    if (!edits) throw new Refusal(cannotWrite(book, mark, name));
    const key = `${mark.file.uri} ${locationKey(mark)}`;
    if (done.has(key)) continue;
    done.add(key);
    const label = mark.is === 'definition' ? `The ${word} itself` : `Where the ${word} is named`;
    collector.add(mark.file, mark.piece, edits, label);
  }
  return collector.edit;
}

interface Target {
  readonly mark: IdMark;
  readonly meaning: Meaning;
  readonly defining: readonly IdMark[];
}

function targetAt(book: Book, file: BookFile, position: Position): Target | undefined {
  const { mark } = placeAt(file, position);
  const meaning = mark && meaningOf(book, mark);
  if (!mark || !meaning) return undefined;
  const defining = definingMarks(book, meaning);
  const word = KIND_WORDS[meaning.kind];
  if (rowsOf(book, meaning).length > 0)
    throw new Refusal(
      `The ${word} "${meaning.id}" comes from a supplier's price file; its number is the supplier's. Write an entry with a number of your own instead.`,
    );
  if (defining.length === 0)
    throw new Refusal(
      `There is no ${word} "${meaning.id}" in this book, so there is nothing to rename. Correct the id here instead.`,
    );
  return { mark, meaning, defining };
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
function declaredId(mark: IdMark) {
  let schema = mark.file.kind?.schema as ReturnType<typeof childOf>;
  const steps = mark.onKey ? mark.path.slice(0, -1) : mark.path;
  for (const step of steps) schema = schema && childOf(bareOf(schema), step);
  return schema && (mark.onKey ? keyOf(bareOf(schema)) : schema);
}
