/** Work and parts that are on the job twice: the line that bills them again is dropped, or its hours are cut. */
import type { CodeAction } from 'vscode-languageserver-types';
import type { Path } from '../../../../schemas/problem.ts';
import type { Found } from '../../estimate/problems.ts';
import { nodeAt, removeAt, setAt } from '../edits.ts';
import { type ActionContext, mend } from './context.ts';

interface Data {
  readonly operation?: string;
  readonly part?: string;
  readonly hours?: string;
  /** The line that bills the work first. */
  readonly first?: Path;
}

export function repeatActions(context: ActionContext, found: Found): CodeAction[] {
  const { code, path } = found.problem;
  const { operation, part, hours, first = [] } = (found.problem.data ?? {}) as Data;
  const { file } = context;
  switch (code) {
    case 'operation-twice':
      return [path, first]
        .flatMap((line) => dropLine(context, found, line, 'operation', operation, 'is billed twice'))
        .slice(0, 1);
    case 'operation-included':
      return dropLine(context, found, path, 'operation', operation, 'is part of other work on the job');
    case 'part-inside-kit':
      return dropLine(context, found, path, 'part', part, 'is inside the kit');
    case 'fill-counted-already':
      return mend(context, found, 'Drop what the fill counts already', removeItem(context, path), true);
    case 'labor-overlap':
      return hours === undefined
        ? []
        : [
            ...mend(context, found, 'Drop the hours: the book time counts', removeAt(file, path), true),
            ...mend(context, found, `Write ${hours} h`, setAt(file, path, `${hours} h`)),
          ];
    default:
      return [];
  }
}

/** Only a line that the job itself writes; one that a template brings is the template's. */
function dropLine(
  context: ActionContext,
  found: Found,
  path: Path,
  key: 'operation' | 'part',
  id: string | undefined,
  because: string,
): CodeAction[] {
  if (id === undefined || !isWritten(context, [...path, key], id)) return [];
  const { name } = (context.estimates.book.value(key, id) ?? {}) as { name?: string };
  const title = `Drop this line: ${name ?? id} ${because}`;
  return mend(context, found, title, removeAt(context.file, path), true);
}

/** The last item takes its list along. */
function removeItem({ file }: ActionContext, path: Path) {
  const list = nodeAt(file, path.slice(0, -1));
  return removeAt(file, list?.type === 'list' && list.items.length === 1 ? path.slice(0, -1) : path);
}

function isWritten({ file }: ActionContext, path: Path, id: string): boolean {
  const node = nodeAt(file, path);
  return node?.type === 'scalar' && node.text === id;
}
