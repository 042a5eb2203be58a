/** Mistyped ids and names, and numbers that others have taken the place of. */
import type { CodeAction } from 'vscode-languageserver-types';
import type { Found } from '../../estimate/problems.ts';
import { renameKeyAt, setAt } from '../edits.ts';
import { type ActionContext, mend } from './context.ts';

interface Data {
  readonly near?: readonly string[];
  readonly replaceKey?: string;
  readonly to?: string;
}

export function spellingActions(context: ActionContext, found: Found): CodeAction[] {
  const { problem } = found;
  const { near = [], replaceKey, to } = (problem.data ?? {}) as Data;
  const replace = (word: string) =>
    problem.onKey ? renameKeyAt(context.file, problem.path, word) : setAt(context.file, problem.path, word);
  return [
    ...near.flatMap((word, i) =>
      mend(context, found, `Change to "${word}"`, replace(word), i === 0 && near.length === 1),
    ),
    ...(replaceKey === undefined
      ? []
      : mend(
          context,
          found,
          `Change to "${replaceKey}"`,
          renameKeyAt(context.file, problem.path, replaceKey),
          true,
        )),
    ...(to === undefined
      ? []
      : mend(context, found, `Use ${to}, which took its place`, setAt(context.file, problem.path, to), true)),
  ];
}
