/** Pieces of declaration that several kinds of file share. */
import { z } from 'zod';
import { field } from '../declare.ts';
import { choice, date, number, percent, prose, ref, text, unitMoney, yesNo } from '../scalars.ts';
import type { Decimal } from '../values/decimal.ts';
import { dec } from '../values/decimal.ts';

export const CONDITIONS = {
  new: 'Never used.',
  rebuilt: 'Used, taken apart and restored; see the jurisdiction for what earns the word.',
  remanufactured: 'Rebuilt at a factory whose business it is.',
  reconditioned: 'Used, cleaned and repaired where it needed it.',
  used: 'Taken from another vehicle as it is.',
} as const;
export type Condition = keyof typeof CONDITIONS;
export const condition = () => choice(CONDITIONS);

export const PART_KINDS = {
  soft: 'Wear parts: plates, bands, seals, gaskets, rings, bushings.',
  hard: 'Metal parts that are not expected to wear out: pump, drum, planet carrier.',
  kit: 'Several parts under one number; give its contents.',
  fluid: 'Transmission or converter fluid.',
  filter: 'Filters and screens.',
  electrical: 'Solenoids, harnesses, modules, sensors.',
  cooling: 'Coolers, radiators, lines and hoses.',
  converter: 'Torque converters.',
  unit: 'A whole transmission or transaxle.',
  hardware: 'Bolts, dowels, clips, mounts.',
  consumable: 'Used up in the work: cleaner, assembly grease.',
} as const;
export type PartKind = keyof typeof PART_KINDS;

export const DRIVES = {
  fwd: 'Front-wheel drive.',
  rwd: 'Rear-wheel drive.',
  '4wd': 'Four-wheel drive with a transfer case.',
  awd: 'All-wheel drive.',
} as const;

/** What an amount can be counted on. */
export const CATEGORIES = {
  parts: 'Parts, without fluids and cores.',
  fluids: 'Fluids.',
  labor: 'Labor, diagnosis and programming included.',
  sublet: 'Work bought from another shop.',
  cores: 'Core charges.',
  supplies: 'Shop supplies.',
  fees: 'Fees.',
} as const;
export type Category = keyof typeof CATEGORIES;

/** What a payer can cover: finer than categories, because payers rarely pay for diagnosis. */
export const COVERAGES = {
  parts: 'Parts, without fluids and cores.',
  fluids: 'Fluids.',
  labor: 'Labor other than diagnosis and programming.',
  diagnosis: 'Labor of diagnosis operations.',
  programming: 'Labor of programming operations.',
  sublet: 'Work bought from another shop.',
  cores: 'Core charges.',
  supplies: 'Shop supplies.',
  fees: 'Fees.',
} as const;
export type Coverage = keyof typeof COVERAGES;

export const source = () =>
  field('Source', 'Where the figure or the rule comes from, so that the next reader can check it.', text(), {
    example: 'maker bulletin 22-014, page 3',
  }).optional();

export const note = () => field('Note', 'For the shop; never printed for the customer.', prose()).optional();

/** Markup on cost, margin on price, or a plain factor: one of the three. */
const markupFields = {
  factor: field('Factor', 'The price is the cost times this.', number('0'), { example: '1.45' }).optional(),
  markup: field('Markup', 'Added on the cost: price = cost x (1 + markup).', percent(), {
    example: '45%',
  }).optional(),
  margin: field('Margin', 'Kept of the price: price = cost / (1 - margin). Below 100%.', percent(), {
    example: '31%',
  }).optional(),
};

export function markupRule<S extends z.ZodRawShape>(more: S) {
  return z.object({ ...markupFields, ...more }).superRefine((value, context) => {
    const v = value as { factor?: unknown; markup?: unknown; margin?: Decimal };
    const given = [v.factor, v.markup, v.margin].filter((x) => x !== undefined).length;
    if (given !== 1)
      context.addIssue({ code: 'custom', message: 'Give one of factor, markup or margin, and only one.' });
    if (v.margin?.gte(dec('1'))) {
      context.addIssue({
        code: 'custom',
        path: ['margin'],
        message: 'A margin of 100% or more has no price: price = cost / (1 - margin). Did you mean markup?',
      });
    }
  });
}

/** When an add-on, a fee or a template line applies: every key given must hold. */
export const appliesWhen = () =>
  z.object({
    drive: field('Drive', 'The vehicle is driven so.', z.array(choice(DRIVES)), {
      example: '[4wd, awd]',
    }).optional(),
    feature: field('Feature', "The vehicle's `features` list has this.", text(), {
      example: 'skid-plate',
    }).optional(),
    unit: field('Unit family', 'The unit is one of these families.', z.array(ref('unit'))).optional(),
    trait: field('Trait', 'The unit has this trait.', ref('trait')).optional(),
    finding: field('Finding', 'The job has this finding.', ref('finding')).optional(),
    'not-drive': field('Not drive', 'The vehicle is not driven so.', z.array(choice(DRIVES))).optional(),
  });

/** A price that holds from a date on. */
export const datedPrice = () =>
  z.object({
    from: field('From', 'First day the price holds.', date(), { example: '2026-01-01' }),
    until: field('Until', 'Last day the price holds; open when left out.', date()).optional(),
    cost: field('Cost', 'What the shop pays, each selling unit.', unitMoney()).optional(),
    list: field('List price', "The supplier's list price, each.", unitMoney()).optional(),
    price: field('Fixed price', 'What the customer pays, each; beats every markup.', unitMoney()).optional(),
    core: field('Core charge', 'Deposit until the old part comes back.', unitMoney()).optional(),
  });

export const vehicleMatch = () =>
  z.object({
    make: field('Make', 'The maker of the vehicle.', text()).optional(),
    model: field('Model', 'The model.', text()).optional(),
    years: field('Years', 'One year or a span, such as 2017..2023.', text(), {
      example: '2017..2023',
    }).optional(),
    engine: field('Engine', 'The engine.', text()).optional(),
    drive: field('Drive', 'How it is driven.', choice(DRIVES)).optional(),
  });

export const demo = () =>
  field('Demonstration data', 'Marks a file as made up: not for repair.', yesNo()).optional();
