/** Random books, shops and sales, as they are after reading: enough of everything that pricing looks at. */
import fc from 'fast-check';
import type { Jurisdiction } from '../../schemas/kinds/jurisdiction.ts';
import type { Operation, Step } from '../../schemas/kinds/labor.ts';
import type { Part } from '../../schemas/kinds/parts.ts';
import type { Discount, Payer, Schedule, Shop } from '../../schemas/kinds/shop.ts';
import type { Unit } from '../../schemas/kinds/units.ts';
import { isoDate } from '../../schemas/values/dates.ts';
import { type Decimal, dec } from '../../schemas/values/decimal.ts';
import { quantity } from '../../schemas/values/quantity.ts';
import type { Catalog, JobLine, Policy, Sale } from '../../server/src/pricing/model.ts';

export interface Scene {
  readonly parts: Readonly<Record<string, Part>>;
  readonly operations: Readonly<Record<string, Operation>>;
  readonly steps: Readonly<Record<string, Step>>;
  readonly units: Readonly<Record<string, Unit>>;
  readonly sale: Sale;
  readonly policy: Policy;
}

export function catalogOf(scene: Pick<Scene, 'parts' | 'operations' | 'steps' | 'units'>): Catalog {
  return {
    part: (id) => scene.parts[id],
    operation: (id) => scene.operations[id],
    step: (id) => scene.steps[id],
    unit: (id) => scene.units[id],
  };
}

const hundredths = (most: number, from = 0) =>
  fc.integer({ min: from, max: most }).map((value): Decimal => dec(BigInt(value)).div(dec('100')));
const cents = (most = 200_000, from = 0) => hundredths(most, from);
const share = (most = 60) => hundredths(most);
const maybe = <T>(of: fc.Arbitrary<T>) => fc.option(of, { nil: undefined, freq: 2 });
const some = <const T>(...of: readonly T[]): fc.Arbitrary<T> => fc.constantFrom(...of);
const subset = <const T>(...of: readonly T[]): fc.Arbitrary<T[]> => fc.subarray([...of], { minLength: 1 });

const PARTS = ['p1', 'p2', 'p3', 'p4', 'fluid', 'kit', 'sum', 'old'];
const OPERATIONS = ['o1', 'o2', 'o3', 'o4', 'flat', 'bought'];
const RATES = ['r1', 'r2'];
const CATEGORIES = ['parts', 'fluids', 'labor', 'sublet', 'cores', 'supplies', 'fees'] as const;
const COVERAGES = [
  'parts',
  'fluids',
  'labor',
  'diagnosis',
  'programming',
  'sublet',
  'cores',
  'supplies',
  'fees',
] as const;

const part: fc.Arbitrary<Part> = fc.record({
  name: fc.constant('Part'),
  kind: some('soft', 'hard', 'unit', 'converter'),
  cost: maybe(cents()),
  price: maybe(cents()),
  list: maybe(cents()),
  core: maybe(cents(20_000)),
  role: maybe(some('a', 'b')),
  condition: maybe(some('new', 'rebuilt', 'used')),
  freight: maybe(cents(1000)),
});

const parts = fc.tuple(part, part, part, part, part, part).map(
  ([p1, p2, p3, p4, fluid, kit]): Record<string, Part> => ({
    p1,
    p2,
    p3,
    p4: { ...p4, core: undefined, role: undefined, condition: undefined },
    fluid: { ...fluid, kind: 'fluid', core: undefined, role: 'fluid' },
    kit: { ...kit, kind: 'kit', contents: [{ part: 'p1' }, { part: 'p2', quantity: dec('3') }] },
    sum: {
      name: 'Sum',
      kind: 'kit',
      'kit-price': 'contents',
      contents: [{ part: 'p3', quantity: dec('2') }],
    },
    old: { name: 'Old', kind: 'hard', 'superseded-by': { part: 'p2', quantity: dec('2') } },
  }),
);

