import { describe, expect, it } from 'vitest';
import { isoDate } from '../../../schemas/values/dates.ts';
import { Estimates } from '../../../server/src/estimate/estimates.ts';
import { hover } from '../../../server/src/features/hover.ts';
import { BOOK } from './completion-book.ts';
import { fixture } from './fixture.ts';

/** The hover at the cursor, and the text that it is about. */
function hovered(source: string, { markdown = true, eol = '\n', host = {} } = {}) {
  const at = fixture(source, { eol });
  Object.assign(at.book.host, host);
  const { file, position } = at;
  const found = hover({
    estimates: new Estimates(at.book),
    file,
    position,
    today: isoDate('2026-03-04'),
    markdown,
  });
  if (!found) return { text: undefined, on: undefined };
  const { start, end } = found.range!;
  const line = file.source.text().split(/\r\n|\n/)[start.line]!;
  return {
    text: (found.contents as { value: string }).value,
    on: line.slice(start.character, end.character),
  };
}

const HEAD = `
  === j.job.yaml
  kind: job
  id: J-1
  opened: 2026-03-01
  unit: birch-6
`;

function inJob(rest: string, options = {}) {
  return hovered(`${BOOK.trimEnd()}${HEAD}${rest.replace(/^(?=.)/gm, '  ')}\n`, options);
}

function inFile(name: string, text: string, options = {}) {
  return hovered(`${BOOK.trimEnd()}\n  === ${name}\n${text.replace(/^(?=.)/gm, '  ')}\n`, options);
}

describe('a field', () => {
  it('tells what it means, its words, its unit and what holds without it', () => {
    expect(inJob('lines:\n  - part: TC-B\n    co<|>re: held')).toEqual({
      on: 'core',
      text: [
        '**Core** `core`',
        'What happens with the old part, when it differs from the shop policy.',
        [
          '- `charged`: A deposit is charged until it comes back.',
          '- `exchanged`: It is handed over at the sale.',
          '- `when-late`: Charged only if it does not come back in time.',
          '- `held`: It never leaves the shop: nothing is charged.',
        ].join('\n'),
      ].join('\n\n'),
    });
    expect(inJob('vehicle: { odo<|>meter: 84310 mi }').text).toBe(
      [
        '**Odometer** `odometer`',
        'When it came in.',
        '- In: distance, in mi or km\n- For example: odometer: 84310 mi',
      ].join('\n\n'),
    );
  });

  it('tells of the sort of file at its first line', () => {
    expect(inFile('q.parts.yaml', 'ki<|>nd: parts').text).toBe(
      '**Parts** `parts`\n\nA catalog of parts by number.',
    );
  });

  it('is plain text for a client without Markdown', () => {
    expect(inJob('priced-<|>on: 2026-03-02', { markdown: false }).text).toBe(
      'Priced on (priced-on)\n\nPrices in force on this day count.\n\nLeft out: the day it was opened',
    );
  });

  it('has nothing to tell where nothing stands', () => {
    expect(inJob('lines:\n  - part: TC-B\n  <|>').text).toBeUndefined();
    expect(inJob('# a com<|>ment').text).toBeUndefined();
    expect(inJob('unknown-fi<|>eld: 3').text).toBeUndefined();
  });

  it('is found behind emoji and carriage returns', () => {
    expect(inJob('vehicle: { make: "🚗🚗", mod<|>el: X }', { eol: '\r\n' }).on).toBe('model');
  });
});

