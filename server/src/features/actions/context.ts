/** What every kind of code action is made from. */
import type { CodeAction, Range, TextEdit } from 'vscode-languageserver-types';
import type { IsoDate } from '../../../../schemas/values/dates.ts';
import type { BookFile } from '../../book/file.ts';
import type { Estimates } from '../../estimate/estimates.ts';
import type { Found } from '../../estimate/problems.ts';
import type { Filler } from '../../work/model.ts';
import type { FileEdits } from '../edits.ts';
import { workspaceEdit } from '../edits.ts';

export interface ActionContext {
  readonly estimates: Estimates;
  readonly file: BookFile;
  readonly range: Range;
  /** Problems that touch the range. */
  readonly problems: readonly Found[];
  readonly today: IsoDate;
}

/** More choices than these are better found by completion. */
export const OFFERED = 5;

export const QUICK_FIX = 'quickfix';
export const FIX_ALL = 'source.fixAll';

/** A mend for a problem; none when the text does not allow it. */
export function mend(
  context: ActionContext,
  found: Found | undefined,
  title: string,
  edits: FileEdits,
  preferred = false,
  /** The file that the edits are for, where it is not the one with the problem. */
  elsewhere?: BookFile,
): CodeAction[] {
  if (!edits || edits.length === 0) return [];
  const made = action(context, title, QUICK_FIX, edits, found, preferred);
  return [elsewhere ? { ...made, edit: workspaceEdit(elsewhere, edits) } : made];
}

export function action(
  { file }: ActionContext,
  title: string,
  kind: string,
  edits: TextEdit[],
  found?: Found,
  preferred = false,
): CodeAction {
  return {
    title,
    kind,
    edit: workspaceEdit(file, edits),
    ...(preferred ? { isPreferred: true } : {}),
    ...(found
      ? {
          diagnostics: [
            {
              range: file.source.rangeOf(found.piece, found),
              message: found.problem.message,
              code: found.problem.code,
            },
          ],
        }
      : {}),
  };
}

/** `Torque converter (TC-B6-R)`. */
export function nameOf({ estimates }: ActionContext, filler: Filler): string {
  const entry = estimates.book.value(filler.kind, filler.id) as { name?: string } | undefined;
  return entry?.name ? `${entry.name} (${filler.id})` : filler.id;
}
