import { expect, test } from 'vitest';
import { NO_HOST } from '../../../server/src/book/host.ts';
import { Workspace } from '../../../server/src/book/workspace.ts';

const AT = 'file:///w/';
const workspace = (...names: string[]) =>
  new Workspace(names.length > 0 ? names.map((name) => AT + name) : [AT], NO_HOST);
const loaded = (files: Record<string, string>) => {
  const one = workspace();
  one.load(new Map(Object.entries(files).map(([name, text]) => [AT + name, text])));
  return one;
};

/** `root: files`, in order. */
const layout = (one: Workspace) =>
  one.books
    .map(
      (book) =>
        `${book.root.slice(AT.length)}: ${[...book.files()]
          .map((file) => file.uri.slice(book.root.length))
          .sort()
          .join(' ')}`,
    )
    .sort();

const SHOP = 'kind: shop\n';
const over = (path: string) => `kind: shop\nextends: ${path}\n`;

test('each shop makes a book of its folder; those that extend one another share one', () => {
  const files = {
    'a/shop.yaml': SHOP,
    'a/p.parts.yaml': 'kind: parts\n',
    'b/common/shop.yaml': SHOP,
    'b/south/shop.yaml': over('../common/shop.yaml'),
    'b/north/shop.yaml': over('../common/shop.yaml'),
    'b/jobs/j.job.yaml': 'kind: job\n',
    'loose.yaml': 'kind: parts\n',
  };
  expect(layout(loaded(files))).toEqual([
    ': loose.yaml',
    'a/: p.parts.yaml shop.yaml',
    'b/: common/shop.yaml jobs/j.job.yaml north/shop.yaml south/shop.yaml',
  ]);
});

test('without a shop, a folder of the workspace is a book', () => {
  const one = workspace('x/', 'y/');
  one.put(`${AT}x/deep/a.parts.yaml`, 'kind: parts\n');
  one.put(`${AT}y/b.parts.yaml`, 'kind: parts\n');
  one.put('file:///elsewhere/c.parts.yaml', 'kind: parts\n');
  expect(one.books.map((book) => book.root).sort()).toEqual(['file:///elsewhere/', `${AT}x/`, `${AT}y/`]);
});

test('the order in which files come does not matter', () => {
  const files = {
    'a/p.parts.yaml': 'kind: parts\n',
    'a/shop.yaml': SHOP,
    'b/shop.yaml': SHOP,
    'b/q.parts.yaml': 'kind: parts\n',
    'r.yaml': 'kind: parts\n',
  };
  const wanted = layout(loaded(files));
  const names = Object.keys(files) as (keyof typeof files)[];
  for (let turn = 0; turn < names.length; turn++) {
    const one = workspace();
    for (const name of [...names.slice(turn), ...names.slice(0, turn)]) one.put(AT + name, files[name]);
    expect(layout(one)).toEqual(wanted);
  }
});

test('shops come, go, are renamed and turn to another common shop', () => {
  const one = loaded({
    'a/p.parts.yaml': 'kind: parts\nparts:\n  P: { name: P, kind: soft }\n',
    'b/shop.yaml': SHOP,
  });
  expect(layout(one)).toEqual([': a/p.parts.yaml', 'b/: shop.yaml']);

  const put = one.put(`${AT}a/shop.yaml`, SHOP)!;
  expect(layout(one)).toEqual(['a/: p.parts.yaml shop.yaml', 'b/: shop.yaml']);
  // The change speaks of the books as they are now.
  expect(put.book).toBe(one.bookOf(`${AT}a/shop.yaml`));
  expect(put.file).toBe(put.book.file(`${AT}a/shop.yaml`));
  expect([...put.files].map((file) => file.uri)).toContain(`${AT}a/p.parts.yaml`);
  expect(put.book.value('part', 'P')).toBeDefined();

  one.edit(`${AT}a/shop.yaml`, [
    {
      range: { start: { line: 1, character: 0 }, end: { line: 1, character: 0 } },
      text: 'extends: ../b/shop.yaml\n',
    },
  ]);
  expect(layout(one)).toEqual([': a/p.parts.yaml a/shop.yaml b/shop.yaml']);

  one.remove(`${AT}b/shop.yaml`);
  expect(layout(one)).toEqual(['a/: p.parts.yaml shop.yaml']);

  one.remove(`${AT}a/shop.yaml`);
  one.put(`${AT}c/shop.yaml`, SHOP);
  expect(layout(one)).toEqual([': a/p.parts.yaml', 'c/: shop.yaml']);

  one.put(`${AT}c/shop.yaml`, 'kind: parts\n');
  expect(layout(one)).toEqual([': a/p.parts.yaml c/shop.yaml']);
});

test('an edit that leaves the shops as they are keeps the books', () => {
  const one = loaded({ 'shop.yaml': SHOP, 'p.parts.yaml': 'kind: parts\n' });
  const [book] = one.books;
  one.put(`${AT}shop.yaml`, `${SHOP}name: S\n`);
  one.put(`${AT}p.parts.yaml`, 'kind: parts\ndemo: yes\n');
  expect(one.books).toEqual([book]);
});

test('a location inside the folder of another is part of its book', () => {
  expect(
    layout(loaded({ 'shop.yaml': SHOP, 'south/shop.yaml': SHOP, 'south/p.parts.yaml': 'kind: parts\n' })),
  ).toEqual([': shop.yaml south/p.parts.yaml south/shop.yaml']);
});

test('a URI is one file, however it is spelled', () => {
  const one = workspace();
  one.put(`${AT}R%26D/sh%C3%B6p/shop.yaml`, SHOP);
  one.put(`${AT}R&D/shöp/shop.yaml`, `${SHOP}name: S\n`);
  one.put(`${AT}south/shop.yaml`, over('../R&D/shöp/shop.yaml'));
  expect(one.books).toHaveLength(1);
  const [book] = one.books;
  expect([...book!.files()]).toHaveLength(2);
  expect(book!.shopOf(`${AT}south/x.job.yaml`)?.shop.name).toBe('S');
  expect(one.bookOf(`${AT}R%26d/sh%c3%b6p/shop.yaml`)).toBeUndefined();
  expect(one.bookOf(`${AT}R%26D/sh%c3%b6p/shop.yaml`)).toBe(book);
});

test('what is not there', () => {
  const one = workspace();
  expect(one.edit(`${AT}x.yaml`, [])).toBeUndefined();
  expect(one.remove(`${AT}x.yaml`)).toBeUndefined();
  expect(one.refresh(`${AT}x.csv`)).toEqual([]);
});
