/** `*.template.yaml`: lines that a job takes by name, with parameters. */
import { z } from 'zod';
import { field, type KindDeclaration, mapOf } from '../declare.ts';
import { choice, id, prose, ref, text } from '../scalars.ts';
import { feeLine, fillLine, operationLine, otherLine, partLine, subletLine, templateLine } from './lines.ts';
import { appliesWhen, demo, note } from './shared.ts';

export const parameter = z.object({
  type: field(
    'Type',
    'What it stands for.',
    choice({
      part: 'A part number.',
      operation: 'An operation.',
      number: 'A number.',
      quantity: 'A quantity with its unit.',
      money: 'An amount.',
      text: 'Text.',
    }),
  ),
  role: field('Role', 'Only parts or operations of this role.', ref('role')).optional(),
  choices: field('Choices', 'The only values it may have.', z.array(text())).optional(),
  default: field('Default', 'Its value when a job gives none.', text()).optional(),
  say: field('Meaning', 'What it is for.', prose()).optional(),
});

const onlyWhen = {
  when: field('When', 'Only for jobs of which this holds.', appliesWhen(), {
    example: '{ drive: [4wd, awd] }',
  }).optional(),
};

/** A line of a job that may have a condition. */
export const conditionalLine = z.union([
  fillLine.extend(onlyWhen),
  partLine.extend(onlyWhen),
  operationLine.extend(onlyWhen),
  subletLine.extend(onlyWhen),
  feeLine.extend(onlyWhen),
  otherLine.extend(onlyWhen),
  templateLine.extend(onlyWhen),
]);

/** Judged as a line once `$parameters` are filled in. */
const templatedLine = z.unknown().meta({ templated: conditionalLine });

export const templateSchema = z.object({
  kind: z.literal('template'),
  demo: demo(),
  id: field('Id', 'What jobs call it by.', id('template')),
  name: field('Name', 'A few words.', text()),
  parameters: field(
    'Parameters',
    'Written `$name` in its lines.',
    mapOf(id('parameter', { local: true }), parameter),
  ).optional(),
  when: field('When', 'Jobs that it is meant for; on others it is warned about.', appliesWhen()).optional(),
  lines: field('Lines', 'As in a job.', z.array(templatedLine)),
  note: note(),
});

export const templateKind: KindDeclaration = {
  kind: 'template',
  title: 'Template',
  description: 'Lines that a job takes by name.',
  suffix: '.template.yaml',
  schema: templateSchema,
  defines: 'template',
};

export type Template = z.output<typeof templateSchema>;
export type When = z.output<ReturnType<typeof appliesWhen>>;
