/**
 * Fields that a shop declares for itself: what one may be, which entries have it, how its values are read.
 * A field so declared becomes a schema like ours (`ownSchema`), and everything that reads declarations reads it.
 */
import { z } from 'zod';
import { field, mapOf } from '../declare.ts';
import { choice, count, date, id, money, ownValue, prose, quantity, ref, text, yesNo } from '../scalars.ts';
import type { Decimal } from '../values/decimal.ts';
import { accepted, type Parsed, refused } from '../values/parsed.ts';
import { compareQuantity, type Quantity } from '../values/quantity.ts';
import { isWithin, parseRange } from '../values/range.ts';
import { DIMENSION_WORDS, type Dimension } from '../values/units.ts';

/** Entries that can have fields of the shop's own. */
export const CARRIERS = {
  part: 'Parts.',
  operation: 'Operations.',
  unit: 'Unit families.',
  job: 'Jobs.',
  customer: 'Customers of the shop file.',
} as const;
export type Carrier = keyof typeof CARRIERS;

export const PAPERS = {
  customer: 'The estimate as the owner reads it.',
  invoice: 'The bill.',
  talk: 'The talk sheet.',
  bench: 'The work order.',
  order: 'The parts order.',
  inside: 'The inside sheet.',
  data: 'CSV and JSON, which other systems read.',
} as const;
export type Paper = keyof typeof PAPERS;

/** What a value of type `reference` can name. */
export const NAMEABLE = {
  part: 'A part.',
  operation: 'An operation.',
  unit: 'A unit family.',
  supplier: 'A supplier.',
  role: 'A role.',
  finding: 'A finding.',
  job: 'A job.',
} as const;
export type Nameable = keyof typeof NAMEABLE;

export const ownField = z
  .object({
    name: field('Name', 'A few words, as shown and printed.', text(), { example: 'Shelf' }),
    meaning: field('Meaning', 'What it is for, told to whoever fills it in.', prose(), {
      example: 'Where the part lies in the store room.',
    }),
    type: field(
      'Type',
      'What is written in it.',
      choice({
        text: 'Any text on one line.',
        'yes-no': 'Yes or no.',
        count: 'A whole number.',
        money: 'An amount in the currency of the shop.',
        quantity: 'A number with its unit; say the `dimension`.',
        date: 'A day, such as 2026-03-14.',
        choice: 'One of the words under `choices`.',
        reference: 'The id of another entry of the book; say what it `names`.',
      }),
    ),
    on: field('On', 'The entries that can have it.', z.array(choice(CARRIERS)).min(1), { example: '[part]' }),
    choices: field('Choices', 'For a choice: the words, each with what it means.', mapOf(id(), text()), {
      example: '{lift-1: By the gate, lift-2: Under the hoist}',
    }).optional(),
    dimension: field('Dimension', 'For a quantity: what is measured.', choice(DIMENSION_WORDS)).optional(),
    names: field('Names', 'For a reference: what it names.', choice(NAMEABLE)).optional(),
    example: field('Example', 'A value as one would type it.', text(), { example: 'B4' }).optional(),
    print: field('Print', 'Papers that show it.', z.array(choice(PAPERS)), {
      example: '[bench]',
      fallback: 'none, so that nothing of it reaches the customer by accident',
    }).optional(),
  })
  .superRefine((declared, context) => {
    const wants = { choice: 'choices', quantity: 'dimension', reference: 'names' } as const;
    for (const [type, key] of Object.entries(wants)) {
      if ((declared.type === type) === (declared[key] !== undefined)) continue;
      const message =
        declared.type === type
          ? `A field of type ${type} needs \`${key}\`.`
          : `\`${key}\` goes with the type ${type} only.`;
      context.addIssue({ code: 'custom', path: [declared.type === type ? 'type' : key], message });
    }
  });

export type OwnField = z.output<typeof ownField>;

/** The fields of the shop's own that an entry has: values as typed, by the id of the field. */
export const own = (carrier: Carrier) =>
  field(
    'Own fields',
    'Fields that the shop file declares under `fields`.',
    mapOf(ref('field', { carrier, personal: false }), ownValue()),
    carrier === 'customer' ? { personal: true } : {},
  ).optional();

/** What is asked of own fields, whatever entry has them. A number, a quantity or a date may be a range: `3..`. */
export const ownWanted = (title: string, meaning: string) =>
  field(title, meaning, mapOf(ref('field'), ownValue())).optional();

const schemas = new WeakMap<OwnField, z.ZodType>();

/** The declaration that a shop's field amounts to. */
export function ownSchema(declared: OwnField): z.ZodType {
  let schema = schemas.get(declared);
  if (!schema) {
    const { name, meaning, example } = declared;
    schema = field(name, meaning, scalarOf(declared), example === undefined ? {} : { example });
    schemas.set(declared, schema);
  }
  return schema;
}

function scalarOf({ type, choices, dimension, names }: OwnField): z.ZodType {
  switch (type) {
    case 'text':
      return text();
    case 'yes-no':
      return yesNo();
    case 'count':
      return count();
    case 'money':
      return money();
    case 'quantity':
      return quantity(dimension as Dimension);
    case 'date':
      return date();
    case 'choice':
      return choice(choices ?? {});
    case 'reference':
      return ref(names as Nameable);
  }
}

/** The value of an own field; what is wrong with it, in words. */
export function readOwn(declared: OwnField, typed: string): Parsed<unknown> {
  const read = ownSchema(declared).safeParse(typed);
  return read.success ? accepted(read.data) : refused(read.error.issues[0]?.message ?? 'It cannot be read.');
}

/** What a value has to be: the same, or inside a range with both ends included. */
export function readWanted(declared: OwnField, typed: string): Parsed<(value: unknown) => boolean> {
  const { type } = declared;
  if (type === 'quantity' && typed.includes('..')) {
    const range = parseRange(typed, declared.dimension as Dimension);
    return range.ok ? accepted((value) => isWithin(value as Quantity, range.value)) : range;
  }
  if (ORDERED.has(type) && typed.includes('..')) return readSpan(declared, typed);
  const read = readOwn(declared, typed);
  return read.ok ? accepted((value) => compareOwn(type, value, read.value) === 0) : read;
}

const ORDERED: ReadonlySet<OwnField['type']> = new Set(['count', 'money', 'date']);

function readSpan(declared: OwnField, typed: string): Parsed<(value: unknown) => boolean> {
  const ends = typed.split('..').map((end) => end.trim());
  if (ends.length !== 2 || ends.every((end) => end === ''))
    return refused('Write a range with two dots between its ends, or one end left open: 3..');
  const [low, high] = ends.map((end) => (end === '' ? undefined : readOwn(declared, end)));
  for (const end of [low, high]) if (end && !end.ok) return end;
  return accepted(
    (value) =>
      !(low?.ok && compareOwn(declared.type, value, low.value) < 0) &&
      !(high?.ok && compareOwn(declared.type, value, high.value) > 0),
  );
}

function compareOwn(type: OwnField['type'], a: unknown, b: unknown): number {
  if (type === 'quantity') return compareQuantity(a as Quantity, b as Quantity);
  if (type === 'money') return (a as Decimal).cmp(b as Decimal);
  if (type === 'count') return (a as number) - (b as number);
  return a === b ? 0 : String(a) < String(b) ? -1 : 1;
}