const operation: fc.Arbitrary<Operation> = fc.record({
  name: fc.constant('Operation'),
  work: some('diagnosis', 'bench', 'removal', 'programming'),
  rate: some(...RATES),
  hours: maybe(hundredths(2000)),
  steps: maybe(subset('s1', 's2', 's3')),
  minimum: maybe(cents(20_000)),
  role: maybe(some('a', 'c')),
});

const operations = fc.tuple(operation, operation, operation, operation, cents(), cents(), fc.boolean()).map(
  ([o1, o2, o3, o4, flat, bought, including]): Record<string, Operation> => ({
    o1: including ? { ...o1, includes: ['o2'] } : o1,
    o2,
    o3: { ...o3, credited: { role: 'c' } },
    o4: { ...o4, adders: { x: { name: 'Add-on', hours: dec('0.5'), when: { drive: ['4wd'] } } } },
    flat: { name: 'Flat', work: 'bench', rate: 'r1', price: flat, hours: dec('2'), steps: ['s1'] },
    bought: { name: 'Bought', work: 'bench', sublet: { labor: bought, parts: dec('10.00') } },
  }),
);

const steps = fc.tuple(hundredths(900), hundredths(900), hundredths(900)).map(
  ([s1, s2, s3]): Record<string, Step> => ({
    s1: { name: 'One', hours: s1, needs: ['s2'] },
    s2: { name: 'Two', hours: s2 },
    s3: { name: 'Three', hours: s3, rate: 'r2' },
  }),
);

const reasoned = { reason: fc.constant('because') };
const lineExtras = {
  discount: maybe(share(120)),
  payer: maybe(some('one', 'two')),
  'customer-pays': maybe(fc.boolean()),
};
const line: fc.Arbitrary<JobLine> = fc.oneof(
  fc.record({
    part: some(...PARTS),
    quantity: fc.integer({ min: 0, max: 12 }).map((n) => dec(String(n))),
    price: maybe(cents()),
    core: maybe(some('charged', 'exchanged', 'when-late', 'held')),
    supplied: some(false, false, false, true),
    ...reasoned,
    ...lineExtras,
  }),
  fc.record({
    operation: some(...OPERATIONS),
    quantity: maybe(some(dec('1'), dec('2'))),
    hours: maybe(hundredths(2000)),
    price: maybe(cents()),
    'no-charge': maybe(fc.boolean()),
    ...reasoned,
    ...lineExtras,
  }),
  fc.record({
    sublet: fc.constant('Sublet'),
    'labor-cost': maybe(cents()),
    'parts-cost': maybe(cents()),
    price: maybe(cents()),
    ...reasoned,
    ...lineExtras,
  }),
  fc.record({
    other: fc.constant('Other'),
    category: some('parts', 'labor', 'fees'),
    price: cents(),
    quantity: maybe(hundredths(500)),
    cost: maybe(cents()),
    hours: maybe(hundredths(300)),
    ...lineExtras,
  }),
  fc.record({ fee: some('f1', 'f2', 'f3'), quantity: maybe(some(dec('1'), dec('2'))), ...lineExtras }),
  fc.record({
    fill: some('dry', 'service'),
    part: fc.constant('fluid'),
    loss: maybe(fc.constant(quantity('1', 'qt'))),
    ...reasoned,
    ...lineExtras,
  }),
);

export const schedule: fc.Arbitrary<Schedule> = fc.record({
  how: some('whole', 'graduated'),
  basis: maybe(some('cost', 'landed')),
  bands: fc
    .tuple(
      fc.uniqueArray(fc.integer({ min: 1, max: 150_000 }), { maxLength: 4 }),
      fc.array(hundredths(400, 100), { minLength: 5, maxLength: 5 }),
    )
    .map(([edges, factors]) => [
      ...edges
        .toSorted((a, b) => a - b)
        .map((edge, at) => ({ below: dec(BigInt(edge)).div(dec('100')), factor: factors[at] })),
      { factor: factors[4] },
    ]),
  list: maybe(some('ignore', 'at', 'at-least', 'at-most')),
  ending: maybe(some(dec('0.95'), dec('0.50'))),
  'ending-per': maybe(some('each', 'line')),
  'least-margin': maybe(share(50)),
});

