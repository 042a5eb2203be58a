/** Price files as suppliers send them. Every file here is invented; the shapes are common practice, no source. */
import { describe, expect, test } from 'vitest';
import { type Form, type PriceRows, readPriceFile } from '../../../server/src/upkeep/prices/intake.ts';

const utf8 = (text: string) => new TextEncoder().encode(text);
const utf16 = (text: string, big: boolean) => {
  const bytes = new Uint8Array(2 + text.length * 2);
  const view = new DataView(bytes.buffer);
  for (const [i, unit] of [0xfeff, ...[...text].map((ch) => ch.charCodeAt(0))].entries())
    view.setUint16(i * 2, unit, !big);
  return bytes;
};
const windows1252 = (text: string) =>
  Uint8Array.from(text, (ch) => (ch === '€' ? 0x80 : ch === '–' ? 0x96 : ch.charCodeAt(0)));

function rowsOf(file: string | Uint8Array, form?: Form): PriceRows {
  const read = readPriceFile(typeof file === 'string' ? utf8(file) : file, form);
  if (typeof read === 'string') throw new Error(read);
  return read;
}

/** `number name cost list core unit successor @line`, what is not there as a dash. */
function shown({ rows }: Pick<PriceRows, 'rows'>): string[] {
  return rows.map((row) =>
    [
      row.number,
      row.name ?? '-',
      row.cost ?? '-',
      row.list ?? '-',
      row.core ?? '-',
      row.unit?.id ?? '-',
      row.successor ?? '-',
      `@${row.line}`,
    ].join(' '),
  );
}

describe('what a file may look like', () => {
  test('the plainest: commas, headings first, a part number with its zeros', () => {
    const read = rowsOf('Part Number,Cost\n0071,0.38\n24E7,22.40\n');
    expect(shown(read)).toEqual(['0071 - 0.38 - - - - @2', '24E7 - 22.4 - - - - @3']);
    expect(read).toMatchObject({ encoding: 'utf-8', delimiter: ',', decimal: '.' });
  });

  test('letterhead above the headings, blank lines, comments, and a total at the end', () => {
    const file = [
      'Northfen Transmission Parts',
      'Valid from July 1, "2026"',
      '',
      '# net prices, freight extra',
      'Item;Description;Your net',
      'A-1;Kit;10.00',
      '',
      '// page 2',
      '# discontinued below',
      '#12;Clip;0.20',
      ';;',
      'Total;2 items;10.20',
    ];
    expect(shown(rowsOf(file.join('\n')))).toEqual(['A-1 Kit 10 - - - - @6', '#12 Clip 0.2 - - - - @10']);
  });

  test('a decimal comma, points between thousands, and semicolons', () => {
    const read = rowsOf('Artikel;Item;Net;List\nx;A-1;1.234,50;2.000\nx;A-2;12,5;1.000,00\n');
    expect(shown(read)).toEqual(['A-1 - 1234.5 2000 - - - @2', 'A-2 - 12.5 1000 - - - @3']);
    expect(read.decimal).toBe(',');
  });

  test('a decimal comma inside quotes, separated by commas', () => {
    expect(shown(rowsOf('Item,Net\nA-1,"1.234,50"\nA-2,"0,99"\n'))).toEqual([
      'A-1 - 1234.5 - - - - @2',
      'A-2 - 0.99 - - - - @3',
    ]);
  });

  test('thousands set off by a comma, a space, a narrow space or an apostrophe', () => {
    expect(
      shown(rowsOf('Item\tNet\nA\t1,234.50\nB\t1 234.50\nC\t1\u202f234.50\nD\t1\u2019234.50\n')).map(
        (row) => row.split(' ')[2],
      ),
    ).toEqual(['1234.5', '1234.5', '1234.5', '1234.5']);
  });

  test('currency signs before and behind, and amounts below zero as ledgers write them', () => {
    expect(
      shown(rowsOf('Item|Net\nA|$1,234.50\nB|€ 9.99\nC|9.99 USD\nD|(4.10)\nE|4.10-\nF|-4.10\n')).map(
        (row) => row.split(' ')[2],
      ),
    ).toEqual(['1234.5', '9.99', '9.99', '-4.1', '-4.1', '-4.1']);
  });

  test('a figure that is left out: empty, a dash, n/a', () => {
    expect(shown(rowsOf('Item,Net,Core\nA,1.00,\nB,1.00,-\nC,1.00,N/A\n'))).toEqual([
      'A - 1 - - - - @2',
      'B - 1 - - - - @3',
      'C - 1 - - - - @4',
    ]);
  });

  test('UTF-8 with its mark, UTF-16 both ways with its mark, Windows-1252 without any', () => {
    const text = 'Item;Description;Net\r\nA-1;Dichtung für Getriebe – groß;12.50\r\n';
    for (const [bytes, encoding] of [
      [utf8(`\ufeff${text}`), 'utf-8'],
      [utf16(text, false), 'utf-16le'],
      [utf16(text, true), 'utf-16be'],
      [windows1252(text), 'windows-1252'],
    ] as const) {
      const read = rowsOf(bytes);
      expect(shown(read)).toEqual(['A-1 Dichtung für Getriebe – groß 12.5 - - - - @2']);
      expect(read.encoding).toBe(encoding);
    }
  });

  test('quotes doubled inside quotes, and a line break inside a value', () => {
    const [row] = rowsOf('Item,Description,Net\nA-1,"Pan, 12"" deep\nwith plug",12.50\nA-2,B,1\n').rows;
    expect(row).toMatchObject({ name: 'Pan, 12" deep\nwith plug', line: 3 });
  });

  test('inches as a quote that nobody doubled', () => {
    expect(rowsOf('Item,Description,Net\nA-1,Pan 12" deep,12.50\n').rows[0]).toMatchObject({
      name: 'Pan 12" deep',
    });
  });

  test('ragged rows: short ones lack figures, long ones are not believed', () => {
    const read = rowsOf(
      'Item,Description,Net,Core\nA-1,Kit,9.00\nA-2,Kit, large,9.00,1.00\nA-3,Bolt, 12,9.00,\nA-4,Kit,9.00,1.00\nA-5,Kit,9.00,1.00\n',
    );
    expect(shown(read)).toEqual(['A-1 Kit 9 - - - - @2', 'A-4 Kit 9 - 1 - - @5', 'A-5 Kit 9 - 1 - - @6']);
    const message =
      'It has more cells than there are headings. A value that holds the separator has to stand in quotes.';
    expect(read.unread).toEqual([
      { number: 'A-2', line: 3, message },
      { number: 'A-3', line: 4, message },
    ]);
  });

  test('separators at the end of every row that the headings lack', () => {
    expect(shown(rowsOf('Item,Net\nA,1.00,,\nB,2.00,,\n'))).toEqual(['A - 1 - - - - @2', 'B - 2 - - - - @3']);
  });

  test('line ends of an old system', () => {
    expect(shown(rowsOf('Item,Net\rA-1,1.00\rA-2,2.00\r'))).toEqual([
      'A-1 - 1 - - - - @2',
      'A-2 - 2 - - - - @3',
    ]);
  });

  test('units and numbers that took the place of others', () => {
    expect(
      shown(
        rowsOf('SKU,U/M,Dealer Net,Suggested Retail,Core Deposit,Replaced By\nA,EA,1,2,3,B\nC,qt,1,,,C\n'),
      ),
    ).toEqual(['A - 1 2 3 each B @2', 'C - 1 - - quart - @3']);
  });
});