describe('a part', () => {
  it('tells what it is, how its price came about, what took its place', () => {
    expect(inJob('lines:\n  - part: "TC<|>-B"')).toEqual({
      on: 'TC-B',
      text: [
        '**Torque converter** `TC-B`',
        [
          '- Condition: rebuilt',
          '- Kind: converter',
          '- Role: Torque converter (torque-converter)',
          '- Fits: Birch-6',
          '- Cost: $265.00',
          '- Core charge: $120.00',
          '- Supplier: Northfen',
        ].join('\n'),
        [
          '|  | Amount | From |',
          '| --- | --- | --- |',
          '| [Price each](<file:///shop/shop.yaml#L9,3>) | $397.50 | $265.00 × 1.5 \\[schedule std\\] |',
          '| · [Cost](<file:///shop/p.parts.yaml#L10,11>) | $265.00 | \\[part TC-B, cost\\] |',
          '| · Factor | 1.5 |  |',
          '| [Core charge](<file:///shop/p.parts.yaml#L11,11>) | $120.00 | \\[part TC-B, core\\] |',
        ].join('\n'),
        'Takes the place of TC-A.',
        'Used by 1 parts file, 1 job.',
      ].join('\n\n'),
    });
  });

  it('that is superseded is priced as what took its place', () => {
    const { text } = inJob('lines:\n  - part: TC-<|>A');
    expect(text).toContain('Superseded: TC-A → TC-B.');
    expect(text).toContain(
      '| · [Cost](<file:///shop/p.parts.yaml#L10,11>) | $265.00 | \\[part TC-B, cost\\] |',
    );
  });

  it('shows its price history, and which price is in force for the job', () => {
    const parts = `kind: parts
parts:
  P<|>-1:
    name: Pump
    kind: hard
    prices:
      - { from: 2025-01-01, until: 2025-12-31, cost: 180.00 }
      - { from: 2026-01-01, cost: 189.00 }
`;
    const { text, on } = inFile('q.parts.yaml', parts);
    expect(on).toBe('P-1');
    expect(text).toContain('| January 1, 2025 | December 31, 2025 | $180.00 |  |  |  |  |');
    expect(text).toContain('| January 1, 2026 |  | $189.00 |  |  |  | in force |');
    expect(text).toContain('Nothing in the book names it yet.');
  });

  it('that is a kit shows what it holds', () => {
    const kit = `kind: parts
parts:
  K-<|>1: { name: Kit, kind: kit, cost: 50.00, contents: [ { part: FL-1, quantity: 2 }, { role: torque-converter } ] }
`;
    const { text } = inFile('q.parts.yaml', kit);
    expect(text).toContain(
      '| Holds | Part |  |\n| --- | --- | --- |\n| 2 | FL-1 | Fluid class B |\n| 1 |  | Torque converter |',
    );
  });

  it('shows its picture when the file is there', () => {
    const parts = 'kind: parts\nparts:\n  P<|>: { name: Pump, kind: hard, cost: 9.00, picture: pump.png }\n';
    expect(inFile('q.parts.yaml', parts, { host: { size: () => 10 } }).text).toContain(
      '![Pump](<file:///shop/pump.png>)',
    );
    expect(inFile('q.parts.yaml', parts).text).not.toContain('![');
  });

  it('without a price says why', () => {
    const { text } = inFile('q.parts.yaml', 'kind: parts\nparts:\n  X-<|>1: { name: Seal, kind: soft }\n');
    expect(text).toContain('Seal is counted as 0: it has neither cost nor price.');
  });
});

describe('labor', () => {
  it('shows own hours of the family, access steps, add-ons and cautions with their authority', () => {
    const { text, on } = inJob('lines:\n  - operation: rr<|>-unit');
    expect(on).toBe('rr-unit');
    expect(text).toBe(
      [
        '**Remove and refit** `rr-unit`',
        [
          '- Work: removal',
          '- Labor rate: Bench (bench), $155.00 an hour',
          '- Own hours for Birch-6: 1.2 h',
          '- With access steps: 7.8 h',
        ].join('\n'),
        '| Unit family | Own hours |\n| --- | --- |\n| Birch-6 | 1.2 h |',
        '| Access step | Hours |\n| --- | --- |\n| Unit out | 6.6 h |',
        'An access step is counted once on a job, whichever operations share it.',
        '| Add-on |  | Hours | When |\n| --- | --- | --- | --- |\n| rust | Rusted bolts | 0.5 h | judged, with evidence |\n| skid-plate | Skid plate | 0.3 h | skid-plate |',
        '⚠ Fluid is hot enough to burn. Follow: the vehicle maker',
        'Used by 1 job.',
      ].join('\n\n'),
    );
  });

  it('knows the add-ons of the operation of a line', () => {
    expect(inJob('lines:\n  - operation: rr-unit\n    adders: [ru<|>st]\n    reason: x').text).toBe(
      '**Rusted bolts** `rust`\n\n- Adds: 0.5 h\n- When: judged, with evidence',
    );
  });
});

