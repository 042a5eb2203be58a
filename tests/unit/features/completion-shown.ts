/** Completion as a test reads it: what is offered, one a line, and the file once something is accepted. */
import type { CompletionItem, CompletionList } from 'vscode-languageserver-types';
import { isoDate } from '../../../schemas/values/dates.ts';
import { Estimates } from '../../../server/src/estimate/estimates.ts';
import { type CompletionClient, complete } from '../../../server/src/features/completion.ts';
import type { Position } from '../../../server/src/syntax/lines.ts';
import { type Fixture, fixture } from './fixture.ts';

export const CLIENT: CompletionClient = {
  snippets: true,
  linesAsTheyAre: true,
  markdown: true,
};

export interface Shown {
  readonly at: Fixture;
  readonly list: CompletionList;
  /** `label`, with ` - detail` and ` : description` where there are any; `(old)` for what is deprecated. */
  readonly items: string[];
  readonly labels: string[];
  item(label: string): CompletionItem;
  /** The text of the file with the cursor, once the item is accepted; tab stops as they are. */
  accept(label: string): string;
}

export function completed(source: string, client: Partial<CompletionClient> = {}, eol?: string): Shown {
  const at = fixture(source, eol === undefined ? {} : { eol });
  return shownAt(at, at.position, client);
}

export function shownAt(at: Fixture, position: Position, client: Partial<CompletionClient> = {}): Shown {
  const list = complete({
    estimates: new Estimates(at.book),
    file: at.file,
    position,
    today: isoDate('2026-03-04'),
    client: { ...CLIENT, ...client },
  });
  const item = (label: string) => {
    const found = list.items.find((one) => one.label === label);
    if (!found)
      throw new Error(
        `"${label}" is not offered; there is: ${list.items.map((one) => one.label).join(', ')}`,
      );
    return found;
  };
  return {
    at,
    list,
    labels: list.items.map((one) => one.label),
    items: list.items.map(line),
    item,
    accept: (label) => applied(at.file.source.text(), item(label)),
  };
}

function line({ label, labelDetails, tags }: CompletionItem): string {
  const detail = labelDetails?.detail ? ` -${labelDetails.detail}` : '';
  const description = labelDetails?.description ? ` : ${labelDetails.description}` : '';
  return `${label}${detail}${description}${tags?.includes(1) ? ' (old)' : ''}`;
}

export function applied(text: string, { textEdit }: CompletionItem): string {
  if (!textEdit || !('range' in textEdit)) throw new Error('no text edit');
  const { start, end } = textEdit.range;
  if (start.line !== end.line) throw new Error('a completion has to stay on one line');
  return text.slice(0, offset(text, start)) + textEdit.newText + text.slice(offset(text, end));
}

function offset(text: string, { line: row, character }: Position): number {
  let at = 0;
  for (let i = 0; i < row; i++) at = text.indexOf('\n', at) + 1;
  return at + character;
}
