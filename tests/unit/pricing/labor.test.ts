import { expect, test } from 'vitest';
import { explain } from '../../../server/src/pricing/amount.ts';
import { taxing } from '../../fixtures/jurisdictions.ts';
import { cents, codes, lineAt, message, priced, total } from './book.ts';

const RATES = `
rates:
  diagnostic: {name: Diagnostic, hourly: 165.00}
  general: {name: General, hourly: 148.00}
  bench: {name: Bench, hourly: 155.00}
`;
const untaxed = taxing('8%', 'none');

const BOOK = `
steps:
  unit-out: {name: Unit out and back in, hours: 6.6}
operations:
  diagnose: {name: Diagnosis, work: diagnosis, rate: diagnostic, hours: 1.5}
  rr-unit:
    name: Remove and refit the unit
    work: removal
    rate: general
    hours: 1.2
    steps: [unit-out]
    adders:
      four-wheel: {name: 4WD transfer case, hours: 1.2, when: {drive: [4wd, awd]}}
      skid: {name: Skid plate, hours: 0.3, when: {feature: skid-plate}}
      stuck: {name: Seized studs, hours: 0.4, when: {finding: seized-studs, not-drive: [fwd], unit: [birch-6], trait: case-bolts}}
      rust: {name: Rust, hours: 0.5, judged: yes}
  converter: {name: Replace the converter, work: in-vehicle, rate: general, hours: 0.3, steps: [unit-out]}
  overhaul: {name: Overhaul on the bench, work: bench, rate: bench, hours: 9.5}
  relearn: {name: Programming and relearn, work: programming, rate: diagnostic, hours: 0.8}
`;

// trade.md 2.1, worked table; common practice, no source.
test('hours of four operations at their rates come to 3,258.00, and an hour sold brings 152.96', () => {
  const job = priced({
    book: BOOK,
    shop: RATES,
    in: untaxed,
    job: `
vehicle: {drive: 4wd}
lines:
  - operation: diagnose
  - {operation: rr-unit, adders: [rust], reason: exhaust studs broken off}
  - operation: overhaul
  - operation: relearn
`,
  });
  expect(job.lines.map((line) => cents(line.amount.value))).toEqual([
    '247.50',
    '1406.00',
    '1472.50',
    '132.00',
  ]);
  expect(total(job)).toBe('3258.00');
  expect(job.hoursSold.value.toString()).toBe('21.3');
  expect(cents(job.inside.effectiveRate!.value)).toBe('152.96');
  expect(codes(job)).toEqual([]);
});

// trade.md 2.2 and scenario 12; common practice, no source.
test('access steps are counted once: 1,198.80, and 976.80 is not billed again', () => {
  const job = priced({
    book: BOOK,
    shop: RATES,
    in: untaxed,
    job: 'vehicle: {drive: rwd}\nlines: [{operation: rr-unit}, {operation: converter}]',
  });
  expect(total(job)).toBe('1198.80');
  expect(job.sharedSteps.map(({ step, saved }) => [step, cents(saved.value)])).toEqual([
    ['unit-out', '976.80'],
  ]);
  expect(lineAt(job, 0).steps).toEqual(['unit-out']);
  expect(lineAt(job, 1).hours.value.toString()).toBe('0.3');
  expect(codes(job)).toEqual([]);
});

// trade.md scenario 12: the converter's own time of 6.9 h typed over the book while the unit is out already.
test('typed hours that hold shared access are warned of with the money', () => {
  const job = priced({
    book: BOOK,
    shop: RATES,
    in: untaxed,
    job: 'lines: [{operation: rr-unit}, {operation: converter, hours: 6.9, reason: from the flat-rate guide}]',
  });
  expect(total(job)).toBe('2175.60');
  expect(message(job, 'labor-overlap')).toContain('976.80 is billed twice');
  expect(message(job, 'labor-overlap')).toContain('write 0.3');
});

test('the tree says how labor came about', () => {
  const job = priced({ book: BOOK, shop: RATES, in: untaxed, job: 'lines: [{operation: rr-unit}]' });
  expect(explain(lineAt(job, 0).amount)).toEqual([
    'Labor: 1154.40 = 7.8 h × 148.00',
    '  Hours: 7.8 h = 1.2 h + 6.6 h',
    '    Own hours: 1.2 h [operation rr-unit]',
    '    Unit out and back in: 6.6 h [step unit-out]',
    '  Rate: 148.00 [rate general]',
  ]);
});