const discount: fc.Arbitrary<Discount> = fc.record({
  name: fc.constant('Discount'),
  percent: maybe(share()),
  amount: maybe(cents(60_000)),
  on: subset(...CATEGORIES),
  'funded-by': maybe(some('shop', 'third-party')),
  expires: maybe(some(isoDate('2026-01-01'), isoDate('2026-12-31'))),
  'below-cost': maybe(fc.boolean()),
});

const payer: fc.Arbitrary<Payer> = fc.record({
  name: fc.constant('Payer'),
  kind: some('contract', 'fleet', 'warranty', 'shop'),
  covers: maybe(subset(...COVERAGES)),
  hours: maybe(hundredths(2000)),
  rate: maybe(cents(20_000)),
  'parts-limit': maybe(cents()),
  'parts-discount': maybe(share()),
  limit: maybe(cents(400_000)),
  deductible: maybe(cents(50_000)),
  gap: maybe(some('customer', 'shop')),
  exempt: fc.option(fc.constant('certificate'), { nil: undefined, freq: 4 }),
});

const shop: fc.Arbitrary<Shop> = fc
  .record({
    rates: fc.tuple(cents(30_000), cents(30_000), maybe(cents(60_000))),
    schedule,
    sublet: share(),
    cores: maybe(some('charged', 'exchanged', 'when-late', 'held')),
    supplies: maybe(
      fc.record({
        rate: share(20),
        on: subset('parts', 'labor', 'fluids', 'sublet'),
        'after-discount': maybe(fc.boolean()),
        minimum: maybe(cents(5000)),
        maximum: maybe(cents(9000)),
      }),
    ),
    fees: fc.tuple(cents(5000), share(10), fc.boolean()),
    tax: fc.record({
      rounding: some('invoice', 'line'),
      stack: some('combined', 'each'),
      prices: some('exclusive', 'exclusive', 'inclusive'),
      billing: some('separated', 'separated', 'separated', 'lump-sum'),
    }),
    discounts: fc.tuple(discount, discount),
    payers: fc.tuple(payer, payer),
    warranty: fc.tuple(maybe(share(10)), maybe(cents(40_000))),
  })
  .map(
    (raw): Shop => ({
      kind: 'shop',
      jurisdiction: 'j',
      rates: {
        r1: { name: 'One', hourly: raw.rates[0], minimum: raw.rates[2], cost: dec('48.00') },
        r2: { name: 'Two', hourly: raw.rates[1] },
      },
      schedules: { std: raw.schedule },
      pricing: { parts: 'std' },
      sublet: { markup: raw.sublet },
      cores: raw.cores,
      supplies: raw.supplies,
      fees: {
        f1: { name: 'Fee one', amount: raw.fees[0] },
        f2: { name: 'Fee two', percent: raw.fees[1], on: ['parts', 'labor'], maximum: dec('90.00') },
        f3: {
          name: 'Fee three',
          amount: dec('1.25'),
          each: 'unit-sold',
          role: 'fluid',
          automatic: raw.fees[2],
          'with-role': 'fluid',
        },
      },
      tax: raw.tax,
      discounts: { d1: raw.discounts[0], d2: raw.discounts[1] },
      payers: { one: raw.payers[0], two: raw.payers[1] },
      warranties: { w: { name: 'Plan', months: 12, percent: raw.warranty[0], amount: raw.warranty[1] } },
    }),
  );

