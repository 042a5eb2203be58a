/** An answer as it stands in the job: who, when, how, how much, which option, and what was left out. */
import type { Authorization } from '../../../../schemas/kinds/job.ts';
import type { Path } from '../../../../schemas/problem.ts';
import type { IsoDateTime } from '../../../../schemas/values/dates.ts';
import type { BookFile } from '../../book/file.ts';
import { applyEdits, type Edits, insertItem, remove, setValue } from '../../syntax/edit.ts';
import { SourceFile } from '../../syntax/file.ts';
import type { Plain } from '../../syntax/node.ts';
import { writePair } from '../../syntax/write.ts';
import { printerFor } from '../locale.ts';
import { beforeTax } from '../sheets/lines.ts';
import type { Source } from '../source.ts';
import type { Held } from './answer.ts';
import { rolesLeft } from './variants.ts';

export interface Given {
  readonly by: string;
  readonly on: IsoDateTime;
  readonly how: Authorization['how'];
  readonly takenBy?: string | undefined;
  readonly contact?: string | undefined;
}

/** The job file with the answer in it: authorized, chosen, and without the lines that were left out. Comments stay. */
export function recordedAnswer(
  source: Source,
  file: BookFile,
  { option, left }: Held,
  given: Given,
): { readonly text: string; readonly summary: string } | undefined {
  const { policy } = source.estimate;
  const taxed = policy.jurisdiction?.authorization?.tax === 'included';
  const amount = taxed ? option.priced.total.value : beforeTax(option.priced);
  const declined = rolesLeft(source, left);
  const entry: { [key: string]: Plain } = { on: given.on, by: given.by };
  if (given.takenBy !== undefined) entry['taken-by'] = given.takenBy;
  entry.how = given.how;
  if (given.contact !== undefined) entry.contact = given.contact;
  entry.amount = amount.toFixed(2);
  entry.for = 'work';
  if (option.id !== undefined) entry.option = option.id;
  if (declined.length > 0) entry.declined = declined;

  const lines = left
    .flatMap((extra) => extra.lines)
    .filter(({ from }) => from === undefined)
    .map(({ path }) => path)
    // From the end, so that the places of those before stay what they are.
    .toSorted((a, b) => Number(b.at(-1)) - Number(a.at(-1)));
  let text: string | undefined = file.source.text();
  for (const path of lines) text = text === undefined ? undefined : changed(file, text, path, remove);
  if (option.id !== undefined && text !== undefined) text = withChosen(file, text, option.id);
  if (text !== undefined) text = withItem(file, text, 'authorizations', entry);
  if (text === undefined) return undefined;
  const { money, list } = printerFor(source.estimate);
  const what = left.length === 0 ? '' : `, without ${list(left.map((extra) => extra.name))}`;
  return {
    text,
    summary: `${given.by} chose ${option.name}${what}, ${money(amount)} ${taxed ? 'with' : 'before'} tax, on ${given.on}.`,
  };
}

type Change = (text: string, root: Parameters<typeof remove>[1], path: Path) => Edits;

/** The text after a change at a place; undefined when it cannot be made. */
function changed(file: BookFile, text: string, path: Path, change: Change): string | undefined {
  const source = SourceFile.open(file.uri, text, file.source.splitKeys);
  let at = 0;
  for (const piece of source.pieces()) {
    if (piece.key === path[0] || piece.kind === 'whole') {
      const edits = change(piece.text, piece.read().node, path);
      return edits && text.slice(0, at) + applyEdits(piece.text, edits) + text.slice(at + piece.text.length);
    }
    at += piece.text.length;
  }
  return undefined;
}

function has(file: BookFile, key: string): boolean {
  return file.entryAt([key]) !== undefined;
}

function withChosen(file: BookFile, text: string, option: string): string | undefined {
  return has(file, 'chosen')
    ? changed(file, text, ['chosen'], (piece, root, path) => setValue(piece, root, path, option))
    : atEnd(text, 'chosen', option);
}

function withItem(file: BookFile, text: string, key: string, entry: Plain): string | undefined {
  return has(file, key)
    ? changed(file, text, [key], (piece, root, path) => insertItem(piece, root, path, entry))
    : atEnd(text, key, [entry]);
}

function atEnd(text: string, key: string, value: Plain): string {
  const eol = /\r\n|\n|\r/.exec(text)?.[0] ?? '\n';
  const lead = text.length > 0 && !/[\r\n]$/.test(text) ? eol : '';
  return `${text}${lead}${writePair(key, value, { column: 0, eol, flow: false })}${eol}`;
}
