import { describe, expect, test } from 'vitest';
import type { Part } from '../../../schemas/kinds/parts.ts';
import type { Book } from '../../../server/src/book/book.ts';
import { bookOf, hostOf, ROOT, told } from './told.ts';

const FROM = `kind: parts
from:
  file: north.csv
  columns: { number: Number, name: Name, cost: Cost, list: List, core: Core, unit: Per }
  kind: soft
  condition: new
`;
const HEAD = 'Number,Name,Cost,List,Core,Per';

const bookWith = (csv: string | Uint8Array, yaml = FROM, more: Record<string, string> = {}) =>
  bookOf({ 'a.parts.yaml': yaml, ...more }, hostOf({ 'north.csv': csv }));

const part = (book: Book, id: string) => {
  const value = book.value('part', id) as Part | undefined;
  return value && JSON.parse(JSON.stringify(value));
};

const latin1 = (text: string) => Uint8Array.from(text, (char) => char.charCodeAt(0));

describe('rows', () => {
  test('a row is a part like any other: value, line, users', () => {
    const book = bookWith(`${HEAD}\n0071,"Bolt, M6",0.38,1.10,,each\n24E7,Filter,22.40,,5.00,EACH\n`, FROM, {
      'j.job.yaml': 'kind: job\nid: J\nopened: 2026-01-02\nunit: u\nlines:\n  - part: 24E7\n',
    });
    expect(told(book, 'a.parts.yaml')).toEqual([]);
    expect(part(book, '0071')).toMatchObject({
      name: 'Bolt, M6',
      kind: 'soft',
      condition: 'new',
      cost: '0.38',
      list: '1.1',
    });
    expect(part(book, '24E7')).toMatchObject({ name: 'Filter', cost: '22.4', core: '5' });
    expect(book.definition('part', '24E7')!.row).toBe(3);
    expect(told(book, 'j.job.yaml').filter((one) => one.includes('part'))).toEqual([]);
  });

  test.each([
    ['a semicolon', HEAD.replaceAll(',', ';'), 'P;"A; b";4.10;;;'],
    ['a tab', HEAD.replaceAll(',', '\t'), 'P\tA; b\t4.10\t\t\t'],
    ['a bar', HEAD.replaceAll(',', '|'), 'P|A; b|4.10|||'],
    ['a mark before the text', `﻿${HEAD}`, 'P,A; b,4.10,,,'],
    ['line ends of another system', `${HEAD}\r`, 'P,A; b,4.10,,,\r'],
    ['spaces around', 'Number , Name, COST ,List,Core,Per', ' P , A; b , 4.10 ,,,'],
    ['quotes inside quotes', HEAD, 'P,"A; b",4.10,,,'],
  ])('%s', (_what, head, row) => {
    const book = bookWith(`${head}\n${row}\n`);
    expect(told(book, 'a.parts.yaml')).toEqual([]);
    expect(part(book, 'P')).toMatchObject({ name: 'A; b', cost: '4.1' });
  });

  test.each([
    ['1,234.50', '1234.5'],
    ['$1,234.50', '1234.5'],
    ['€12.50', '12.5'],
    ['12.50 USD', '12.5'],
    ['USD 12.50', '12.5'],
    ['0.0375', '0.0375'],
  ])('the amount %s', (typed, amount) => {
    expect(part(bookWith(`${HEAD}\nP,A,"${typed}",,,\n`), 'P').cost).toBe(amount);
  });

  test('the delimiter that is said counts', () => {
    const yaml = FROM.replace('kind: soft', 'kind: soft\n  delimiter: ";"');
    expect(part(bookWith(`${HEAD.replaceAll(',', ';')}\nP;A;4.10;;;\n`, yaml), 'P')).toMatchObject({
      cost: '4.1',
    });
    expect(told(bookWith(`${HEAD}\nP,A,4.10,,,\n`, yaml), 'a.parts.yaml')[0]).toContain(
      'The price file has no column "Number".',
    );
  });

  test('a decimal comma, found or said', () => {
    const csv = `${HEAD.replaceAll(',', ';')}\nP;A;1.234,50;;;\n`;
    expect(part(bookWith(csv), 'P').cost).toBe('1234.5');
    const said = FROM.replace('kind: soft', 'kind: soft\n  decimal: comma');
    expect(part(bookWith(csv.replace('1.234,50', '1,234'), said), 'P').cost).toBe('1.234');
    expect(part(bookWith(csv.replace('1.234,50', '1,234')), 'P').cost).toBe('1234');
  });

  test('letterhead above the headings, comments between, a total below', () => {
    const csv = `North Parts,,\n# spring, "2026"\n\n${HEAD}\nP,A,4.10,,,\n# page 2\nQ,B,1.00,,,\nTotal,,5.10,,,\n`;
    const book = bookWith(csv);
    expect(told(book, 'a.parts.yaml')).toEqual([]);
    expect([...book.registry.ids('part')]).toEqual(['P', 'Q']);
    expect(book.definition('part', 'Q')!.row).toBe(7);
  });

  test('a value with the separator in it, without quotes, is not believed', () => {
    expect(told(bookWith(`${HEAD}\nP,A, large,4.10,,,\nQ,B,1.00,,,\n`), 'a.parts.yaml')).toEqual([
      '3:9-18 price-file: Line 2 of the price file (P): It has more cells than there are headings. A value that holds the separator has to stand in quotes.',
    ]);
  });

  test('encodings', () => {
    const rows = `${HEAD}\nP,Dichtung für Getriebe,4.10,,,\n`;
    expect(part(bookWith(rows), 'P').name).toBe('Dichtung für Getriebe');
    const windows = FROM.replace('kind: soft', 'kind: soft\n  encoding: windows-1252');
    expect(part(bookWith(latin1(rows), windows), 'P').name).toBe('Dichtung für Getriebe');
    expect(told(bookWith(latin1(rows)), 'a.parts.yaml')).toEqual([
      '3:9-18 price-file: The price file "north.csv" is not UTF-8 text. Save it as UTF-8, or write: encoding: windows-1252',
    ]);
  });
});

