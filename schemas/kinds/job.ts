/** `*.job.yaml`: one job, from complaint to warranty. What has happened is what is recorded; there is no state. */
import { z } from 'zod';
import { field, type KindDeclaration, mapOf } from '../declare.ts';
import {
  choice,
  count,
  date,
  dateTime,
  file,
  id,
  money,
  percent,
  prose,
  quantity,
  reading,
  ref,
  text,
  unitMoney,
  vin,
  year,
  yesNo,
} from '../scalars.ts';
import { line } from './lines.ts';
import { own } from './own.ts';
import { OPTION_KINDS } from './rules.ts';
import { DRIVES, demo, note } from './shared.ts';
import { discount, payerTerms } from './shop.ts';

export const vehicle = z.object({
  vin: field('VIN', 'Vehicle identification number, 17 characters.', vin(), { personal: true }).optional(),
  region: field(
    'Region',
    'Where it was built for. The check digit is asked for in North America only (49 CFR 565).',
    choice({ 'north-america': 'United States and Canada.', elsewhere: 'Anywhere else.' }),
  ).optional(),
  year: field('Year', 'Model year.', year(), { example: '2019' }).optional(),
  make: field('Make', 'The maker.', text(), { personal: false }).optional(),
  model: field('Model', 'The model.', text(), { personal: false }).optional(),
  engine: field('Engine', 'The engine.', text(), { personal: false }).optional(),
  drive: field('Drive', 'How it is driven.', choice(DRIVES)).optional(),
  plate: field('Plate', 'Registration plate.', text(), { personal: true }).optional(),
  odometer: field('Odometer', 'When it came in.', quantity('distance'), { example: '84310 mi' }).optional(),
  'odometer-out': field('Odometer out', 'When it left.', quantity('distance')).optional(),
  features: field('Features', 'What add-ons ask for.', z.array(text()), {
    example: '[skid-plate]',
    personal: false,
  }).optional(),
  heavy: field(
    'Heavy vehicle',
    'Over 10,000 lb: the model-year rule of the VIN is another.',
    yesNo(),
  ).optional(),
});

const pictureRef = z.object({
  picture: field('Picture', 'A file of the shop book.', file('picture')),
  say: field('Caption', 'What it shows.', text()).optional(),
});

export const jobFinding = z.union([
  reading(),
  z.object({
    value: field('Value', 'Yes or no, a word of the scale, or a measurement with its unit.', reading()),
    at: field(
      'At',
      'Conditions of the reading, such as the fluid temperature.',
      mapOf(ref('finding'), reading()),
      {
        example: '{fluid-temperature: 86 F}',
      },
    ).optional(),
    test: field('Test', 'How it was tested here.', text()).optional(),
    sensitivity: field('Sensitivity', 'The least this test can see.', text()).optional(),
    on: field('On', 'When.', date()).optional(),
    by: field('By', 'Who.', text(), { personal: true }).optional(),
    component: field('Component', 'What it was seen on.', ref('role')).optional(),
    pictures: field('Pictures', 'What was seen.', z.array(pictureRef)).optional(),
    video: field('Video', 'Where in the recorded video it is shown.', text(), {
      example: '02:14',
    }).optional(),
    say: field('For the owner', 'In plain words.', prose()).optional(),
    note: note(),
  }),
]);

export const option = z.object({
  name: field('Name', 'As printed.', text(), { example: 'Overhaul your unit' }),
  kind: field('Kind', 'What is done.', choice(OPTION_KINDS)),
  say: field('For the owner', 'What it means, in plain words.', prose()).optional(),
  days: field('Days', 'Working days.', count()).optional(),
  warranty: field('Warranty', 'The plan that goes with it.', ref('warranty')).optional(),
  lines: field('Lines', 'What it takes, beside the lines of the job.', z.array(line)).optional(),
});

