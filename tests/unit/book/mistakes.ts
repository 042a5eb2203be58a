/**
 * Mistakes that a shop's writer makes in a file, each with all that is told of it. One list, so that the wording can be
 * read in one go. `text` is put in a file of the kind before it, in a book that has the entries of `AROUND`.
 */

export const AROUND: Readonly<Record<string, string>> = {
  'shop.yaml': `kind: shop
name: Quarrow Creek
currency: USD
rates:
  general: { name: General work, hourly: 148.00 }
schedules:
  standard: { bands: [{ factor: 2 }] }
pricing: { parts: standard }
`,
  'roles.rules.yaml': `kind: rules
roles:
  pump: { name: Pump, of: part }
  cooler-flush: { name: Cooler flush, of: work }
findings:
  glycol: { name: Coolant in the fluid, kind: yes-no }
  debris: { name: Debris, kind: scale, scale: [clean, paste, flakes], normal: paste }
  end-play: { name: End play, kind: measurement, dimension: length }
records:
  road-test: { name: Road test }
`,
  'birch.units.yaml': `kind: units
units:
  birch-6: { name: Birch-6, layout: rear, fluid-class: B, traits: [bands] }
`,
  'old.parts.yaml': `kind: parts
parts:
  PUMP-1: { name: Pump, kind: hard, role: pump, cost: 189.00 }
  PUMP-2: { name: Pump, kind: hard, role: pump, cost: 199.00 }
`,
  'work.labor.yaml': `kind: labor
operations:
  rr-unit:
    name: Remove and refit the unit
    work: removal
    rate: general
    hours: 7.8
    adders:
      four-wheel: { name: 4WD transfer case, hours: 1.2 }
`,
  'kit.template.yaml': `kind: template
id: kit
name: Kit
parameters:
  pump: { type: part }
lines:
  - part: $pump
`,
};

export type Mistake = readonly [what: string, kind: string, text: string, told: readonly string[]];

const shop = (what: string, text: string, ...told: string[]): Mistake => [what, 'shop', text, told];
const parts = (what: string, text: string, ...told: string[]): Mistake => [what, 'parts', text, told];
const labor = (what: string, text: string, ...told: string[]): Mistake => [what, 'labor', text, told];
const units = (what: string, text: string, ...told: string[]): Mistake => [what, 'units', text, told];
const rules = (what: string, text: string, ...told: string[]): Mistake => [what, 'rules', text, told];
const law = (what: string, text: string, ...told: string[]): Mistake => [what, 'jurisdiction', text, told];
const job = (what: string, text: string, ...told: string[]): Mistake => [what, 'job', text, told];
const template = (what: string, text: string, ...told: string[]): Mistake => [what, 'template', text, told];

const part = (text: string) => `parts:\n  P-1:\n    name: Pan gasket\n    kind: soft\n${text}`;
const schedule = (text: string) => `schedules:\n  soft:\n${text}`;
const unit = (text: string) =>
  `units:\n  cedar-8:\n    name: Cedar-8\n    layout: rear\n    fluid-class: B\n${text}`;
const ticket = (text: string) => `id: J-1\nopened: 2026-03-02\nunit: birch-6\n${text}`;

