/** `*.parts.yaml`: what the shop sells. */
import { z } from 'zod';
import { catalog, field, type KindDeclaration } from '../declare.ts';
import {
  choice,
  count,
  date,
  file,
  id,
  number,
  ref,
  sellingUnit,
  text,
  unitMoney,
  yesNo,
} from '../scalars.ts';
import { own } from './own.ts';
import { condition, datedPrice, demo, note, PART_KINDS, vehicleMatch } from './shared.ts';

export const part = z.object({
  name: field('Name', 'As printed.', text(), { example: 'Torque converter, Birch-6' }),
  kind: field('Kind', 'What sort of part; picks its price schedule.', choice(PART_KINDS)),
  role: field('Role', 'What it is to a rule: a rule asks for a role, not for a number.', ref('role'), {
    example: 'torque-converter',
  }).optional(),
  fits: field('Fits', 'Unit families it fits; all, when left out.', z.array(ref('unit')), {
    example: '[birch-6]',
  }).optional(),
  vehicles: field(
    'Vehicles',
    'Vehicles it fits, when that depends on the vehicle.',
    z.array(vehicleMatch()),
  ).optional(),
  condition: field(
    'Condition',
    'New, used, rebuilt; printed with the part. Many places ask for it.',
    condition(),
  ).optional(),
  cost: field(
    'Cost',
    'What the shop pays for one as sold; see `pack` for a price by the case.',
    unitMoney(),
    {
      example: '265.00',
    },
  ).optional(),
  freight: field('Freight', 'Freight on one, for schedules with a landed basis.', unitMoney()).optional(),
  list: field('List price', "The supplier's list price for one.", unitMoney()).optional(),
  price: field(
    'Fixed price',
    'What the customer pays for one; beats every schedule.',
    unitMoney(),
  ).optional(),
  reason: field('Reason', 'Why the price is fixed.', text()).optional(),
  schedule: field(
    'Schedule',
    'Prices this part by another schedule than its kind.',
    ref('schedule'),
  ).optional(),
  core: field('Core charge', 'Deposit on one until the old part comes back.', unitMoney(), {
    example: '120.00',
  }).optional(),
  prices: field(
    'Price history',
    'Prices by the day they start. The one in force on the pricing date counts.',
    z.array(datedPrice()),
  ).optional(),
  unit: field('Selling unit', 'What one is.', sellingUnit(), { fallback: 'each' }).optional(),
  pack: field(
    'Pack',
    'How it is bought, when that differs from how it is sold.',
    z.object({
      unit: field('Purchase unit', 'What one purchase is.', sellingUnit(), { example: 'case' }),
      of: field('Holds', 'How many selling units are in it.', number('0'), { example: '12' }),
      cost: field(
        'Cost',
        'What one purchase costs; the cost of one as sold follows.',
        unitMoney(),
      ).optional(),
      whole: field('Whole packs only', 'Sold only by the pack.', yesNo(), { fallback: 'no' }).optional(),
    }),
  ).optional(),
  holds: field('Holds', 'For pairs and sets: how many pieces.', count()).optional(),
  'superseded-by': field(
    'Superseded by',
    'The number that took its place. Estimates follow the chain to its end and show both.',
    z.object({
      part: field('Part', 'The new number.', ref('part')),
      from: field('From', 'First day.', date()).optional(),
      quantity: field('Quantity', 'How many of the new for one of the old.', number('0'), {
        fallback: '1',
      }).optional(),
      needs: field('Needs', 'What else changes with it: reprogramming, a bracket.', text()).optional(),
    }),
  ).optional(),
  alternates: field('Alternates', 'Other numbers that serve.', z.array(ref('part'))).optional(),
  contents: field(
    'Contents',
    'What a kit holds. Kit names have no fixed contents, so say it.',
    z.array(
      z.object({
        part: field('Part', 'A part of the book.', ref('part')).optional(),
        role: field('Role', 'Or only its role.', ref('role')).optional(),
        quantity: field('Quantity', 'How many.', number('0'), { fallback: '1' }).optional(),
      }),
    ),
  ).optional(),
  'kit-price': field(
    'Kit price',
    'Where the price of a kit comes from.',
    choice({ own: "The kit's own cost.", contents: 'The sum of its contents.' }),
    { fallback: 'own' },
  ).optional(),
  supplier: field('Supplier', 'Where it comes from; the file says so for all.', ref('supplier')).optional(),
  'supplier-number': field("Supplier's number", 'When it differs from ours.', text()).optional(),
  brand: field('Brand', 'As printed, where a kit must be named by brand and number.', text()).optional(),
  status: field(
    'Status',
    'Whether it can be had.',
    choice({ active: 'To be had.', 'to-order': 'Ordered for the job.', discontinued: 'No longer made.' }),
    { fallback: 'active' },
  ).optional(),
  'lead-days': field('Lead time', 'Days until it is here.', count()).optional(),
  'fluid-class': field('Fluid class', 'For fluids: the class it belongs to.', ref('fluid-class'), {
    example: 'B',
  }).optional(),
  'tax-class': field(
    'Tax class',
    'How it is taxed, when not as parts or fluids are.',
    ref('tax-class'),
  ).optional(),
  picture: field('Picture', 'Shown on hover.', file('picture')).optional(),
  own: own('part'),
  note: note(),
});

