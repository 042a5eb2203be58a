/** Keeping a book right, by the commands as a person gives them; in this process, which is quicker. */
import { spawnSync } from 'node:child_process';
import { cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Command } from 'commander';
import { afterAll, describe, expect, it, vi } from 'vitest';
import { addCompareCommand } from '../../../server/src/cli/compare.ts';
import { addLockCommands } from '../../../server/src/cli/drift.ts';
import { addHealthCommand } from '../../../server/src/cli/health.ts';
import { findJob, UsageError } from '../../../server/src/cli/open.ts';
import { addRenumberCommands } from '../../../server/src/cli/renumber.ts';
import { addWhatIfCommand } from '../../../server/src/cli/what-if.ts';
import { SAMPLE } from '../sample/sample.ts';

const folder = mkdtempSync(join(tmpdir(), 'gearquill-upkeep-'));
const book = join(folder, 'book');
cpSync(SAMPLE, book, { recursive: true });
afterAll(() => rmSync(folder, { recursive: true }));

async function run(...args: string[]) {
  const out: string[] = [];
  const told: string[] = [];
  const stderr = vi.spyOn(process.stderr, 'write').mockImplementation((text) => told.push(String(text)) > 0);
  const program = new Command();
  for (const add of [
    addLockCommands,
    addWhatIfCommand,
    addRenumberCommands,
    addHealthCommand,
    addCompareCommand,
  ])
    add(program, (text) => out.push(text));
  try {
    await program.parseAsync(args, { from: 'user' });
  } catch (error) {
    if (!(error instanceof UsageError)) throw error;
    told.push(error.message);
  } finally {
    stderr.mockRestore();
  }
  return { out: out.join('\n'), told: told.join('') };
}
const at = (name: string) => join(book, name);
function change(name: string, from: string | RegExp, to: string): void {
  const text = readFileSync(at(name), 'utf8');
  const after = text.replace(from, to);
  if (after === text) throw new Error(`nothing to change in ${name}`);
  writeFileSync(at(name), after);
}

describe('an open estimate whose prices are locked', () => {
  it('drifts when the book moves, is shown first and written only when asked', async () => {
    const job = at('jobs/J-1076.job.yaml');
    const before = readFileSync(job, 'utf8');
    change('parts/northfen.parts.yaml', 'cost: 188.00', 'cost: 190.00');
    expect((await run('drift', book, '--on', '2026-04-10')).out).toMatch(
      /^J-1076 .*\$6,241\.97 .*\+\$3\.8\d/m,
    );
    const dry = await run('reprice', job, '--on', '2026-04-10');
    expect(dry.told).toBe('Nothing is written. To write these prices: add --apply\n');
    expect(readFileSync(job, 'utf8')).toBe(before);
    await run('reprice', job, '--on', '2026-04-10', '--apply');
    expect(readFileSync(job, 'utf8')).toContain('    FR-B6-HD: { price: 332.50,  cost: 190.00 }\n');
    expect((await run('drift', job, '--on', '2026-04-10')).out).toContain(
      'The book still has the prices that were presented.',
    );
  });

  it('is made by `lock`, once', async () => {
    const made = await run('lock', 'J-1055', '--book', book, '--on', '2026-03-23');
    expect(made.out).toMatch(/J-1055\.job\.yaml: the prices are locked\.$/);
    expect(readFileSync(at('jobs/J-1055.job.yaml'), 'utf8')).toContain('\nlock:\n  on: 2026-03-23\n');
    expect((await run('lock', 'J-1055', '--book', book)).told).toContain('reprice J-1055');
    expect((await run('drift', 'J-1051', '--book', book)).told).toContain('lock J-1051');
  });
});

