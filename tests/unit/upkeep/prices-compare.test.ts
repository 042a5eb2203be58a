import { describe, expect, test } from 'vitest';
import type { Comparison } from '../../../server/src/upkeep/prices/compare.ts';
import { priceCsv, priceEntries } from '../../../server/src/upkeep/prices/entries.ts';
import { bookOf, fileIn, hostOf } from '../book/told.ts';
import { compared } from './prices-scene.ts';

const NORTH = `kind: parts
supplier: north
parts:
  K-10: { name: Kit, kind: kit, cost: 100.00, list: 180.00 }
  C-20: { name: Converter, kind: converter, cost: 265.00, core: 120.00 }
  0071: { name: Bolt, kind: hardware, cost: 0.38 }
  F-30:
    name: Fluid
    kind: fluid
    unit: quart
    pack: { unit: case, of: 12, cost: 81.00 }
  H-40:
    name: Drum
    kind: hard
    cost: 50.00
    prices:
      - { from: 2025-01-01, until: 2025-12-31, cost: 52.00 }
      - { from: 2026-01-01, cost: 55.00 }
  OLD: { name: Old, kind: soft, cost: 1.00, status: discontinued }
`;
const book = (more: Record<string, string> = {}) => bookOf({ 'north.parts.yaml': NORTH, ...more });

/** One line a finding, in the order of the report. */
function told(found: Comparison): string[] {
  return [
    ...found.changes.map(
      ({ definition, figures, successor, doubts, blocked }) =>
        `${[
          definition.id,
          ...figures.map(({ figure, old, now }) => `${figure} ${old ?? '-'}>${now}`),
          ...(successor ? [`by ${successor}`] : []),
        ].join(' ')}${doubts.length > 0 ? ` ?${doubts.join('; ')}` : ''}${blocked ? ` !${blocked}` : ''}`,
    ),
    ...found.fresh.map(
      ({ row, doubts }) => `new ${row.number}${doubts.length > 0 ? ` ?${doubts.join('; ')}` : ''}`,
    ),
    ...found.gone.map(({ id }) => `gone ${id}`),
    ...found.unread.map(({ line, message }) => `${line} ${message}`),
  ];
}

const changes = (csv: string) => told(compared(book(), csv)).filter((line) => !line.startsWith('gone'));

describe('what has changed', () => {
  test('largest change of cost first; what is the same is counted', () => {
    const found = compared(
      book(),
      'Item,Net,List,Core\nK-10,103.00,180.00,\nC-20,238.50,,120.00\n0071,0.38,,\nH-40,66.00,,\n',
    );
    expect(told(found)).toEqual(['H-40 cost 55>66', 'C-20 cost 265>238.5', 'K-10 cost 100>103', 'gone F-30']);
    expect(found.same).toBe(1);
    expect(found.changes.map(({ figures }) => figures[0]!.share?.toString())).toEqual([
      '0.2',
      '-0.1',
      '0.03',
    ]);
  });

  test('list price and core beside the cost', () => {
    expect(changes('Item,Net,List,Core\nK-10,100,175.00,\nC-20,265,,150\n')).toEqual([
      'C-20 core 120>150',
      'K-10 list 180>175',
    ]);
  });

  test('the price in force on the day counts, from the history of the part', () => {
    const on = (day: string) => told(compared(book(), 'Item,Net\nH-40,56.00\n', { on: day as never }))[0];
    expect(on('2025-06-01')).toBe('H-40 cost 52>56');
    expect(on('2026-06-01')).toBe('H-40 cost 55>56');
    expect(on('2024-06-01')).toBe('H-40 cost 50>56');
  });

  test('a number that took the place of another', () => {
    expect(changes('Item,Net,Replaced by\nK-10,100,K-11\n')).toEqual(['K-10 by K-11']);
    const known = book({
      'b.parts.yaml': 'kind: parts\nparts:\n  K-10: { name: K, kind: kit, superseded-by: { part: K-11 } }\n',
    });
    known.remove('file:///book/north.parts.yaml');
    expect(told(compared(known, 'Item,Net,Replaced by\nK-10,,K-11\n'))).toEqual([]);
  });

  // trade.md 2.8: purchase unit, selling unit and factor are three fields (common practice, no source).
  test('a price by the pack is held against the price by the pack', () => {
    expect(changes('Item,Net,Per\nF-30,84.00,case\n')).toEqual(['F-30 cost 81>84']);
    expect(changes('Item,Net\nF-30,84.00\n')).toEqual(['F-30 cost 81>84']);
  });

  test('sold by something else than in the book: never taken over', () => {
    expect(changes('Item,Net,Per\nF-30,7.00,quart\nK-10,200.00,pair\n')).toEqual([
      'F-30 !The file prices one quart, the book one case. Change the unit in the book first.',
      'K-10 !The file prices one pair, the book one each. Change the unit in the book first.',
    ]);
  });

  test('new, gone, and gone only from catalogs that the file is about', () => {
    const more = { 'south.parts.yaml': 'kind: parts\nparts:\n  S-1: { name: S, kind: soft, cost: 1.00 }\n' };
    const csv = 'Item,Net\nK-10,100\nC-20,265\n0071,0.38\nN-1,5.00\n';
    const found = compared(book(more), csv);
    expect(told(found)).toEqual(['new N-1', 'gone F-30', 'gone H-40']);
    expect(found.catalogs.map(({ uri }) => uri)).toEqual(['file:///book/north.parts.yaml']);
    const whole = book(more);
    expect(told(compared(whole, csv, { files: new Set([fileIn(whole, 'south.parts.yaml')]) }))).toEqual([
      'new K-10',
      'new C-20',
      'new 0071',
      'new N-1',
      'gone S-1',
    ]);
  });
});