test('an add-on named on a vehicle without the feature is refused, and a judged one asks for evidence', () => {
  const job = priced({
    book: BOOK,
    shop: RATES,
    in: untaxed,
    job: 'vehicle: {drive: rwd}\nlines: [{operation: rr-unit, adders: [four-wheel, rust]}]',
  });
  expect(lineAt(job, 0).hours.value.toString()).toBe('8.3');
  expect(codes(job)).toEqual(['adder-refused', 'adder-without-evidence']);
  expect(message(job, 'adder-refused')).toContain('4WD transfer case is for 4wd or awd');
});

test('an add-on that hangs on how the vehicle is driven asks for it', () => {
  const unsaid = priced({ book: BOOK, shop: RATES, in: untaxed, job: 'lines: [{operation: rr-unit}]' });
  expect(codes(unsaid)).toEqual(['drive-not-said']);
  const said = priced({
    book: BOOK,
    shop: RATES,
    in: untaxed,
    job: 'vehicle: {drive: awd, features: [skid-plate]}\nlines: [{operation: rr-unit}]',
  });
  expect(lineAt(said, 0).hours.value.toString()).toBe('9.3');
});

test('every key of a condition has to hold: finding, drive, unit family, trait', () => {
  const hours = (job: string, trait = 'case-bolts') =>
    lineAt(
      priced({
        book: `${BOOK}units: {birch-6: {name: Birch-6, layout: rear, fluid-class: B, traits: [${trait}]}, elm: {name: Elm, layout: rear, fluid-class: H, traits: [case-bolts]}}`,
        shop: RATES,
        in: untaxed,
        job: `${job}\nlines: [{operation: rr-unit}]`,
      }),
      0,
    ).hours.value.toString();
  const found = 'findings: {seized-studs: yes}';
  expect(hours(`vehicle: {drive: rwd}\n${found}`)).toBe('8.2');
  expect(hours('vehicle: {drive: rwd}')).toBe('7.8');
  expect(hours(`vehicle: {drive: fwd}\n${found}`)).toBe('7.8');
  expect(hours(`vehicle: {drive: rwd}\n${found}`, 'other')).toBe('7.8');
  expect(hours(`unit: elm\nvehicle: {drive: rwd}\n${found}`)).toBe('7.8');
});

const INCLUDING = `
steps:
  raise: {name: Raise the vehicle, hours: 0.2}
  pan-off: {name: Pan off, hours: 0.5, needs: [raise]}
  unit-out: {name: Unit out and back in, hours: 6.6, hours-by: {elm-6h: 9.1}, needs: [raise], rate: general}
operations:
  overhaul: {name: Overhaul, work: bench, rate: bench, hours: 9.5, includes: [reseal], steps: [unit-out]}
  reseal: {name: Reseal, work: bench, rate: bench, hours: 2.0, includes: [filter], steps: [unit-out]}
  filter: {name: Change the filter, work: in-vehicle, rate: general, hours: 0.4, steps: [pan-off]}
  fluid: {name: Change the fluid, work: in-vehicle, rate: general, hours: 0.4, steps: [pan-off]}
  a: {name: A, work: bench, rate: bench, hours: 1.0, includes: [b]}
  b: {name: B, work: bench, rate: bench, hours: 2.0, includes: [a]}
  flat: {name: Exchange, work: install, rate: general, price: 900.00, hours: 4.0, steps: [unit-out]}
  road: {name: Road test, work: road-test, rate: general, hours: 0.2, minimum: 60.00}
  scan: {name: Scan, work: diagnosis, rate: general, hours: 0.3}
  unrated: {name: Unrated, work: bench, hours: 1.0}
  elm-only: {name: Elm only, work: bench, rate: bench, hours-by: {elm-6h: 3.0}}
units:
  birch-6: {name: Birch-6, layout: rear, fluid-class: B}
  elm-6h: {name: Elm-6H, layout: rear, fluid-class: H}
`;

test('steps needed by steps are counted, once; a step may have a rate of its own and hours of the family', () => {
  const birch = priced({
    book: INCLUDING,
    shop: RATES,
    in: untaxed,
    job: 'lines: [{operation: fluid}, {operation: overhaul}]',
  });
  // 0.4 + 0.2 + 0.5 at general; 9.5 at bench and 6.6 at general.
  expect(birch.lines.map((line) => cents(line.amount.value))).toEqual(['162.80', '2449.30']);
  expect(lineAt(birch, 0).steps).toEqual(['raise', 'pan-off']);
  expect(lineAt(birch, 1).steps).toEqual(['unit-out']);

  const elm = priced({
    book: INCLUDING,
    shop: RATES,
    in: untaxed,
    job: 'unit: elm-6h\nlines: [{operation: overhaul}]',
  });
  expect(elm.hoursSold.value.toString()).toBe('18.8');
});