describe('required work', () => {
  it('puts the condition of a rule in words, with its reason and what stands behind it', () => {
    const rules = `kind: rules
rules:
  ov<|>er:
    name: Overheated
    when:
      finding: pan-debris
      at-least: flakes
      any: [ { unit: [birch-6, cedar-8] }, { trait: bands, drive: [4wd] }, { none: [ { role: fluid } ] } ]
    advises: [ { any-of: [torque-converter, fluid], condition: new } ]
    because: It wears.
    say: It wears out.
    basis: practice
    source: none
`;
    expect(inFile('q.rules.yaml', rules).text).toBe(
      [
        '**Overheated** `over`',
        '**When**',
        [
          '```text',
          'Debris in the pan is flakes or worse',
          'at least one of:',
          '  the unit is Birch-6 or Cedar-8',
          '  the unit has the trait bands and the vehicle is 4wd',
          '  none of:',
          '    Fluid is on the job',
          '```',
        ].join('\n'),
        [
          '- Advises: new Torque converter or Fluid',
          '- Because: It wears.',
          '- For the owner: It wears out.',
          '- Basis: practice',
          '- Source: none',
        ].join('\n'),
      ].join('\n\n'),
    );
  });

  it('tells on a job whether a rule holds and why', () => {
    const waiver = 'waivers:\n  - { rule: coolant<|>-spoils, reason: x, by: y, on: 2026-03-04 }';
    expect(inJob(`findings: { coolant-in-fluid: yes }\n${waiver}`).text).toContain(
      'Holds on this job: Coolant in the fluid: yes.',
    );
    expect(inJob(waiver).text).toContain('Does not hold on this job.');
  });

  it('shows what a finding is answered with, its limit for the unit, and how it stands', () => {
    const { text } = inJob(
      'findings:\n  line-pres<|>sure: { value: 50 psi, at: { fluid-temperature: 160 F } }',
    );
    expect(text).toContain('On this job: beyond, below the limit, at least 60 psi');
    expect(text).toContain('- Answer: a pressure');
    expect(text).toContain(
      'Limit of Birch-6:\n\n| When | Least | Most |\n| --- | --- | --- |\n| Fluid temperature 150..200 F | 60 psi |  |\n\n- Source: bulletin 7',
    );
  });

  it('shows the scale with what is normal, and the healthy picture when its file is there', () => {
    const rules = `kind: rules
findings:
  a: { name: Colour, kind: scale, scale: [red, brown, black], normal: brown, healthy: "Red, clear.", picture: ok.png }
`;
    const text = (host: object) => inFile('q.rules.yaml', rules.replace('  a:', '  a<|>:'), { host }).text;
    expect(text({ size: () => 10 })).toContain('![Normal: Colour](<file:///shop/ok.png>)');
    expect(text({})).not.toContain('![');
    expect(text({})).toContain('- Scale: red (normal) → brown (normal) → black\n- Normal: Red, clear.');
  });

  it('shows what fills a role for the unit', () => {
    expect(inJob('reuse: [torque-<|>converter]').text).toContain(
      '| Filled by |  |  |\n| --- | --- | --- |\n| TC-B | Torque converter | 397.50 + core 120.00 |',
    );
  });

  it('shows a unit family with its fluid and its limits', () => {
    const { text } = inFile('z.job.yaml', 'kind: job\nunit: bir<|>ch-6');
    expect(text).toContain('- Fluid, dry: 11.6 qt');
    expect(text).toContain('| Line pressure | Fluid temperature 150..200 F | 60 psi |  | bulletin 7 |');
  });
});

