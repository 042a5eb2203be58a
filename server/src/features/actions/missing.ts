/** Work and records that are required and not there: added, or waived. */
import type { CodeAction } from 'vscode-languageserver-types';
import type { RecordKind } from '../../../../schemas/kinds/rules.ts';
import type { Path } from '../../../../schemas/problem.ts';
import type { Found } from '../../estimate/problems.ts';
import type { Plain } from '../../syntax/node.ts';
import type { Filler } from '../../work/model.ts';
import { addItems } from '../edits.ts';
import { type ActionContext, mend, nameOf, OFFERED } from './context.ts';

interface Data {
  readonly roles?: readonly string[];
  readonly fillers?: readonly Filler[];
  readonly record?: string;
  readonly option?: Path;
}

export function missingActions(context: ActionContext, found: Found): CodeAction[] {
  if (context.file.kind?.kind !== 'job') return [];
  const data = (found.problem.data ?? {}) as Data;
  if (data.record !== undefined) return recordActions(context, found, data.record);
  if (!data.roles || !data.fillers) return [];
  const added = data.fillers.slice(0, OFFERED).flatMap((filler, i) => {
    const edits = addItems(context.file, linesPath(context, data.option), [lineFor(context, filler)]);
    return mend(context, found, `Add ${nameOf(context, filler)}`, edits, i === 0);
  });
  return [...added, ...waive(context, found, { role: data.roles[0]! }, roleName(context, data.roles[0]!))];
}

/** The missing thing as a line of the job: a fluid by the dry fill, a part, an operation. */
export function lineFor({ estimates }: ActionContext, filler: Filler): Plain {
  if (filler.kind === 'operation') return { operation: filler.id };
  const part = estimates.book.value('part', filler.id) as { kind?: string } | undefined;
  return part?.kind === 'fluid' ? { fill: 'dry', part: filler.id } : { part: filler.id };
}

/** Where a line belongs: the option that lacks it when it has lines of its own, else the lines of the job. */
export function linesPath({ file }: ActionContext, option: Path | undefined): Path {
  return option && option.length > 0 && file.entryAt(option) ? [...option, 'lines'] : ['lines'];
}

function recordActions(context: ActionContext, found: Found, record: string): CodeAction[] {
  const kind = context.estimates.book.value('record', record) as RecordKind | undefined;
  const skeleton: { [key: string]: Plain } = { record, on: context.today, by: null };
  for (const field of kind?.needs ?? []) skeleton[field] ??= null;
  const edits = addItems(context.file, ['records'], [skeleton]);
  return [
    ...mend(context, found, `Add the record "${kind?.name ?? record}" to fill in`, edits, true),
    ...waive(context, found, { record }, kind?.name ?? record),
  ];
}

function waive(
  context: ActionContext,
  found: Found,
  what: { role: string } | { record: string },
  name: string,
): CodeAction[] {
  const edits = addItems(context.file, ['waivers'], [{ ...what, reason: null, by: null, on: context.today }]);
  return mend(context, found, `Record that ${name} was declined`, edits);
}

function roleName({ estimates }: ActionContext, role: string): string {
  const entry = estimates.book.value('role', role) as { name?: string } | undefined;
  return entry?.name ? `"${entry.name}"` : `"${role}"`;
}
