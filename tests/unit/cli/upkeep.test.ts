/** Keeping a book right, as a person calls it. */
import { spawnSync } from 'node:child_process';
import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { SAMPLE } from '../sample/sample.ts';

const CLI = join(import.meta.dirname, '../../../server/src/cli.ts');
const folder = mkdtempSync(join(tmpdir(), 'gearquill-upkeep-'));
const book = join(folder, 'book');
cpSync(SAMPLE, book, { recursive: true });
afterAll(() => rmSync(folder, { recursive: true }));

function run(...args: string[]) {
  const { status, stdout, stderr } = spawnSync(process.execPath, [CLI, ...args], {
    cwd: book,
    encoding: 'utf8',
  });
  return { status, stdout, stderr };
}
const at = (name: string) => join(book, name);
function change(name: string, from: string | RegExp, to: string): void {
  const text = readFileSync(at(name), 'utf8');
  const after = text.replace(from, to);
  if (after === text) throw new Error(`nothing to change in ${name}`);
  writeFileSync(at(name), after);
}

describe('an open estimate whose prices are locked', () => {
  it('drifts when the book moves, is shown first and written only when asked', () => {
    const before = readFileSync(at('jobs/J-1076.job.yaml'), 'utf8');
    change('parts/northfen.parts.yaml', 'cost: 188.00', 'cost: 190.00');
    expect(run('drift', '--on', '2026-04-10').stdout).toMatch(/^J-1076 .*\$6,241\.97 .*\+\$3\.8\d/m);
    const dry = run('reprice', 'J-1076', '--on', '2026-04-10');
    expect(dry.stderr).toBe('Nothing is written. To write these prices: add --apply\n');
    expect(readFileSync(at('jobs/J-1076.job.yaml'), 'utf8')).toBe(before);
    expect(run('reprice', 'J-1076', '--on', '2026-04-10', '--apply').status).toBe(0);
    const after = readFileSync(at('jobs/J-1076.job.yaml'), 'utf8');
    expect(after).toContain('    FR-B6-HD: { price: 332.50,  cost: 190.00 }\n');
    expect(run('drift', 'J-1076', '--on', '2026-04-10').stdout).toContain(
      'The book still has the prices that were presented.',
    );
  });

  it('is made by `lock`, once', () => {
    const made = run('lock', 'J-1055', '--on', '2026-03-23');
    expect(made).toMatchObject({ status: 0, stdout: 'jobs/J-1055.job.yaml: the prices are locked.\n' });
    expect(readFileSync(at('jobs/J-1055.job.yaml'), 'utf8')).toContain('\nlock:\n  on: 2026-03-23\n');
    expect(run('lock', 'J-1055')).toMatchObject({
      status: 2,
      stderr: expect.stringContaining('reprice J-1055'),
    });
    expect(run('drift', 'J-1051')).toMatchObject({
      status: 2,
      stderr: expect.stringContaining('lock J-1051'),
    });
  });
});

it('what-if changes no file, gives a table for spreadsheets, and says what it cannot find', () => {
  const before = readFileSync(at('common/shop.yaml'), 'utf8');
  const { stdout } = run('what-if', '--set', 'rates.*.hourly=+4%', '--over', 'templates', '--to', 'csv');
  const [head, first] = stdout.split('\r\n');
  expect(head).toMatch(/^\ufeffname,option,locked,total-before,total-after,/);
  expect(first).toMatch(/^converter-clutch,,no,1936\.46,/);
  expect(readFileSync(at('common/shop.yaml'), 'utf8')).toBe(before);

  writeFileSync(join(folder, 'shop.yaml'), before.replace('hourly: 155.00', 'hourly: 165.00'));
  expect(run('what-if', '--with', '../shop.yaml').stderr).toContain('--with common/shop.yaml=../shop.yaml');
  const copy = run('what-if', '--with', 'common/shop.yaml=../shop.yaml', '--over', 'all', '--to', 'json');
  const json = JSON.parse(copy.stdout) as {
    changes: string[];
    rows: { name: string; 'total-difference': string }[];
  };
  expect(json.changes).toEqual(
    ['common/shop.yaml replaced by ../shop.yaml'].map((one) => one.replace('../', folder + '/')),
  );
  expect(json.rows.find(({ name }) => name === 'J-1051')?.['total-difference']).toBe('0');
  expect(run('what-if').stderr).toContain('Say what would change');
});

it('renumber and supersede write only when asked, every place at once', () => {
  expect(run('renumber', 'OH-B6', 'FR-B6')).toMatchObject({
    status: 2,
    stderr: expect.stringContaining('There is a part "FR-B6" already'),
  });
  const dry = run('renumber', 'OH-B6', 'OH-B6-2');
  expect(dry.stderr).toBe('Nothing is written. To write it: add --apply\n');
  expect(run('renumber', 'OH-B6', 'OH-B6-2', '--apply').stderr).toMatch(
    /^OH-B6 is OH-B6-2 now, in \d+ places\.\n$/,
  );
  expect(readFileSync(at('jobs/J-1042.job.yaml'), 'utf8')).not.toMatch(/\bOH-B6\b(?!-)/);
  expect(run('price', 'J-1042').stdout).toContain('$6,507.91');
  expect(run('supersede').stdout).toContain('Replaced numbers');
});

it('health lists what to put in order', () => {
  const { stdout } = run('health', '--on', '2026-06-01', '--to', 'json');
  const { findings } = JSON.parse(stdout) as { findings: { check: string; id: string }[] };
  expect(findings.map(({ check, id }) => `${check} ${id}`)).toContain('unused MK-C8');
  expect(run('health', '--older-than', 'long').stderr).toContain('--older-than takes a number of months');
});

describe('compare', () => {
  const git = (...args: string[]) =>
    spawnSync('git', ['-c', 'user.name=A', '-c', 'user.email=a@example.org', ...args], {
      cwd: book,
      encoding: 'utf8',
    });

  it('says where there is no history', () => {
    expect(run('compare', 'HEAD')).toMatchObject({
      status: 2,
      stderr: expect.stringContaining('is not kept in git'),
    });
  });

  it('tells what changed since a revision and between two, for a terminal and a pull request', () => {
    git('init', '-q');
    git('add', '-A');
    git('commit', '-q', '-m', 'one');
    change('parts/pellham-spring-2026.csv', /^(0071[,;].*?)(\d+\.\d\d)/m, '$19.99');
    change('common/shop.yaml', 'hourly: 155.00', 'hourly: 160.00');
    const now = run('compare', 'HEAD').stdout;
    expect(now).toMatch(/^0071 .*\$9\.99/m);
    expect(now).toMatch(/shop common\/shop\.yaml +Labor rates, bench, Rate +155\.00 +160\.00 +\+3\.2%/);
    git('commit', '-q', '-a', '-m', 'two');
    expect(run('compare', 'HEAD').stdout).toContain('Nothing has changed in this book.');
    const markdown = run('compare', 'HEAD~1', 'HEAD', '--to', 'markdown').stdout;
    expect(markdown).toContain(
      '| shop common/shop.yaml | Labor rates, bench, Rate | 155.00 | 160.00 | +3.2% |',
    );
    expect(run('compare', '--', '--output=x')).toMatchObject({
      status: 2,
      stderr: 'There is no revision "--output=x" in the history of this book.\n',
    });
  });
});
