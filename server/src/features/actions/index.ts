/** Code actions: what can be done about the problems at a place, and about all of them at once. */
import type { CodeAction, Range } from 'vscode-languageserver-types';
import type { Path } from '../../../../schemas/problem.ts';
import type { IsoDate } from '../../../../schemas/values/dates.ts';
import type { BookFile } from '../../book/file.ts';
import type { Estimates } from '../../estimate/estimates.ts';
import { type Found, problemsOf } from '../../estimate/problems.ts';
import type { Filler } from '../../work/model.ts';
import { addItems } from '../edits.ts';
import { type ActionContext, action, FIX_ALL, QUICK_FIX } from './context.ts';
import { limitActions } from './limits.ts';
import { lineFor, linesPath, missingActions } from './missing.ts';
import { parameterActions } from './parameters.ts';
import { refactorings } from './refactor.ts';
import { repeatActions } from './repeats.ts';
import { priceActions } from './reprice.ts';
import { spellingActions } from './spelling.ts';
import { supersedeActions } from './supersede.ts';
import { writeOut } from './write-out.ts';

interface Data {
  readonly fillers: readonly Filler[];
  readonly option?: Path;
}

/** `only`: the kinds that the editor asks for; all, when left out. */
export function codeActions(
  estimates: Estimates,
  file: BookFile,
  range: Range,
  today: IsoDate,
  only?: readonly string[],
): CodeAction[] {
  const wants = (kind: string) =>
    !only || only.some((asked) => kind === asked || kind.startsWith(`${asked}.`));
  const all = problemsOf(estimates, file);
  const problems = all.filter((found) => touches(file, found, range));
  const context: ActionContext = { estimates, file, range, problems, today };
  const out: CodeAction[] = [];
  if (wants(QUICK_FIX)) {
    for (const found of problems)
      out.push(
        ...spellingActions(context, found),
        ...missingActions(context, found),
        ...repeatActions(context, found),
        ...limitActions(context, found),
        ...parameterActions(context, found),
      );
    if (problems.some(isMissing)) out.push(...addAll(context, all));
  }
  if (wants(FIX_ALL)) out.push(...fixAll(context, all));
  const others = [
    ...refactorings(context),
    ...writeOut(context),
    ...priceActions(context),
    ...supersedeActions(context),
  ];
  return [...out, ...others].filter((one) => wants(one.kind ?? ''));
}

/** Every missing part and operation of the job that exactly one entry, or a clear first one, would satisfy. */
function addAll(context: ActionContext, all: readonly Found[]): CodeAction[] {
  const missing = all.filter(isMissing);
  if (missing.length < 2) return [];
  const byPlace = Map.groupBy(missing, (found) => JSON.stringify(linesPath(context, dataOf(found).option)));
  const edits = [...byPlace].flatMap(([place, group]) => {
    const lines = group.map((found) => lineFor(context, dataOf(found).fillers[0]!));
    return addItems(context.file, JSON.parse(place) as Path, lines) ?? [];
  });
  return edits.length === 0
    ? []
    : [action(context, `Add all missing work (${missing.length})`, QUICK_FIX, edits)];
}

/** The preferred mends of the whole file that leave no choice: spelling and superseded numbers, never added work. */
function fixAll(context: ActionContext, all: readonly Found[]): CodeAction[] {
  const edits = all.flatMap((found) =>
    spellingActions(context, found)
      .filter((one) => one.isPreferred)
      .flatMap((one) => one.edit?.changes?.[context.file.uri] ?? []),
  );
  return edits.length === 0 ? [] : [action(context, 'Mend spelling and superseded numbers', FIX_ALL, edits)];
}

function dataOf(found: Found): Data {
  return found.problem.data as unknown as Data;
}

function isMissing(found: Found): boolean {
  const { roles, fillers } = (found.problem.data ?? {}) as { roles?: unknown; fillers?: readonly unknown[] };
  return roles !== undefined && fillers !== undefined && fillers.length > 0;
}

function touches(file: BookFile, found: Found, range: Range): boolean {
  const at = file.source.rangeOf(found.piece, found);
  return !(before(at.end, range.start) || before(range.end, at.start));
}

function before(a: Range['start'], b: Range['start']): boolean {
  return a.line < b.line || (a.line === b.line && a.character < b.character);
}
