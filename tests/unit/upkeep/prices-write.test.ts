import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import {
  chmodSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { build } from 'esbuild';
import { afterAll, expect, test } from 'vitest';
import { replaceFiles } from '../../../server/src/cli/write-files.ts';
import { weathered } from './prices-scene.ts';

const BASE = mkdtempSync(join(tmpdir(), 'prices-'));
const children = new Set<ChildProcess>();
afterAll(() => {
  for (const child of children) child.kill('SIGKILL');
  rmSync(BASE, { recursive: true, force: true });
});

function folderOf(name: string, files: Readonly<Record<string, string>>): string {
  const folder = join(BASE, name);
  mkdirSync(folder);
  for (const [file, text] of Object.entries(files)) writeFileSync(join(folder, file), text);
  return folder;
}

test('texts are replaced, with the rights and behind the links that were there', () => {
  const folder = folderOf('plain', { 'a.yaml': 'a', 'b.yaml': 'b' });
  chmodSync(join(folder, 'a.yaml'), 0o640);
  symlinkSync('b.yaml', join(folder, 'link.yaml'));
  replaceFiles(
    new Map(
      [
        ['a.yaml', 'A\r\n'],
        ['link.yaml', 'B'],
      ].map(([name, text]) => [join(folder, name!), text!]),
    ),
  );
  expect(readFileSync(join(folder, 'a.yaml'), 'utf8')).toBe('A\r\n');
  expect(statSync(join(folder, 'a.yaml')).mode & 0o777).toBe(0o640);
  expect(readFileSync(join(folder, 'b.yaml'), 'utf8')).toBe('B');
  expect(readdirSync(folder).sort()).toEqual(['a.yaml', 'b.yaml', 'link.yaml']);
});

test('when one cannot be written, none is', () => {
  const folder = folderOf('failing', { 'a.yaml': 'a' });
  const texts = new Map(['a.yaml', 'missing.yaml'].map((name) => [join(folder, name), 'new']));
  expect(() => replaceFiles(texts)).toThrow(/ENOENT/);
  expect(readFileSync(join(folder, 'a.yaml'), 'utf8')).toBe('a');
  expect(readdirSync(folder)).toEqual(['a.yaml']);
});

const KILLS = 200;
const AT_ONCE = 3;
/** Milliseconds of writing before it is cut off, at most; each catalog takes a few. */
const LONGEST = 30;

test('killed at any moment, each file is the old one or the new one', { timeout: 120_000 }, async () => {
  const { yaml, expected } = weathered(5000);
  // As plain JavaScript it starts in half the time.
  const writer = join(BASE, 'writer.mjs');
  await build({
    entryPoints: [join(import.meta.dirname, 'prices-writer.ts')],
    bundle: true,
    platform: 'node',
    format: 'esm',
    outfile: writer,
  });
  const versions = { 'a.yaml': [yaml, expected], 'b.yaml': [expected, yaml] } as const;
  const names = Object.keys(versions) as (keyof typeof versions)[];
  const seen = { old: 0, new: 0, mixed: 0 };
  const killing = async (lane: number) => {
    const files = names.flatMap((name) => [
      [name, versions[name][0]],
      [`${name}.old`, versions[name][0]],
      [`${name}.new`, versions[name][1]],
    ]);
    const folder = folderOf(`lane-${lane}`, Object.fromEntries(files));
    for (let i = lane; i < KILLS; i += AT_ONCE) {
      const child = spawn(process.execPath, [writer, folder, names.join(',')]);
      children.add(child);
      await once(child.stdout, 'data');
      await wait(Math.random() * LONGEST);
      child.kill('SIGKILL');
      await once(child, 'exit');
      children.delete(child);
      const found = names.map((name) => versions[name].indexOf(readFileSync(join(folder, name), 'utf8')));
      expect(found.every((version) => version >= 0)).toBe(true);
      seen[found[0] !== found[1] ? 'mixed' : found[0] === 0 ? 'old' : 'new']++;
    }
    // The next run finishes, and leaves nothing beside the files.
    replaceFiles(new Map(names.map((name) => [join(folder, name), versions[name][1]])));
    expect(readdirSync(folder).filter((name) => name.startsWith('.'))).toEqual([]);
    for (const name of names)
      expect(readFileSync(join(folder, name), 'utf8') === versions[name][1]).toBe(true);
  };
  await Promise.all(Array.from({ length: AT_ONCE }, (_, lane) => killing(lane)));
  // It was cut off before the first and after the last replacement.
  expect(seen.old).toBeGreaterThan(0);
  expect(seen.new).toBeGreaterThan(0);
});