test('the order of the lines changes who carries a step, and not how many hours there are', () => {
  const of = (lines: string) => priced({ book: INCLUDING, shop: RATES, in: untaxed, job: `lines: ${lines}` });
  const one = of('[{operation: fluid}, {operation: overhaul}]');
  const other = of('[{operation: overhaul}, {operation: fluid}]');
  expect(one.hoursSold.value.toString()).toBe(other.hoursSold.value.toString());
});

test('what another operation includes, through others too, costs nothing and is warned of with its money', () => {
  const job = priced({
    book: INCLUDING,
    shop: RATES,
    in: untaxed,
    job: 'lines: [{operation: overhaul}, {operation: reseal}, {operation: filter}]',
  });
  expect(job.lines.map((line) => cents(line.amount.value))).toEqual(['2480.30', '0.00', '0.00']);
  expect(job.hoursSold.value.toString()).toBe('16.3');
  expect(codes(job)).toEqual(['operation-included', 'operation-included']);
  expect(job.problems[0]?.message).toContain('Reseal is part of Overhaul');
  expect(job.problems[0]?.message).toContain('310.00 is not billed');
});

test('operations that include each other are both billed', () => {
  const job = priced({
    book: INCLUDING,
    shop: RATES,
    in: untaxed,
    job: 'lines: [{operation: a}, {operation: b}]',
  });
  expect(total(job)).toBe('465.00');
});

test('a flat price covers its access, also for those who need it by the hour; giving work away leaves access to who pays', () => {
  const flat = priced({
    book: INCLUDING,
    shop: RATES,
    in: untaxed,
    job: 'lines: [{operation: overhaul}, {operation: flat}]',
  });
  expect(flat.lines.map((line) => cents(line.amount.value))).toEqual(['1472.50', '900.00']);
  expect(lineAt(flat, 1).steps).toEqual(['raise', 'unit-out']);

  const given = priced({
    book: INCLUDING,
    shop: RATES,
    in: untaxed,
    job: 'lines: [{operation: overhaul, no-charge: yes}, {operation: fluid}]',
  });
  expect(given.lines.map((line) => cents(line.amount.value))).toEqual(['0.00', '162.80']);
  expect(lineAt(given, 0).hours.value.toString()).toBe('16.1');
  expect(given.hoursSold.value.toString()).toBe('1.1');
});

test('minimums: of one operation, and of a rate on the job', () => {
  const shop = `
rates:
  general: {name: General, hourly: 148.00, minimum: 120.00}
`;
  const road = priced({ book: INCLUDING, shop: RATES, in: untaxed, job: 'lines: [{operation: road}]' });
  expect(total(road)).toBe('60.00');
  const scan = priced({ book: INCLUDING, shop, in: untaxed, job: 'lines: [{operation: scan}]' });
  expect(scan.lines.map((line) => [line.name, cents(line.amount.value), line.coverage])).toEqual([
    ['Scan', '44.40', 'diagnosis'],
    ['Minimum charge, General', '75.60', 'diagnosis'],
  ]);
  const both = priced({
    book: INCLUDING,
    shop,
    in: untaxed,
    job: 'lines: [{operation: scan}, {operation: road}, {operation: filter}]',
  });
  // 44.40 + 60.00 + 1.1 x 148.00 is above the minimum already.
  expect(total(both)).toBe('267.20');
  const none = priced({
    book: INCLUDING,
    shop,
    in: untaxed,
    job: 'lines: [{operation: scan, hours: 0, reason: done before}]',
  });
  expect(none.lines.map((line) => line.name)).toEqual(['Scan']);
});

test('typed hours and prices need a reason; a missing rate or missing hours are named', () => {
  const job = priced({
    book: INCLUDING,
    shop: RATES,
    in: untaxed,
    job: `
lines:
  - {operation: scan, hours: 0.5}
  - {operation: flat, price: 850.00, quantity: 2}
  - operation: unrated
  - operation: elm-only
  - operation: nobody-knows
`,
  });
  expect(job.lines.map((line) => cents(line.amount.value))).toEqual(['74.00', '1700.00', '0.00', '0.00']);
  expect(codes(job)).toEqual([
    'override-without-reason',
    'override-without-reason',
    'operation-without-rate',
    'hours-missing',
  ]);
  expect(message(job, 'hours-missing')).toContain('Elm only has neither hours for Birch-6');
  expect(job.complete).toBe(false);
});

