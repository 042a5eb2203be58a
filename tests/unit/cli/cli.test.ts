/** The command line as a person calls it. */
import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { SAMPLE } from '../sample/sample.ts';
import { runIn } from './run.ts';

const folder = mkdtempSync(join(tmpdir(), 'gearquill-cli-'));
const book = join(folder, 'book');
cpSync(SAMPLE, book, { recursive: true });
const job = join(book, 'jobs/J-1042.job.yaml');
afterAll(() => rmSync(folder, { recursive: true }));

const run = (...args: string[]) => runIn(folder, ...args);

describe('check', () => {
  it('ends with 0 on a book without errors, and counts', () => {
    const { status, stdout } = run('check', 'book');
    expect(status).toBe(0);
    expect(stdout.trim().split('\n').at(-1)).toMatch(/^66 files checked: 0 errors, 4 warnings/);
  });

  it('ends with 1 on an error, and names file, line, column, code, what is wrong and what to do', () => {
    const text = readFileSync(job, 'utf8');
    writeFileSync(job, text.replace('part: RAD-7120', 'part: RAD-7121'));
    const line = text.split('\n').findIndex((one) => one.includes('part: RAD-7120')) + 1;
    const { status, stdout } = run('check', 'book');
    const json = JSON.parse(run('check', 'book', '--json').stdout) as { problems: Record<string, unknown>[] };
    writeFileSync(job, text);
    expect(status).toBe(1);
    expect(stdout).toContain(
      `book/jobs/J-1042.job.yaml:${line}:15: error: There is no part "RAD-7121" in the book at book. Did you mean "RAD-7120"`,
    );
    expect(stdout).toContain('[unknown-reference]');
    expect(json.problems.find((one) => one.code === 'unknown-reference')).toMatchObject({
      file: 'book/jobs/J-1042.job.yaml',
      line,
      column: 15,
      severity: 'error',
    });
  });
});

describe('price', () => {
  it('prints a job by its id or its file, and one option alone', () => {
    expect(run('price', 'J-1042', '--book', 'book').stdout).toContain('$6,507.91');
    const { stdout } = run('price', job, '--option', 'used', '--explain');
    expect(stdout).toContain('$4,665.53');
    expect(stdout).toContain('How the total came about');
    expect(stdout).not.toContain('Overhaul kit, Birch-6');
  });

  it('gives the same total as text in JSON', () => {
    const json = JSON.parse(run('price', job, '--json').stdout) as {
      options: { id: string; total: string }[];
    };
    expect(json.options.find((one) => one.id === 'overhaul')?.total).toBe('6507.91');
  });

  it('says what it cannot find, and ends with 2', () => {
    expect(run('price', 'J-9', '--book', 'book')).toMatchObject({
      status: 2,
      stderr: expect.stringContaining('There is no job "J-9"'),
    });
    expect(run('check', 'nowhere')).toMatchObject({
      status: 2,
      stderr: 'There is no file or folder "nowhere".\n',
    });
    expect(run('price', job, '--option', 'gold')).toMatchObject({
      status: 2,
      stderr: expect.stringContaining('It has: overhaul, exchange, used.'),
    });
  });
});

it('explains a code, and helps with a mistyped one', () => {
  expect(run('explain', 'missing-work').stdout).toContain('To mend it:');
  expect(run('explain', 'mising-work')).toMatchObject({
    status: 2,
    stderr: 'There is no code "mising-work". Did you mean missing-work?\n',
  });
});

it("runs the shop's cases, as text and as JUnit", () => {
  const { status, stdout } = run('test', 'book');
  expect([status, stdout.trim()]).toEqual([0, '153 cases: 153 as expected, 0 not.']);
  expect(run('test', 'book', '--junit').stdout).toContain('<testsuites tests="153" failures="0">');
});
