/** Fields that a shop declares for itself, from the shop file to paper. */
import { describe, expect, it, test } from 'vitest';
import { runAllCases } from '../../server/src/estimate/cases.ts';
import { Estimates } from '../../server/src/estimate/estimates.ts';
import { definition } from '../../server/src/features/definition.ts';
import { hover } from '../../server/src/features/hover.ts';
import { references } from '../../server/src/features/references.ts';
import { printJob, type SheetName } from '../../server/src/print/print.ts';
import { sourceOf } from '../../server/src/print/source.ts';
import { bookOf, fileIn, told } from './book/told.ts';
import { completed } from './features/completion-shown.ts';
import { fixture } from './features/fixture.ts';

const SHOP = `kind: shop
name: Quarrow Creek
currency: USD
locale: en-US
schedules:
  standard: { bands: [{ factor: 2 }] }
pricing: { parts: standard }
rates:
  general: { name: General work, hourly: 148.00 }
fields:
  shelf:  { name: Shelf, meaning: Where it lies., type: text, on: [part], example: B4, print: [bench, order, data] }
  bay:
    name: Bay
    meaning: Where the vehicle stands.
    type: choice
    choices: { gate: By the gate, window: By the window }
    on: [job]
    print: [bench, data]
  tows:   { name: Tows a trailer, meaning: Ask the owner., type: yes-no, on: [job, customer] }
  visits: { name: Visits, meaning: How often it was here., type: count, on: [job] }
  deposit-asked: { name: Deposit asked, meaning: At the counter., type: money, on: [job], print: [customer] }
  reach:  { name: Reach, meaning: Of the tool., type: quantity, dimension: length, on: [operation], print: [bench] }
  called: { name: Called, meaning: The day., type: date, on: [job] }
  tool:   { name: Goes with, meaning: The other part., type: reference, names: part, on: [part] }
`;

const REST = {
  'common.parts.yaml': `kind: parts
parts:
  SEAL-1: { name: Seal, kind: soft, cost: 4.00, own: { shelf: B4, tool: PUMP-1 } }
  PUMP-1: { name: Pump, kind: hard, cost: 40.00 }
`,
  'work.labor.yaml': `kind: labor
operations:
  fit-seal: { name: Fit the seal, work: bench, rate: general, hours: 1.0, own: { reach: 10 in } }
`,
  'birch.units.yaml': `kind: units
units:
  birch-6: { name: Birch-6, layout: rear, fluid-class: B }
`,
  'work.rules.yaml': `kind: rules
roles:
  pump: { name: Pump, of: part }
rules:
  trailer: { when: { own: { tows: yes } }, requires: [{ role: pump }], because: Heat., basis: shop }
  often: { when: { own: { visits: 3.. } }, forbids: [pump], because: Enough., basis: shop }
`,
};

const job = (own: string, lines = '[{ part: SEAL-1 }, { operation: fit-seal }]') =>
  `kind: job\nid: J-1\nopened: 2026-03-02\nunit: birch-6\nlines: ${lines}\n${own}`;

const bookWith = (own: string, shop = SHOP) => bookOf({ 'shop.yaml': shop, ...REST, 'j.job.yaml': job(own) });

const values = (own: string) => told(bookWith(own), 'j.job.yaml').map((one) => one.replace(/^\S+ /, ''));

