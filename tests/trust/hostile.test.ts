/** Files meant to break the program, in a book on disk: each gets a word that says what is wrong, and the rest works. */
import { mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { reports } from '../../server/src/cli/check.ts';
import { openBook } from '../../server/src/cli/open.ts';
import { BOOK } from '../protocol/book.ts';

/** Processor time of one book, so that a busy machine does not matter. The slowest takes two seconds. */
const LIMIT_MS = 20_000;
const MILLION = 1_000_000;

let outside: string;
let folder: string;
beforeEach(() => {
  outside = mkdtempSync(join(tmpdir(), 'gearquill-hostile-'));
  folder = join(outside, 'book');
  for (const [name, text] of Object.entries(BOOK)) put(name, text);
});
afterEach(() => rmSync(outside, { recursive: true }));

function put(name: string, text: string | Uint8Array): void {
  const path = join(folder, name);
  mkdirSync(dirname(path), { recursive: true });
  writeFileSync(path, text);
}

/** What is said of one file; that the sample job of the book is still priced is looked at on the way. */
function said(name: string): string[] {
  const before = process.cpuUsage();
  const opened = openBook(folder);
  const found = reports(opened).filter(({ file }) => file.endsWith(name));
  const { user, system } = process.cpuUsage(before);
  expect((user + system) / 1000).toBeLessThan(LIMIT_MS);
  const { estimates, book } = opened.books.find((one) => one.book.definition('job', 'J-1'))!;
  const [option] = estimates.of(book.definition('job', 'J-1')!.facts.file)!.options;
  // By the book's own rules, worked by hand: part 210.00 x 1.4, its successor; 1.8 h x 150.00; 5% on the part.
  expect(option!.priced.total.value.toString()).toBe('578.7');
  for (const { message } of found) expect(message.length).toBeLessThan(2000);
  expect(({} as Record<string, unknown>).polluted).toBeUndefined();
  return found.map(({ message }) => message);
}

const PARTS = 'kind: parts\nparts:\n';
const JOB = 'kind: job\nid: J-X\nopened: 2026-01-01\nunit: birch-6\n';

function bomb(): string {
  const levels = [...'bcdefghijk'].map(
    (letter, i) => `x-${letter}: &${letter} [${Array(9).fill(`*${'abcdefghij'[i]}`).join(', ')}]\n`,
  );
  return `x-a: &a [x, x, x, x, x, x, x, x, x]\n${levels.join('')}`;
}

describe('a file with', () => {
  it.each<[string, string, () => string | Uint8Array, RegExp]>([
    [
      'repeats of repeats',
      'bad.job.yaml',
      () => `${JOB}${bomb()}complaint: *k\n`,
      /add up to more than 10,000/,
    ],
    [
      'brackets 100,000 deep',
      'bad.parts.yaml',
      () => `${PARTS}  X: ${'['.repeat(1e5)}${']'.repeat(1e5)}\n`,
      /64 levels deep/,
    ],
    [
      'braces that never close',
      'bad.parts.yaml',
      () => `${PARTS}  X: ${'{a: '.repeat(1e5)}\n`,
      /more than 250,000 characters/,
    ],
    [
      '100,000 dashes on a line',
      'bad.job.yaml',
      () => `${JOB}lines:\n  ${'- '.repeat(1e5)}x\n`,
      /levels deep|not plain/,
    ],
    [
      'a value of 10 MB',
      'bad.parts.yaml',
      () => `${PARTS}  X: { name: ${'x'.repeat(10 * MILLION)}, kind: soft }\n`,
      /more than 250,000 characters/,
    ],
    [
      'an id of 10 MB',
      'bad.parts.yaml',
      () => `${PARTS}  ${'x'.repeat(10 * MILLION)}: { name: A, kind: soft }\n`,
      /more than 250,000 characters/,
    ],
    [
      'a quote of 20 MB that is not closed',
      'bad.parts.yaml',
      () => `${PARTS}  X: { name: "${'x\n    '.repeat(3 * MILLION)}\n`,
      /more than 250,000 characters/,
    ],
    [
      'one id 20,000 times',
      'bad.parts.yaml',
      () => PARTS + '  X: { name: A, kind: soft }\n'.repeat(20_000),
      /`X` is already given on line 3/,
    ],
    [
      'lines that are no entries',
      'bad.parts.yaml',
      () => PARTS + '  garbage here\n'.repeat(20_000),
      /An entry starts with its id and a colon/,
    ],
    [
      'a million documents',
      'bad.job.yaml',
      () => `${JOB}${'---\n'.repeat(MILLION)}`,
      /document|`---`|more than 250,000|several/i,
    ],
    [
      'a NUL',
      'bad.parts.yaml',
      () => `${PARTS}  X: { name: A\0B, kind: soft }\n`,
      /cannot be printed \(code 0\)/,
    ],
    [
      'ten million NULs',
      'bad.parts.yaml',
      () => PARTS + '\0'.repeat(10 * MILLION),
      /more than 250,000 characters/,
    ],
    [
      'bytes that are no UTF-8',
      'bad.parts.yaml',
      () => Buffer.from([0x6b, 0xff, 0xfe, 0xc3, 0x28]),
      /not UTF-8 text; save it as UTF-8/,
    ],
    [
      'UTF-16',
      'bad.parts.yaml',
      () => Buffer.from(`\ufeff${PARTS}`, 'utf16le'),
      /not UTF-8 text; save it as UTF-8/,
    ],
    [
      'half a surrogate pair',
      'bad.parts.yaml',
      () => Buffer.concat([Buffer.from(PARTS), Buffer.from([0xed, 0xa0, 0x80])]),
      /not UTF-8 text; save it as UTF-8/,
    ],
  ])('%s', (_, name, make, expected) => {
    put(name, make());
    expect(said(name)).toContainEqual(expect.stringMatching(expected));
  });

  it.each([
    ['a comment of 10 MB', () => `${PARTS}  # ${'x'.repeat(10 * MILLION)}\n  X: { name: A, kind: soft }\n`],
    ['a million comments', () => PARTS + '  # c\n'.repeat(MILLION)],
    ['10 MB of empty lines', () => PARTS + '\n'.repeat(10 * MILLION)],
  ])('%s has nothing wrong with it', (_, make) => {
    put('bad.parts.yaml', make());
    expect(said('bad.parts.yaml')).toEqual([]);
  });
});

describe('a path that leads out of the book', () => {
  const paths = [
    '../../../../etc/passwd',
    '/etc/passwd',
    'file:///etc/passwd',
    'http://example.com/a.csv',
    '\\\\host\\share\\a.csv',
    'C:\\a.csv',
    '..\\..\\secret.csv',
    'out.csv',
  ];

  it.each(paths)('%s: as a picture, a price file and a shop to extend', (path) => {
    writeFileSync(join(outside, 'secret.csv'), 'Number\nSECRET\n');
    symlinkSync(join(outside, 'secret.csv'), join(folder, 'out.csv'));
    put('pic.parts.yaml', `${PARTS}  X: { name: A, kind: soft, picture: '${path}' }\n`);
    put(
      'csv.parts.yaml',
      `kind: parts\nfrom: { file: '${path}', columns: { number: Number }, kind: soft }\n`,
    );
    put('sub/shop.yaml', `kind: shop\nextends: '${path}'\nname: X\n`);
    for (const [name, words] of [
      ['pic.parts.yaml', /outside the shop book|There is no file/],
      ['csv.parts.yaml', /outside the shop book|There is no price file/],
      ['sub/shop.yaml', /There is no file/],
    ] as const)
      expect(said(name)).toContainEqual(expect.stringMatching(words));
    for (const { book } of openBook(folder).books) expect(book.definition('part', 'SECRET')).toBeUndefined();
  });

  it('shops that extend one another in a circle', () => {
    put('a/shop.yaml', 'kind: shop\nextends: ../b/shop.yaml\n');
    put('b/shop.yaml', 'kind: shop\nextends: ../c/shop.yaml\n');
    put('c/shop.yaml', 'kind: shop\nextends: ../a/shop.yaml\n');
    expect(said('a/shop.yaml')).toContainEqual(expect.stringContaining('extend one another in a circle'));
  });
});

describe('a price file with', () => {
  it.each<[string, () => string | Uint8Array, RegExp]>([
    [
      'one line of 20 MB',
      () => `Number,Cost,${'x'.repeat(20 * MILLION)}`,
      /cannot be read|is empty|no column/,
    ],
    ['one line of 65 MB', () => `Number,Cost,${'x'.repeat(65 * MILLION)}`, /larger than 64 MB; split it/],
    [
      'a million columns',
      () => `Number,Cost${',a'.repeat(MILLION)}\n1,2${',3'.repeat(MILLION)}\n`,
      /cannot be read/,
    ],
    [
      'a quote that is not closed',
      () => `Number,Cost\nA,"1\n${'B,2\n'.repeat(5 * MILLION)}`,
      /a quote is not closed|cost:/,
    ],
    ['twenty million quotes', () => `Number,Cost\n${'"'.repeat(20 * MILLION)}`, /a quote is not closed/],
    ['600,000 rows', () => `Number,Cost\n${'A,1.00\n'.repeat(600_000)}`, /more than 500,000 rows; split it/],
    [
      'words that programs keep',
      () => 'Number,Cost\n__proto__,1.00\nconstructor,2\ntoString,x\n',
      /"__proto__" is a word that programs keep/,
    ],
  ])('%s', (_, make, expected) => {
    put(
      'list.parts.yaml',
      'kind: parts\nfrom: { file: l.csv, columns: { number: Number, cost: Cost }, kind: soft }\n',
    );
    put('l.csv', make());
    expect(said('list.parts.yaml')).toContainEqual(expect.stringMatching(expected));
  });
});

describe('a word that programs keep for themselves', () => {
  const words = ['__proto__', 'constructor'];
  // Every id of the small book, wherever it is brought into being or named.
  const ids = [
    'bench',
    'parts',
    'riverland',
    'birch-6',
    'converter',
    'debris',
    'new-converter',
    'TC-1',
    'TC-2',
    'fit-converter',
    'rust',
  ];

  it.each(words.flatMap((word) => ids.map((id) => [word, id] as const)))(
    '%s in the place of %s',
    (word, id) => {
      rmSync(folder, { recursive: true });
      for (const [name, text] of Object.entries(BOOK))
        put(name, text.replace(new RegExp(`(?<=[\\s[{])${id}(?=[\\s:,\\]}])`, 'g'), word));
      const opened = openBook(folder);
      const found = reports(opened);
      expect(found.filter(({ message }) => message.includes(word)).length).toBeGreaterThan(0);
      expect(Object.keys(Object.prototype)).toEqual([]);
      expect(({} as Record<string, unknown>).name).toBeUndefined();
    },
  );
});
