/** On the entry of a part that was replaced: its successor written wherever prices may still move. */
import type { CodeAction, TextEdit } from 'vscode-languageserver-types';
import { plural } from '../../upkeep/report/report.ts';
import { Refusal } from '../edit.ts';
import { supersede } from '../upkeep/supersede.ts';
import type { ActionContext } from './context.ts';

export function supersedeActions({ estimates, file, range, today }: ActionContext): CodeAction[] {
  if (file.kind?.kind !== 'parts') return [];
  const { piece } = file.source.offsetOf(range.start);
  if (piece.kind !== 'entry' || !piece.text.includes('superseded-by')) return [];
  if (estimates.book.definition('part', piece.key)?.facts.piece !== piece) return [];
  const found = supersedeOrNothing(estimates.book, today, piece.key);
  const [one] = found?.successions ?? [];
  if (!found || !one || found.edit.length === 0) return [];
  const changes: Record<string, TextEdit[]> = {};
  for (const { file: changed, edits } of found.edit)
    changes[changed.uri] = edits.map(({ range: at, newText }) => ({ range: at, newText }));
  const where = plural(one.replaced.length, 'job, template or kit', 'jobs, templates and kits');
  const left = one.left.length > 0 ? `; ${one.left.length} left as they are` : '';
  return [
    {
      title: `Write ${one.to} for ${one.from} in ${where}${left}`,
      kind: 'refactor.rewrite',
      edit: { changes },
    },
  ];
}

function supersedeOrNothing(...asked: Parameters<typeof supersede>) {
  try {
    return supersede(...asked);
  } catch (error) {
    // A chain that does not hold is told where it is written.
    if (!(error instanceof Refusal)) throw error;
    return undefined;
  }
}
