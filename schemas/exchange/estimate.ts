/**
 * An estimate for other systems, version 1. Amounts are digits in the currency named at the top (`6507.91`), rates are
 * fractions (`0.0725`), dates are ISO 8601. What is added later is optional; a change of meaning is a new version.
 */
import { z } from 'zod';

const digits = (meaning: string) =>
  z
    .string()
    .regex(/^-?\d+(\.\d+)?$/)
    .meta({ description: meaning });
const words = (meaning: string) => z.string().meta({ description: meaning });
const day = (meaning: string) =>
  z
    .string()
    .regex(/^\d{4}-\d{2}-\d{2}$/)
    .meta({ description: meaning });

const ownValues = (of: string) =>
  z
    .record(z.string(), z.string())
    .optional()
    .meta({ description: `Fields that the shop declares for other systems, as typed. ${of}` });

export const exchangedLine = z
  .strictObject({
    kind: z
      .enum(['part', 'fill', 'labor', 'sublet', 'fee', 'other', 'core', 'supplies', 'minimum', 'warranty'])
      .meta({ description: 'What sort of charge it is.' }),
    path: z
      .array(z.union([z.string(), z.number()]))
      .meta({ description: 'Place in the job file; empty for what is put on by itself.' }),
    id: words('Part number, operation or fee as sold.').nullable(),
    name: words('As printed.'),
    category: words('parts, fluids, labor, sublet, cores, supplies or fees.'),
    role: words('What it is to a rule of the shop.').nullable(),
    condition: words('new, rebuilt, remanufactured, reconditioned or used.').nullable(),
    quantity: digits('How many, in `unit`.'),
    unit: words('What one is: each, set, quart, hour.'),
    each: digits('Price of one.').nullable(),
    amount: digits('The line before anything is taken off.'),
    net: digits('The line with every discount taken off, before tax.'),
    tax: digits('Tax on the line.'),
    hours: digits('Hours sold.'),
    optional: z.boolean().meta({ description: 'Recommended, not required.' }),
    own: ownValues('Of the part or the operation.'),
  })
  .meta({ title: 'Line' });

export const exchangedSale = z.strictObject({
  complete: z
    .boolean()
    .meta({ description: 'False when something has no price: the total is then too low.' }),
  lines: z.array(exchangedLine),
  subtotals: z.record(z.string(), digits('By category, before discounts on the whole job.')),
  discounts: z.array(
    z.strictObject({
      name: words('As printed.'),
      amount: digits('Taken off.'),
      fundedBy: z.enum(['shop', 'third-party']),
      spread: z.record(z.string(), digits('How it falls on categories.')),
    }),
  ),
  subtotal: digits('Net of all lines.'),
  taxable: digits('What tax is counted on.'),
  taxes: z.array(
    z.strictObject({ name: words('As printed.'), rate: digits('As a fraction.'), amount: digits('Tax.') }),
  ),
  tax: digits('All taxes.'),
  taxIncluded: z.boolean().meta({ description: 'The prices hold the tax already.' }),
  total: digits('What is to be paid, tax included.'),
  printed: z
    .strictObject({ beforeTax: z.string(), tax: z.string(), total: z.string(), balance: z.string() })
    .meta({ description: 'The same sums as they stand on paper.' }),
  shares: z.array(
    z.strictObject({ payer: z.string().nullable(), name: z.string(), total: digits('What this one pays.') }),
  ),
  paid: digits('Money received.'),
  balance: digits('Left to pay.'),
  hoursSold: digits('Hours sold.'),
});

export const exchangedOption = exchangedSale.extend({
  id: words('Of the job; null for a job without options.').nullable(),
  name: words('As printed.'),
  kind: words('overhaul, exchange, used, repair, service or put-back.').nullable(),
  days: z.number().int().nullable(),
  warranty: words('Id of the plan.').nullable(),
  requirements: z.array(
    z.strictObject({
      id: z.string(),
      kind: z.string(),
      roles: z.array(z.string()),
      record: z.string().optional(),
      finding: z.string().optional(),
      state: z.enum(['met', 'missing', 'broken', 'waived']),
    }),
  ),
});

export const exchangedEstimate = z
  .strictObject({
    format: z.literal('gearquill-estimate'),
    version: z.literal(1),
    job: words('Number of the job.').nullable(),
    currency: words('ISO 4217 code of every amount.'),
    locale: words('Language tag of what is printed.'),
    pricedOn: day('Prices in force on this day were used.'),
    presented: day('The day the estimate was handed over.').nullable(),
    chosen: words('Id of the option chosen.').nullable(),
    own: ownValues('Of the job.'),
    options: z.array(exchangedOption).min(1),
    teardown: z.strictObject({ teardown: exchangedSale, declined: exchangedSale }).nullable(),
  })
  .meta({
    title: 'Gearquill estimate',
    description: 'An estimate of a transmission repair, for other systems.',
  });

export type ExchangedEstimate = z.output<typeof exchangedEstimate>;
export type ExchangedSale = z.output<typeof exchangedSale>;
export type ExchangedOption = z.output<typeof exchangedOption>;
export type ExchangedLine = z.output<typeof exchangedLine>;

/** The JSON Schema (draft 2020-12) of an exchanged estimate. */
export function exchangeSchema(): object {
  const { $schema, ...rest } = z.toJSONSchema(exchangedEstimate, { target: 'draft-2020-12' });
  return { $schema, $id: 'https://gearquill.invalid/schemas/exchange/estimate-1.schema.json', ...rest };
}