it('what-if changes no file, gives a table for spreadsheets, and says what it cannot find', async () => {
  const before = readFileSync(at('common/shop.yaml'), 'utf8');
  const { out } = await run(
    'what-if',
    book,
    '--set',
    'rates.*.hourly=+4%',
    '--over',
    'templates',
    '--to',
    'csv',
  );
  const [head, first] = out.split('\r\n');
  expect(head).toMatch(/^\ufeffname,option,locked,total-before,total-after,/);
  expect(first).toMatch(/^converter-clutch,,no,1936\.46,/);
  expect(readFileSync(at('common/shop.yaml'), 'utf8')).toBe(before);

  mkdirSync(join(folder, 'copies'));
  const copy = join(folder, 'copies/shop.yaml');
  writeFileSync(copy, before.replace('hourly: 155.00', 'hourly: 165.00'));
  expect((await run('what-if', book, '--with', copy)).told).toContain(`--with common/shop.yaml=${copy}`);
  const made = await run(
    'what-if',
    book,
    '--with',
    `common/shop.yaml=${copy}`,
    '--over',
    'all',
    '--to',
    'json',
  );
  const json = JSON.parse(made.out) as { rows: { name: string; 'total-difference': string }[] };
  const moved = json.rows.filter((row) => row['total-difference'] !== '0').map(({ name }) => name);
  expect(moved).toContain('S-2003');
  // Locked: by the shop, and in the test before.
  expect(moved).not.toContain('J-1076');
  expect(moved).not.toContain('J-1055');
  expect((await run('what-if', book)).told).toContain('Say what would change');
});

it('renumber refuses a number that is taken, writes every place at once, and changes no total', async () => {
  const renumber = (...args: string[]) => run('renumber', 'OH-B6', ...args, '--book', book);
  expect((await renumber('FR-B6')).told).toContain('There is a part "FR-B6" already');
  expect((await renumber('OH-B6-2')).told).toBe('Nothing is written. To write it: add --apply\n');
  expect((await renumber('OH-B6-2', '--apply')).told).toMatch(/^OH-B6 is OH-B6-2 now, in \d+ places\.\n$/);
  expect(readFileSync(at('jobs/J-1042.job.yaml'), 'utf8')).not.toMatch(/\bOH-B6\b(?!-)/);
  const { file, estimates } = findJob('J-1042', book);
  expect(estimates.of(file)?.chosen?.priced.total.value.toString()).toBe('6507.91');
  expect((await run('supersede', '--book', book)).out).toContain('Replaced numbers');
});

it('health lists what to put in order', async () => {
  const { out } = await run('health', book, '--on', '2026-06-01', '--to', 'json');
  const { findings } = JSON.parse(out) as { findings: { check: string; id: string }[] };
  expect(findings.map(({ check, id }) => `${check} ${id}`)).toContain('unused MK-C8');
  expect((await run('health', book, '--older-than', 'long')).told).toContain('takes a number of months');
});

describe('compare', () => {
  const git = (...args: string[]) =>
    spawnSync('git', ['-c', 'user.name=A', '-c', 'user.email=a@example.org', ...args], { cwd: book });
  const compare = (...args: string[]) => run('compare', '--book', book, ...args);

  it('says where there is no history', async () => {
    expect((await compare('HEAD')).told).toContain('is not kept in git');
  });

  it('tells what changed since a revision and between two, for a terminal and a pull request', async () => {
    git('init', '-q');
    git('add', '-A');
    git('commit', '-q', '-m', 'one');
    change('parts/pellham-spring-2026.csv', ',0.38,', ',0.57,');
    change('common/shop.yaml', 'hourly: 155.00', 'hourly: 160.00');
    const { out } = await compare('HEAD');
    expect(out).toMatch(/^0071 .*Cost +\$0\.38 +\$0\.57 +\+50%$/m);
    expect(out).toMatch(/shop common\/shop\.yaml +Labor rates, bench, Rate +155\.00 +160\.00 +\+3\.2%/);
    git('commit', '-q', '-a', '-m', 'two');
    expect((await compare('HEAD')).out).toContain('Nothing has changed in this book.');
    expect((await compare('HEAD~1', 'HEAD', '--to', 'markdown')).out).toContain(
      '| shop common/shop.yaml | Labor rates, bench, Rate | 155.00 | 160.00 | +3.2% |',
    );
    expect((await compare('--', '--output=x')).told).toBe(
      'There is no revision "--output=x" in the history of this book.',
    );
  });
});
