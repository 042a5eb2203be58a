/** `redact` as a person calls it. */
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, expect, it } from 'vitest';
import { SAMPLE } from '../sample/sample.ts';
import { runIn } from './run.ts';

const folder = mkdtempSync(join(tmpdir(), 'gearquill-redact-'));
afterAll(() => rmSync(folder, { recursive: true }));

const run = (...args: string[]) => runIn(folder, ...args);

it('prints the job, and says that it comes to the same', () => {
  const { status, stdout, stderr } = run('redact', 'J-1066', '--book', SAMPLE);
  expect(status).toBe(0);
  expect(stdout).toContain('id: J-1066\n');
  expect(stdout).not.toMatch(/Ottoline|Reyes|Barrow|555-0148|ME011926/);
  expect(stderr).toMatch(
    /^47 values have stand-ins, and so have all comments\. The totals and the problems are the same as before\. /,
  );
  // Drawn anew: two reports cannot be laid side by side.
  expect(run('redact', 'J-1066', '--book', SAMPLE).stdout).not.toBe(stdout);
});

it('writes a folder that anybody can check and price', () => {
  expect(run('redact', 'J-1066', '--book', SAMPLE, '--out', 'report')).toMatchObject({
    status: 0,
    stdout: expect.stringMatching(/^\d+ files are written into report\.\n$/),
  });
  expect(readdirSync(join(folder, 'report/jobs'))).toEqual(['J-1066.job.yaml']);
  const there = JSON.parse(run('price', 'J-1066', '--book', 'report', '--json').stdout);
  const here = JSON.parse(run('price', 'J-1066', '--book', SAMPLE, '--json').stdout);
  const totals = ({ options }: { options: { id: string; total: string }[] }) =>
    options.map(({ id, total }) => [id, total]);
  expect(totals(there)).toEqual(totals(here));
  expect(totals(there).length).toBeGreaterThan(0);
  expect(run('check', 'report').stdout).toContain(' 0 errors,');
});

it('does not write over what is there', () => {
  writeFileSync(join(folder, 'note.txt'), 'mine');
  expect(run('redact', 'J-1066', '--book', SAMPLE, '--out', 'note.txt')).toMatchObject({
    status: 2,
    stderr: '"note.txt" is there already. Name a folder that is empty or not there yet.\n',
  });
  expect(readFileSync(join(folder, 'note.txt'), 'utf8')).toBe('mine');
});
