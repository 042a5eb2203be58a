/** `*.labor.yaml`: what the shop does, in operations made of own hours and shared access steps. */
import { z } from 'zod';
import { catalog, field, type KindDeclaration, mapOf } from '../declare.ts';
import {
  choice,
  count,
  hours,
  id,
  money,
  number,
  percent,
  prose,
  reading,
  ref,
  text,
  yesNo,
} from '../scalars.ts';
import { own } from './own.ts';
import { appliesWhen, demo, note, source } from './shared.ts';

export const WORK = {
  diagnosis: 'Finding out what is wrong.',
  removal: 'Taking the unit out.',
  teardown: 'Taking the unit apart.',
  bench: 'Work on the unit on the bench.',
  reassembly: 'Putting the unit together.',
  install: 'Putting the unit in.',
  cooling: 'Work on the cooling circuit.',
  'in-vehicle': 'Work with the unit in the vehicle.',
  programming: 'Programming, adaptive reset, relearn.',
  'road-test': 'Driving it and checking again.',
} as const;
export type Work = keyof typeof WORK;

const hoursBy = () =>
  field('Hours by unit family', 'Instead of `hours`, for these families.', mapOf(ref('unit'), hours()), {
    example: '{birch-6: 7.8}',
  }).optional();

export const step = z.object({
  name: field('Name', 'What is done to get there.', text(), { example: 'Unit out and back in' }),
  hours: field('Hours', 'Sold once, however many operations need it.', hours(), { example: '6.6' }),
  'hours-by': hoursBy(),
  rate: field('Labor rate', 'Which rate of the shop prices it.', ref('rate'), {
    example: 'general',
    fallback: 'the rate of the operation that brings it',
  }).optional(),
  needs: field(
    'Needs',
    'Steps that have to be done for this one; they are counted too, once.',
    z.array(ref('step')),
  ).optional(),
});

export const adder = z.object({
  name: field('Name', 'As printed.', text(), { example: '4WD transfer case' }),
  hours: field('Hours', 'Added to the operation.', hours()),
  when: field(
    'When',
    'Added by itself when this holds; on any other vehicle it is refused.',
    appliesWhen(),
  ).optional(),
  judged: field(
    'Judged',
    'A judgment (rust, an earlier repair): only when a line names it, with a picture or a word why.',
    yesNo(),
    { fallback: 'no' },
  ).optional(),
});

export const operation = z.object({
  name: field('Name', 'As printed.', text(), { example: 'Remove and refit the unit' }),
  work: field('Work', 'What sort of work; orders the bench sheet and says what payers cover.', choice(WORK)),
  rate: field('Labor rate', 'Which rate of the shop prices it.', ref('rate'), {
    example: 'bench',
  }).optional(),
  hours: field('Own hours', 'Without its access steps.', hours(), { example: '1.2' }).optional(),
  'hours-by': hoursBy(),
  steps: field(
    'Access steps',
    'Each is counted once on a job, by whichever operations share it.',
    z.array(ref('step')),
    {
      example: '[unit-out]',
    },
  ).optional(),
  adders: field(
    'Add-ons',
    'Extra time by condition of the vehicle.',
    mapOf(id('adder', { local: true }), adder),
  ).optional(),
  includes: field(
    'Includes',
    'Operations that are covered by this one: they cost nothing beside it.',
    z.array(ref('operation')),
  ).optional(),
  role: field('Role', 'What it is to a rule.', ref('role'), { example: 'cooler-flush' }).optional(),
  price: field('Flat price', 'Instead of hours and rate.', money()).optional(),
  minimum: field('Minimum charge', 'Never less.', money()).optional(),
  fits: field('Fits', 'Unit families it is for; all, when left out.', z.array(ref('unit'))).optional(),
  sublet: field(
    'Sublet',
    'Done by another shop: what it costs us.',
    z.object({
      supplier: field(
        'Supplier',
        'Who does it; some places want the name printed.',
        ref('supplier'),
      ).optional(),
      labor: field('Labor', 'Cost of the labor in it.', money()).optional(),
      parts: field('Parts', 'Cost of the parts in it.', money()).optional(),
    }),
  ).optional(),
  parts: field(
    'Parts it needs',
    'Roles that this work cannot be done without.',
    z.array(
      z.object({
        role: field('Role', 'What is needed.', ref('role')),
        quantity: field('Quantity', 'How many.', number('0'), { fallback: '1' }).optional(),
      }),
    ),
  ).optional(),
  credited: field(
    'Credited',
    'A diagnosis that is taken off again when work with this role is bought on the job.',
    z.object({
      role: field('Role', 'What has to be bought.', ref('role')),
      share: field('Share', 'How much of it is taken off.', percent(), { fallback: '100%' }).optional(),
    }),
  ).optional(),
  cautions: field(
    'Cautions',
    'Printed on the bench sheet and shown on hover.',
    z.array(ref('caution')),
  ).optional(),
  record: field('Record', 'The record it must leave.', ref('record')).optional(),
  days: field('Days', 'Working days it adds.', count()).optional(),
  'tax-class': field('Tax class', 'How it is taxed, when not as labor is.', ref('tax-class')).optional(),
  say: field('For the owner', 'What it is, in plain words.', prose()).optional(),
  own: own('operation'),
  note: note(),
});

export const caution = z.object({
  text: field('Caution', 'What can hurt, and the usual precaution. Not a procedure.', prose()),
  authority: field('Authority', 'Whose procedure or law to follow.', text(), {
    example: 'the vehicle maker; OSHA 29 CFR 1910.242(b)',
  }),
  from: field(
    'From',
    'By field of a record: from this figure on, the caution is shown at the figure.',
    z.record(text(), reading()),
    { example: '{air-pressure: 30 psi}' },
  ).optional(),
  source: source(),
});

export const laborSchema = z.object({
  kind: z.literal('labor'),
  demo: demo(),
  cautions: catalog(
    'Cautions',
    'What can hurt, with the authority to defer to.',
    id('caution'),
    caution,
  ).optional(),
  steps: catalog('Access steps', 'What operations share.', id('step'), step).optional(),
  operations: catalog('Operations', 'What the shop does.', id('operation'), operation).optional(),
});

export const laborKind: KindDeclaration = {
  kind: 'labor',
  title: 'Labor',
  description: 'Operations, the access steps they share, and cautions.',
  suffix: '.labor.yaml',
  schema: laborSchema,
};

export type Step = z.output<typeof step>;
export type Operation = z.output<typeof operation>;
export type Adder = z.output<typeof adder>;
export type Caution = z.output<typeof caution>;
