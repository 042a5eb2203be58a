/** The lines of jobs, options and templates. The first field of each sort of line says which sort it is. */
import { z } from 'zod';
import { field, mapOf } from '../declare.ts';
import {
  choice,
  file,
  hours,
  money,
  number,
  percent,
  prose,
  quantity,
  ref,
  text,
  unitMoney,
  yesNo,
} from '../scalars.ts';
import { condition } from './shared.ts';
import { FILLS } from './units.ts';

const lineFields = {
  for: field('For', 'The finding that calls for it.', ref('finding')).optional(),
  say: field('For the owner', 'Why it is here, in plain words.', prose()).optional(),
  discount: field('Line discount', 'Taken off this line.', percent(), { example: '5%' }).optional(),
  payer: field('Payer', 'Who pays this line, whatever the payers cover.', ref('payer')).optional(),
  'customer-pays': field(
    'Customer pays',
    'The customer pays this line, whatever the payers cover.',
    yesNo(),
  ).optional(),
  optional: field('Optional', 'Recommended, not required: the owner may leave it out.', yesNo(), {
    fallback: 'no',
  }).optional(),
  note: field('Note', 'For the shop; never printed for the customer.', prose()).optional(),
};

const overrideFields = {
  price: field('Price', 'Instead of the computed price, each. Say why in `reason`.', unitMoney()).optional(),
  reason: field('Reason', 'Why the price or the time differs.', text()).optional(),
};

const coreField = field(
  'Core',
  'What happens with the old part, when it differs from the shop policy.',
  choice({
    charged: 'A deposit is charged until it comes back.',
    exchanged: 'It is handed over at the sale.',
    'when-late': 'Charged only if it does not come back in time.',
    held: 'It never leaves the shop: nothing is charged.',
  }),
).optional();

export const fillLine = z.object({
  fill: field('Fill', 'Fluid by the capacity of the unit.', choice(FILLS), { example: 'dry' }),
  part: field('Part', 'The fluid.', ref('part')),
  plus: field(
    'Plus',
    'Capacities to add, when the first does not include them.',
    z.array(choice({ converter: FILLS.converter, 'cooler-and-lines': FILLS['cooler-and-lines'] })),
  ).optional(),
  loss: field('Loss', 'Fluid lost to flush and flow test.', quantity('volume'), {
    example: '1 qt',
  }).optional(),
  ...overrideFields,
  ...lineFields,
});

export const partLine = z.object({
  part: field('Part', 'A part of the book.', ref('part'), { example: 'TC-B6-R' }),
  quantity: field('Quantity', 'How many, in the selling unit.', number('0'), { fallback: '1' }).optional(),
  ...overrideFields,
  supplied: field(
    'Supplied by the customer',
    'The customer brings it: no price, and its own warranty terms.',
    yesNo(),
    {
      fallback: 'no',
    },
  ).optional(),
  core: coreField,
  condition: field('Condition', 'When it differs from the book.', condition()).optional(),
  ...lineFields,
});

export const operationLine = z.object({
  operation: field('Operation', 'A labor operation of the book.', ref('operation'), { example: 'rr-unit' }),
  quantity: field('Times', 'How often it is done.', number('0'), { fallback: '1' }).optional(),
  hours: field('Hours', 'Own hours instead of the book. Say why in `reason`.', hours()).optional(),
  adders: field(
    'Add-ons',
    'Judged add-ons of the operation that apply here.',
    z.array(ref('adder', { local: true })),
  ).optional(),
  picture: field('Picture', 'Evidence for a judged add-on.', file('picture')).optional(),
  'no-charge': field('No charge', 'Given away; keeps its hours for the bench.', yesNo()).optional(),
  ...overrideFields,
  ...lineFields,
});

export const subletLine = z.object({
  sublet: field('Sublet', 'Work bought from another shop, in a few words.', text(), {
    example: 'Radiator repair',
  }),
  supplier: field('Supplier', 'Who does it.', ref('supplier')).optional(),
  'labor-cost': field('Labor cost', 'What its labor costs us.', money()).optional(),
  'parts-cost': field('Parts cost', 'What its parts cost us.', money()).optional(),
  role: field('Role', 'What it is to a rule.', ref('role')).optional(),
  condition: field('Condition', 'Of the parts in it.', condition()).optional(),
  ...overrideFields,
  ...lineFields,
});

export const feeLine = z.object({
  fee: field('Fee', 'A fee of the shop.', ref('fee')),
  quantity: field('Quantity', 'How many.', number('0'), { fallback: '1' }).optional(),
  ...lineFields,
});

/** A part or a service that is in no catalog. */
export const otherLine = z.object({
  other: field('Other', 'A part or a service that is in no catalog, in a few words.', text()),
  category: field(
    'Category',
    'Where it is counted.',
    choice({ parts: 'A part.', labor: 'Labor.', fees: 'A fee.' }),
  ),
  price: field('Price', 'What it costs the customer.', money()),
  quantity: field('Quantity', 'How many.', number('0'), { fallback: '1' }).optional(),
  cost: field('Cost', 'What it costs the shop; inside only.', money()).optional(),
  hours: field('Hours', 'For labor: hours sold.', hours()).optional(),
  role: field('Role', 'What it is to a rule.', ref('role')).optional(),
  condition: field('Condition', 'Of the part.', condition()).optional(),
  'tax-class': field('Tax class', 'How it is taxed.', ref('tax-class')).optional(),
  ...lineFields,
});

/** What can differ of a line that a template brings; which fields it has depends on the line. */
const lineChange = z.object({
  ...fillLine.omit({ fill: true, part: true }).shape,
  ...operationLine.omit({ operation: true }).shape,
  ...partLine.omit({ part: true }).shape,
});

export const templateLine = z.object({
  template: field('Template', 'Lines kept under one name.', ref('template'), { example: 'coolant-overhaul' }),
  with: field('With', 'Values of its parameters.', mapOf(ref('parameter', { local: true }), text()), {
    personal: false,
  }).optional(),
  without: field(
    'Without',
    'Parts and operations of the template that are left out here.',
    z.array(ref(['part', 'operation'])),
  ).optional(),
  change: field(
    'Change',
    'What differs here from the lines of the template, by the part or the operation of the line.',
    mapOf(ref(['part', 'operation']), lineChange),
    { example: '{ FR-B6: { quantity: 2 } }' },
  ).optional(),
  note: lineFields.note,
});

export const line = z.union([
  fillLine,
  partLine,
  operationLine,
  subletLine,
  feeLine,
  otherLine,
  templateLine,
]);

export type FillLine = z.output<typeof fillLine>;
export type PartLine = z.output<typeof partLine>;
export type OperationLine = z.output<typeof operationLine>;
export type SubletLine = z.output<typeof subletLine>;
export type FeeLine = z.output<typeof feeLine>;
export type OtherLine = z.output<typeof otherLine>;
export type TemplateLine = z.output<typeof templateLine>;
export type Line = z.output<typeof line>;