const columns = {
  number: field('Number', 'Heading of the part number.', text()),
  name: field('Name', 'Heading of the name.', text()).optional(),
  cost: field('Cost', 'Heading of the cost.', text()).optional(),
  list: field('List price', 'Heading of the list price.', text()).optional(),
  core: field('Core charge', 'Heading of the core charge.', text()).optional(),
  unit: field('Selling unit', 'Heading of the unit.', text()).optional(),
};

export const priceFile = z.object({
  file: field('File', "The supplier's price file, relative to this one.", file('price-file'), {
    example: 'north-spring-2026.csv',
  }),
  columns: field('Columns', 'Which column of the file holds which field.', z.object(columns)),
  kind: field('Kind', 'Of every row, when the file does not say.', choice(PART_KINDS)),
  condition: field('Condition', 'Of every row.', condition()).optional(),
  role: field('Role', 'Of every row.', ref('role')).optional(),
  delimiter: field('Delimiter', 'Between columns; found by itself when left out.', text()).optional(),
  encoding: field(
    'Encoding',
    'Of the file.',
    choice({ 'utf-8': 'UTF-8, with or without a mark.', 'windows-1252': 'Windows-1252.' }),
    { fallback: 'utf-8' },
  ).optional(),
  decimal: field(
    'Decimal mark',
    'Of its amounts; found by itself when left out.',
    choice({ point: '1,234.50.', comma: '1.234,50.' }),
  ).optional(),
});

export const partsSchema = z.object({
  kind: z.literal('parts'),
  demo: demo(),
  supplier: field('Supplier', 'Where the parts of this file come from.', ref('supplier')).optional(),
  from: field(
    'Price file',
    'Parts read from a supplier price file instead of written here.',
    priceFile,
  ).optional(),
  headings: field(
    'Headings',
    "How the supplier's price files head their columns, where the usual words do not fit.",
    z.object({
      ...columns,
      number: columns.number.optional(),
      'superseded-by': field(
        'Superseded by',
        'Heading of the number that took its place.',
        text(),
      ).optional(),
    }),
    { example: '{ number: Artnr, cost: Shop net }' },
  ).optional(),
  parts: catalog('Parts', 'By part number, as typed.', id('part'), part).optional(),
});

export const partsKind: KindDeclaration = {
  kind: 'parts',
  title: 'Parts',
  description: 'A catalog of parts by number.',
  suffix: '.parts.yaml',
  schema: partsSchema,
};

export type Part = z.output<typeof part>;
export type PriceFile = z.output<typeof priceFile>;
