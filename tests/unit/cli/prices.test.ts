/** `prices` on a copy of the sample book and its supplier's newer price file. */
import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeEach, describe, expect, it } from 'vitest';
import { SAMPLE } from '../sample/sample.ts';
import { runIn } from './run.ts';

const FOLDER = mkdtempSync(join(tmpdir(), 'gearquill-prices-'));
const BOOK = join(FOLDER, 'book');
const CATALOG = join(BOOK, 'parts/northfen.parts.yaml');
const FILE = join(BOOK, 'parts/northfen-summer-2026.csv');
const original = readFileSync(join(SAMPLE, 'parts/northfen.parts.yaml'), 'utf8');

beforeEach(() => {
  rmSync(BOOK, { recursive: true, force: true });
  cpSync(SAMPLE, BOOK, { recursive: true });
});
afterAll(() => rmSync(FOLDER, { recursive: true, force: true }));

const prices = (...options: string[]) => runIn(BOOK, 'prices', ...options);

const catalog = () => readFileSync(CATALOG, 'utf8');

describe('prices', () => {
  it('tells what differs, with the file and the line of what is doubtful, and writes nothing', () => {
    const { stdout, status } = prices(FILE);
    expect(status).toBe(0);
    expect(stdout).toMatch(/^FR-C8 .*cost 218\.00 to 2240\.00 .*northfen-summer-2026\.csv:35 .*10\.3 times/m);
    expect(stdout).toMatch(/^OH-A4 .*148\.00 +154\.00 +\+4\.1%$/m);
    expect(stdout).toMatch(/^RS-C8 +northfen-summer-2026\.csv:\d+ +cost: "call" is not a number/m);
    expect(stdout).toContain('add: --apply');
    expect(catalog()).toBe(original);
  });

  it('writes with --apply, once', () => {
    expect(prices(FILE, '--apply').stdout).toContain(
      'Written: 13 rows in 1 file (parts/northfen.parts.yaml).',
    );
    const once = catalog();
    const differ = once.split('\n').filter((line, i) => line !== original.split('\n')[i]);
    expect(differ).toHaveLength(13);
    expect(differ.every((line) => /cost: \d+\.\d\d( })?$/.test(line))).toBe(true);
    expect(prices(FILE, '--apply').stdout).toContain('There is nothing to write.');
    expect(catalog()).toBe(once);
  });

  it('takes what is accepted, keeps the old prices until a day, and adds new parts', () => {
    prices(
      FILE,
      '--apply',
      '--from',
      '2026-07-01',
      '--accept',
      'AX DV',
      '--add-new',
      CATALOG,
      '--sort',
      'soft',
    );
    const text = catalog();
    expect(text).toContain('- from: 2026-07-01\n        cost: 18.60');
    expect(text).toMatch(/superseded-by:\n {6}part: FS-B6-2\n {6}from: 2026-07-01/);
    expect(text).toMatch(
      /\n\n {2}MK-DV:\n {4}name: Master kit, Dogwood-V\n {4}kind: soft\n {4}cost: 398\.00\n$/,
    );
    expect(text).not.toContain('2240');
    expect(runIn(BOOK, 'check', BOOK).stdout).toContain(' 0 errors');
  });

  it('as JSON and as CSV has every row', () => {
    const json = JSON.parse(prices(FILE, '--to', 'json').stdout);
    expect(json).toMatchObject({ applied: false, files: ['parts/northfen.parts.yaml'] });
    const counts = Map.groupBy(json.entries as { what: string }[], ({ what }) => what);
    expect(Object.fromEntries([...counts].map(([what, rows]) => [what, rows.length]))).toEqual({
      'held-back': 4,
      blocked: 1,
      'cost-up': 11,
      'cost-down': 2,
      superseded: 1,
      new: 2,
      gone: 2,
      unread: 1,
    });
    const lines = prices(FILE, '--to', 'csv').stdout.trimEnd().split('\r\n');
    expect(lines).toHaveLength(1 + json.entries.length);
    expect(lines[0]).toBe('\ufeffwhat,number,line,part,name,figure,old,new,percent,note');
  });

  it.each([
    [['none.csv'], 'There is no file "none.csv".'],
    [[FILE, '--accept', 'XX-1'], 'The price file has no number "XX-1" to accept.'],
    [
      [FILE, '--supplier', 'northfem'],
      'No catalog says that its supplier is "northfem". Did you mean "northfen"?',
    ],
    [[FILE, '--column', 'price=Net'], '"price=Net" does not say which column is which.'],
    [[FILE, '--column', 'cost=Net'], 'The price file has no column "Net".'],
    [[FILE, '--add-new', CATALOG], 'Say what sort of part the new ones are: --sort'],
    [[FILE, '--from', 'July'], '"July"'],
  ])('%j is refused in plain words', (options, message) => {
    const { stderr, status } = prices(...options);
    expect(stderr).toContain(message);
    expect(stderr).not.toContain('    at ');
    expect(status).toBe(2);
    expect(catalog()).toBe(original);
  });

  it('a file that cannot be read as a price file says how to say it', () => {
    const file = join(FOLDER, 'odd.csv');
    writeFileSync(file, 'Teil;EK\nFS-A4;7,10\n');
    expect(prices(file).stderr).toContain('Say it: --column number=HEADING.');
    expect(prices(file, '--column', 'number=Teil', 'cost=EK').stdout).toMatch(
      /^FS-A4 .* 6\.90 +7\.10 +\+2\.9%$/m,
    );
  });

  it('what it would do to jobs is told without writing it', () => {
    const { stdout } = runIn(BOOK, 'what-if', BOOK, '--over', 'all', '--prices', FILE);
    expect(stdout).toContain('northfen-summer-2026.csv taken over: 13 rows, 6 left out');
    expect(catalog()).toBe(original);
  });
});
