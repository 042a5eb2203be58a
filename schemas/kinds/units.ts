/** `*.units.yaml`: unit families, their fluid, what they are made of, and every measured limit with its source. */
import { z } from 'zod';
import { catalog, field, type KindDeclaration, mapOf } from '../declare.ts';
import { choice, count, id, prose, quantity, reading, ref, text, yesNo } from '../scalars.ts';
import { own } from './own.ts';
import { demo, note, source, vehicleMatch } from './shared.ts';

export const FILLS = {
  dry: 'An empty unit, as after an overhaul.',
  service: 'A drain and refill through the pan.',
  converter: 'The converter alone.',
  'cooler-and-lines': 'The cooler and its lines.',
} as const;
export type Fill = keyof typeof FILLS;

/** Facts of a family that the rows of a limit may ask for, beside findings and traits. */
export const UNIT_FACTS = {
  'cooler-material': 'What the cooler is made of: steel or aluminum.',
  'cooler-kind': 'Where the cooler is: in-radiator, external, both or plate.',
  'thermal-bypass': 'Whether the cooling circuit has a thermal bypass: yes or no.',
  'converter-lining': 'What the converter clutch is lined with: paper, carbon or none.',
  layout: 'How the unit sits: front, rear or hybrid.',
} as const;
export type UnitFact = keyof typeof UNIT_FACTS;

export const limitRow = z.object({
  when: field(
    'When',
    'Conditions of this row: a measurement inside a range (`fluid-temperature: 85..89 F`), or a fact of the unit (`cooler-material: steel`). A row without conditions always holds.',
    mapOf(ref(['finding', 'trait'], { choices: UNIT_FACTS }), reading()),
  ).optional(),
  least: field('Least', 'The reading may not be below this.', reading(), {
    example: '1.1 gal/min',
  }).optional(),
  most: field('Most', 'The reading may not be above this.', reading(), { example: '0.025 in' }).optional(),
});

export const limit = z.object({
  rows: field('Rows', 'The first row whose conditions all hold is the limit.', z.array(limitRow).min(1)),
  source: source(),
});

export const unit = z.object({
  name: field('Name', 'As printed.', text(), { example: 'Birch-6' }),
  layout: field(
    'Layout',
    'How it sits in the vehicle.',
    choice({ front: 'Transaxle, front drive.', rear: 'Rear drive.', hybrid: 'Hybrid transaxle.' }),
  ),
  gears: field('Gears', 'Forward gears; left out for a continuously variable unit.', count()).optional(),
  traits: field('Traits', 'Facts that rules ask for.', z.array(id('trait', { shared: true })), {
    example: '[bands, electronic]',
  }).optional(),
  'fluid-class': field(
    'Fluid class',
    'The class of fluid it takes, and no other.',
    id('fluid-class', { shared: true }),
  ),
  capacities: field(
    'Capacities',
    'How much fluid it takes.',
    z.object({
      dry: field('Dry fill', FILLS.dry, quantity('volume'), { example: '11.6 qt' }).optional(),
      service: field('Service fill', FILLS.service, quantity('volume')).optional(),
      converter: field('Converter', FILLS.converter, quantity('volume')).optional(),
      'cooler-and-lines': field('Cooler and lines', FILLS['cooler-and-lines'], quantity('volume')).optional(),
      includes: field(
        'Dry fill includes',
        'What the dry figure counts already.',
        z.array(choice({ converter: FILLS.converter, 'cooler-and-lines': FILLS['cooler-and-lines'] })),
      ).optional(),
    }),
  ).optional(),
  'converter-lining': field(
    'Converter lining',
    'What the converter clutch is lined with.',
    choice({ paper: 'Paper.', carbon: 'Carbon.', none: 'No converter clutch.' }),
  ).optional(),
  cooler: field(
    'Cooler',
    'How its fluid is cooled.',
    z.object({
      kind: field(
        'Kind',
        'Where it is.',
        choice({
          'in-radiator': 'Inside the radiator.',
          external: 'In the air stream.',
          both: 'One after the other.',
          plate: 'A plate cooler on the engine coolant.',
        }),
      ),
      material: field(
        'Material',
        'What it is made of; flow limits depend on it.',
        choice({ steel: 'Steel.', aluminum: 'Aluminum.' }),
      ),
      bypass: field('Thermal bypass', 'The circuit has a thermal bypass.', yesNo()).optional(),
    }),
  ).optional(),
  components: field(
    'Components',
    'Roles that it has; a rule asks for no others.',
    z.array(ref('role')),
  ).optional(),
  limits: field(
    'Limits',
    'By measurement. Makers differ, so no limit is built in.',
    mapOf(ref('finding'), limit),
  ).optional(),
  rules: field(
    'Rules for this family',
    'Where this family differs from a rule.',
    mapOf(
      ref('rule'),
      z.object({
        applies: field('Applies', 'Whether the rule holds for this family.', yesNo()),
        because: field('Because', 'Why it differs.', text()),
        source: source(),
      }),
    ),
  ).optional(),
  applications: field('Applications', 'Vehicles it is found in.', z.array(vehicleMatch())).optional(),
  say: field('For the owner', 'What it is, in plain words.', prose()).optional(),
  own: own('unit'),
  note: note(),
});

export const unitsSchema = z.object({
  kind: z.literal('units'),
  demo: demo(),
  units: catalog('Unit families', 'By id.', id('unit'), unit).optional(),
});

export const unitsKind: KindDeclaration = {
  kind: 'units',
  title: 'Units',
  description: 'Unit families: fluid, capacities, components, limits.',
  suffix: '.units.yaml',
  schema: unitsSchema,
};

export type Unit = z.output<typeof unit>;
export type Limit = z.output<typeof limit>;