export const waiver = z.object({
  role: field('Role', 'The required or advised part or work that is left out.', ref('role')).optional(),
  record: field('Record', 'Or the record.', ref('record')).optional(),
  rule: field('Rule', 'Or whatever this rule asks for.', ref('rule')).optional(),
  reason: field('Reason', 'Why.', text()),
  by: field('Declined by', 'Who decided.', text(), { personal: true }),
  on: field('On', 'When.', date()),
  signed: field('Signed', 'Whether it was signed.', yesNo()).optional(),
});

export const jobPayer = z.object({
  payer: field('Payer', 'Of the shop.', ref('payer')),
  ...payerTerms,
  claim: field('Claim', 'Its number for this job.', text()).optional(),
  'purchase-order': field('Purchase order', 'Its number.', text()).optional(),
  approved: field('Approved', 'How much it has approved.', money()).optional(),
});

export const jobDiscount = z.union([
  ref('discount'),
  z.object({
    discount: field('Discount', 'Of the shop.', ref('discount')),
    percent: field('Percent', 'Instead of the one of the shop.', percent()).optional(),
    amount: field('Amount', 'Instead of the one of the shop.', money()).optional(),
  }),
  discount,
]);

export const jobRecord = z.object({
  record: field('Record', 'Which record.', ref('record'), { example: 'cooler-flush' }),
  on: field('On', 'When.', date()).optional(),
  by: field('By', 'Who did it.', text(), { personal: true }).optional(),
  duration: field('Duration', 'How long it ran.', quantity('time'), { example: '20 min' }).optional(),
  forward: field('Forward', 'Forward seconds of one cycle.', quantity('time'), {
    example: '30 s',
  }).optional(),
  reverse: field('Reverse', 'Reverse seconds of one cycle.', quantity('time'), {
    example: '10 s',
  }).optional(),
  flow: field('Flow', 'Rate of flow.', quantity('flow'), { example: '1.3 gal/min' }).optional(),
  volume: field('Volume', 'What ran through in the timed test.', quantity('volume'), {
    example: '1 qt',
  }).optional(),
  'fluid-temperature': field('Fluid temperature', 'During the work.', quantity('temperature'), {
    example: '150 F',
  }).optional(),
  'air-pressure': field('Air pressure', 'Of the air used.', quantity('pressure'), {
    example: '25 psi',
  }).optional(),
  drained: field('Drained', 'At each fill.', quantity('volume')).optional(),
  total: field('Total', 'In the whole circuit.', quantity('volume')).optional(),
  fills: field('Fills', 'How many.', count()).optional(),
  measurements: field('Measurements', 'Readings by finding.', mapOf(ref('finding'), reading())).optional(),
  at: field('At', 'Conditions of the measurements.', mapOf(ref('finding'), reading())).optional(),
  'unit-number': field('Unit identity number', 'As read from the plate of the unit.', text(), {
    personal: true,
  }).optional(),
  'calibration-before': field('Calibration before', 'As read.', text()).optional(),
  'calibration-after': field('Calibration after', 'As written.', text()).optional(),
  distance: field('Distance', 'Driven.', quantity('distance')).optional(),
  codes: field('Codes', 'Trouble codes found.', z.array(text()), { personal: false }).optional(),
  result: field('Result', 'Whether it passed.', choice({ pass: 'Passed.', fail: 'Failed.' })).optional(),
  proof: field('Proof', 'A picture or printout.', file('picture')).optional(),
  note: note(),
});

export const authorization = z.object({
  on: field('On', 'Date and time.', dateTime(), { example: '2026-03-04T10:20' }),
  by: field('By', 'Who authorized.', text(), { personal: true }),
  'taken-by': field('Taken by', 'Who of the shop took it.', text(), { personal: true }).optional(),
  how: field(
    'How',
    'In what way.',
    choice({
      signature: 'Signed on paper.',
      'in-person': 'Said in person.',
      telephone: 'By telephone.',
      email: 'By e-mail.',
      text: 'By text message.',
    }),
  ),
  contact: field('Contact', 'Telephone number or address used.', text(), { personal: true }).optional(),
  amount: field('Amount', 'The total authorized, as the jurisdiction compares it.', money()),
  for: field(
    'For',
    'What it covers.',
    choice({ diagnosis: 'Diagnosis.', teardown: 'The teardown.', work: 'The work.' }),
    {
      fallback: 'work',
    },
  ).optional(),
  option: field('Option', 'The option chosen.', ref('option', { local: true })).optional(),
  declined: field('Declined', 'Roles that were declined.', z.array(ref('role'))).optional(),
});