describe('values are held against what the shop says of the field', () => {
  test.each([['bay: gate'], ['tows: yes'], ['visits: 3'], ['deposit-asked: 50.00'], ['called: 2026-03-02']])(
    '%s',
    (own) => {
      expect(values(`own: { ${own} }\n`)).toEqual([]);
    },
  );

  test.each([
    ['bay: gat', 'own-field-value: "gat" is not one of the words for this. Did you mean "gate"?'],
    ['tows: perhaps', 'own-field-value: Write yes or no.'],
    ['visits: 2.5', 'own-field-value: Write a whole number here, such as 12.'],
    ['visits: 3..', 'own-field-value: Write a whole number here, such as 12.'],
    ['shelf: B4', 'own-field-place: The field "shelf" is not for a job. The shop has it on: part.'],
    [
      'bey: gate',
      'unknown-reference: There is no field of the shop "bey" in the book at book. Did you mean "bay"?',
    ],
  ])('%s', (own, message) => {
    expect(values(`own: { ${own} }\n`)).toEqual([message]);
  });

  it('says which entry a reference lacks', () => {
    const parts = REST['common.parts.yaml'].replace('tool: PUMP-1', 'tool: PUMP-2');
    const book = bookOf({ 'shop.yaml': SHOP, ...REST, 'common.parts.yaml': parts });
    expect(told(book, 'common.parts.yaml')).toEqual([
      '3:73-79 own-field-value: There is no part "PUMP-2" in the book, and Goes with names one. Did you mean "PUMP-1"?',
    ]);
  });

  it('looks again when the shop changes the field', () => {
    const book = bookWith('own: { bay: yard }\n');
    expect(told(book, 'j.job.yaml')).toHaveLength(1);
    book.put('file:///book/shop.yaml', SHOP.replace('window: By the window', 'yard: Outside'));
    expect(told(book, 'j.job.yaml')).toEqual([]);
  });

  it('asks a field for what its type needs', () => {
    const book = bookWith('', SHOP.replace(', dimension: length', ''));
    expect(told(book, 'shop.yaml').join('\n')).toContain('A field of type quantity needs `dimension`.');
  });

  it('takes over the fields of the shop that is extended', () => {
    const book = bookOf({
      'common/shop.yaml': SHOP,
      ...REST,
      'west/shop.yaml':
        'kind: shop\nextends: ../common/shop.yaml\nfields:\n  drop: { name: Drop, meaning: Box., type: text, on: [job] }\n',
      'west/j.job.yaml': job('own: { bay: gate, drop: A }\n'),
    });
    expect(told(book, 'west/j.job.yaml')).toEqual([]);
  });
});

describe('rules and cases ask for them', () => {
  const requirements = (own: string) => {
    const book = bookWith(own);
    const made = new Estimates(book).of(fileIn(book, 'j.job.yaml'))!;
    return made.options[0]!.work.rules.map((one) => one.id);
  };

  it('however a value is typed, and in ranges', () => {
    expect(requirements('own: { tows: yes }\n')).toEqual(['trailer']);
    expect(requirements('own: { tows: "true" }\n')).toEqual(['trailer']);
    expect(requirements('own: { tows: no, visits: 2 }\n')).toEqual([]);
    expect(requirements('own: { visits: 3 }\n')).toEqual(['often']);
    expect(requirements('')).toEqual([]);
  });

  it('in what a case gives and expects', () => {
    const cases = `kind: cases
cases:
  right: { given: { unit: birch-6, own: { tows: yes, visits: 4 } }, expect: { missing: [pump], own: { visits: 2..5 } } }
  wrong: { given: { unit: birch-6, own: { visits: 1 } }, expect: { own: { visits: 2..5 } } }
`;
    const book = bookOf({ 'shop.yaml': SHOP, ...REST, 'a.cases.yaml': cases });
    expect(told(book, 'a.cases.yaml')).toEqual([]);
    const results = [...runAllCases(new Estimates(book))];
    expect(results.map((one) => one.mismatches.map(({ path, actual }) => [path.join('.'), actual]))).toEqual([
      [],
      [['expect.own.visits', '1']],
    ]);
  });
});

