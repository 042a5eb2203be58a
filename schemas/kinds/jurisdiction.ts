/** `*.jurisdiction.yaml`: what local law asks, as dated data with its source, never as code. */
import { z } from 'zod';
import { field, type KindDeclaration, mapOf } from '../declare.ts';
import { choice, date, id, money, percent, prose, ref, text, yesNo } from '../scalars.ts';
import { CONDITIONS, demo, source } from './shared.ts';

export const coreTax = z.object({
  charge: field(
    'Core charge',
    'Whether a core charge is taxed when it is charged.',
    choice({ taxed: 'Taxed.', untaxed: 'Outside the tax base.' }),
  ),
  exchange: field(
    'Handed over at the sale',
    'What the tax is counted on when the old part is handed over at once.',
    choice({ full: 'The price with the core in it.', net: 'The price without the core.' }),
    { fallback: 'full' },
  ).optional(),
  'refund-tax': field('Tax goes back', 'When the core comes back later, its tax goes back with it.', yesNo()),
  source: source(),
});

/** What an estimate, a teardown estimate or an invoice can be asked to hold. */
export const CONTENTS = {
  'business-name': "The shop's name and address.",
  'registration-number': "The shop's registration number.",
  'epa-id': 'The EPA identification number, when there is a waste fee.',
  customer: "The customer's name.",
  vehicle: 'Year, make, model, and plate or VIN.',
  odometer: 'The odometer reading.',
  complaint: 'The problem as reported.',
  dates: 'The date.',
  'part-prices': 'Every part with its price.',
  'part-conditions': 'Every part with its condition: new, used, rebuilt, reconditioned.',
  'labor-prices': 'Every service with its price.',
  'separate-totals': 'Parts, services and tax each with its own total.',
  'supplies-amount': 'Shop supplies as a sum of money, not only a percent.',
  'supplies-basis': 'How shop supplies are counted.',
  'waste-itemised': 'Waste fees on a line of their own.',
  'mixed-parts': 'Whether a component mixes new and used parts.',
  subcontractors: 'Who did the work that was bought from another shop.',
  'warranty-work': 'Which work is under warranty.',
  'reassembly-price': 'Cost of putting it back together.',
  'destroyed-parts': 'Parts and labor for what a teardown normally destroys.',
  'reassembly-days': 'The longest time to put it back together.',
  'restoration-notice': 'That the teardown may prevent putting it back as it was.',
  'completion-date': 'When the work is promised.',
  authorization: 'Who authorized, when, how and how much.',
} as const;
export type Content = keyof typeof CONTENTS;

/** What a written warranty can be asked to tell. */
export const DISCLOSURES = {
  who: 'Who is covered, and by whom: the name and address of the shop.',
  parts: 'What is covered and what is not.',
  remedy: 'What the shop does on a claim: parts, or parts and labor.',
  duration: 'When it starts and how long it lasts.',
  claim: 'Step by step, how to claim, with names and addresses.',
} as const;
export type Disclosure = keyof typeof DISCLOSURES;

const documentRule = z.object({
  must: field('Must hold', 'What the paper has to show.', z.array(choice(CONTENTS)), {
    example: '[part-conditions, separate-totals]',
  }),
  source: source(),
});