const CLASSES = [
  'parts',
  'fluids',
  'labor',
  'diagnosis',
  'sublet-parts',
  'sublet-labor',
  'supplies',
  'fees',
  'cores',
];
const coreTax = fc.record({
  charge: some('taxed', 'untaxed'),
  exchange: maybe(some('full', 'net')),
  'refund-tax': fc.boolean(),
});
const jurisdiction: fc.Arbitrary<Jurisdiction> = fc
  .record({
    rates: fc.array(fc.integer({ min: 0, max: 9000 }), { maxLength: 3 }),
    taxable: fc.tuple(...CLASSES.map(() => some('yes', 'no', 'prorated'))),
    cores: fc.option(fc.tuple(coreTax, coreTax), { nil: undefined, freq: 3 }),
    coupons: maybe(some('before', 'after')),
    lump: some('taxed', 'untaxed'),
    warrantyTaxed: fc.boolean(),
    atLeastCost: maybe(fc.boolean()),
  })
  .map(
    (raw): Jurisdiction => ({
      kind: 'jurisdiction',
      id: 'j',
      name: 'J',
      'as-of': isoDate('2026-01-01'),
      taxes: raw.rates.map((rate, at) => ({ name: `Tax ${at}`, rate: dec(BigInt(rate)).div(dec('100000')) })),
      taxable: Object.fromEntries(CLASSES.map((one, at) => [one, raw.taxable[at]!])),
      'lump-sum': raw.lump,
      cores: raw.cores && { default: raw.cores[0], rebuilt: raw.cores[1] },
      coupons: raw.coupons,
      'payer-taxed': { warranty: raw.warrantyTaxed },
      'parts-at-least-cost': raw.atLeastCost,
    }),
  );

const sale: fc.Arbitrary<Sale> = fc
  .record({
    lines: fc.array(line, { maxLength: 12 }),
    drive: maybe(some('4wd', 'rwd')),
    payers: some([], ['one'], ['one', 'two'], ['two', 'one']),
    discounts: fc.array(fc.oneof(some('d1', 'd2'), discount), { maxLength: 3 }),
    deposits: fc.array(fc.tuple(cents(), maybe(some('one', 'two'))), { maxLength: 2 }),
    back: fc.array(
      fc.tuple(some('p1', 'p2', 'p3'), some('customer', 'supplier'), maybe(share(100)), fc.boolean()),
      {
        maxLength: 3,
      },
    ),
    exempt: some(false, false, false, true),
    warranty: fc.boolean(),
    lock: maybe(cents()),
  })
  .map(
    (raw): Sale => ({
      lines: raw.lines.map((one, at) => ({ path: ['lines', at], line: one })),
      unit: 'u',
      vehicle: { drive: raw.drive },
      payers: raw.payers.map((id) => ({ payer: id })),
      discounts: raw.discounts,
      deposits: raw.deposits.map(([amount, by]) => ({ on: isoDate('2026-03-03'), amount, by })),
      cores: raw.back.map(([id, ledger, credit, settled]) => ({
        part: id,
        ledger,
        credit,
        reason: 'because',
        returned: isoDate('2026-03-20'),
        credited: settled ? isoDate('2026-03-21') : undefined,
      })),
      customer: raw.exempt ? { name: 'Town', exempt: { certificate: 'C' } } : undefined,
      warranty: raw.warranty ? 'w' : undefined,
      lock: raw.lock && { on: isoDate('2026-02-01'), parts: { p1: { price: raw.lock, cost: dec('3.00') } } },
    }),
  );

const units: Record<string, Unit> = {
  u: {
    name: 'Unit',
    layout: 'rear',
    'fluid-class': 'B',
    capacities: { dry: quantity('11.0', 'L'), service: quantity('5', 'qt') },
  },
};

export const scene: fc.Arbitrary<Scene> = fc
  .record({
    parts,
    operations,
    steps,
    sale,
    shop,
    jurisdiction,
    currency: some('USD', 'USD', 'USD', 'JPY', 'KWD'),
  })
  .map(({ shop, jurisdiction, currency, ...raw }) => ({
    ...raw,
    units,
    policy: { shop, jurisdiction, currency, on: isoDate('2026-03-02') },
  }));
