/** `*.rules.yaml`: what can be found, what follows from it, and why. */
import { z } from 'zod';
import { catalog, field, type KindDeclaration } from '../declare.ts';
import { choice, file, id, number, prose, reading, ref, text, yesNo } from '../scalars.ts';
import { DIMENSION_WORDS } from '../values/units.ts';
import { WORK } from './labor.ts';
import { ownWanted } from './own.ts';
import { DRIVES, demo, note, source } from './shared.ts';

export const role = z.object({
  name: field('Name', 'As printed.', text(), { example: 'Torque converter' }),
  of: field(
    'Of',
    'Whether a part or an operation fills it.',
    choice({ part: 'A part.', work: 'An operation.' }),
  ),
  say: field('For the owner', 'What it is, in plain words.', prose()).optional(),
});

export const finding = z.object({
  name: field('Name', 'As printed.', text(), { example: 'Coolant in the fluid' }),
  kind: field(
    'Kind',
    'What sort of answer it has.',
    choice({
      'yes-no': 'Yes or no.',
      scale: 'A word of a scale, from best to worst.',
      measurement: 'A number with its unit, judged against the limit of the unit family.',
    }),
  ),
  scale: field('Scale', 'The words, from best to worst.', z.array(text()), {
    example: '[clean, paste, flakes, pieces]',
  }).optional(),
  normal: field('Normal from', 'On a scale: the worst word that is still normal.', text(), {
    example: 'paste',
  }).optional(),
  dimension: field('Dimension', 'Of a measurement.', choice(DIMENSION_WORDS)).optional(),
  component: field('Component', 'What it is seen on.', ref('role')).optional(),
  test: field('Test', 'How it is tested.', prose()).optional(),
  sensitivity: field(
    'Sensitivity',
    'The least that the test can see: a negative answer is not zero.',
    text(),
    { example: '300 mg/kg' },
  ).optional(),
  healthy: field('What normal looks like', 'In plain words.', prose()).optional(),
  picture: field('Picture of normal', 'The healthy comparison.', file('picture')).optional(),
  say: field('For the owner', 'What it means, in plain words.', prose()).optional(),
  implies: field('Implies', 'Findings that hold when this one does.', z.array(ref('finding'))).optional(),
  cautions: field('Cautions', 'What can hurt while testing.', z.array(ref('caution'))).optional(),
  note: note(),
});

export const OPTION_KINDS = {
  overhaul: "The customer's unit is overhauled here.",
  exchange: 'Another unit, rebuilt or remanufactured, is fitted.',
  used: 'A used unit is fitted.',
  repair: 'The least work that cures the present fault.',
  service: 'Fluid and filter only.',
  'put-back': 'It is put together again without repair.',
} as const;

/** What a rule can ask about a job. Keys of one condition all have to hold. */
export interface Condition {
  all?: Condition[] | undefined;
  any?: Condition[] | undefined;
  none?: Condition[] | undefined;
  finding?: string | undefined;
  is?: string | undefined;
  'at-least'?: string | undefined;
  'at-most'?: string | undefined;
  judged?: 'normal' | 'beyond' | 'unjudged' | undefined;
  role?: string | undefined;
  operation?: string | undefined;
  work?: keyof typeof WORK | undefined;
  reuse?: string | undefined;
  unit?: string[] | undefined;
  trait?: string | undefined;
  cooler?: 'in-radiator' | 'external' | 'both' | 'plate' | undefined;
  bypass?: boolean | undefined;
  lining?: 'paper' | 'carbon' | 'none' | undefined;
  drive?: (keyof typeof DRIVES)[] | undefined;
  feature?: string | undefined;
  record?: string | undefined;
  option?: (keyof typeof OPTION_KINDS)[] | undefined;
  rule?: string | undefined;
  own?: Record<string, string> | undefined;
}

const conditions = (title: string, meaning: string) =>
  field(
    title,
    meaning,
    z.lazy(() => z.array(condition)),
  ).optional();