describe('what is wrong', () => {
  test('rows are told with their line, and the others are kept', () => {
    const book = bookWith(
      `${HEAD}\nP-1,A,four,,,\nP-2,B,4.10,,,\n,C,1.00,,,\n,,,,,\nconstructor,D,1.00,,,\nP-3,E,1.00,,,dozens\nP-2,F,9.00,,,\nP-4,G,(4.10),,,\n`,
    );
    expect(told(book, 'a.parts.yaml')).toEqual([
      '3:9-18 price-file: Line 2 of the price file (P-1): cost: "four" is not a number. Write digits, such as 12.50.',
      '3:9-18 price-file: Line 4 of the price file: There is no part number.',
      '3:9-18 price-file: Line 6 of the price file (constructor): "constructor" is a word that programs keep for themselves; choose another id.',
      expect.stringMatching(
        /^3:9-18 price-file: Line 7 of the price file \(P-3\): unit: "dozens" is not something/,
      ),
      '3:9-18 price-file: Line 8 of the price file (P-2): The number is on line 3 already.',
      expect.stringMatching(/^3:9-18 price-file: Line 9 of the price file \(P-4\): cost: /),
    ]);
    expect(part(book, 'P-2')).toMatchObject({ name: 'B', cost: '4.1' });
    for (const id of ['P-1', 'P-3', 'P-4']) expect(part(book, id)).toBeUndefined();
  });

  test('of very many bad rows some are told and the rest counted', () => {
    const rows = Array.from({ length: 50 }, (_, i) => `P-${i},A,x,,,`).join('\n');
    const problems = told(bookWith(`${HEAD}\n${rows}\n`), 'a.parts.yaml');
    expect(problems).toHaveLength(21);
    expect(problems.at(-1)).toBe('3:9-18 price-file: 30 more lines of the price file are not right.');
  });

  test('a column that is not there', () => {
    expect(told(bookWith('Number,Name,Costs,List,Core,Per\nP,A,1,,,\n'), 'a.parts.yaml')).toEqual([
      '4:12-89 price-file: The price file has no column "Cost". Did you mean "Costs"?',
    ]);
    expect(told(bookWith('Item,Price\nP,1\n'), 'a.parts.yaml')[0]).toBe(
      '4:12-89 price-file: The price file has no column "Number". It has: Item, Price.',
    );
  });

  test.each([
    ['', 'The price file is empty.'],
    [
      `${HEAD}\nP,"A,4.10,,,\nQ,B,1.00,,,\n`,
      'The price file cannot be read from row 2 on: a quote is not closed, or stands inside a value without being doubled.',
    ],
  ])('%j', (csv, message) => {
    expect(told(bookWith(csv), 'a.parts.yaml')).toEqual([expect.stringContaining(message)]);
  });

  test.each([
    [
      '../north.csv',
      '"../north.csv" lies outside the shop book. Copy the price file into the book and name it from here.',
    ],
    [
      '/etc/passwd',
      '"/etc/passwd" lies outside the shop book. Copy the price file into the book and name it from here.',
    ],
    [
      'file:///etc/passwd',
      '"file:///etc/passwd" lies outside the shop book. Copy the price file into the book and name it from here.',
    ],
    [
      'C:\\\\north.csv',
      '"C:\\\\north.csv" lies outside the shop book. Copy the price file into the book and name it from here.',
    ],
    ['south.csv', 'There is no price file "south.csv". Looked at south.csv.'],
    [
      'x/../../north.csv',
      '"x/../../north.csv" lies outside the shop book. Copy the price file into the book and name it from here.',
    ],
  ])('the path %s', (path, message) => {
    const book = bookWith(HEAD, FROM.replace('north.csv', path));
    expect(told(book, 'a.parts.yaml')[0]).toContain(`price-file: ${message}`);
  });

  test('a file that is too large, or cannot be read', () => {
    const host = (size: number) => ({ read: () => undefined, size: () => size });
    expect(told(bookOf({ 'a.parts.yaml': FROM }, host(1e9)), 'a.parts.yaml')).toEqual([
      '3:9-18 price-file: The price file "north.csv" is larger than 64 MB; split it.',
    ]);
    expect(told(bookOf({ 'a.parts.yaml': FROM }, host(10)), 'a.parts.yaml')).toEqual([
      '3:9-18 price-file: The price file "north.csv" cannot be read. Check its permissions.',
    ]);
  });
});