export const MISTAKES: readonly Mistake[] = [
  // money, percent, numbers
  parts('money in words', part('    cost: four\n')),
  parts('money with a comma for the point', part('    cost: 4,10\n')),
  parts('money with its sign', part('    cost: $4.10\n')),
  parts('money finer than it can be', part('    core: 4.1234567\n')),
  shop('a percent without its sign', 'sublet: { markup: 20 }\n'),
  shop('a fraction for a percent', 'sublet: { markup: 0.2 }\n'),
  shop('a margin of all', 'sublet: { margin: 100% }\n'),
  shop('markup and margin', 'sublet: { markup: 20%, margin: 20% }\n'),
  shop('neither markup nor margin', 'sublet: {}\n'),
  shop('a factor below zero', schedule('    bands: [{ factor: -1 }]\n')),
  shop('no band', schedule('    bands: []\n')),
  shop(
    'bands that do not rise',
    schedule('    bands: [{ below: 50, factor: 3 }, { below: 10, factor: 2 }, { factor: 1.5 }]\n'),
  ),
  shop(
    'the last band is closed',
    schedule('    bands: [{ below: 10, factor: 2 }, { below: 50, factor: 2 }]\n'),
  ),
  shop(
    'an open band in the middle',
    schedule('    bands: [{ factor: 2 }, { below: 50, factor: 2 }, { factor: 2 }]\n'),
  ),
  shop('a dearer part sells for less', schedule('    bands: [{ below: 10, factor: 3 }, { factor: 2.2 }]\n')),
  shop('a least margin of all', schedule('    least-margin: 100%\n    bands: [{ factor: 2 }]\n')),
  shop('a currency that is none', 'currency: DOLLAR\n'),
  shop('a fee without a figure', 'fees:\n  waste: { name: Waste }\n'),
  shop('a percent of nothing', 'fees:\n  waste: { name: Waste, percent: 2% }\n'),
  shop('supplies of fees', 'supplies: { rate: 6%, on: [labor, fees] }\n'),
  shop('a wrong word in a list', 'supplies: { rate: 6%, on: [labour] }\n'),
  shop('months with a fraction', 'warranties:\n  year: { name: A year, months: 12.5 }\n'),
  shop('a distance without its unit', 'warranties:\n  year: { name: A year, months: 12, distance: 12000 }\n'),

  // quantities
  units('a quantity without its unit', unit('    capacities: { dry: 11.6 }\n')),
  units('a unit of another measure', unit('    capacities: { dry: 11.6 psi }\n')),
  units('a unit that is none', unit('    capacities: { dry: 11.6 qrt }\n')),
  units('a quart of no country', unit('    capacities: { dry: about 11 qt }\n')),
  units('a limit without its unit', unit('    limits:\n      end-play: { rows: [{ least: 0.005 }] }\n')),
  units('a limit without rows', unit('    limits:\n      end-play: { rows: [] }\n')),
  units(
    'a limit of something that is not measured',
    unit('    limits:\n      glycol: { rows: [{ least: 1 qt }] }\n'),
  ),
  labor('hours as a clock shows them', 'operations:\n  flush: { name: Flush, work: cooling, hours: 1:30 }\n'),

  // words and shapes
  parts('a word that is not of the list', part('    condition: nwe\n')),
  parts('yes or no in other words', part('    pack: { unit: case, of: 12, whole: maybe }\n')),
  parts('a unit that nothing is sold by', part('    unit: quartz\n')),
  parts('a field with a slip', part('    csot: 4.10\n')),
  parts('a field that is missing', 'parts:\n  P-1:\n    kind: soft\n'),
  parts('a field with nothing after it', part('    cost:\n')),
  parts('one value where a list belongs', part('    fits: birch-6\n')),
  parts('a catalog with a slip', 'prats:\n  P-1: { name: Pan gasket, kind: soft }\n'),
  parts('a catalog as a list', 'parts:\n  - P-1\n'),
  parts('an id that programs use', 'parts:\n  constructor: { name: Pan gasket, kind: soft }\n'),
  job('a date that is none', ticket('promised: 2026-02-30\n')),
  job('a date the other way round', ticket('promised: 3/4/2026\n')),
  job('a year with two digits', ticket('vehicle: { year: 19 }\n')),
  job('a line that does not say what it is', ticket('lines:\n  - quantity: 2\n')),
  job('a line that is two things', ticket('lines:\n  - part: PUMP-1\n    operation: rr-unit\n')),
  job('a file that lacks what it needs', 'id: J-1\nopened: 2026-03-02\n'),
  law('a jurisdiction without its taxes', 'id: state-n\nname: State N\nas-of: 2026-01-01\ntaxable: {}\n'),

  // dates of prices
  parts(
    'prices that overlap',
    part(
      '    prices:\n      - { from: 2026-01-01, until: 2026-06-30, cost: 4 }\n      - { from: 2026-06-01, cost: 5 }\n',
    ),
  ),
  parts(
    'prices with a gap',
    part(
      '    prices:\n      - { from: 2026-01-01, until: 2026-05-31, cost: 4 }\n      - { from: 2026-07-01, cost: 5 }\n',
    ),
  ),
  parts(
    'a price that ends before it starts',
    part('    prices:\n      - { from: 2026-06-01, until: 2026-01-31, cost: 4 }\n'),
  ),

  // ids
  parts('a role that nobody defines', part('    role: pumpe\n')),
  parts('a part that is in another file', 'parts:\n  PUMP-1: { name: Pump, kind: hard }\n'),
  parts(
    'a part twice in one file',
    'parts:\n  P-1: { name: Pump, kind: hard }\n  P-1: { name: Pump, kind: hard }\n',
  ),
  parts(
    'numbers that supersede one another',
    'parts:\n  A: { name: Old, kind: soft, superseded-by: { part: B } }\n  B: { name: New, kind: soft, superseded-by: { part: A } }\n',
  ),
  parts('a kit of parts that are not there', part('    contents: [{ part: PUMP-3 }]\n')),
  parts('a picture that is not there', part('    picture: pump.jpg\n')),
  parts('a picture outside the book', part('    picture: ../../pump.jpg\n')),
  parts(
    'a price file that is not there',
    'from: { file: north.csv, columns: { number: Number }, kind: soft }\n',
  ),
  labor(
    'a rate that the shop does not have',
    'operations:\n  flush: { name: Flush, work: cooling, rate: genral, hours: 1 }\n',
  ),
  units(
    'a condition that is no finding',
    unit('    limits:\n      end-play: { rows: [{ when: { colour: red }, least: 0.005 in }] }\n'),
  ),
  rules(
    'a finding that nobody defines',
    'rules:\n  r: { when: { finding: glycl }, because: It is so., basis: shop }\n',
  ),
  rules(
    'a word that is not on the scale',
    'rules:\n  r: { when: { finding: debris, at-least: pieces }, because: It is so., basis: shop }\n',
  ),
  shop('a jurisdiction that is not there', 'jurisdiction: state-z\n'),
  shop('a shop file that is not there', 'extends: common/shop.yaml\n'),
  job('a part that is not there', ticket('lines:\n  - part: PUMP-11\n')),
  job(
    'an add-on of another operation',
    ticket('lines:\n  - { operation: rr-unit, adders: [four-wheels] }\n'),
  ),
  job(
    'an option that is not there',
    ticket('options:\n  overhaul: { name: Overhaul, kind: overhaul }\nchosen: overhual\n'),
  ),
  job(
    'a parameter that the template does not have',
    ticket('lines:\n  - template: kit\n    with: { pumpe: PUMP-1 }\n'),
  ),
  job('a customer that the shop does not know', ticket('customer: oakes\n')),
  template('a parameter that is not declared', 'id: other\nname: Other\nlines:\n  - part: $pump\n'),
  template(
    'a line with a slip',
    'id: other\nname: Other\nparameters:\n  qty: { type: number }\nlines:\n  - prat: PUMP-1\n  - { part: PUMP-1, quantity: many }\n  - { part: PUMP-1, quantity: $qty }\n',
  ),
];
