/** What papers have to hold: rows CA-01 to CA-08, AUTH-05, AUTH-14, FTC-03 to FTC-06, and public cases. */
import { describe, expect, test } from 'vitest';
import type { Jurisdiction } from '../../../schemas/kinds/jurisdiction.ts';
import { shopSchema, type Warranty } from '../../../schemas/kinds/shop.ts';
import { dec } from '../../../schemas/values/decimal.ts';
import {
  contentProblems,
  designationOf,
  disclosureProblems,
  type Paper,
  type PaperLine,
} from '../../../server/src/work/index.ts';
import { jurisdictionOf } from '../../fixtures/jurisdictions.ts';
import { jobOf, read, the } from './fixture.ts';

const california = jurisdictionOf(`
id: california
name: California
as-of: 2024-01-01
source: 16 CCR 3353, 3356, 3357
taxes: [{name: Sales tax, rate: 7.25%}]
taxable: {parts: yes, labor: no}
estimate: {must: [part-prices, labor-prices, part-conditions, waste-itemised, epa-id], source: 16 CCR 3353}
teardown-estimate:
  must: [reassembly-price, destroyed-parts, restoration-notice, reassembly-days]
  source: 16 CCR 3353(c)
invoice:
  must: [registration-number, business-name, labor-prices, part-prices, part-conditions, separate-totals, waste-itemised, epa-id]
  source: 16 CCR 3356
words: {unstated-condition: new}
`);

const FULL = jobOf(`
unit: birch-6
promised: 2026-03-13
completed: 2026-03-12
complaint: It slips.
vehicle: {year: 2019, make: Torvane, model: Drover, plate: N 482 KRT, odometer: 84310 mi}
teardown:
  lines: [{part: SS-B6}]
  days: 10
  notice: It may not be possible to put it back as it was.
authorizations: [{on: 2026-03-05T10:20, by: O, how: signature, amount: 900.00}]
`);

const LINES: PaperLine[] = [
  { path: ['lines', 0], name: 'Overhaul', sort: 'service', amount: dec('1472.50') },
  { path: ['lines', 1], name: 'Converter', sort: 'part', amount: dec('384.25'), condition: 'rebuilt' },
  { path: ['lines', 2], name: 'Fluid B', sort: 'part', amount: dec('175.50'), fluid: true },
  { path: ['lines', 3], name: 'Waste fluid', sort: 'fee', amount: dec('18.00'), waste: true },
];

const paper = (over: Partial<Paper> = {}): Paper => ({
  kind: 'estimate',
  handedOver: true,
  shop: { name: 'Quarrow Creek', address: ['1 Weir Lane'], registration: 'ARD-1', 'epa-id': 'EPA-1' },
  customer: 'O. Oakes',
  job: FULL,
  lines: LINES,
  totals: {
    subtotals: [dec('1472.50'), dec('559.75'), dec('18.00')],
    tax: dec('40.58'),
    total: dec('2090.83'),
    lumpSum: false,
  },
  ...over,
});

const lacks = (over: Partial<Paper>, law: Jurisdiction = california) =>
  contentProblems(paper(over), law).map((one) => one.data?.content);
const line = (index: number, over: Partial<PaperLine>) => LINES.with(index, { ...LINES[index]!, ...over });
const job = (over: Partial<Paper['job']>): Paper['job'] => ({ ...FULL, ...over });

test('complete papers lack nothing', () => {
  for (const kind of ['estimate', 'teardown-estimate', 'invoice'] as const) {
    const lines = [
      ...LINES,
      { path: [], name: 'Reassembly', sort: 'service', amount: dec('620.00'), ifDeclined: true } as PaperLine,
    ];
    expect(lacks({ kind, lines }), kind).toEqual([]);
  }
});