export const condition: z.ZodType<Condition> = z.object({
  all: conditions('All', 'Every one of these holds.'),
  any: conditions('Any', 'At least one of these holds.'),
  none: conditions('None', 'Not one of these holds.'),
  finding: field(
    'Finding',
    'The job has this finding (yes, or worse than normal, unless said otherwise).',
    ref('finding'),
  ).optional(),
  is: field('Is', 'The finding is exactly this.', reading()).optional(),
  'at-least': field('At least', 'This far on the scale, or this much.', reading()).optional(),
  'at-most': field('At most', 'Not further on the scale, or not more.', reading()).optional(),
  judged: field(
    'Judged',
    'How the reading stands to its limit.',
    choice({
      normal: 'Inside.',
      beyond: 'Outside.',
      unjudged: 'Not to be judged: a condition of the limit is missing.',
    }),
  ).optional(),
  role: field('Role', 'The job has a part or work with this role.', ref('role')).optional(),
  operation: field('Operation', 'The job has this operation.', ref('operation')).optional(),
  work: field('Work', 'The job has work of this sort.', choice(WORK)).optional(),
  reuse: field('Reused', 'The job says that this is reused.', ref('role')).optional(),
  unit: field('Unit family', 'The unit is one of these.', z.array(ref('unit'))).optional(),
  trait: field('Trait', 'The unit has this trait.', ref('trait')).optional(),
  cooler: field(
    'Cooler',
    'The unit is cooled so.',
    choice({
      'in-radiator': 'Inside the radiator.',
      external: 'In the air stream.',
      both: 'Both.',
      plate: 'A plate cooler.',
    }),
  ).optional(),
  bypass: field('Thermal bypass', 'The circuit has one.', yesNo()).optional(),
  lining: field(
    'Converter lining',
    'Of the converter clutch.',
    choice({ paper: 'Paper.', carbon: 'Carbon.', none: 'None.' }),
  ).optional(),
  drive: field('Drive', 'The vehicle is driven so.', z.array(choice(DRIVES))).optional(),
  feature: field('Feature', 'The vehicle has it.', text()).optional(),
  record: field('Record', 'The job has this record, and it passes.', ref('record')).optional(),
  option: field('Option', 'The option is of this kind.', z.array(choice(OPTION_KINDS))).optional(),
  rule: field('Rule', 'This rule holds.', ref('rule')).optional(),
  own: ownWanted(
    'Own fields',
    'The job, its customer, its unit family, or a part or operation on it, has these fields of the shop.',
  ),
});

export const need = z.object({
  role: field('Role', 'A part or work of this role.', ref('role')).optional(),
  'any-of': field('Any of', 'One of these roles is enough.', z.array(ref('role'))).optional(),
  quantity: field('Quantity', 'At least so many.', number('0')).optional(),
  condition: field('New', 'Only a new part meets it.', choice({ new: 'New only.' })).optional(),
});

export const rule = z.object({
  name: field('Name', 'A few words.', text()).optional(),
  when: field('When', 'What has to hold.', condition),
  requires: field('Requires', 'Parts and work that the job must have.', z.array(need)).optional(),
  forbids: field('Forbids', 'Roles that the job must not have.', z.array(ref('role'))).optional(),
  'forbids-reuse': field('Forbids reuse', 'Roles that must not be reused.', z.array(ref('role'))).optional(),
  advises: field('Advises', 'Parts and work that are recommended.', z.array(need)).optional(),
  'needs-record': field(
    'Needs record',
    'Records that the job must have before it leaves.',
    z.array(ref('record')),
  ).optional(),
  'needs-finding': field(
    'Needs finding',
    'What must be looked at or measured.',
    z.array(ref('finding')),
  ).optional(),
  implies: field('Implies', 'Findings that follow.', z.array(ref('finding'))).optional(),
  cautions: field('Cautions', 'What can hurt.', z.array(ref('caution'))).optional(),
  withholds: field(
    'Withholds',
    'Warranty plans that cannot be given until all that the rule asks for is on the job, or, when it asks for nothing, while it holds.',
    z.array(ref('warranty')),
  ).optional(),
  'risks-core': field(
    'Risks the core',
    'Roles of parts sold with a core charge: with this finding the old one may earn no credit, or part of it.',
    z.array(ref('role')),
    { example: '[exchange-unit]' },
  ).optional(),
  order: field(
    'Order',
    'What comes before what.',
    z.array(
      z.object({
        first: field('First', 'Role of the earlier work or part.', ref('role')),
        next: field('Next', 'Role of the later work.', ref('role')),
      }),
    ),
  ).optional(),
  because: field('Because', 'Why, for the shop.', prose()),
  say: field('For the owner', 'Why, in plain words.', prose()).optional(),
  'instead-of': field('Instead of', 'A supplied rule that this one replaces.', ref('rule')).optional(),
  basis: field(
    'Basis',
    'What stands behind it.',
    choice({
      maker: 'A maker has published it.',
      law: 'The law asks for it.',
      trade: 'Trade press or association.',
      practice: 'Common practice, no source.',
      shop: "This shop's own rule.",
    }),
  ),
  source: source(),
});

