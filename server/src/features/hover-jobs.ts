/** Templates, their parameters, jobs and options on hover. */
import type { Job, JobOption } from '../../../schemas/kinds/job.ts';
import type { Line } from '../../../schemas/kinds/lines.ts';
import type { Template } from '../../../schemas/kinds/template.ts';
import type { Block } from './hover-blocks.ts';
import { usedBy, type View } from './hover-view.ts';

type Parameter = NonNullable<Template['parameters']>[string];

const MOST_LINES = 15;

export function templateBlocks(view: View, id: string, template: Template): Block[] {
  const parameters = Object.entries(template.parameters ?? {});
  const lines = (template.lines as Line[]).map((line) => lineText(view, line));
  return [
    { is: 'title', text: template.name, id },
    ...(parameters.length > 0
      ? [
          {
            is: 'table',
            head: ['Parameter', 'Type', 'Left out', ''],
            rows: parameters.map(([name, one]) => [
              `$${name}`,
              typeText(view, one),
              one.default ?? '',
              one.say ?? '',
            ]),
          } as const,
        ]
      : []),
    { is: 'list', items: lines.slice(0, MOST_LINES) },
    ...(lines.length > MOST_LINES
      ? [{ is: 'text', text: `… and ${lines.length - MOST_LINES} more lines.`, ours: true } as const]
      : []),
    ...usedBy(view, 'template', id),
  ];
}

function typeText(view: View, { type, role, choices }: Parameter): string {
  const of = role === undefined ? '' : `, ${view.name('role', role)}`;
  return `${type}${of}${choices ? `: ${choices.join(', ')}` : ''}`;
}

/** A line in a few words; in a template its fields may still be `$names`. */
function lineText(view: View, line: Line): string {
  const fields = line as Record<string, unknown>;
  for (const sort of ['fill', 'operation', 'part', 'template', 'fee', 'sublet', 'other'] as const) {
    const id = fields[sort];
    if (typeof id !== 'string') continue;
    const only = Object.values((fields.when ?? {}) as Record<string, unknown>).flat();
    const when = only.length > 0 ? ` (only: ${only.join(', ')})` : '';
    if (sort === 'fill') return `fill: ${id}, ${String(fields.part ?? '')}${when}`;
    const kind = sort === 'sublet' || sort === 'other' ? undefined : sort;
    return `${sort}: ${kind && !id.startsWith('$') ? view.named(kind, id) : id}${when}`;
  }
  return '…';
}

export function parameterBlocks(view: View, id: string, parameter: Parameter): Block[] {
  return [
    { is: 'title', text: 'Parameter', id: `$${id}` },
    {
      is: 'facts',
      rows: [
        ['Stands for', typeText(view, parameter)],
        ['Left out', parameter.default],
      ],
    },
    ...(parameter.say ? [{ is: 'text', text: parameter.say } as const] : []),
  ];
}

export function jobBlocks(view: View, id: string, job: Partial<Job>): Block[] {
  const { vehicle, customer } = job;
  const who = typeof customer === 'string' ? view.name('customer', customer) : customer?.name;
  return [
    { is: 'title', text: 'Job', id },
    {
      is: 'facts',
      rows: [
        ['Customer', who],
        [
          'Vehicle',
          [vehicle?.year, vehicle?.make, vehicle?.model, vehicle?.engine].filter(Boolean).join(' '),
        ],
        ['Unit family', job.unit && view.name('unit', job.unit)],
        ['Opened', job.opened && view.printer.date(job.opened)],
        ['Completed', job.completed && view.printer.date(job.completed)],
        ['Complaint', job.complaint],
        ['Cause', job.cause?.what],
      ],
    },
  ];
}

export function optionBlocks(view: View, id: string, option: JobOption): Block[] {
  const estimate = view.estimates.of(view.file)?.options.find((one) => one.id === id);
  return [
    { is: 'title', text: option.name, id },
    {
      is: 'facts',
      rows: [
        ['Kind', option.kind],
        ['Total', view.money(estimate?.priced.total.value)],
        ['Days', option.days === undefined ? undefined : String(option.days)],
        ['Warranty', option.warranty && view.name('warranty', option.warranty)],
        ['For the owner', option.say],
      ],
    },
  ];
}