describe('California as it was read', () => {
  test('CA-01: an estimate has prices; a silent part counts as new there', () => {
    expect(lacks({ lines: line(1, { amount: undefined }) })).toEqual(['part-prices']);
    expect(lacks({ lines: line(0, { amount: undefined }) })).toEqual(['labor-prices']);
    expect(lacks({ lines: line(1, { condition: undefined }) })).toEqual([]);
  });

  // Scenario 24 asks for an error that lists each missing item.
  test('CA-02, CA-03, CA-04 and 24: what a teardown estimate lacks, one by one', () => {
    const bare = { kind: 'teardown-estimate', lines: [], job: job({ teardown: { lines: [] } }) } as const;
    expect(lacks(bare)).toEqual([
      'reassembly-price',
      'destroyed-parts',
      'restoration-notice',
      'reassembly-days',
    ]);
    const problems = contentProblems(paper(bare), california);
    expect(problems.every((one) => one.severity === 'error' && one.path[0] === 'teardown')).toBe(true);
    expect(problems[0]?.message).toBe(
      'California wants on a teardown estimate: cost of putting it back together. Write the lines of reassembly and refitting under `if-declined` (16 CCR 3353(c)). Check your local rules.',
    );
  });

  test('whoever takes it in boxes has nothing put together', () => {
    const boxed = { ...FULL.teardown!, 'in-boxes': true };
    expect(lacks({ kind: 'teardown-estimate', job: job({ teardown: boxed }) })).toEqual([]);
  });

  test('CA-05: registration number, name and address of the shop', () => {
    expect(lacks({ kind: 'invoice', shop: { 'epa-id': 'EPA-1' } })).toEqual([
      'registration-number',
      'business-name',
    ]);
    expect(lacks({ kind: 'invoice', shop: { name: 'Q', registration: 'ARD-1', 'epa-id': 'E' } })).toEqual([
      'business-name',
    ]);
  });

  test('CA-06: every service with its price, every part with its price and condition', () => {
    expect(lacks({ kind: 'invoice', lines: line(0, { amount: undefined }) })).toEqual(['labor-prices']);
    expect(lacks({ kind: 'invoice', lines: line(1, { amount: undefined }) })).toEqual(['part-prices']);
    const silent = contentProblems(
      paper({ kind: 'invoice', lines: line(1, { condition: undefined }) }),
      california,
    );
    expect(the(silent, 'paper-lacks')).toMatchObject({
      path: ['lines', 1],
      data: { content: 'part-conditions' },
    });
    expect(silent[0]?.message).toContain('No condition: Converter');
    // What the customer brought has neither.
    expect(
      lacks({ kind: 'invoice', lines: line(1, { amount: undefined, condition: undefined, supplied: true }) }),
    ).toEqual([]);
  });

  test('CA-07: services, parts without tax, and tax make the total', () => {
    const totals = paper().totals!;
    expect(lacks({ kind: 'invoice', totals: { ...totals, total: dec('2090.84') } })).toEqual([
      'separate-totals',
    ]);
    expect(lacks({ kind: 'invoice', totals: { ...totals, lumpSum: true } })).toEqual(['separate-totals']);
  });

  test('CA-08: a waste fee stands by itself, with the EPA number, on both papers', () => {
    const shop = { name: 'Q', address: ['1 Weir Lane'], registration: 'ARD-1' };
    for (const kind of ['estimate', 'invoice'] as const) {
      expect(lacks({ kind, shop })).toEqual(['epa-id']);
      expect(lacks({ kind, shop, lines: LINES.slice(0, 3) })).toEqual([]);
      expect(lacks({ kind, lines: line(3, { sort: 'service' }) })).toEqual(['waste-itemised']);
    }
  });
});

const place = (contents: string, more = '') =>
  jurisdictionOf(`
id: place
name: Place
as-of: 2024-01-01
taxes: []
taxable: {}
estimate: {must: [${contents}]}
invoice: {must: [${contents}]}
${more}`);