describe('papers show what the shop lets them', () => {
  const OWN = 'own: { bay: gate, tows: yes, deposit-asked: 50.00 }\n';
  const paper = async (sheet: SheetName, format: 'text' | 'csv' | 'json' = 'text') => {
    const book = bookWith(OWN);
    const source = sourceOf(new Estimates(book), fileIn(book, 'j.job.yaml'))!;
    return String(await printJob(source, sheet, format));
  };

  it('and no others', async () => {
    const bench = await paper('bench');
    for (const shown of ['Bay: gate', 'Shelf: B4', 'Reach: 10']) expect(bench).toContain(shown);
    const customer = await paper('customer');
    expect(customer).toContain('Deposit asked: $50.00');
    for (const hidden of ['Bay', 'Shelf', 'Reach', 'Tows']) expect(customer).not.toContain(hidden);
    expect(await paper('order')).toContain('Shelf: B4');
  });

  it('and other systems', async () => {
    const [header, first] = (await paper('customer', 'csv')).split('\r\n');
    expect(header).toMatch(/,own: shelf$/);
    expect(first).toMatch(/,B4$/);
    const json = JSON.parse(await paper('customer', 'json'));
    expect(json.own).toEqual({ bay: 'gate' });
    expect(json.options[0].lines[0].own).toEqual({ shelf: 'B4' });
    expect(json.options[0].lines[1].own).toBeUndefined();
  });
});

describe('the editor knows them as it knows ours', () => {
  const around = `
    === shop.yaml
${SHOP.replace(/^/gm, '    ')}
    === common.parts.yaml
${REST['common.parts.yaml'].replace(/^/gm, '    ')}
    === birch.units.yaml
${REST['birch.units.yaml'].replace(/^/gm, '    ')}
    === j.job.yaml
    kind: job
    id: J-1
    opened: 2026-03-02
    unit: birch-6
    own:
`;

  it('completes the fields of a job, and no others', () => {
    const shown = completed(`${around}      <|>\n`);
    expect(shown.labels).toEqual(['bay', 'tows', 'visits', 'deposit-asked', 'called']);
    expect(shown.accept('bay')).toContain(`  bay: $\{1|gate,window|}`);
  });

  it('completes their values', () => {
    expect(completed(`${around}      bay: <|>\n`).items).toEqual([
      'gate : By the gate',
      'window : By the window',
    ]);
    expect(completed(`${around}      tows: <|>\n`).labels).toEqual(['yes', 'no']);
    const named = around.replace('tool: PUMP-1', 'tool: <|>');
    expect(completed(named).labels).toEqual(['PUMP-1', 'SEAL-1']);
  });

  it('tells what a field and a value mean', () => {
    const told = (source: string) => {
      const at = fixture(source);
      const found = hover({
        estimates: new Estimates(at.book),
        file: at.file,
        position: at.position,
        markdown: true,
      });
      return (found?.contents as { value: string } | undefined)?.value ?? '';
    };
    const key = told(`${around}      b<|>ay: gate\n`);
    expect(key).toContain('Where the vehicle stands.');
    expect(key).toContain('bench, data');
    expect(told(`${around}      bay: ga<|>te\n`)).toContain('By the gate');
  });

  it('goes from a value that names a part to the part, and back', () => {
    const { book, file, position, show } = fixture(around.replace('tool: PUMP-1', 'tool: PUMP<|>-1'));
    const targets = definition(book, file, position).map(
      ({ targetUri: uri, targetSelectionRange: range }) => ({
        uri,
        range,
      }),
    );
    expect(show(targets)).toEqual([
      'common.parts.yaml:4:   [PUMP-1]: { name: Pump, kind: hard, cost: 40.00 }',
    ]);
    expect(show(references(book, file, position, { includeDeclaration: false }))).toEqual([
      'common.parts.yaml:3:   SEAL-1: { name: Seal, kind: soft, cost: 4.00, own: { shelf: B4, tool: [PUMP-1] } }',
    ]);
    const typedAlike = fixture(around.replace('shelf: B4', 'shelf: PUMP<|>-1'));
    expect(definition(typedAlike.book, typedAlike.file, typedAlike.position)).toEqual([]);
  });
});