test('the same operation twice is warned of, and its access is still counted once', () => {
  const job = priced({
    book: BOOK,
    shop: RATES,
    in: untaxed,
    job: 'vehicle: {drive: rwd}\nlines: [{operation: rr-unit}, {operation: rr-unit}]',
  });
  expect(job.hoursSold.value.toString()).toBe('9');
  expect(codes(job)).toEqual(['operation-twice']);
  const explained = priced({
    book: BOOK,
    shop: RATES,
    in: untaxed,
    job: 'lines: [{operation: relearn}, {operation: relearn, reason: again after the update}]',
  });
  expect(codes(explained)).toEqual([]);
});

test('how often an operation is done multiplies its own time and not the access', () => {
  const job = priced({
    book: BOOK,
    shop: RATES,
    in: untaxed,
    job: 'vehicle: {drive: rwd}\nlines: [{operation: rr-unit, quantity: 3}]',
  });
  expect(job.hoursSold.value.toString()).toBe('10.2');
});

// trade.md scenario 36 (a shop's public scheme, S60).
test('a diagnosis is credited once when the work it led to is bought, and not otherwise', () => {
  const book = `
operations:
  diagnose: {name: Diagnosis, work: diagnosis, rate: diagnostic, hours: 1.0, credited: {role: unit-work}}
  overhaul: {name: Overhaul, work: bench, rate: bench, hours: 9.5, role: unit-work}
  wiring: {name: Repair the wiring, work: in-vehicle, rate: general, hours: 1.0, role: wiring}
`;
  const bought = priced({
    book,
    shop: RATES,
    in: untaxed,
    job: 'lines: [{operation: diagnose}, {operation: overhaul}]',
  });
  const diagnosis = lineAt(bought, 0);
  expect(cents(diagnosis.amount.value)).toBe('165.00');
  expect(diagnosis.reductions.map(({ kind, name, amount }) => [kind, name, cents(amount.value)])).toEqual([
    ['credited', 'Credited: Overhaul', '165.00'],
  ]);
  expect(total(bought)).toBe('1472.50');

  const electrical = priced({
    book,
    shop: RATES,
    in: untaxed,
    job: 'lines: [{operation: diagnose}, {operation: wiring}]',
  });
  expect(total(electrical)).toBe('313.00');

  const givenAway = priced({
    book,
    shop: RATES,
    in: untaxed,
    job: 'lines: [{operation: diagnose}, {operation: overhaul, no-charge: yes}]',
  });
  expect(total(givenAway)).toBe('165.00');
});

test('rates locked with the estimate hold against the shop file of today', () => {
  const job = priced({
    book: BOOK,
    shop: RATES,
    in: untaxed,
    job: `
lines: [{operation: overhaul}]
lock: {on: 2026-02-01, rates: {bench: 150.00}}
`,
  });
  expect(total(job)).toBe('1425.00');
});

test('what another shop does may still need access, which is sold here', () => {
  const job = priced({
    book: `
steps: {unit-out: {name: Unit out and back in, hours: 6.6}}
operations:
  weld: {name: Weld the case, work: bench, rate: general, steps: [unit-out], sublet: {labor: 200.00}}
  inspect: {name: Inspect, work: bench, rate: bench, hours: 1, steps: [unit-out]}
`,
    shop: `${RATES}sublet: {markup: 20%}`,
    in: untaxed,
    job: 'lines: [{operation: weld}, {operation: inspect}]',
  });
  expect(job.lines.map((line) => [line.category, cents(line.amount.value)])).toEqual([
    ['sublet', '240.00'],
    ['labor', '976.80'],
    ['labor', '155.00'],
  ]);
});

test('an operation that is done no times costs nothing and needs no access', () => {
  const job = priced({
    book: BOOK,
    shop: RATES,
    in: untaxed,
    job: 'lines: [{operation: rr-unit, quantity: 0}, {operation: converter}]',
  });
  expect(job.lines.map((line) => [line.name, cents(line.amount.value)])).toEqual([
    ['Replace the converter', '1021.20'],
  ]);
});