describe('what is not read is told with its line', () => {
  test('rows', () => {
    const { unread } = rowsOf(
      'Item,Net,U/M\nA,call,each\n,1.00,each\nB,1.00,dozens\nC,"12,50",each\nD,1.05,each\n',
    );
    expect(unread.map(({ line, number, message }) => `${line} ${number}: ${message}`)).toEqual([
      '2 A: cost: "call" is not a number. Write digits, such as 12.50.',
      '3 : There is no part number.',
      expect.stringMatching(/^4 B: unit: "dozens" is not something parts are sold by\./),
      expect.stringMatching(/^5 C: cost: A point marks the decimals/),
    ]);
  });

  test.each([
    ['', 'The price file is empty.'],
    [
      'Blah;Stuff\n1;2\n',
      'It cannot be told which column holds the part numbers. It has: Blah, Stuff. Say it: number=HEADING.',
    ],
    [
      'Item;Stuff\n1;2\n',
      'It cannot be told which column holds the cost. It has: Item, Stuff. Say it: cost=HEADING.',
    ],
    ['Item,Net\nA,"1.00\nB,2.00\n', expect.stringContaining('a quote is not closed')],
  ])('%j', (file, message) => {
    expect(readPriceFile(utf8(file))).toEqual(message);
  });

  test('a heading that was said and is not there', () => {
    expect(readPriceFile(utf8('Item,Shop net\nA,1\n'), { headings: { cost: 'Shop nett' } })).toBe(
      'The price file has no column "Shop nett". Did you mean "Shop net"?',
    );
  });
});

describe('what was said counts before what is found', () => {
  test('headings, separator, decimal mark, encoding', () => {
    const file = 'Nr|Item|Net|EK\n0071|x|9,99|1,234\n';
    expect(
      shown(
        rowsOf(windows1252(file), {
          headings: { number: 'nr', cost: 'EK' },
          delimiter: '|',
          decimal: ',',
          encoding: 'windows-1252',
        }),
      ),
    ).toEqual(['0071 - 1.234 - - - - @2']);
  });

  test('the headings that a catalog keeps, when the file has them', () => {
    const known = [
      { number: 'Artnr', cost: 'Nowhere' },
      { number: 'Artnr', cost: 'EK' },
    ];
    expect(shown(rowsOf('Artnr;EK\nA;1.50\n', { known }))).toEqual(['A - 1.5 - - - - @2']);
    expect(shown(rowsOf('Item;Net\nA;1.50\n', { known }))).toEqual(['A - 1.5 - - - - @2']);
  });
});
