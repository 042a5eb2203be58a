/** What the program never does, whatever stands in a book. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { printJob } from '../../server/src/print/print.ts';
import { sampleJob } from '../unit/print/paper.ts';

const ROOT = join(import.meta.dirname, '../..');

function sources(...folders: string[]): Map<string, string> {
  return new Map(
    folders.flatMap((folder) =>
      readdirSync(join(ROOT, folder), { recursive: true, encoding: 'utf8' })
        .filter((name) => name.endsWith('.ts'))
        .map((name): [string, string] => [
          `${folder}/${name}`,
          readFileSync(join(ROOT, folder, name), 'utf8').replace(/\/\*[\s\S]*?\*\/|^\s*\/\/.*$/gm, ''),
        ]),
    ),
  );
}

/** The paths whose code matches, but for those that may. */
function matching(files: ReadonlyMap<string, string>, pattern: RegExp, ...may: string[]): string[] {
  return [...files].flatMap(([path, code]) => (pattern.test(code) && !may.includes(path) ? [path] : []));
}

it('runs no code that a book holds', () => {
  const files = sources('schemas', 'server/src', 'client');
  expect(files.size).toBeGreaterThan(150);
  expect(matching(files, /\beval\(|new Function\(|['"]node:vm['"]|\.innerHTML\b|document\.write/)).toEqual(
    [],
  );
  // Programs are started only where the code names them: an editor for the sample, git for what a book was, and our own
  // builds. None is named by a book, and none goes through a shell.
  expect(
    matching(
      files,
      /['"]node:child_process['"]/,
      'server/src/cli/start.ts',
      'server/src/cli/history.ts',
      'client/workbench/install.ts',
      'client/workbench/open.ts',
      'client/workbench/serve.ts',
      'client/build.ts',
      'client/package.ts',
    ),
  ).toEqual([]);
});

it('opens no connection', () => {
  const files = sources('schemas', 'server/src', 'client');
  // The workbench of the developers serves pages to a browser on the same machine.
  const ours = [...files.keys()].filter((path) => path.startsWith('client/workbench/'));
  expect(
    matching(
      files,
      /['"]node:(?:http|https|http2|net|tls|dgram|dns)['"]|\bfetch\(|XMLHttpRequest|WebSocket\b|sendBeacon/,
      ...ours,
    ),
  ).toEqual([]);
});

it('reads a pattern of nobody: no regular expression is made from what a book says, unescaped', () => {
  const files = sources('schemas', 'server/src');
  const made = [...files].flatMap(([path, code]) => [...code.matchAll(/new RegExp\(/g)].map(() => path));
  // The first puts in words of letters and digits only, the second is made from patterns of its own.
  const known = new Set(['server/src/upkeep/redact/redact.ts', 'server/src/syntax/characters.ts']);
  expect(made.filter((path) => !known.has(path))).toEqual([]);
});

it('a page may load nothing and send nothing, and words from a job are not markup', async () => {
  const { source } = sampleJob('J-1076', (text) =>
    text.replace(/name: Cornelius Abara/, `name: '<img src=x onerror=alert(1)><script>alert(1)</script>'`),
  );
  const html = (await printJob(source, 'customer', 'html')) as string;
  const policy =
    /http-equiv="Content-Security-Policy" content="([^"]*)"/.exec(html)?.[1]?.replaceAll('&#39;', "'") ?? '';
  expect(policy).toContain("default-src 'none'");
  expect(policy).not.toMatch(/https?:|\*|unsafe-eval|connect-src (?!'none')/);
  expect(html).not.toMatch(/<img src=x|<script>alert/);
  expect(html).toContain('&lt;img src=x');
  expect(html).not.toMatch(/(?:src|href)="https?:/);
});

it('depends on what DEVELOPERS.md gives a reason for, each at the version of the lock', () => {
  const { dependencies } = JSON.parse(readFileSync(join(ROOT, 'package.json'), 'utf8')) as {
    dependencies: Record<string, string>;
  };
  const lock = JSON.parse(readFileSync(join(ROOT, 'package-lock.json'), 'utf8')) as {
    packages: Record<string, { version?: string; integrity?: string }>;
  };
  const page = readFileSync(join(ROOT, 'DEVELOPERS.md'), 'utf8');
  const reasons = [...page.matchAll(/^\| `([@\w./-]+)` +\|/gm)].map(([, name]) => name);
  for (const name of Object.keys(dependencies)) {
    expect(reasons, name).toContain(name);
    const locked = lock.packages[`node_modules/${name}`];
    expect(locked?.version, name).toMatch(/^\d+\.\d+\.\d+/);
    expect(locked?.integrity, name).toMatch(/^sha512-/);
  }
});