export const replacement = z.object({
  role: field('Role', 'What is replaced.', ref('role')),
  accepted: field('Accepted', 'Findings that are a reason to replace it.', z.array(ref('finding'))),
  'not-accepted': field(
    'Not accepted',
    'Findings that alone are no reason.',
    z.array(ref('finding')),
  ).optional(),
  because: field('Because', 'Why.', prose()).optional(),
  source: source(),
});

/** What a record is counted by; the arithmetic is in `work/records`. */
export const ARITHMETIC = {
  'pulsed-flush': 'Cycles, forward volume and turnovers of a pulsed cooler flush.',
  'flow-test': 'Rate from a timed volume, against the limit of the unit family.',
  'drain-and-fill': 'What is left of the old fluid after so many fills.',
  'level-check': 'Fluid temperature inside the window of the unit family.',
  measurements: 'Readings against the limits of the unit family.',
  programming: 'Unit identity number and calibration.',
  'road-test': 'Distance, codes and temperature.',
} as const;

export const record = z.object({
  name: field('Name', 'As printed.', text(), { example: 'Cooler flush' }),
  counted: field('Counted by', 'The arithmetic behind it.', choice(ARITHMETIC)).optional(),
  needs: field('Needs', 'Fields of the record that must be filled.', z.array(text()), {
    example: '[duration, fluid-temperature]',
  }).optional(),
  least: field('Least', 'By field or figure: the least that passes.', z.record(text(), reading()), {
    example: '{turnovers: 8, fluid-temperature: 140 F}',
  }).optional(),
  most: field('Most', 'By field or figure: the most that passes.', z.record(text(), reading())).optional(),
  measures: field(
    'Measures',
    'Findings of kind measurement that it must hold.',
    z.array(ref('finding')),
  ).optional(),
  'as-found': field(
    'As found',
    'Taken before the repair: a reading outside its limit is then a finding, and no reason for the record to fail.',
    yesNo(),
    { fallback: 'no' },
  ).optional(),
  early: field('Before installation', 'Asked for before the unit is installed.', yesNo()).optional(),
  cautions: field('Cautions', 'What can hurt.', z.array(ref('caution'))).optional(),
  source: source(),
});

export const rulesSchema = z.object({
  kind: z.literal('rules'),
  demo: demo(),
  roles: catalog('Roles', 'What parts and work are to a rule.', id('role'), role).optional(),
  findings: catalog('Findings', 'What can be found.', id('finding'), finding).optional(),
  records: catalog('Records', 'What the work must leave on paper.', id('record'), record).optional(),
  replacements: catalog(
    'Reasons for replacing',
    'Which findings are a reason, by part.',
    id(),
    replacement,
  ).optional(),
  rules: catalog('Rules', 'What follows from findings.', id('rule'), rule).optional(),
});

export const rulesKind: KindDeclaration = {
  kind: 'rules',
  title: 'Rules',
  description: 'Findings, records and the rules of required work.',
  suffix: '.rules.yaml',
  schema: rulesSchema,
};

export type Role = z.output<typeof role>;
export type Finding = z.output<typeof finding>;
export type Need = z.output<typeof need>;
export type Rule = z.output<typeof rule>;
export type Replacement = z.output<typeof replacement>;
export type RecordKind = z.output<typeof record>;
