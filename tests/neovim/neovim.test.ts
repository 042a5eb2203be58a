/** A second real client: Neovim's own. Debian's package is enough; the run in CI installs it. */
import { spawnSync } from 'node:child_process';
import { cpSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { SAMPLE } from '../unit/sample/sample.ts';

const there = spawnSync('nvim', ['--version']).status === 0;

// Without Neovim there is nothing to test with; CI has it, so there its absence is a failure.
it.skipIf(!there && !process.env.CI)(
  'serves Neovim: diagnostics, completion, rename, formatting',
  () => {
    const folder = mkdtempSync(join(tmpdir(), 'gearquill-neovim-'));
    const book = join(folder, 'book');
    const seen = join(folder, 'seen.json');
    cpSync(SAMPLE, book, { recursive: true });
    const run = spawnSync(
      'nvim',
      ['--headless', '-u', 'NONE', '-n', '-c', `luafile ${join(import.meta.dirname, 'session.lua')}`],
      {
        env: {
          ...process.env,
          GEARQUILL_NODE: process.execPath,
          GEARQUILL_SERVER: join(import.meta.dirname, '../../server/src/main.ts'),
          GEARQUILL_BOOK: book,
          GEARQUILL_SEEN: seen,
        },
        encoding: 'utf8',
        timeout: 240_000,
      },
    );
    expect(run.error).toBeUndefined();
    const answer = JSON.parse(readFileSync(seen, 'utf8')) as Record<string, unknown>;
    rmSync(folder, { recursive: true });
    expect(answer).toMatchObject({
      attached: true,
      reported: true,
      offered: true,
      completed: '      - part: OH-B6',
      cleared: true,
      renamed: '      - part: OH-B6-NEW',
      tidied: true,
    });
    expect(answer.files).toBeGreaterThan(1);
  },
  300_000,
);
