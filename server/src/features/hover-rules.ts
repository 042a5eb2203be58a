/** Findings, rules, roles and records on hover. */
import type { Finding, Need, RecordKind, Role, Rule } from '../../../schemas/kinds/rules.ts';
import type { Unit } from '../../../schemas/kinds/units.ts';
import { DIMENSIONS } from '../../../schemas/values/units.ts';
import type { BookFile } from '../book/file.ts';
import { conditionInWords } from '../work/condition-words.ts';
import type { Reason } from '../work/index.ts';
import { lastNormalStep } from '../work/readings.ts';
import type { Block } from './hover-blocks.ts';
import { cautionBlocks } from './hover-labor.ts';
import { limitTable } from './hover-units.ts';
import { pictureBlocks, usedBy, type View } from './hover-view.ts';

const text = (words: string | undefined): Block[] => (words ? [{ is: 'text', text: words }] : []);

export function findingBlocks(view: View, id: string, finding: Finding, home: BookFile | undefined): Block[] {
  const scale = finding.scale && { words: finding.scale, last: lastNormalStep(finding) };
  const limit = view.unit === undefined ? undefined : view.value<Unit>('unit', view.unit)?.limits;
  const own = limit && Object.hasOwn(limit, id) ? limit[id] : undefined;
  const [first] = view.estimates.of(view.file)?.options ?? [];
  const verdict = first?.work.findings.find((one) => one.id === id)?.verdict;
  return [
    { is: 'title', text: finding.name, id },
    ...(verdict ? text(`On this job: ${verdict.judged}, ${verdict.text}.`) : []),
    {
      is: 'facts',
      rows: [
        ['Answer', answer(finding)],
        ['Scale', scale?.words.map((word, i) => (i <= scale.last ? `${word} (normal)` : word)).join(' → ')],
        ['Seen on', finding.component && view.name('role', finding.component)],
        ['Normal', finding.healthy],
        ['Test', finding.test],
        ['The test sees no less than', finding.sensitivity],
        ['Implies', view.list('finding', finding.implies)],
        ['For the owner', finding.say],
      ],
    },
    ...pictureBlocks(view, home, finding.picture, `Normal: ${finding.name}`),
    ...(own
      ? [
          { is: 'text', text: `Limit of ${view.name('unit', view.unit!)}:` } as const,
          ...limitTable(view, own),
        ]
      : []),
    ...(view.unit !== undefined && finding.kind === 'measurement' && !own
      ? text(`${view.name('unit', view.unit)} has no limit for it.`)
      : []),
    ...cautionBlocks(view, finding.cautions),
    ...usedBy(view, 'finding', id),
  ];
}

function answer({ kind, dimension }: Finding): string {
  if (kind === 'yes-no') return 'yes or no';
  return kind === 'scale'
    ? 'a word of the scale'
    : dimension
      ? DIMENSIONS[dimension].spoken
      : 'a measurement';
}

export function ruleBlocks(view: View, id: string, rule: Rule): Block[] {
  const nameOf: View['name'] = (kind, one) => view.name(kind, one);
  const needs = (list: readonly Need[] | undefined) => list?.map((need) => needText(view, need)).join('; ');
  return [
    { is: 'title', text: rule.name ?? 'Rule', id },
    ...firedBlocks(view, id),
    { is: 'text', text: '**When**', ours: true },
    { is: 'lines', lines: conditionInWords(rule.when, nameOf, (one) => view.value<Finding>('finding', one)) },
    {
      is: 'facts',
      rows: [
        ['Requires', needs(rule.requires)],
        ['Forbids', view.list('role', rule.forbids)],
        ['Forbids reuse of', view.list('role', rule['forbids-reuse'])],
        ['Advises', needs(rule.advises)],
        ['Needs the record', view.list('record', rule['needs-record'])],
        ['Needs the finding', view.list('finding', rule['needs-finding'])],
        ['Implies', view.list('finding', rule.implies)],
        ['Withholds', view.list('warranty', rule.withholds)],
        ['Risks the core of', view.list('role', rule['risks-core'])],
        [
          'Order',
          rule.order
            ?.map((one) => `${nameOf('role', one.first)} before ${nameOf('role', one.next)}`)
            .join('; '),
        ],
        ['Instead of', rule['instead-of']],
        ['Because', rule.because],
        ['For the owner', rule.say],
        ['Basis', rule.basis],
        ['Source', rule.source],
      ],
    },
    ...cautionBlocks(view, rule.cautions),
  ];
}

function needText(view: View, need: Need): string {
  const roles = need['any-of'] ?? (need.role === undefined ? [] : [need.role]);
  const names = roles.map((role) => view.name('role', role)).join(' or ');
  return [need.quantity && `${need.quantity}`, need.condition, names].filter(Boolean).join(' ');
}

/** Why the rule holds on the job at hand. */
function firedBlocks(view: View, id: string): Block[] {
  const options = view.estimates.of(view.file)?.options ?? [];
  if (options.length === 0) return [];
  for (const { work } of options) {
    const held = work.rules.find((one) => one.id === id);
    if (held) return [{ is: 'text', text: `Holds on this job: ${held.reasons.map(reasonText).join('; ')}.` }];
  }
  return [{ is: 'text', text: 'Does not hold on this job.', ours: true }];
}

function reasonText({ text: own, because }: Reason): string {
  const [from] = because;
  return from ? `${reasonText(from)} → ${own}` : own;
}

export function roleBlocks(view: View, id: string, role: Role): Block[] {
  const { unit, estimates } = view;
  const fillers = unit === undefined ? [] : estimates.shared.fillers(id, unit);
  const rows = fillers
    .slice(0, 12)
    .map(({ kind, id: one }) => [one, view.name(kind, one), view.facts(kind, one) ?? '']);
  return [
    { is: 'title', text: role.name, id },
    {
      is: 'facts',
      rows: [
        ['Filled by', role.of === 'part' ? 'a part' : 'an operation'],
        ['For the owner', role.say],
      ],
    },
    ...(unit === undefined
      ? []
      : text(
          `For ${view.name('unit', unit)}: ${fillers.length === 0 ? 'nothing in the book fills it.' : ''}`,
        )),
    ...(rows.length > 0 ? [{ is: 'table', head: ['Filled by', '', ''], rows } as const] : []),
    ...usedBy(view, 'role', id),
  ];
}

export function recordBlocks(view: View, id: string, record: RecordKind): Block[] {
  const bounds = (of: Readonly<Record<string, string>> | undefined) =>
    of &&
    Object.entries(of)
      .map(([field, bound]) => `${field} ${bound}`)
      .join(', ');
  return [
    { is: 'title', text: record.name, id },
    {
      is: 'facts',
      rows: [
        ['Counted by', record.counted],
        ['Needs', record.needs?.join(', ')],
        ['At least', bounds(record.least)],
        ['At most', bounds(record.most)],
        ['Measures', view.list('finding', record.measures)],
        ['Before installation', record.early ? 'yes' : undefined],
        ['Source', record.source],
      ],
    },
    ...cautionBlocks(view, record.cautions),
    ...usedBy(view, 'record', id),
  ];
}