describe('which part a number means', () => {
  test("the supplier's own number, where the part gives it", () => {
    const named = bookOf({
      'a.parts.yaml':
        'kind: parts\nparts:\n  OURS: { name: A, kind: soft, cost: 1.00, supplier-number: "0042" }\n',
    });
    expect(told(compared(named, 'Item,Net\n0042,1.10\nOURS,9.00\n'))).toEqual([
      'OURS cost 1>1.1',
      'new OURS',
    ]);
  });

  test('a number that is only like one is a guess, and not when another row has the number itself', () => {
    expect(changes('Item,Net\nk 10,103.00\n71,0.40\n')).toEqual([
      '0071 cost 0.38>0.4 ?only like 0071 in the book',
      'K-10 cost 100>103 ?only like K-10 in the book',
    ]);
    expect(changes('Item,Net\nk10,103.00\nK-10,101.00\n')).toEqual(['K-10 cost 100>101', 'new k10']);
  });

  test('two parts that it could be', () => {
    const two = bookOf({
      'a.parts.yaml':
        'kind: parts\nparts:\n  A-1: { name: A, kind: soft, cost: 1.00 }\n  A1: { name: A, kind: soft, cost: 1.00 }\n',
    });
    expect(told(compared(two, 'Item,Net\na.1,2.00\n'))[0]).toBe(
      '2 It can be A-1 or A1. Say whose file this is, or correct the number.',
    );
  });

  test('twice in the file: with the same figures once is enough, with others it is doubtful', () => {
    expect(changes('Item,Net\nK-10,103.00\nK-10,103.00\n')).toEqual(['K-10 cost 100>103']);
    expect(changes('Item,Net\nK-10,103.00\nK-10,104.00\n')).toEqual([
      'K-10 cost 100>103 ?the file has the number twice, with other figures',
      '3 The number is on line 2 already, with other figures.',
    ]);
  });
});

// Common practice, no source: what a parts counter asks back about before it believes a price.
describe('doubts', () => {
  test.each([
    ['1000.00', 'the cost is 10.0 times the old one; a decimal point may have slipped'],
    ['9800.00', 'the cost is 98.0 times the old one; a decimal point may have slipped'],
    ['10.00', 'the cost is one part in 10.0 of the old one; a decimal point may have slipped'],
    ['1.03', 'the cost is one part in 97.1 of the old one; a decimal point may have slipped'],
    ['3000.00', 'the cost is 30.0 times the old one'],
    ['0.00', 'the cost is zero'],
    ['-103.00', 'the cost is below zero'],
    ['190.00', 'the cost is above the list price'],
  ])('a cost of %s where the book has 100.00', (cost, doubt) => {
    const [found] = compared(book(), `Item,Net\nK-10,${cost}\n`).changes;
    expect(found!.doubts.at(0)).toContain(doubt);
  });

  test('below its core charge, and not when it was so before', () => {
    expect(changes('Item,Net,Core\nC-20,115.00,\n')).toEqual([
      'C-20 cost 265>115 ?the cost is below the core charge',
    ]);
    const cheap = bookOf({
      'a.parts.yaml': 'kind: parts\nparts:\n  C: { name: C, kind: converter, cost: 50.00, core: 120.00 }\n',
    });
    expect(told(compared(cheap, 'Item,Net\nC,52.00\n'))).toEqual(['C cost 50>52']);
  });

  test('a price that nearly doubles is news, not a slip', () => {
    expect(changes('Item,Net,List\nK-10,170.00,320.00\n')).toEqual(['K-10 cost 100>170 list 180>320']);
  });

  test('of new parts', () => {
    expect(changes('Item,Net,List,Core\nN-1,0.00,,\nN-2,5.00,,9.00\nN-3,5.00,9.00,\n')).toEqual([
      'new N-1 ?the cost is zero',
      'new N-2 ?the cost is below the core charge',
      'new N-3',
    ]);
  });
});

test('parts that are drawn from a price file cannot be changed in the catalog', () => {
  const drawn = bookOf(
    {
      'p.parts.yaml':
        'kind: parts\nfrom:\n  file: p.csv\n  columns: { number: Item, cost: Net }\n  kind: hardware\n',
    },
    hostOf({ 'p.csv': 'Item,Net\nP-1,1.00\n' }),
  );
  expect(told(compared(drawn, 'Item,Net\nP-1,1.10\n'))[0]).toMatch(/^P-1 cost 1>1.1 !The part is drawn from/);
});

// OWASP, "CSV Injection": text that begins with = + - @ is run by spreadsheets.
test('a spreadsheet runs nothing that a supplier has typed', () => {
  const one = book();
  const found = compared(one, 'Item,Description,Net\n"=HYPERLINK(""x"")","@SUM(A1)",1.00\n+1,-2,call\n');
  const csv = priceCsv(priceEntries(one, found, () => false));
  const cells = csv.split('\r\n').flatMap((line) => line.split(','));
  expect(csv).toContain(`"'=HYPERLINK(""x"")"`);
  expect(cells.filter((cell) => /^"?[=+@-]/.test(cell))).toEqual([]);
});
