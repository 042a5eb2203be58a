/** The library's face: from sources, and as it is packed. */
import { spawnSync } from 'node:child_process';
import {
  cpSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readFileSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join, resolve } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { check, explain, openBook, price, print, test as runCases } from '../../server/src/library.ts';
import { SAMPLE } from './sample/sample.ts';

describe('from sources', () => {
  const FILES = {
    'shop.yaml':
      'kind: shop\nname: Corner Shop\ncurrency: USD\nschedules: { s: { bands: [{ factor: 2 }] } }\npricing: { parts: s }\n',
    'a b.parts.yaml': 'kind: parts\nparts:\n  P-1: { name: Seal, kind: soft, cost: 4.00 }\n',
    'a.units.yaml': 'kind: units\nunits:\n  u: { name: U, layout: rear, fluid-class: B }\n',
    'j.job.yaml': 'kind: job\nid: J-1\nopened: 2026-03-02\nunit: u\nlines: [{ part: P-1, quantity: 3 }]\n',
  };

  it('prices a folder as the command line does', async () => {
    const book = openBook(SAMPLE);
    // Demo data: the total that the README prints.
    expect(price(book, 'J-1042').options[0]!.total).toBe('6507.91');
    expect(check(book).filter((one) => one.severity === 'error')).toEqual([]);
    expect(runCases(book).filter((one) => one.mismatches.length > 0)).toEqual([]);
    expect(String(await print(book, 'J-1042', 'customer', 'html'))).toContain('$6,507.91');
  });

  it('follows what is put and removed', () => {
    const book = openBook(FILES);
    expect(book.jobs).toEqual(['J-1']);
    expect(check(book).map((one) => one.code)).toEqual(['no-jurisdiction']);
    expect(price(book, 'J-1').options[0]!.total).toBe('24');
    book.put('a b.parts.yaml', FILES['a b.parts.yaml'].replace('4.00', '5.00'));
    expect(price(book, 'J-1').options[0]!.total).toBe('30');
    book.remove('a b.parts.yaml');
    expect(check(book, 'j.job.yaml').filter((one) => one.severity === 'error')).toMatchObject([
      { file: 'j.job.yaml', line: 5, column: 17, severity: 'error', code: 'unknown-reference' },
    ]);
    book.remove('j.job.yaml');
    expect(book.jobs).toEqual([]);
  });

  it('takes price files as bytes, and notices when they change', () => {
    const parts = 'kind: parts\nfrom: { file: p.csv, kind: soft, columns: { number: No, cost: Net } }\n';
    const book = openBook({ ...FILES, 'a b.parts.yaml': parts, 'p.csv': 'No,Net\nP-1,7.00\n' });
    expect(price(book, 'J-1').options[0]!.total).toBe('42');
    book.put('p.csv', 'No,Net\nP-1,8.00\n');
    expect(price(book, 'J-1').options[0]!.total).toBe('48');
  });

  it('says what it does not have', async () => {
    const book = openBook(FILES);
    expect(() => price(book, 'J-2')).toThrow('There is no job "J-2" in this book');
    await expect(print(book, 'J-1', 'bench', 'csv')).rejects.toThrow(RangeError);
    expect(explain('no-such-code')).toBeUndefined();
    expect(explain('unknown-reference')?.mend).toMatch(/\.$/);
  });
});

describe('as it is packed', () => {
  const root = resolve(import.meta.dirname, '../..');
  const folder = mkdtempSync(join(tmpdir(), 'gearquill-packed-'));
  const installed = join(folder, 'node_modules/gearquill');
  afterAll(() => rmSync(folder, { recursive: true }));

  const run = (command: string, args: readonly string[], cwd = folder) => {
    const { status, stdout, stderr } = spawnSync(command, args, { cwd, encoding: 'utf8' });
    if (status !== 0) throw new Error(`${command} ${args.join(' ')}\n${stdout}\n${stderr}`);
    return stdout;
  };

  // What npm would lay out: the archive's files, and beside them the packages that it depends on, and no others.
  beforeAll(() => {
    run(process.execPath, ['server/build.ts'], root);
    const [{ filename }] = JSON.parse(
      run('npm', ['pack', '--json', '--ignore-scripts', '--pack-destination', folder], root),
    );
    run('tar', ['-xzf', filename]);
    mkdirSync(dirname(installed), { recursive: true });
    cpSync(join(folder, 'package'), installed, { recursive: true });
    const { dependencies } = JSON.parse(readFileSync(join(installed, 'package.json'), 'utf8'));
    for (const name of Object.keys(dependencies))
      symlinkSync(join(root, 'node_modules', name), join(folder, 'node_modules', name));
    cpSync(join(root, 'samples/recipes/library'), folder, { recursive: true });
  }, 240_000);

  // The oldest Node that the manifest allows, where the machine has it: it does not read TypeScript.
  const old = ['/usr/bin/node', '/usr/local/bin/node'].find(
    (path) =>
      existsSync(path) && spawnSync(path, ['--version'], { encoding: 'utf8' }).stdout.startsWith('v20.'),
  );
  const [node, flags] = old ? [old, []] : [process.execPath, ['--no-experimental-strip-types']];

  it('runs the examples', () => {
    expect(run(node, [...flags, 'totals.mjs', SAMPLE])).toMatch(/^J-1042 {2}.* {2}\$6,507\.91$/m);
    expect(run(node, [...flags, 'in-memory.mjs'])).toMatch(
      /^J-1\.job\.yaml:5: There is no part "SEAL-2".*\nTo mend it: .*\n\$68\.00\n/,
    );
  });

  it('runs the command line', () => {
    const { bin } = JSON.parse(readFileSync(join(installed, 'package.json'), 'utf8'));
    const cli = join(installed, bin.gearquill);
    expect(run(node, [...flags, cli, 'check', SAMPLE])).toMatch(/ files checked: 0 errors/);
    run(node, [...flags, cli, 'new-book', 'shop']);
    expect(run(node, [...flags, cli, 'test', 'shop'])).toContain('2 as expected, 0 not');
    expect(existsSync(join(installed, bin['gearquill-server']))).toBe(true);
  });

  it('has types that a strict compiler takes', () => {
    const source = `import { openBook, price, check, type Problem } from 'gearquill';
const problems: Problem[] = check(openBook({ 'shop.yaml': 'kind: shop' }));
const total: string = price(openBook('.'), 'J-1').options[0]!.total;
// @ts-expect-error a job is named by text
price(openBook('.'), 1);
console.log(problems, total);
`;
    writeFileSync(join(folder, 'use.mts'), source);
    const options = ['--strict', '--noEmit', '--module', 'nodenext', '--target', 'es2022', '--types', ''];
    run(process.execPath, [join(root, 'node_modules/typescript/bin/tsc'), ...options, 'use.mts']);
  }, 120_000);
});