describe('the shop', () => {
  it.each([
    [
      'a labor rate',
      'q.labor.yaml',
      'kind: labor\noperations:\n  a: { name: A, work: bench, rate: ben<|>ch }',
      '- An hour: $155.00',
    ],
    [
      'a price schedule',
      'b/shop.yaml',
      'kind: shop\nextends: ../shop.yaml\npricing: { parts: st<|>d }',
      '| $100.00 | cost × 2 |\n| the rest | cost × 1.5 |',
    ],
    ['a fee', 'z.job.yaml', 'kind: job\nlines: [ { fee: was<|>te } ]', '- Amount: $18.00'],
    ['a discount', 'z.job.yaml', 'kind: job\ndiscounts: [ret<|>urning]', '- Takes off: 5%\n- On: labor'],
    [
      'a payer',
      'z.job.yaml',
      'kind: job\npayers: [ { payer: fle<|>et-a } ]',
      '- Kind: fleet\n- Covers: labor',
    ],
    ['a customer', 'z.job.yaml', 'kind: job\ncustomer: oa<|>kes', '- Telephone: 555-0117'],
    ['a supplier', 'q.parts.yaml', 'kind: parts\nsupplier: north<|>fen', '- Telephone: 555-0181'],
    ['a jurisdiction', 'b/shop.yaml', 'kind: shop\njurisdiction: state<|>-x', 'Check your local rules'],
    [
      'a trait',
      'q.rules.yaml',
      'kind: rules\nrules: { a: { when: { trait: ban<|>ds }, because: x, basis: shop } }',
      '**Trait** `bands`',
    ],
  ])('%s', (_, name, text, expected) => {
    expect(inFile(name, text).text).toContain(expected);
  });

  it('counts a warranty from the day the work was done, month ends kept inside the month', () => {
    // Calendar arithmetic: 12 months after February 29 is February 28; rows WAR of the published checks.
    const { text } = inJob('completed: 2028-02-29\nvehicle: { odometer: 84310 mi }\nwarranty: plan<|>-12');
    expect(text).toContain('- Ends: February 28, 2029 or at 96310 mi, whichever comes first');
    expect(inJob('warranty: plan<|>-12').text).toContain(
      '- Ends, were it done today: March 4, 2027, whichever comes first',
    );
  });

  it('knows templates and their parameters', () => {
    const { text } = inJob('lines:\n  - template: coolant<|>-work');
    expect(text).toContain('| $converter | part, Torque converter |  | Which converter goes in. |');
    expect(text).toContain('- part: $converter\n- operation: $cleaning');
    expect(inJob('lines:\n  - template: coolant-work\n    with: { clea<|>ning: flush }').text).toBe(
      '**Parameter** `$cleaning`\n\n- Stands for: operation\n- Left out: flush',
    );
    const template =
      'kind: template\nid: q\nname: Q\nparameters: { n: { type: part, say: The pump } }\nlines: [ { part: $<|>n } ]';
    expect(inFile('q.template.yaml', template).text).toContain('The pump');
  });
});

