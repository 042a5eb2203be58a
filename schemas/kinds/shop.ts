/** `shop.yaml`: who the shop is, and its rules of pricing. */
import { z } from 'zod';
import { field, type KindDeclaration, mapOf } from '../declare.ts';
import {
  choice,
  count,
  currency,
  date,
  file,
  hours,
  id,
  money,
  percent,
  prose,
  quantity,
  ref,
  text,
  yesNo,
} from '../scalars.ts';
import { own, ownField } from './own.ts';
import { appliesWhen, CATEGORIES, COVERAGES, demo, markupRule, note, PART_KINDS } from './shared.ts';

export const rate = z.object({
  name: field('Name', 'As printed on estimates.', text(), { example: 'Bench' }),
  hourly: field('Rate', 'Price of one hour sold.', money(), {
    example: '155.00',
    unit: 'shop currency per hour',
  }),
  minimum: field(
    'Minimum charge',
    'The least that labor at this rate costs on one job, when any is sold.',
    money(),
  ).optional(),
  cost: field(
    'Cost of an hour',
    'What one hour costs the shop; for the inside sheet only.',
    money(),
  ).optional(),
});

export const band = markupRule({
  below: field('Below', 'The band ends below this cost; the last band has no end.', money(), {
    example: '50.00',
  }).optional(),
});

export const schedule = z.object({
  name: field('Name', 'For the shop.', text()).optional(),
  how: field(
    'How bands apply',
    'Whether the band that the cost falls in prices all of it, or each slice of the cost has its own band.',
    choice({
      whole:
        'One band prices the whole cost. A dearer part can then sell for less than a cheaper one at an edge.',
      graduated: 'Each slice of the cost is priced by its own band, so the price never falls.',
    }),
    { fallback: 'whole' },
  ).optional(),
  basis: field(
    'Cost basis',
    'Which cost goes into the bands.',
    choice({ cost: 'The cost as bought.', landed: 'The cost and its freight.' }),
    { fallback: 'cost' },
  ).optional(),
  on: field(
    'Banded per',
    'Whether the cost of the selling unit (a quart) or of the purchase unit (a case) picks the band.',
    choice({ 'selling-unit': 'The cost of one as sold.', 'purchase-unit': 'The cost of one as bought.' }),
    { fallback: 'selling-unit' },
  ).optional(),
  bands: field('Bands', 'In rising order of cost, without gaps; the last is open.', z.array(band).min(1)),
  list: field(
    'List price rule',
    'What a list price does to the price.',
    choice({
      ignore: 'Nothing.',
      at: 'The list price is the price.',
      'at-least': 'The price is never below list.',
      'at-most': 'The price is never above list.',
    }),
    { fallback: 'ignore' },
  ).optional(),
  ending: field(
    'Ending',
    'Prices go up to the next amount with this ending. Fixed and overridden prices, cores and taxes are left alone.',
    money(),
    { example: '0.95' },
  ).optional(),
  'ending-per': field(
    'Ending applies to',
    'Whether each one or the whole line gets the ending.',
    choice({ each: 'The price of one.', line: 'The amount of the line.' }),
    { fallback: 'each' },
  ).optional(),
  'least-margin': field('Least margin', 'The price never leaves less margin than this.', percent(), {
    example: '20%',
  }).optional(),
});

export const fee = z.object({
  name: field('Name', 'As printed.', text(), { example: 'Waste fluid disposal' }),
  amount: field('Amount', 'Price of one.', money(), { example: '18.00' }).optional(),
  percent: field('Percent', 'Instead of an amount: a share of `on`.', percent()).optional(),
  on: field('On', 'What the percent is taken of.', z.array(choice(CATEGORIES))).optional(),
  maximum: field('Maximum', 'The fee is never more.', money()).optional(),
  each: field(
    'Each',
    'Once a job, or for each selling unit of a role on the job.',
    choice({ job: 'Once a job.', 'unit-sold': 'For each selling unit of the role named in `role`.' }),
    { fallback: 'job' },
  ).optional(),
  role: field('Role', 'With `each: unit-sold`: what is counted.', ref('role')).optional(),
  automatic: field('Automatic', 'Put on every job that it applies to, without a line.', yesNo(), {
    fallback: 'no',
  }).optional(),
  'with-role': field('With role', 'Automatic only on jobs with this part or work.', ref('role')).optional(),
  when: field('When', 'Automatic only when this holds.', appliesWhen()).optional(),
  cost: field('Cost', 'What the shop pays for it; inside only.', money()).optional(),
  'tax-class': field('Tax class', 'How the jurisdiction taxes it.', ref('tax-class'), {
    fallback: 'fees',
  }).optional(),
  waste: field(
    'Waste fee',
    'Pays for getting rid of hazardous waste; jurisdictions ask more of such fees.',
    yesNo(),
    {
      fallback: 'no',
    },
  ).optional(),
});

