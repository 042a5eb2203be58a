/** A parameter that a template needs: its value is begun under `with`, with what would fit where that is known. */
import type { CodeAction } from 'vscode-languageserver-types';
import type { Template } from '../../../../schemas/kinds/template.ts';
import type { Path } from '../../../../schemas/problem.ts';
import type { Found } from '../../estimate/problems.ts';
import { addPair, nodeAt } from '../edits.ts';
import { type ActionContext, mend, nameOf, OFFERED } from './context.ts';

interface Data {
  /** The line that takes the template. */
  readonly call?: Path;
  readonly template?: string;
  readonly parameter?: string;
}

export function parameterActions(context: ActionContext, found: Found): CodeAction[] {
  const { call, template, parameter } = (found.problem.data ?? {}) as Data;
  if (call === undefined || template === undefined || parameter === undefined) return [];
  const { file } = context;
  // A template inside a template takes its values there, not on the line of the job.
  const named = nodeAt(file, [...call, 'template']);
  if (named?.type !== 'scalar' || named.text !== template) return [];
  const give = (title: string, value: string | null, preferred = false) =>
    mend(
      context,
      found,
      title,
      nodeAt(file, [...call, 'with'])
        ? addPair(file, [...call, 'with'], parameter, value)
        : addPair(file, call, 'with', { [parameter]: value }),
      preferred,
    );
  const fitting = valuesFor(context, template, parameter).slice(0, OFFERED);
  if (fitting.length === 0) return give(`Add "${parameter}" to fill in`, null, true);
  return fitting.flatMap(({ value, name }, i) =>
    give(`Write ${name} as "${parameter}"`, value, i === 0 && fitting.length === 1),
  );
}

/** Its choices; parts and operations of its role that fit the unit of the job. */
function valuesFor(
  context: ActionContext,
  id: string,
  name: string,
): readonly { value: string; name: string }[] {
  const { estimates, file } = context;
  const template = estimates.book.value('template', id) as Template | undefined;
  const parameter = template?.parameters?.[name];
  if (parameter?.choices) return parameter.choices.map((value) => ({ value, name: value }));
  const { unit } = file.value as { unit?: string };
  if (parameter?.role === undefined || unit === undefined) return [];
  return estimates
    .catalogFor(file.uri)
    .fillers(parameter.role, unit)
    .filter((filler) => filler.kind === parameter.type)
    .map((filler) => ({ value: filler.id, name: nameOf(context, filler) }));
}
