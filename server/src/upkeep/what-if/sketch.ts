/** A template by itself, as a job that can be priced. */
import type { Job } from '../../../../schemas/kinds/job.ts';
import type { Line } from '../../../../schemas/kinds/lines.ts';
import type { Template } from '../../../../schemas/kinds/template.ts';
import type { Estimates } from '../../estimate/estimates.ts';

/** The least job that takes a template: on its first unit family, each parameter by its default or what the book has first. */
export function sketchOf(
  { book, shared }: Estimates,
  template: Partial<Template>,
): { job: Job } | { why: string } {
  const unit = template.when?.unit?.[0] ?? [...book.registry.ids('unit')][0];
  if (unit === undefined) return { why: 'There is no unit family to price it for.' };
  const values: Record<string, string> = {};
  for (const [name, { type, role, choices, default: fallback }] of Object.entries(
    template.parameters ?? {},
  )) {
    const kind = type === 'part' || type === 'operation' ? type : undefined;
    const first =
      role === undefined ? undefined : shared.fillers(role, unit).find((one) => one.kind === kind)?.id;
    const value = fallback ?? choices?.[0] ?? first;
    if (value === undefined) return { why: `Its parameter "${name}" has no value of its own.` };
    values[name] = value;
  }
  const line = { template: template.id ?? '', ...(Object.keys(values).length > 0 ? { with: values } : {}) };
  return { job: { kind: 'job', id: template.id ?? '', unit, lines: [line as Line] } as unknown as Job };
}