export const coreReturn = z.object({
  part: field('Part', 'The part that was sold with a core charge.', ref('part')),
  quantity: field('Quantity', 'How many.', count(), { fallback: '1' }).optional(),
  ledger: field(
    'Ledger',
    'Whose deposit.',
    choice({ customer: 'The customer brings it back to us.', supplier: 'We send it back to the supplier.' }),
  ),
  returned: field('Returned', 'When it came back, or went out.', date()).optional(),
  credit: field('Credit', 'How much of it is credited.', percent(), { example: '100%' }).optional(),
  reason: field('Reason', 'Why not in full.', text()).optional(),
  credited: field('Credited', 'When the money went back.', date()).optional(),
});

export const jobSchema = z.object({
  kind: z.literal('job'),
  demo: demo(),
  id: field('Id', 'Number of the job.', id('job'), { example: 'J-1042' }),
  opened: field('Opened', 'The day it came in.', date()),
  'priced-on': field('Priced on', 'Prices in force on this day count.', date(), {
    fallback: 'the day it was opened',
  }).optional(),
  presented: field('Presented', 'The day the estimate was handed over.', date()).optional(),
  promised: field('Promised', 'The day it is promised for.', date()).optional(),
  completed: field('Completed', 'The day the work was done; warranty counts from it.', date()).optional(),
  customer: field(
    'Customer',
    'A customer of the shop by id, or written out.',
    z.union([
      ref('customer'),
      z.object({
        name: field('Name', 'As printed.', text()),
        phone: field('Telephone', 'Of the person who may authorize.', text()).optional(),
        email: field('E-mail', 'Of the person who may authorize.', text()).optional(),
        address: field('Address', 'Lines of the address.', z.array(text())).optional(),
      }),
    ]),
    { personal: true },
  ).optional(),
  vehicle: field('Vehicle', 'What was brought in.', vehicle).optional(),
  unit: field('Unit family', 'What is in it.', ref('unit'), { example: 'birch-6' }),
  'unit-number': field('Unit identity number', 'From the plate; read it before the unit is hidden.', text(), {
    personal: true,
  }).optional(),
  complaint: field('Complaint', "In the customer's words.", prose()).optional(),
  findings: field('Findings', 'What was found.', mapOf(ref('finding'), jobFinding)).optional(),
  video: field(
    'Video',
    'The recorded walk-around. It lies beside the customer page, which opens it at the mark of each finding.',
    file('video'),
    { example: 'J-1042.mp4' },
  ).optional(),
  reuse: field('Reused', 'What goes back in although it could be replaced.', z.array(ref('role'))).optional(),
  cause: field(
    'Cause of failure',
    'One root cause, its evidence, and what stops it from coming back.',
    z.object({
      what: field('What', 'In plain words.', prose()),
      finding: field('Finding', 'The finding that is the cause.', ref('finding')).optional(),
      evidence: field('Evidence', 'What proves it.', prose()).optional(),
      outside: field('Outside the unit', 'The cause lies outside it.', yesNo()).optional(),
      'third-party': field('Third party', 'Earlier work by someone else.', yesNo()).optional(),
      cured: field(
        'Cured by',
        'What stops it: a role on the job, or the proof that it lies elsewhere.',
        text(),
      ).optional(),
      pictures: field('Pictures', 'Evidence.', z.array(pictureRef)).optional(),
    }),
  ).optional(),
  follows: field('Follows', 'The earlier job that this is a comeback of.', ref('job')).optional(),
  lines: field('Lines', 'What every option takes.', z.array(line)).optional(),
  options: field(
    'Options',
    'Ways to go on, priced side by side.',
    mapOf(id('option', { local: true }), option),
  ).optional(),
  chosen: field('Chosen', 'The option that was chosen.', ref('option', { local: true })).optional(),
  teardown: field(
    'Teardown',
    'A sale of its own: what it costs to open the unit, and to put it back if the owner declines.',
    z.object({
      lines: field('Lines', 'Removal, teardown, and the parts that it destroys.', z.array(line)),
      'if-declined': field('If declined', 'Reassembly and refitting.', z.array(line)).optional(),
      days: field('Reassembly days', 'The longest time to put it back together.', count()).optional(),
      notice: field('Notice', 'That it may not be possible to put it back as it was.', prose()).optional(),
      storage: field('Storage', 'For a day, when it is left here.', money()).optional(),
      declined: field('Declined', 'The day the owner declined the repair.', date()).optional(),
      'in-boxes': field('In boxes', 'The owner takes it apart: nothing is put together.', yesNo()).optional(),
    }),
  ).optional(),
  waivers: field('Waivers', 'Required work that was declined.', z.array(waiver)).optional(),
  payers: field('Payers', 'Who pays besides the customer, in order.', z.array(jobPayer)).optional(),
  discounts: field('Discounts', 'In order.', z.array(jobDiscount)).optional(),
  deposits: field(
    'Deposits and payments',
    'Money received.',
    z.array(
      z.object({
        on: field('On', 'When.', date()),
        amount: field('Amount', 'How much.', money()),
        how: field('How', 'Card, cash, transfer.', text()).optional(),
        by: field('By', 'A payer, when it is not the customer.', ref('payer')).optional(),
      }),
    ),
  ).optional(),
  cores: field('Cores', 'Cores that came back.', z.array(coreReturn)).optional(),
  records: field('Records', 'What the work has left on paper.', z.array(jobRecord)).optional(),
  authorizations: field('Authorizations', 'Who agreed to what.', z.array(authorization)).optional(),
  warranty: field('Warranty', 'The plan, when options do not say.', ref('warranty')).optional(),
  lock: field(
    'Price lock',
    'Prices kept from the day the estimate was presented.',
    z.object({
      on: field('On', 'When it was locked.', date()),
      parts: field(
        'Parts',
        'Price, cost and core of one, by number.',
        mapOf(
          ref('part'),
          z.object({
            price: field('Price', 'Each.', unitMoney()),
            cost: field('Cost', 'Each.', unitMoney()).optional(),
            core: field('Core charge', 'Each.', unitMoney()).optional(),
            ending: field('Ending', 'The amount of a line goes up to it.', money()).optional(),
          }),
        ),
      ).optional(),
      rates: field('Labor rates', 'By class.', mapOf(ref('rate'), money())).optional(),
      operations: field('Flat prices', 'Of operations.', mapOf(ref('operation'), money())).optional(),
      fees: field('Fees', 'Amount of one.', mapOf(ref('fee'), money())).optional(),
      totals: field(
        'Totals as presented',
        'With tax, by option; a job without options has one, named `job`. What prices do not hold (hours, supplies, tax) shows against them.',
        mapOf(text(), money()),
        { example: '{overhaul: 6507.91}', personal: false },
      ).optional(),
    }),
  ).optional(),
  own: own('job'),
  note: note(),
});

export const jobKind: KindDeclaration = {
  kind: 'job',
  title: 'Job',
  description: 'One job: vehicle, findings, options, lines, records, authorizations.',
  suffix: '.job.yaml',
  schema: jobSchema,
  personal: true,
  defines: 'job',
};

export type Job = z.output<typeof jobSchema>;
export type Vehicle = z.output<typeof vehicle>;
export type JobFinding = z.output<typeof jobFinding>;
export type JobOption = z.output<typeof option>;
export type Waiver = z.output<typeof waiver>;
export type JobPayer = z.output<typeof jobPayer>;
export type JobDiscount = z.output<typeof jobDiscount>;
export type JobRecord = z.output<typeof jobRecord>;
export type Authorization = z.output<typeof authorization>;
export type CoreReturn = z.output<typeof coreReturn>;