describe('single values', () => {
  it('a VIN: check digit and model year', () => {
    // 49 CFR 565.15, rows VIN-03 and VIN-06 of the published checks.
    expect(inJob('vehicle: { vin: 1M8GDM<|>9AXKP042788 }').text).toContain(
      [
        '- Check digit: X, right',
        '- Counted: 8 + 28 + 48 + 35 + 16 + 12 + 18 + 10 + 0 + 18 + 56 + 0 + 24 + 10 + 28 + 24 + 16 = 351; remainder of 11 is 10, so X',
        '- Model year: 1989',
      ].join('\n'),
    );
    // Row VIN-15: the remainder 10 is written X, never 0.
    expect(inJob('vehicle: { vin: 1M8GDM<|>9A0KP042788 }').text).toContain(
      '- Check digit: 0; X would be right',
    );
  });

  it.each([
    // NIST SP 811, appendix B: 1 in = 25.4 mm, 1 psi = 6.894757 kPa, 1 US qt = 0.9463529 L.
    ['a length', 'records: [ { record: flush-sheet, volume: 1 <|>qt } ]', '1 qt = 0.94635 L'],
    ['a pressure', 'records: [ { record: flush-sheet, air-pressure: 30 <|>psi } ]', '30 psi = 206.84 kPa'],
    ['a temperature', 'records: [ { record: flush-sheet, fluid-temperature: 212 <|>F } ]', '212 °F = 100 °C'],
    ['hours', 'lines: [ { operation: flush, hours: 1.<|>5, reason: x } ]', '1.5 h = 90 min'],
    ['money', 'lines: [ { other: Tow, category: fees, price: 1<|>280.5 } ]', '$1,280.50'],
    ['a date', 'presented: 2026-03-<|>11', 'Wednesday, March 11, 2026, in 7 days'],
    ['a day before', 'presented: 2026-03-<|>03', 'Tuesday, March 3, 2026, yesterday'],
    [
      'a day and time',
      'authorizations: [ { on: 2026-03-04T1<|>0:20, by: x, how: email, amount: 1.00 } ]',
      'Wednesday, March 4, 2026, today',
    ],
    ['a word', 'vehicle: { drive: 4<|>wd }', '**4wd**\n\nFour-wheel drive with a transfer case.'],
    ['a share', 'lines: [ { part: TC-B, discount: 7.<|>5% } ]', '7.5% of 100.00 is 7.50.'],
  ])('%s', (_, text, expected) => {
    expect(inJob(text).text).toContain(expected);
  });

  it('shows markup as margin and margin as markup', () => {
    // Row of trade arithmetic: 40% markup is 28.57% margin, 40% margin is 66.67% markup.
    expect(inFile('b/shop.yaml', 'kind: shop\nsublet: { markup: 40<|>% }').text).toContain(
      'A markup of 40% is a margin of 28.57% and a factor of 1.4.',
    );
    expect(inFile('b/shop.yaml', 'kind: shop\nsublet: { margin: 40<|>% }').text).toContain(
      'A margin of 40% is a markup of 66.67% and a factor of 1.6667.',
    );
  });
});

describe('totals', () => {
  it('are shown as a tree: of a line at its first name, of an option at its id', () => {
    expect(inJob('lines:\n  - pa<|>rt: TC-B').text).toContain(
      '| Torque converter | $397.50 | 1 each × $397.50 |\n| · [Quantity](<file:///shop/j.job.yaml#L6,5>) | 1 each |',
    );
    const { text } = inJob(
      'options:\n  over<|>haul: { name: Overhaul, kind: overhaul, lines: [ { fee: waste } ] }',
    );
    expect(text).toContain('| Total | $18.00 |');
    expect(text).toContain('**Overhaul** `overhaul`');
  });
});

describe('what comes from files', () => {
  const parts = (name: string) =>
    `kind: parts\nparts:\n  "A<|>|1": { name: ${JSON.stringify(name)}, kind: soft, price: 1.00, note: "[x](command:boom) <img src=x>" }`;

  it('is never taken for Markdown', () => {
    const { text } = inFile('q.parts.yaml', parts('**Bold** <b>x</b> | `tick`'));
    expect(text).toContain('**\\*\\*Bold\\*\\* \\<b\\>x\\</b\\> \\| \\`tick\\`** `A|1`');
    expect(text).toContain('\\[x\\](command:boom) \\<img src=x\\>');
  });

  it('is cut when it is too long', () => {
    const { text } = inFile(
      'q.parts.yaml',
      `kind: parts\nparts:\n  A<|>: { name: A, kind: soft, note: "${'word '.repeat(500)}" }`,
    );
    expect(text!.length).toBeLessThan(2000);
  });
});
