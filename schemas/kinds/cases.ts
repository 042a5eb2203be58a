/** `*.cases.yaml`: the shop's own tests of its rules and prices. */
import { z } from 'zod';
import { catalog, field, type KindDeclaration } from '../declare.ts';
import { choice, id, money, ref, text, yesNo } from '../scalars.ts';
import { jobSchema } from './job.ts';
import { ownWanted } from './own.ts';
import { demo } from './shared.ts';

export const caseSchema = z.object({
  name: field('Name', 'What it shows.', text()).optional(),
  job: field('Job', 'A job of the book to start from.', ref('job')).optional(),
  given: field(
    'Given',
    'What the job has; replaces the same fields of `job`.',
    jobSchema.omit({ kind: true, demo: true }).partial(),
  ).optional(),
  without: field('Without', 'Roles whose lines are taken away first.', z.array(ref('role'))).optional(),
  'without-records': field(
    'Without records',
    'Records that are taken away first.',
    z.array(ref('record')),
  ).optional(),
  option: field('Option', 'The option that is looked at; the chosen one, or the first.', text()).optional(),
  expect: field(
    'Expect',
    'What must come out. What is not named is not looked at, unless `nothing-else` says so.',
    z.object({
      missing: field('Missing', 'Roles that are required and not there.', z.array(ref('role'))).optional(),
      forbidden: field('Forbidden', 'Roles that are there and must not be.', z.array(ref('role'))).optional(),
      advised: field('Advised', 'Roles that are recommended and not there.', z.array(ref('role'))).optional(),
      records: field(
        'Records',
        'Records that are asked for and not there.',
        z.array(ref('record')),
      ).optional(),
      withheld: field(
        'Withheld',
        'Warranty plans that cannot be given.',
        z.array(ref('warranty')),
      ).optional(),
      codes: field('Codes', 'Diagnostic codes that are given.', z.array(text())).optional(),
      'nothing-else': field(
        'Nothing else',
        'No other warning or error than those named.',
        yesNo(),
      ).optional(),
      total: field('Total', 'The total of the option.', money()).optional(),
      customer: field('Customer pays', 'What the customer pays.', money()).optional(),
      tax: field('Tax', 'The tax of the option.', money()).optional(),
      own: ownWanted('Own fields', 'Fields of the shop that the job, or an entry on it, must have.'),
      verdict: field(
        'Verdict',
        'Warnings or none.',
        choice({ clean: 'No warning and no error.', warned: 'At least one.' }),
      ).optional(),
    }),
  ),
});

export const casesSchema = z.object({
  kind: z.literal('cases'),
  demo: demo(),
  cases: catalog('Cases', 'By name.', id('case'), caseSchema),
});

export const casesKind: KindDeclaration = {
  kind: 'cases',
  title: 'Cases',
  description: "The shop's own tests: given findings and lines, expect required work, warnings, totals.",
  suffix: '.cases.yaml',
  schema: casesSchema,
};

export type Case = z.output<typeof caseSchema>;