describe('elsewhere', () => {
  // Michigan Secretary of State, FAQ on shop supplies.
  test('28: supplies as a percent without dollars', () => {
    const law = place('supplies-amount, supplies-basis');
    expect(lacks({ supplies: { basis: ['labor'] } }, law)).toEqual(['supplies-amount']);
    expect(lacks({ supplies: { amount: dec('75.00'), basis: [] } }, law)).toEqual(['supplies-basis']);
    expect(lacks({ supplies: { amount: dec('75.00'), basis: ['labor'] } }, law)).toEqual([]);
    expect(lacks({}, law)).toEqual([]);
  });

  // RCW 46.71.015 and 15 NYCRR 82.5: the vehicle, its odometer, the problem as reported.
  test('intake: vehicle, odometer, complaint, customer, dates', () => {
    const law = place('vehicle, odometer, complaint, customer, dates, completion-date, authorization');
    expect(lacks({}, law)).toEqual([]);
    const empty = jobOf('unit: birch-6');
    expect(lacks({ job: empty, customer: undefined }, law)).toEqual([
      'vehicle',
      'odometer',
      'complaint',
      'customer',
      'completion-date',
      'authorization',
    ]);
    expect(lacks({ kind: 'invoice', job: empty }, place('dates'))).toEqual(['dates']);
    const plateless = { ...FULL.vehicle!, plate: undefined };
    expect(lacks({ job: job({ vehicle: plateless }) }, place('vehicle'))).toEqual(['vehicle']);
    expect(
      lacks({ job: job({ vehicle: { ...plateless, vin: '1M8GDM9AXKP042788' } }) }, place('vehicle')),
    ).toEqual([]);
  });

  // ATCP 132.06: the subcontractor is named. VTL 398-d(1), AUTH-14: whether a component mixes new and used.
  test('subcontractors, mixed parts, work under warranty', () => {
    const sublet: PaperLine = {
      path: ['lines', 4],
      name: 'Radiator repair',
      sort: 'sublet',
      amount: dec('90.00'),
    };
    expect(lacks({ lines: [...LINES, sublet] }, place('subcontractors'))).toEqual(['subcontractors']);
    expect(
      lacks({ lines: [...LINES, { ...sublet, supplier: 'Weir Radiators' }] }, place('subcontractors')),
    ).toEqual([]);
    expect(lacks({ lines: line(1, { contents: ['new', undefined] }) }, place('mixed-parts'))).toEqual([
      'mixed-parts',
    ]);
    expect(lacks({ lines: line(1, { contents: ['new', 'used'] }) }, place('mixed-parts'))).toEqual([]);
    expect(lacks({ claim: true }, place('warranty-work'))).toEqual(['warranty-work']);
    expect(lacks({ claim: true, lines: line(0, { underWarranty: true }) }, place('warranty-work'))).toEqual(
      [],
    );
  });

  test('AUTH-05: parts and labor itemised, each with its price', () => {
    const law = place('part-prices, labor-prices');
    expect(lacks({ lines: LINES.map((one) => ({ ...one, amount: undefined })) }, law)).toEqual([
      'part-prices',
      'labor-prices',
    ]);
  });

  // FTC-03, 16 CFR 20.1(b): used content is disclosed; the words are the conditions of a part.
  test('FTC-03: where the word is asked for at each part, its line tells of it', () => {
    const silent = { lines: line(1, { condition: undefined }) };
    expect(lacks({ kind: 'invoice', ...silent }, place('part-conditions'))).toEqual(['part-conditions']);
    expect(
      lacks({ kind: 'invoice', ...silent }, place('part-conditions', 'words: {unstated-condition: missing}')),
    ).toEqual([]);
  });

  test('before it is handed over, a paper only warns', () => {
    const problems = contentProblems(paper({ handedOver: false, shop: {} }), place('business-name'));
    expect(problems.map((one) => one.severity)).toEqual(['warning']);
  });
});

describe('FTC-04 to FTC-06: what a written warranty tells before the sale', () => {
  const law = jurisdictionOf(`
id: us
name: United States
as-of: 2024-01-01
taxes: []
taxable: {}
warranty: {disclosed-above: 15.00, must: [who, parts, remedy, duration, claim], source: 16 CFR 701.3 and 702.3}
`);
  const plan = (fields: string): Warranty =>
    read(shopSchema, 'shop', `warranties: {p: {name: 12 months, months: 12, ${fields}}}`).warranties!.p!;
  const whole = plan('covers: parts-only, includes: [the unit], excludes: [the cooler], claim: Call us.');
  const shop = { name: 'Quarrow Creek', address: ['1 Weir Lane'] };
  const told = (one: Warranty, price = '15.01', by: typeof shop | Record<string, never> = shop) =>
    disclosureProblems({ plan: one, path: ['warranty'], price: dec(price), shop: by }, law).map(
      (each) => each.data?.lacking,
    );

  test('from above 15.00 on', () => {
    expect(told(plan('covers: parts-only'), '15.00')).toEqual([]);
    expect(told(plan('covers: parts-only'), '15.01')).toEqual([['parts', 'claim']]);
    expect(told(whole)).toEqual([]);
  });

  test('everything that is lacking, at once', () => {
    expect(told(plan('designation: limited'), '500.00', {})).toEqual([['who', 'parts', 'remedy', 'claim']]);
  });

  // 15 USC 2303: "full" with its duration, or "limited".
  test('FTC-05: what it is called', () => {
    expect(designationOf(plan('designation: full'))).toBe('Full 12-month warranty');
    expect(designationOf(plan('designation: limited'))).toBe('Limited warranty');
    expect(designationOf(whole)).toBe('Limited warranty');
  });
});
