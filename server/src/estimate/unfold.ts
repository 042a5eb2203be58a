/** Template lines written out: parameters filled in, nested templates followed, each line knowing where it comes from. */

import {
  fillLine,
  type Line,
  operationLine,
  partLine,
  type TemplateLine,
} from '../../../schemas/kinds/lines.ts';
import { conditionalLine, type Template, type When } from '../../../schemas/kinds/template.ts';
import type { Path, Problem } from '../../../schemas/problem.ts';
import { suggestion } from '../../../schemas/values/words.ts';
import { PARAMETER } from '../book/marks.ts';
import type { Answer } from '../pricing/applies.ts';
import { inWords } from '../pricing/applies.ts';
import type { JobLine, SaleLine } from '../pricing/model.ts';
import type { Plain } from '../syntax/node.ts';

const DEEPEST = 16;

export interface UnfoldLookup {
  template(id: string): Template | undefined;
  part(id: string): { role?: string | undefined } | undefined;
  operation(id: string): { role?: string | undefined } | undefined;
  /** Whether a condition holds of the job; left out, every condition does. */
  holds?(when: When): Answer;
}

export interface Unfolded {
  readonly lines: readonly SaleLine[];
  readonly problems: readonly Problem[];
  /** Of lines that come from templates: what a person would have typed in their place. */
  readonly written: readonly Plain[];
}

/** `path` gives the place of the i-th line in the job file. */
export function unfold(
  lines: readonly Line[],
  pathOf: (index: number) => Path,
  lookup: UnfoldLookup,
): Unfolded {
  const out: SaleLine[] = [];
  const problems: Problem[] = [];
  const written: Plain[] = [];
  for (const [i, one] of lines.entries()) {
    const path = pathOf(i);
    if (isTemplate(one)) follow(one, path, undefined, []);
    else out.push({ path, line: one });
  }
  return { lines: out, problems, written };

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
    if (template.when && lookup.holds?.(template.when) === 'no')
      tell(
        [...path, 'template'],
        'template-for-others',
        `The template "${id}" is meant for: ${inWords(template.when)}. Nothing of this job says so; look whether its lines fit.`,
        undefined,
        'warning',
      );
    const values = fill(call, template, path);
    const leftOut = new Set(call.without);
    const changes = new Map(Object.entries(call.change ?? {}));
    const kept = new Set<string>();
    for (const [i, raw] of (template.lines ?? []).entries()) {
      const origin = from ?? { template: id, path: ['lines', i] };
      const typed = substitute(raw, values) as Plain;
      const judged = conditionalLine.safeParse(typed);
      if (!judged.success) {
        const [issue] = judged.error.issues;
        tell(
          path,
          'template-line',
          `Line ${i + 1} of the template "${id}" does not hold with these parameters: ${issue?.path.join('.') ?? ''} ${issue?.message ?? ''}`.trimEnd(),
        );
        continue;
      }
      const { when, ...rest } = judged.data;
      const one: Line = rest;
      if (when && !fits(when, i, id, path)) continue;
      if (isTemplate(one)) follow(one, path, origin, [...above, id]);
      else if (!leftOut.has(idOf(one))) {
        kept.add(idOf(one));
        out.push({ path, line: changed(one, changes.get(idOf(one)), path), from: origin });
        const { when: _, ...plain } = typed as { [key: string]: Plain };
        written.push(plain);
      }
    }
    for (const named of changes.keys())
      if (!kept.has(named))
        tell(
          [...path, 'change', named],
          'template-change',
          `The template "${id}" brings no line of ${named} to this job, so there is nothing to change.${suggestion(named, kept)}`,
          undefined,
          'error',
          true,
        );
  }

  function changed(one: JobLine, change: Record<string, unknown> | undefined, path: Path): JobLine {
    if (!change) return one;
    const fields = fieldsOfLine(one);
    const id = idOf(one);
    const known = Object.entries(change).filter(([name]) => {
      if (fields.includes(name)) return true;
      tell(
        [...path, 'change', id, name],
        'template-change',
        `The line of ${id} has no "${name}" to change.`,
        undefined,
        'error',
        true,
      );
      return false;
    });
    return { ...one, ...Object.fromEntries(known) };
  }

  function fits(when: When, index: number, id: string, path: Path): boolean {
    const answer = lookup.holds?.(when) ?? 'yes';
    if (answer === 'unknown')
      tell(
        path,
        'template-condition',
        `Line ${index + 1} of the template "${id}" is for: ${inWords(when)}. The job does not say how the vehicle is driven, so the line is left out. Write: vehicle: { drive: ... }`,
        undefined,
        'warning',
      );
    return answer === 'yes';
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

  function tell(
    path: Path,
    code: string,
    message: string,
    data?: Problem['data'],
    severity: Problem['severity'] = 'error',
    onKey = false,
  ): void {
    problems.push({ code, severity, message, path, onKey, ...(data ? { data } : {}) });
  }
}

export function isTemplate(one: Line): one is TemplateLine {
  return 'template' in one;
}

function fieldsOfLine(one: Line): readonly string[] {
  const sort = 'fill' in one ? fillLine : 'operation' in one ? operationLine : partLine;
  return Object.keys(sort.shape);
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
