import { readdirSync, readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { CODES } from '../../../server/src/book/codes.ts';
import { pages } from '../../../server/src/estimate/codes.ts';
import { AROUND } from './mistakes.ts';
import { bookOf, fileIn } from './told.ts';

test.each(CODES.map((page) => [page.code, page] as const))('the example of %s gives it', (code, page) => {
  const name = page.example.startsWith('kind: shop') ? 'west/shop.yaml' : 'west/example.yaml';
  const book = bookOf({ ...AROUND, [name]: page.example });
  expect(book.problemsOf(fileIn(book, name)).map(({ problem }) => problem.code)).toContain(code);
});

test('every code that this layer gives has a page', () => {
  const folder = 'server/src/book';
  const sources = readdirSync(folder)
    .filter((name) => name !== 'codes.ts')
    .map((name) => readFileSync(`${folder}/${name}`, 'utf8'));
  const given = new Set(
    sources.flatMap((text) =>
      [...text.matchAll(/code: '([a-z-]+)'|(?:leaf|onKey|Problem)\(\s*(?:\w+,\s*)?'([a-z-]+)'/g)].map(
        ([, one, other]) => one ?? other!,
      ),
    ),
  );
  const known = new Set(pages().map((page) => page.code));
  expect([...given].filter((code) => !known.has(code))).toEqual([]);
  expect(given.size).toBeGreaterThan(CODES.length - 1);
});

test('pages are whole sentences, and no code has two', () => {
  for (const { title, why, mend } of CODES) {
    expect(title).not.toMatch(/\.$/);
    for (const text of [why, mend]) expect(text).toMatch(/^[A-Z].*\.$/);
  }
  const codes = pages().map((page) => page.code);
  expect(codes.filter((code, i) => codes.indexOf(code) !== i)).toEqual([]);
});