describe('numbers that are elsewhere too', () => {
  const yaml = `${FROM}parts:\n  P-1: { name: Mine, kind: soft }\n`;

  test('in the text of the same file, or another', () => {
    const book = bookWith(`${HEAD}\nP-1,A,1.00,,,\nP-2,B,1.00,,,\n`, yaml, {
      'b.parts.yaml': 'kind: parts\nparts:\n  P-2: { name: Other, kind: soft }\n',
    });
    expect(told(book, 'a.parts.yaml')).toEqual([
      '8:3-6 defined-twice: The part "P-1" is also in the price file of a.parts.yaml, line 2. Keep one of them, or give one another id.',
    ]);
    expect(told(book, 'b.parts.yaml')).toEqual([
      '3:3-6 defined-twice: The part "P-2" is also in the price file of a.parts.yaml, line 3. Keep one of them, or give one another id.',
    ]);
  });

  test('in two price files', () => {
    const host = hostOf({
      'north.csv': `${HEAD}\nP-1,A,1.00,,,\n`,
      'south.csv': `${HEAD}\n\nP-1,A,1.00,,,\n`,
    });
    const book = bookOf({ 'a.parts.yaml': FROM, 'b.parts.yaml': FROM.replace('north', 'south') }, host);
    expect(told(book, 'a.parts.yaml')).toEqual([
      '3:9-18 defined-twice: The part "P-1" of line 2 is also in the price file of b.parts.yaml, line 3. Keep one of them.',
    ]);
    expect(told(book, 'b.parts.yaml')).toHaveLength(1);
    book.remove(`${ROOT}b.parts.yaml`);
    expect(told(book, 'a.parts.yaml')).toEqual([]);
  });
});

test('a price file that changes on disk is read again, and those who name its parts are told', () => {
  const disk: Record<string, string> = {};
  const book = bookOf(
    {
      'a.parts.yaml': FROM,
      'j.job.yaml': 'kind: job\nid: J\nopened: 2026-01-02\nunit: u\nlines:\n  - part: P-1\n',
    },
    { read: (uri) => hostOf(disk).read(uri, ROOT), size: (uri) => hostOf(disk).size(uri, ROOT) },
  );
  const missing = () => told(book, 'j.job.yaml').filter((one) => one.includes('"P-1"'));
  expect(missing()).toHaveLength(1);
  disk['north.csv'] = `${HEAD}\nP-1,A,1.00,,,\n`;
  const touched = book.refresh(`${ROOT}north.csv`).flatMap((one) => [...one.files]);
  expect(touched.map((file) => file.uri).sort()).toEqual([`${ROOT}a.parts.yaml`, `${ROOT}j.job.yaml`]);
  expect(missing()).toEqual([]);
  expect(told(book, 'a.parts.yaml')).toEqual([]);
  disk['north.csv'] = `${HEAD}\nP-2,A,1.00,,,\n`;
  book.refresh(`${ROOT}north.csv`);
  expect(missing()).toHaveLength(1);
  expect(part(book, 'P-2')).toMatchObject({ name: 'A' });
});

test('a picture that comes is no longer missed', () => {
  const disk: Record<string, string> = {};
  const book = bookOf(
    { 'a.parts.yaml': 'kind: parts\nparts:\n  P: { name: A, kind: soft, picture: p.jpg }\n' },
    { read: () => undefined, size: (uri) => hostOf(disk).size(uri, ROOT) },
  );
  expect(told(book, 'a.parts.yaml')).toEqual([
    '3:38-43 file-missing: There is no file "p.jpg". Looked at p.jpg.',
  ]);
  disk['p.jpg'] = 'x';
  expect(book.refresh(`${ROOT}p.jpg`).flatMap((one) => [...one.files])).toHaveLength(1);
  expect(told(book, 'a.parts.yaml')).toEqual([]);
});