export const supplies = z.object({
  rate: field('Rate', 'Share of the base.', percent(), { example: '6%' }),
  on: field('Base', 'What the share is taken of.', z.array(choice(CATEGORIES)).min(1), {
    example: '[labor]',
  }),
  'after-discount': field('After discounts', 'The base is counted after discounts.', yesNo(), {
    fallback: 'yes',
  }).optional(),
  minimum: field('Minimum', 'Never less, when there is a base at all.', money()).optional(),
  maximum: field('Maximum', 'Never more.', money(), { example: '75.00' }).optional(),
  name: field('Name', 'As printed.', text(), { fallback: 'Shop supplies' }).optional(),
});

export const discount = z.object({
  name: field('Name', 'As printed.', text(), { example: 'Returning customer' }),
  percent: field('Percent', 'A share of what it is on.', percent(), { example: '10%' }).optional(),
  amount: field('Amount', 'A fixed sum, spread over what it is on.', money(), {
    example: '500.00',
  }).optional(),
  on: field(
    'On',
    'What it comes off. A sum is spread in proportion, to the cent.',
    z.array(choice(CATEGORIES)).min(1),
    {
      example: '[parts, labor]',
    },
  ),
  'funded-by': field(
    'Funded by',
    'Who bears it. The jurisdiction says whether tax is then counted before or after it.',
    choice({ shop: 'The shop.', 'third-party': 'Someone else pays the shop back.' }),
    { fallback: 'shop' },
  ).optional(),
  expires: field('Expires', 'Last day it can be given.', date()).optional(),
  'below-cost': field('Below cost', 'May take parts below their cost.', yesNo(), {
    fallback: 'no',
  }).optional(),
});

/** What a payer pays; the shop's terms with it, which a job may narrow. */
export const payerTerms = {
  covers: field('Covers', 'What it pays for.', z.array(choice(COVERAGES)), {
    example: '[labor, parts]',
    fallback: 'everything',
  }).optional(),
  hours: field('Allowed hours', 'The most hours of covered labor it pays.', hours(), {
    example: '17.0',
  }).optional(),
  rate: field('Allowed rate', 'What it pays for an hour.', money(), {
    unit: 'shop currency per hour',
  }).optional(),
  'parts-limit': field('Parts limit', 'The most it pays for covered parts, before tax.', money()).optional(),
  'parts-discount': field('Parts discount', 'Taken off covered parts.', percent()).optional(),
  limit: field('Limit', 'The most it pays in all, tax included.', money()).optional(),
  deductible: field('Deductible', "The customer's own part of what is covered.", money(), {
    example: '200.00',
  }).optional(),
  gap: field(
    'Gap',
    'Who bears the difference between the price and what the payer allows.',
    choice({
      customer: 'The customer pays it. Check the contract: some forbid it.',
      shop: 'The shop: the price of covered lines becomes what is allowed.',
    }),
    { fallback: 'customer' },
  ).optional(),
};

export const payer = z.object({
  name: field('Name', 'Who it is.', text()),
  kind: field(
    'Kind',
    'Tax may depend on it.',
    choice({
      contract: 'A service contract or insurance.',
      fleet: 'A fleet that pays by the month.',
      warranty: "The vehicle maker's warranty.",
      shop: "This shop's own warranty.",
    }),
  ),
  ...payerTerms,
  'approval-limit': field('Approval limit', 'Above this it must be asked first.', money()).optional(),
  'purchase-order': field('Purchase order', 'A purchase order number is needed.', yesNo()).optional(),
  exempt: field('Tax exemption', 'Certificate that frees it from tax, with its number.', text(), {
    personal: true,
  }).optional(),
  note: note(),
});

export const customer = z.object({
  name: field('Name', 'As printed.', text(), { personal: true }),
  phone: field('Telephone', 'How to reach the person who may authorize.', text(), {
    personal: true,
  }).optional(),
  email: field('E-mail', 'How to reach the person who may authorize.', text(), { personal: true }).optional(),
  address: field('Address', 'Lines of the address.', z.array(text()), { personal: true }).optional(),
  exempt: field(
    'Tax exemption',
    'A certificate on file. Check your local rules for what it must say.',
    z.object({
      certificate: field('Certificate', 'Its number.', text(), { personal: true }),
      reason: field('Reason', 'Why the customer is exempt.', text(), { personal: true }).optional(),
      expires: field('Expires', 'Last day it holds.', date()).optional(),
    }),
  ).optional(),
  discount: field('Standing discount', 'Given on each job.', ref('discount')).optional(),
  own: own('customer'),
});

