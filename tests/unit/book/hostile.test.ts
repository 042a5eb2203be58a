/** Ids, paths and texts that are meant to break something: each gets a plain word, and the rest of the book works. */
import { expect, test } from 'vitest';
import { bookOf, fileIn, hostOf, messages, ROOT, told } from './told.ts';

const NAMES = ['__proto__', 'constructor', 'toString', 'hasOwnProperty', 'valueOf'];
const GOOD = '  GOOD: { name: Good, kind: soft }\n';

test.each(NAMES)('%s as the key of a catalog, split or in braces', (name) => {
  const book = bookOf({
    'a.parts.yaml': `kind: parts\nparts:\n  ${name}: { name: A, kind: soft }\n${GOOD}`,
    'b.parts.yaml': `kind: parts\nparts: { ${name}: { name: A, kind: soft }, FINE: { name: A, kind: soft } }\n`,
  });
  for (const file of ['a.parts.yaml', 'b.parts.yaml'])
    expect(messages(book, file)).toEqual([
      `"${name}" is a word that programs keep for themselves; choose another id.`,
    ]);
  expect(book.definition('part', name)).toBeUndefined();
  expect(book.value('part', 'GOOD')).toBeDefined();
  expect(book.value('part', 'FINE')).toBeDefined();
});

test.each(NAMES)('%s as the key of a map', (name) => {
  const text = `kind: shop\nrates:\n  ${name}: { name: R, hourly: 1.00 }\n  bench: { name: R, hourly: 2.00 }\n`;
  const book = bookOf({ 'shop.yaml': text });
  expect(messages(book, 'shop.yaml')).toEqual([
    `"${name}" is a word that programs keep for themselves; choose another id.`,
  ]);
  const rates = book.shopOf(`${ROOT}j.job.yaml`)!.shop.rates!;
  expect(Object.keys(rates)).toEqual(['bench']);
  expect(Object.getPrototypeOf(rates)).toBe(Object.prototype);
});

test.each(NAMES)('%s as a reference, a field, a section and a word', (name) => {
  const book = bookOf({
    'a.parts.yaml': `kind: parts\n${name}: x\nparts:\n  A: { name: A, kind: ${name}, ${name}: x }\n  B: { name: B, kind: soft, role: ${name}, alternates: [${name}] }\n${GOOD}`,
  });
  const found = messages(book, 'a.parts.yaml');
  expect(found).toContainEqual(expect.stringContaining(`"${name}" is not a field of a parts file.`));
  expect(found).toContainEqual(expect.stringContaining(`"${name}" is not a field that is known here.`));
  expect(found).toContainEqual(expect.stringContaining(`"${name}" is not one of the words for this.`));
  expect(found).toContain(`There is no role "${name}" in the book at book.`);
  expect(book.value('part', 'GOOD')).toBeDefined();
  expect(({} as Record<string, unknown>).x).toBeUndefined();
});

test('ids that cannot be', () => {
  const long = 'x'.repeat(81);
  const book = bookOf({
    'a.parts.yaml': `kind: parts\nparts:\n  "": { name: A, kind: soft }\n  " a": { name: A, kind: soft }\n  "a\\nb": { name: A, kind: soft }\n  ${long}: { name: A, kind: soft }\n${GOOD}`,
  });
  expect(messages(book, 'a.parts.yaml')).toEqual([
    'An id cannot be empty.',
    'An id cannot begin or end with a space.',
    'An id cannot hold a line break or a control character.',
    'An id can be at most 80 characters long.',
  ]);
  expect([...book.registry.ids('part')]).toEqual(['GOOD']);
});

test('a NUL and other characters that are no text', () => {
  const book = bookOf({ 'a.parts.yaml': `kind: parts\nparts:\n  A\0: { name: A, kind: soft }\n${GOOD}` });
  expect(messages(book, 'a.parts.yaml').length).toBeGreaterThan(0);
  expect(book.value('part', 'GOOD')).toBeDefined();
});

test('values of a million characters, and words nested very deep', () => {
  const book = bookOf({
    'a.parts.yaml': `kind: parts\nparts:\n  A: { name: A, kind: soft, cost: ${'9'.repeat(1_000_000)} }\n  B: { name: B, kind: soft, pack: ${'['.repeat(5000)}${']'.repeat(5000)} }\n  C: { name: C, kind: soft, role: ${'x'.repeat(1_000_000)} }\n  D: { name: D, kind: soft, role: ${'x'.repeat(60_000)}, cost: ${'9'.repeat(60_000)}, ${'k'.repeat(900)}: x }\n${GOOD}`,
  });
  for (const message of messages(book, 'a.parts.yaml')) expect(message.length).toBeLessThan(2000);
  expect(book.value('part', 'GOOD')).toBeDefined();
});

test('paths that lead out, or nowhere a path can', () => {
  const text = (path: string) => `kind: parts\nparts:\n  P: { name: P, kind: soft, picture: '${path}' }\n`;
  const outside = (path: string) =>
    `"${path}" lies outside the shop book. Copy the file into the book and name it from here.`;
  const host = hostOf({ 'p.jpg': 'x' });
  const cases: [string, string[]][] = [
    ['../p.jpg', [outside('../p.jpg')]],
    ['a/../../book2/p.jpg', [outside('a/../../book2/p.jpg')]],
    ['/p.jpg', [outside('/p.jpg')]],
    ['\\\\server\\p.jpg', [outside('\\\\server\\p.jpg')]],
    ['https://example.com/p.jpg', [outside('https://example.com/p.jpg')]],
    ['C:/p.jpg', [outside('C:/p.jpg')]],
    ['./p.jpg', []],
    ['a/../p.jpg', []],
    ['../book/p.jpg', []],
    ['%2e%2e/p.jpg', ['There is no file "%2e%2e/p.jpg". Looked at %2e%2e/p.jpg.']],
  ];
  for (const [path, problems] of cases)
    expect(messages(bookOf({ 'a.parts.yaml': text(path) }, host), 'a.parts.yaml')).toEqual(problems);
  const half = bookOf({ 'a.parts.yaml': text('\ud800.jpg') }, host);
  expect(messages(half, 'a.parts.yaml').length).toBeGreaterThan(0);
});

test('a picture that is too large for a page', () => {
  const book = bookOf(
    { 'a.parts.yaml': 'kind: parts\nparts:\n  P: { name: P, kind: soft, picture: p.jpg }\n' },
    { read: () => undefined, size: () => 21_000_000 },
  );
  expect(told(book, 'a.parts.yaml')).toEqual([
    '3:38-43 file-missing: "p.jpg" is larger than 20 MB; make a smaller copy for the estimate.',
  ]);
});

test('a file of nothing but noise', () => {
  for (const text of [
    '{',
    '- - -',
    '\t',
    ': : :',
    '&a *a',
    '%YAML 9',
    '"',
    'kind: parts\nparts: [',
    'kind:\n',
    'kind: [parts]\n',
    '---\n---\n',
  ])
    for (const name of ['x.yaml', 'x.parts.yaml', 'shop.yaml', 'x.job.yaml']) {
      const book = bookOf({ [name]: text, 'good.parts.yaml': `kind: parts\nparts:\n${GOOD}` });
      expect(book.problemsOf(fileIn(book, name)).length, `${text} in ${name}`).toBeGreaterThan(0);
      expect(book.value('part', 'GOOD')).toBeDefined();
      expect(book.shopOf(`${ROOT}x.job.yaml`)?.shop.kind ?? 'shop').toBe('shop');
    }
});