export const jurisdictionSchema = z.object({
  kind: z.literal('jurisdiction'),
  demo: demo(),
  id: field('Id', 'What shops call it by.', id('jurisdiction')),
  name: field('Name', 'As printed.', text()),
  'as-of': field('As of', 'The day the rules were read. Check your local rules.', date()),
  source: source(),
  taxes: field(
    'Taxes',
    'Rates that are laid on a sale.',
    z.array(
      z.object({
        name: field('Name', 'As printed.', text(), { example: 'State sales tax' }),
        rate: field('Rate', 'Of the taxable amount.', percent(), { example: '6.875%' }),
        from: field('From', 'First day.', date()).optional(),
        until: field('Until', 'Last day.', date()).optional(),
        source: source(),
      }),
    ),
  ),
  taxable: field(
    'What is taxed',
    'By tax class. Parts, fluids, labor, diagnosis, sublet-parts, sublet-labor, supplies, fees and cores are the usual classes; add your own.',
    mapOf(
      id('tax-class', { shared: true }),
      choice({
        yes: 'Taxed.',
        no: 'Not taxed.',
        prorated: 'Taxed in the ratio of taxed parts to parts and labor.',
      }),
    ),
  ),
  'lump-sum': field(
    'Lump sum',
    'How a repair billed as one sum is taxed.',
    choice({
      taxed: 'The whole sum is taxed.',
      untaxed: 'None of it is; the shop pays tax on its purchases.',
    }),
  ).optional(),
  cores: field(
    'Cores',
    'Tax on core charges: `default`, and by the condition of the part sold.',
    mapOf(choice({ default: 'Every condition not named here.', ...CONDITIONS }), coreTax),
  ).optional(),
  'core-minimums': field(
    'Least core charges',
    'By role of the part.',
    mapOf(ref('role'), money()),
  ).optional(),
  coupons: field(
    'Discounts funded by others',
    'Whether tax is counted before or after a discount that someone else pays for.',
    choice({ before: 'On the price before it.', after: 'On the price after it.' }),
    { fallback: 'before' },
  ).optional(),
  'payer-taxed': field(
    'Tax by payer',
    'Whether the share of such a payer is taxed; it is, where nothing is said.',
    mapOf(
      choice({
        contract: 'A service contract or insurance.',
        fleet: 'A fleet.',
        warranty: "The vehicle maker's warranty.",
        shop: "The shop's own warranty.",
      }),
      yesNo(),
    ),
  ).optional(),
  supplies: field(
    'Shop supplies line',
    'Whether the law lets a shop charge supplies as a line.',
    z.object({
      line: field(
        'Line',
        'A general supplies line.',
        choice({ allowed: 'Allowed.', forbidden: 'Not allowed.' }),
      ),
      source: source(),
    }),
  ).optional(),
  waste: field(
    'Waste fees',
    'What the law asks of fees for hazardous waste.',
    z.object({
      'needs-epa-id': field('EPA number', 'The EPA number is shown with it.', yesNo()).optional(),
      'at-cost': field('At cost', 'No more than the documented cost.', yesNo()).optional(),
      source: source(),
    }),
  ).optional(),
  'parts-at-least-cost': field(
    'Parts not below cost',
    'Parts stated separately cannot be priced below their cost.',
    yesNo(),
  ).optional(),
  authorization: field(
    'Authorization',
    'When a written estimate is needed, and how far the bill may go over it.',
    z.object({
      'written-above': field('Written estimate above', 'Above this, the estimate is in writing.', money(), {
        example: '100.00',
      }).optional(),
      'applies-above': field('Applies above', 'Jobs up to this are free of the limit.', money()).optional(),
      percent: field('Percent over', 'How far over, as a share of the estimate.', percent(), {
        example: '10%',
      }).optional(),
      amount: field('Amount over', 'How far over, as a sum.', money(), { example: '10.00' }).optional(),
      pick: field(
        'Which of the two',
        'When both are given.',
        choice({ larger: 'The larger.', smaller: 'The smaller.' }),
      ).optional(),
      cap: field('Cap', 'The excess is never more than this.', money(), { example: '50.00' }).optional(),
      tax: field(
        'Tax',
        'Whether estimate and bill are compared with tax.',
        choice({ excluded: 'Without tax.', included: 'With tax.' }),
        { fallback: 'excluded' },
      ).optional(),
      'itemised-only': field(
        'Itemised only',
        'An estimate that is not itemised has no margin.',
        yesNo(),
      ).optional(),
      record: field(
        'Record',
        'What an authorization must say.',
        z.array(
          choice({
            on: 'Date and time.',
            by: 'Who authorized.',
            'taken-by': 'Who took it.',
            how: 'In person, telephone, e-mail, signature.',
            amount: 'The additional cost.',
            contact: 'The telephone number or address used.',
          }),
        ),
      ).optional(),
      source: source(),
    }),
  ).optional(),
  estimate: field('Estimate', 'What an estimate must hold.', documentRule).optional(),
  'teardown-estimate': field(
    'Teardown estimate',
    'What a teardown estimate must hold.',
    documentRule,
  ).optional(),
  invoice: field('Invoice', 'What an invoice must hold.', documentRule).optional(),
  words: field(
    'Words',
    'Words of legal weight, and what the lines must have to earn them.',
    z.object({
      rebuilt: field(
        'Rebuilt',
        'Roles that must be on the job before a unit may be called rebuilt or overhauled. A role counts only when the unit family has it.',
        z.object({ needs: field('Needs', 'Roles.', z.array(ref('role'))), source: source() }),
      ).optional(),
      'unstated-condition': field(
        'Condition not said',
        'What a part without a stated condition counts as.',
        choice({ new: 'It counts as new.', missing: 'It must be said.' }),
      ).optional(),
    }),
  ).optional(),
  warranty: field(
    'Written warranty',
    'What a written warranty has to tell before the sale, and from which price on.',
    z.object({
      'disclosed-above': field('Told above', 'Sales up to this are free of it.', money(), {
        example: '15.00',
      }).optional(),
      must: field('Must tell', 'What it has to tell.', z.array(choice(DISCLOSURES))),
      source: source(),
    }),
  ).optional(),
  'before-removal': field(
    'Before removal',
    'Records that must be on the job before the unit is taken out.',
    z.object({ records: field('Records', 'Which ones.', z.array(ref('record'))), source: source() }),
  ).optional(),
  legal: field('Legal lines', 'Printed on estimates and invoices here.', z.array(prose())).optional(),
});

export const jurisdictionKind: KindDeclaration = {
  kind: 'jurisdiction',
  title: 'Jurisdiction',
  description: 'Tax, authorization and document rules of a place, as dated data with their source.',
  suffix: '.jurisdiction.yaml',
  schema: jurisdictionSchema,
  defines: 'jurisdiction',
};

export type Jurisdiction = z.output<typeof jurisdictionSchema>;
export type CoreTax = z.output<typeof coreTax>;