export const warranty = z.object({
  name: field('Name', 'As printed.', text(), { example: '24 months or 24,000 miles' }),
  months: field(
    'Months',
    'Ends this many months after the work is done. Month ends are kept inside the month.',
    count(),
  ),
  distance: field('Distance', 'Or after this distance, whichever comes first.', quantity('distance'), {
    example: '24000 mi',
  }).optional(),
  covers: field(
    'Covers',
    'Whether labor is paid as well.',
    choice({
      'parts-and-labor': 'Parts and the labor to fit them.',
      'parts-only': 'Parts; the customer pays labor.',
    }),
    { fallback: 'parts-and-labor' },
  ).optional(),
  includes: field(
    'Includes',
    'What is covered, in words the customer understands.',
    z.array(text()),
  ).optional(),
  excludes: field(
    'Excludes',
    'What is not covered, in words the customer understands.',
    z.array(text()),
  ).optional(),
  requires: field(
    'Requires',
    'Records that must be on the job for the plan to hold.',
    z.array(ref('record')),
  ).optional(),
  percent: field('Price, percent', 'Added to parts and labor.', percent()).optional(),
  amount: field('Price', 'Added as a sum.', money()).optional(),
  'tax-class': field('Tax class', 'How its price is taxed.', ref('tax-class'), {
    fallback: 'fees',
  }).optional(),
  designation: field(
    'Designation',
    'What a written warranty on consumer goods must be called (15 USC 2303). Check your local rules.',
    choice({ limited: 'Limited warranty.', full: 'Full warranty, with its duration.' }),
    { fallback: 'limited' },
  ).optional(),
  claim: field('How to claim', 'Step by step, with names and addresses.', prose()).optional(),
});

