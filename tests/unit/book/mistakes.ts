/**
 * Mistakes that a shop's writer makes in a file, each with all that is told of it. One list, so that the wording can be
 * read in one go. `text` is put in a file of the kind before it, in a book that has the entries of `AROUND`.
 */

export const AROUND: Readonly<Record<string, string>> = {
  'shop.yaml': `kind: shop
name: Quarrow Creek
currency: USD
jurisdiction: state-n
rates:
  general: { name: General work, hourly: 148.00 }
schedules:
  standard: { bands: [{ factor: 2 }] }
pricing: { parts: standard }
fields:
  shelf: { name: Shelf, meaning: Where it lies., type: text, on: [part] }
  bay: { name: Bay, meaning: Where it stands., type: choice, choices: { lift-1: First, lift-2: Second }, on: [job] }
`,
  'state-n.jurisdiction.yaml': `kind: jurisdiction
id: state-n
name: State N
as-of: 2026-01-01
taxes: [{ name: State tax, rate: 7% }]
taxable: { parts: yes, fluids: yes, labor: no, fees: no, cores: yes }
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
  parts(
    'money in words',
    part('    cost: four\n'),
    'wrong-value: "four" is not a number. Write digits, such as 12.50.',
  ),
  parts(
    'money with a comma for the point',
    part('    cost: 4,10\n'),
    'wrong-value: A point marks the decimals and a comma only sets off thousands: write 4.10.',
  ),
  parts(
    'money with its sign',
    part('    cost: $4.10\n'),
    'wrong-value: Write the amount alone: 4.10. The currency is set once for the whole shop.',
  ),
  parts(
    'money finer than it can be',
    part('    core: 4.1234567\n'),
    'wrong-value: 4.1234567 has 7 decimals. Write at most 6, such as 12.500000.',
  ),
  shop(
    'a percent without its sign',
    'sublet: { markup: 20 }\n',
    'wrong-value: A percentage needs its sign: write 20%.',
  ),
  shop(
    'a fraction for a percent',
    'sublet: { markup: 0.2 }\n',
    'wrong-value: A percentage needs its sign: write 20% (or 0.2% if so little is meant).',
  ),
  shop(
    'a margin of all',
    'sublet: { margin: 100% }\n',
    'wrong-value: A margin of 100% or more has no price: price = cost / (1 - margin). Did you mean markup?',
  ),
  shop(
    'markup and margin',
    'sublet: { markup: 20%, margin: 20% }\n',
    'wrong-value: Give one of factor, markup or margin, and only one.',
  ),
  shop(
    'neither markup nor margin',
    'sublet: {}\n',
    'wrong-value: Give one of factor, markup or margin, and only one.',
  ),
  shop(
    'a factor below zero',
    schedule('    bands: [{ factor: -1 }]\n'),
    'wrong-value: This cannot be less than 0.',
  ),
  shop('no band', schedule('    bands: []\n'), 'empty-value: At least one is needed here.'),
  shop(
    'bands that do not rise',
    schedule('    bands: [{ below: 50, factor: 3 }, { below: 10, factor: 2 }, { factor: 1.5 }]\n'),
    'band-out-of-order: This band ends at 10.00, not above 50.00 where it begins, so nothing falls into it. Put the bands in rising order of cost.',
    'band-edge-drop: A part that costs 49.99 sells for 149.97, and one that costs 50.00 for only 75.00. Write `how: graduated`, or bring the two factors closer.',
  ),
  shop(
    'the last band is closed',
    schedule('    bands: [{ below: 10, factor: 2 }, { below: 50, factor: 2 }]\n'),
    'band-last-closed: A part that costs 50.00 or more has no price: the last band has no end. Leave out `below`.',
  ),
  shop(
    'an open band in the middle',
    schedule('    bands: [{ factor: 2 }, { below: 50, factor: 2 }, { factor: 2 }]\n'),
    'band-open-early: Only the last band may be without `below`: those after it are never reached. Say where this one ends.',
  ),
  shop(
    'a dearer part sells for less',
    schedule('    bands: [{ below: 10, factor: 3 }, { factor: 2.2 }]\n'),
    'band-edge-drop: A part that costs 9.99 sells for 29.97, and one that costs 10.00 for only 22.00. Write `how: graduated`, or bring the two factors closer.',
  ),
  shop(
    'a least margin of all',
    schedule('    least-margin: 100%\n    bands: [{ factor: 2 }]\n'),
    'margin-without-price: A margin of 100% or more has no price: price = cost / (1 - margin). This least margin is not applied; write less than 100%.',
  ),
  shop(
    'a currency that is none',
    'currency: DOLLAR\n',
    'wrong-value: "DOLLAR" is not a currency code. Write the three letters of ISO 4217, such as USD or CAD.',
  ),
  shop(
    'a fee without a figure',
    'fees:\n  waste: { name: Waste }\n',
    'fee-without-figure: Waste has neither an amount nor a percent. Give it one.',
  ),
  shop(
    'a percent of nothing',
    'fees:\n  waste: { name: Waste, percent: 2% }\n',
    'fee-without-base: Waste is a percent of nothing. Write under `on` what it is taken of.',
  ),
  shop(
    'supplies of fees',
    'supplies: { rate: 6%, on: [labor, fees] }\n',
    'base-counted-later: Shop supplies are counted before fees, so they cannot be a share of them. Take fees out.',
  ),
  shop(
    'a wrong word in a list',
    'supplies: { rate: 6%, on: [labour] }\n',
    'wrong-word: "labour" is not one of the words for this. Did you mean "labor"?',
  ),
  shop(
    'months with a fraction',
    'warranties:\n  year: { name: A year, months: 12.5 }\n',
    'wrong-value: Write a whole number here, such as 12.',
  ),
  shop(
    'a distance without its unit',
    'warranties:\n  year: { name: A year, months: 12, distance: 12000 }\n',
    'wrong-value: 12000 of what? Write the unit too: mi or km, such as 84,310 mi.',
    'warranty-unclear: A year does not say what is in and what is out, which is argued about on a claim. List both under `includes` and `excludes`. Say whether it covers the converter, cooler and lines, electronics and programming, labor or towing.',
  ),

  // quantities
  units(
    'a quantity without its unit',
    unit('    capacities: { dry: 11.6 }\n'),
    'wrong-value: 11.6 of what? Write the unit too: qt, L, gal or pt, such as 3 qt.',
  ),
  units(
    'a unit of another measure',
    unit('    capacities: { dry: 11.6 psi }\n'),
    'wrong-value: 11.6 psi is a pressure; a volume is needed, such as 11.6 qt.',
  ),
  units(
    'a unit that is none',
    unit('    capacities: { dry: 11.6 qrt }\n'),
    'wrong-value: "qrt" is not a unit known here. Did you mean "qt"?',
  ),
  units(
    'a quart of no country',
    unit('    capacities: { dry: about 11 qt }\n'),
    'wrong-value: "about 11 qt" is not a volume. Write an amount with its unit, such as 3 qt.',
  ),
  units(
    'a limit without its unit',
    unit('    limits:\n      end-play: { rows: [{ least: 0.005 }] }\n'),
    'limit-value: 0.005 of what? Write the unit too: in, mm, ft or cm, such as 0.018 in.',
  ),
  units(
    'a limit without rows',
    unit('    limits:\n      end-play: { rows: [] }\n'),
    'empty-value: At least one is needed here.',
  ),
  units(
    'a limit of something that is not measured',
    unit('    limits:\n      glycol: { rows: [{ least: 1 qt }] }\n'),
    'limit-value: Coolant in the fluid is answered yes or no, not "1 qt".',
  ),
  labor(
    'hours as a clock shows them',
    'operations:\n  flush: { name: Flush, work: cooling, hours: 1:30 }\n',
    'wrong-value: Write hours as 3.9, 3.9 h or 45 min.',
  ),

  // words and shapes
  parts(
    'a word that is not of the list',
    part('    condition: nwe\n'),
    'wrong-word: "nwe" is not one of the words for this. Did you mean "new"?',
  ),
  parts(
    'yes or no in other words',
    part('    pack: { unit: case, of: 12, whole: maybe }\n'),
    'wrong-value: Write yes or no.',
  ),
  parts(
    'a unit that nothing is sold by',
    part('    unit: quartz\n'),
    'wrong-value: "quartz" is not something parts are sold by. Write each, pair, set, quart, liter or foot. Did you mean "quart"?',
  ),
  parts(
    'a field with a slip',
    part('    csot: 4.10\n'),
    'unknown-key: "csot" is not a field that is known here. Did you mean "cost"?',
  ),
  parts(
    'a field that is missing',
    'parts:\n  P-1:\n    kind: soft\n',
    'missing-field: "name" is missing; it is needed here. Name: as printed, such as Torque converter, Birch-6.',
  ),
  parts(
    'a field with nothing after it',
    part('    cost:\n'),
    'empty-value: "cost" has nothing after it. Write a value, or remove the line.',
  ),
  parts(
    'one value where a list belongs',
    part('    fits: birch-6\n'),
    'wrong-shape: Here is a single value; write a list: "- …" on lines of their own, or [a, b].',
  ),
  parts(
    'a catalog with a slip',
    'prats:\n  P-1: { name: Pan gasket, kind: soft }\n',
    'unknown-key: "prats" is not a field of a parts file. Did you mean "parts"?',
  ),
  parts(
    'a catalog as a list',
    'parts:\n  - P-1\n',
    'wrong-shape: Here is a list; write fields of its own, such as "name: …", set in under it.',
  ),
  parts(
    'an id that programs use',
    'parts:\n  constructor: { name: Pan gasket, kind: soft }\n',
    'wrong-value: "constructor" is a word that programs keep for themselves; choose another id.',
  ),
  job(
    'a date that is none',
    ticket('promised: 2026-02-30\n'),
    'wrong-value: February 2026 has 28 days; its last is 2026-02-28.',
  ),
  job(
    'a date the other way round',
    ticket('promised: 3/4/2026\n'),
    'wrong-value: "3/4/2026" is not a date as written here. Write year-month-day, such as 2026-03-14.',
  ),
  job(
    'a year with two digits',
    ticket('vehicle: { year: 19 }\n'),
    'wrong-value: Write the year with four digits, such as 2019.',
  ),
  job(
    'a line that does not say what it is',
    ticket('lines:\n  - quantity: 2\n'),
    'unclear-entry: This does not say what it is. Begin it with one of: fill, part, operation, sublet, fee, other, template.',
  ),
  job(
    'a line that is two things',
    ticket('lines:\n  - part: PUMP-1\n    operation: rr-unit\n'),
    'unknown-key: One entry cannot have both "part" and "operation". Give each an entry of its own.',
  ),
  job(
    'a file that lacks what it needs',
    'id: J-1\nopened: 2026-03-02\n',
    'missing-field: "unit" is missing; a job file needs it. Unit family: what is in it, such as birch-6.',
  ),
  law(
    'a jurisdiction without its taxes',
    'id: state-s\nname: State N\nas-of: 2026-01-01\ntaxable: {}\n',
    'missing-field: "taxes" is missing; a jurisdiction file needs it. Taxes: rates that are laid on a sale.',
  ),

  // counts and packs
  parts(
    'a set of nobody knows how many',
    part('    unit: set\n'),
    'set-without-count: A set needs a count: write how many pieces it `holds`.',
  ),
  parts(
    'a pack that holds nothing',
    part('    pack: { unit: case, of: 0, cost: 81.00 }\n'),
    'pack-of-none: A pack that holds none has no cost for one. Write how many it holds.',
  ),
  parts(
    'a kit priced by contents it does not have',
    part('    kit-price: contents\n'),
    'kit-without-contents: The price is to be the sum of the contents, but the kit has none. Write its `contents`, or give it a price of its own.',
  ),
  parts(
    'a kit that holds itself',
    'parts:\n  K: { name: Kit, kind: kit, contents: [{ part: K }] }\n',
    'kit-holds-itself: This kit holds itself, directly or through a kit inside it. Take that out.',
  ),
  parts(
    'none of the new for one of the old',
    part('    superseded-by: { part: PUMP-1, quantity: 0 }\n'),
    'supersession-of-none: None of the new number for one of the old would sell nothing. Write how many take its place.',
  ),
  job(
    'a part and a half',
    ticket('lines:\n  - { part: PUMP-1, quantity: 1.5 }\n'),
    'fractional-quantity: Pump is sold by the piece: 1.5 cannot be sold. Write 2.',
  ),

  // dates of prices
  parts(
    'prices that overlap',
    part(
      '    prices:\n      - { from: 2026-01-01, until: 2026-06-30, cost: 4 }\n      - { from: 2026-06-01, cost: 5 }\n',
    ),
    'price-overlap: Two prices hold from 2026-06-01 to 2026-06-30; the one that starts later is taken. End the earlier one the day before.',
  ),
  parts(
    'prices with a gap',
    part(
      '    prices:\n      - { from: 2026-01-01, until: 2026-05-31, cost: 4 }\n      - { from: 2026-07-01, cost: 5 }\n',
    ),
    'price-gap: No price holds from 2026-06-01 to 2026-06-30. Let one of the two reach the other.',
  ),
  parts(
    'a price that ends before it starts',
    part('    prices:\n      - { from: 2026-06-01, until: 2026-01-31, cost: 4 }\n'),
    'price-dates-reversed: This price ends on 2026-01-31, before it starts on 2026-06-01. Correct one of the dates.',
  ),

  // ids
  parts(
    'a role that nobody defines',
    part('    role: pumpe\n'),
    'unknown-reference: There is no role "pumpe" in the book at book. Did you mean "pump"?',
  ),
  parts(
    'a part that is in another file',
    'parts:\n  PUMP-1: { name: Pump, kind: hard }\n',
    'defined-twice: The part "PUMP-1" is also in old.parts.yaml. Keep one of them, or give one another id.',
  ),
  parts(
    'a part twice in one file',
    'parts:\n  P-1: { name: Pump, kind: hard }\n  P-1: { name: Pump, kind: hard }\n',
    'yaml-duplicate-key: `P-1` is already given on line 3. The first one counts; delete or rename one of them.',
  ),
  parts(
    'numbers that supersede one another',
    'parts:\n  A: { name: Old, kind: soft, superseded-by: { part: B } }\n  B: { name: New, kind: soft, superseded-by: { part: A } }\n',
    'supersession-cycle: These numbers replace one another in a circle: A → B → A. Take one of the replacements out.',
    'supersession-cycle: These numbers replace one another in a circle: B → A → B. Take one of the replacements out.',
  ),
  parts(
    'a kit of parts that are not there',
    part('    contents: [{ part: PUMP-3 }]\n'),
    'unknown-reference: There is no part "PUMP-3" in the book at book. Did you mean "PUMP-1" or "PUMP-2"?',
  ),
  parts(
    'a picture that is not there',
    part('    picture: pump.jpg\n'),
    'file-missing: There is no file "pump.jpg". Looked at west/pump.jpg.',
  ),
  parts(
    'a picture outside the book',
    part('    picture: ../../pump.jpg\n'),
    'file-missing: "../../pump.jpg" lies outside the shop book. Copy the file into the book and name it from here.',
  ),
  parts(
    'a price file that is not there',
    'from: { file: north.csv, columns: { number: Number }, kind: soft }\n',
    'price-file: There is no price file "north.csv". Looked at west/north.csv.',
  ),
  labor(
    'a rate that the shop does not have',
    'operations:\n  flush: { name: Flush, work: cooling, rate: genral, hours: 1 }\n',
    'unknown-reference: There is no labor rate "genral" in the book at book. Did you mean "general"?',
  ),
  units(
    'a condition that is no finding',
    unit('    limits:\n      end-play: { rows: [{ when: { colour: yes }, least: 0.005 in }] }\n'),
    'unknown-reference: There is no finding or trait "colour" in the book at book.',
  ),
  rules(
    'a finding that nobody defines',
    'rules:\n  r: { when: { finding: glycl }, because: It is so., basis: shop }\n',
    'unknown-reference: There is no finding "glycl" in the book at book. Did you mean "glycol"?',
  ),
  rules(
    'a word that is not on the scale',
    'rules:\n  r: { when: { finding: debris, at-least: pieces }, because: It is so., basis: shop }\n',
    'condition-value: "pieces" is not on the scale of Debris: clean, paste, flakes.',
  ),
  shop(
    'a jurisdiction that is not there',
    'jurisdiction: state-z\n',
    'unknown-reference: There is no jurisdiction "state-z" in the book at book. Did you mean "state-n"?',
  ),
  shop(
    'a shop file that is not there',
    'extends: common/shop.yaml\n',
    'shop-extends: There is no file "common/shop.yaml" in this book. Looked at west/common/shop.yaml.',
  ),
  job(
    'a part that is not there',
    ticket('lines:\n  - part: PUMP-11\n'),
    'unknown-reference: There is no part "PUMP-11" in the book at book. Did you mean "PUMP-1"?',
  ),
  job(
    'an add-on of another operation',
    ticket('lines:\n  - { operation: rr-unit, adders: [four-wheels] }\n'),
    'unknown-reference: The operation "rr-unit" has no add-on "four-wheels". It has: four-wheel. Did you mean "four-wheel"?',
  ),
  job(
    'an option that is not there',
    ticket('options:\n  overhaul: { name: Overhaul, kind: overhaul }\nchosen: overhual\n'),
    'unknown-reference: This file has no option "overhual". It has: overhaul. Did you mean "overhaul"?',
  ),
  job(
    'a parameter that the template does not have',
    ticket('lines:\n  - template: kit\n    with: { pumpe: PUMP-1 }\n'),
    'unknown-reference: The template "kit" has no parameter "pumpe". It has: pump. Did you mean "pump"?',
    'template-parameter: The template "kit" needs a value for "pump": write it under `with`.',
  ),
  job(
    'a customer that the shop does not know',
    ticket('customer: oakes\n'),
    'unknown-reference: There is no customer "oakes" in the book at book.',
  ),
  template(
    'a parameter that is not declared',
    'id: other\nname: Other\nlines:\n  - part: $pump\n',
    'unknown-reference: This file has no parameter "pump". It has none.',
  ),
  template(
    'a line with a slip',
    'id: other\nname: Other\nparameters:\n  qty: { type: number }\nlines:\n  - prat: PUMP-1\n  - { part: PUMP-1, quantity: many }\n  - { part: PUMP-1, quantity: $qty }\n',
    'unknown-key: "prat" is not a field that is known here. Did you mean "part"?',
    'wrong-value: "many" is not a number. Write digits, such as 12.50.',
  ),
];
