/** Every problem has a page that explains it. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { CODES } from '../../../server/src/work/index.ts';

const ROOT = join(import.meta.dirname, '../../../server/src/work');

function sources(folder: string): string[] {
  return readdirSync(folder, { withFileTypes: true }).flatMap((entry) => {
    const path = join(folder, entry.name);
    if (entry.isDirectory()) return entry.name === 'codes' ? [] : sources(path);
    return [readFileSync(path, 'utf8')];
  });
}

test('each page is one of a kind and says something', () => {
  expect(new Set(CODES.map((page) => page.code)).size).toBe(CODES.length);
  for (const page of CODES) {
    expect(page.code).toMatch(/^[a-z]+(-[a-z]+)*$/);
    for (const text of [page.title, page.why, page.example, page.mend])
      expect(text.length, page.code).toBeGreaterThan(10);
  }
});

test('no page is of a code that the sources do not have', () => {
  const text = sources(ROOT).join('\n');
  for (const { code } of CODES) expect(text, code).toContain(`'${code}'`);
});

test('no code is without a page', () => {
  const known = new Set(CODES.map((page) => page.code));
  const text = sources(ROOT).join('\n');
  const used = [
    ...text.matchAll(/code: '([a-z-]+)'/g),
    ...text.matchAll(/problem\(\s*'([a-z-]+)'/g),
    ...text.matchAll(/problemsOf\('[a-z]+', [^)]*\)\(\s*'([a-z-]+)'/g),
    ...text.matchAll(/code: [^,\n]*\? '([a-z-]+)' :/g),
    ...text.matchAll(/code: [^,\n]*: '([a-z-]+)',/g),
    ...text.matchAll(/always \? '(rules-[a-z-]+)'/g),
  ].map((match) => match[1]!);
  expect(used.length).toBeGreaterThan(60);
  expect([...new Set(used)].filter((code) => !known.has(code))).toEqual([]);
});
