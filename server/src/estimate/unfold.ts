/** Template lines written out: parameters filled in, nested templates followed, each line knowing where it comes from. */

import type { Line, TemplateLine } from '../../../schemas/kinds/lines.ts';
import { line } from '../../../schemas/kinds/lines.ts';
import type { Template } from '../../../schemas/kinds/template.ts';
import type { Path, Problem } from '../../../schemas/problem.ts';
import { PARAMETER } from '../book/marks.ts';
import type { SaleLine } from '../pricing/model.ts';

const DEEPEST = 16;

export interface UnfoldLookup {
  template(id: string): Template | undefined;
  part(id: string): { role?: string | undefined } | undefined;
  operation(id: string): { role?: string | undefined } | undefined;
}

export interface Unfolded {
  readonly lines: readonly SaleLine[];
  readonly problems: readonly Problem[];
}

/** `path` gives the place of the i-th line in the job file. */
export function unfold(
  lines: readonly Line[],
  pathOf: (index: number) => Path,
  lookup: UnfoldLookup,
): Unfolded {
  const out: SaleLine[] = [];
  const problems: Problem[] = [];
  for (const [i, one] of lines.entries()) {
    const path = pathOf(i);
    if (isTemplate(one)) follow(one, path, undefined, []);
    else out.push({ path, line: one });
  }
  return { lines: out, problems };

  function follow(call: TemplateLine, path: Path, from: SaleLine['from'], above: readonly string[]): void {
    const id = call.template;
    if (above.includes(id) || above.length >= DEEPEST) {
      tell(
        path,
        'template-cycle',
        `Templates use one another in a circle: ${[...above, id].join(' -> ')}. Take one of them out.`,
      );
      return;
    }
    const template = lookup.template(id);
    if (!template) return;
    const values = fill(call, template, path);
    const leftOut = new Set(call.without);
    for (const [i, raw] of (template.lines ?? []).entries()) {
      const origin = from ?? { template: id, path: ['lines', i] };
      const judged = line.safeParse(substitute(raw, values));
      if (!judged.success) {
        const [issue] = judged.error.issues;
        tell(
          path,
          'template-line',
          `Line ${i + 1} of the template "${id}" does not hold with these parameters: ${issue?.path.join('.') ?? ''} ${issue?.message ?? ''}`.trimEnd(),
        );
        continue;
      }
      const written = judged.data;
      if (isTemplate(written)) follow(written, path, origin, [...above, id]);
      else if (!leftOut.has(idOf(written))) out.push({ path, line: written, from: origin });
    }
  }

  function fill(call: TemplateLine, template: Template, path: Path): ReadonlyMap<string, string> {
    const parameters = template.parameters ?? {};
    const values = new Map<string, string>();
    for (const [name, parameter] of Object.entries(parameters)) {
      const value = call.with?.[name] ?? parameter.default;
      if (value === undefined) {
        tell(
          [...path, 'template'],
          'template-parameter',
          `The template "${call.template}" needs a value for "${name}": write it under \`with\`.`,
          { call: [...path], template: call.template, parameter: name },
        );
        continue;
      }
      values.set(name, value);
      const at = call.with?.[name] === undefined ? [...path, 'template'] : [...path, 'with', name];
      const wrong = wrongValue(name, value, parameter);
      if (wrong) tell(at, 'template-parameter', wrong);
    }
    return values;
  }

  function wrongValue(
    name: string,
    value: string,
    parameter: NonNullable<Template['parameters']>[string],
  ): string | undefined {
    if (parameter.choices && !parameter.choices.includes(value)) {
      return `"${name}" can be ${parameter.choices.join(', ')}; "${value}" is none of them.`;
    }
    if (parameter.type !== 'part' && parameter.type !== 'operation') return undefined;
    const entry = parameter.type === 'part' ? lookup.part(value) : lookup.operation(value);
    if (!entry) return `There is no ${parameter.type} "${value}" in the book, which "${name}" stands for.`;
    if (parameter.role && entry.role !== parameter.role) {
      return `"${name}" has to be a ${parameter.role}; ${value} is ${entry.role ? `a ${entry.role}` : 'without a role'}.`;
    }
    return undefined;
  }

  function tell(path: Path, code: string, message: string, data?: Problem['data']): void {
    problems.push({ code, severity: 'error', message, path, ...(data ? { data } : {}) });
  }
}

export function isTemplate(one: Line): one is TemplateLine {
  return 'template' in one;
}

function idOf(one: Line): string {
  if ('part' in one) return one.part;
  return 'operation' in one ? one.operation : '';
}

/** Texts that are a parameter become its value; one without a value stays as it is and is told as wrong. */
function substitute(raw: unknown, values: ReadonlyMap<string, string>): unknown {
  if (typeof raw === 'string') {
    const name = PARAMETER.exec(raw)?.[1];
    return (name && values.get(name)) ?? raw;
  }
  if (Array.isArray(raw)) return raw.map((item) => substitute(item, values));
  if (raw && typeof raw === 'object') {
    return Object.fromEntries(Object.entries(raw).map(([key, value]) => [key, substitute(value, values)]));
  }
  return raw;
}