export const shopSchema = z.object({
  kind: z.literal('shop'),
  demo: demo(),
  extends: field('Extends', 'Another shop file that holds what is not said here.', file('shop'), {
    example: '../common/shop.yaml',
  }).optional(),
  name: field('Name', 'The name of the business as printed.', text()).optional(),
  address: field('Address', 'Lines of the address.', z.array(text())).optional(),
  phone: field('Telephone', 'As printed.', text()).optional(),
  email: field('E-mail', 'As printed.', text()).optional(),
  registration: field(
    'Registration',
    'Number of the repair registration, where the law asks for one.',
    text(),
  ).optional(),
  'epa-id': field(
    'EPA identification',
    'Number of the waste generator, where the law asks for it.',
    text(),
  ).optional(),
  currency: field('Currency', 'ISO 4217 code of every amount in the book.', currency(), {
    example: 'USD',
  }).optional(),
  locale: field('Locale', 'How numbers and dates are printed.', text(), { example: 'en-US' }).optional(),
  words: field(
    'Words',
    'Customer papers in words of your own, or in a language that is not supplied: the name of a word and its text.',
    z.record(text(), text()),
    { example: '{choices: What you can do}' },
  ).optional(),
  units: field(
    'Units',
    'How quantities are printed. What you type keeps its own unit.',
    choice({ us: 'US customary.', imperial: 'Imperial.', metric: 'Metric.' }),
    { fallback: 'us' },
  ).optional(),
  jurisdiction: field(
    'Jurisdiction',
    'Whose rules on tax, estimates and invoices hold.',
    ref('jurisdiction'),
  ).optional(),
  rates: field('Labor rates', 'Price of an hour by class of work.', mapOf(id('rate'), rate)).optional(),
  schedules: field('Price schedules', 'How cost becomes price.', mapOf(id('schedule'), schedule)).optional(),
  pricing: field(
    'Parts pricing',
    'Which schedule prices which parts.',
    z.object({
      parts: field('Parts', 'The schedule for all parts not named in `by-kind`.', ref('schedule')),
      'by-kind': field(
        'By kind',
        'Schedules for kinds of part.',
        mapOf(choice(PART_KINDS), ref('schedule')),
      ).optional(),
    }),
  ).optional(),
  sublet: field(
    'Sublet pricing',
    'What is added to work bought from another shop.',
    markupRule({}),
  ).optional(),
  cores: field(
    'Core policy',
    'What customers are charged for cores, when a line says nothing else.',
    choice({
      charged: 'Charged as a deposit until the old part comes back.',
      exchanged: 'The old part is handed over at the sale.',
      'when-late': 'Charged only when the old part does not come back in time.',
      held: "The customer's own old part never leaves the shop: nothing is charged.",
    }),
    { fallback: 'charged' },
  ).optional(),
  supplies: field('Shop supplies', 'Small things that are not listed one by one.', supplies).optional(),
  fees: field('Fees', 'Charges beside parts and labor.', mapOf(id('fee'), fee)).optional(),
  tax: field(
    'Tax',
    'How tax is counted; the rates are in the jurisdiction.',
    z.object({
      rounding: field(
        'Rounding',
        'Tax is carried on and rounded half up, on the invoice or on each line; keep to one.',
        choice({ invoice: 'Once, on the taxable total.', line: 'On every line.' }),
        { fallback: 'invoice' },
      ).optional(),
      stack: field(
        'Stacked taxes',
        'Several rates are added first, or rounded each by itself.',
        choice({ combined: 'Rates are added, then rounded once.', each: 'Each rate is rounded by itself.' }),
        { fallback: 'combined' },
      ).optional(),
      prices: field(
        'Prices',
        'Whether prices in the book hold tax already.',
        choice({ exclusive: 'Tax is added.', inclusive: 'Tax is inside the price.' }),
        { fallback: 'exclusive' },
      ).optional(),
      billing: field(
        'Billing',
        'Whether parts and labor are stated separately.',
        choice({ separated: 'Separately.', 'lump-sum': 'As one sum.' }),
        { fallback: 'separated' },
      ).optional(),
    }),
  ).optional(),
  discounts: field(
    'Discounts',
    'Reductions that a job can name.',
    mapOf(id('discount'), discount),
  ).optional(),
  payers: field('Payers', 'Who may pay besides the customer.', mapOf(id('payer'), payer)).optional(),
  customers: field(
    'Customers',
    'Customers whom jobs name by id.',
    mapOf(id('customer', { personal: true }), customer),
  ).optional(),
  warranties: field('Warranty plans', 'What the shop promises.', mapOf(id('warranty'), warranty)).optional(),
  suppliers: field(
    'Suppliers',
    'Where parts come from.',
    mapOf(
      id('supplier'),
      z.object({
        name: field('Name', 'Who it is.', text()),
        phone: field('Telephone', 'For orders.', text()).optional(),
        account: field('Account', "The shop's number there.", text(), { personal: true }).optional(),
        'core-days': field('Core return days', 'Cores must be back within this many days.', count(), {
          example: '45',
        }).optional(),
        terms: field('Core terms', 'What earns the credit.', prose()).optional(),
      }),
    ),
  ).optional(),
  estimates: field(
    'Estimates',
    'What holds for every estimate.',
    z.object({
      'valid-days': field('Valid', 'Days that the prices hold.', count(), { example: '30' }).optional(),
      'core-days': field('Core days', 'Days the customer has to bring a core back.', count()).optional(),
    }),
  ).optional(),
  floors: field(
    'Floors',
    'Inside figures below these are warned about. Never printed for the customer.',
    z.object({
      'gross-profit': field('Gross profit', 'Least share of the sale.', percent(), {
        example: '50%',
      }).optional(),
      'effective-rate': field('Effective labor rate', 'Least labor money for each hour sold.', money(), {
        example: '140.00',
      }).optional(),
    }),
  ).optional(),
  fields: field(
    'Fields of our own',
    'What else parts, operations, unit families, jobs and customers may say, under `own`.',
    mapOf(id('field'), ownField),
  ).optional(),
  legal: field(
    'Legal lines',
    'Printed on every estimate. Check your local rules.',
    z.array(prose()),
  ).optional(),
});

export const shopKind: KindDeclaration = {
  kind: 'shop',
  title: 'Shop',
  description: 'Who the shop is and how it prices. The nearest one above a file is its shop.',
  suffix: 'shop.yaml',
  schema: shopSchema,
  layered: true,
};

export type Shop = z.output<typeof shopSchema>;
export type Rate = z.output<typeof rate>;
export type Schedule = z.output<typeof schedule>;
export type Band = z.output<typeof band>;
export type Fee = z.output<typeof fee>;
export type Supplies = z.output<typeof supplies>;
export type Discount = z.output<typeof discount>;
export type Payer = z.output<typeof payer>;
export type Customer = z.output<typeof customer>;
export type Warranty = z.output<typeof warranty>;
