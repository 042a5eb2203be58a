import { execFileSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { DISK, folderUri, readFolder, readText } from '../../../server/src/book/disk.ts';
import { Workspace } from '../../../server/src/book/workspace.ts';

let outside: string;
let folder: string;

beforeAll(() => {
  outside = mkdtempSync(join(tmpdir(), 'book-'));
  folder = join(outside, 'my shop (1) & ü');
  mkdirSync(join(folder, 'jobs'), { recursive: true });
  mkdirSync(join(folder, '.git'));
  mkdirSync(join(folder, 'node_modules'));
  writeFileSync(join(outside, 'secret.yaml'), 'kind: parts\nparts:\n  SECRET: { name: S, kind: soft }\n');
  writeFileSync(join(outside, 'secret.csv'), 'Number\nSECRET\n');
  writeFileSync(join(folder, 'shop.yaml'), 'kind: shop\n');
  writeFileSync(join(folder, 'jobs', 'j.job.yml'), 'kind: job\n');
  writeFileSync(join(folder, '.git', 'x.yaml'), 'kind: parts\n');
  writeFileSync(join(folder, 'node_modules', 'x.yaml'), 'kind: parts\n');
  writeFileSync(join(folder, 'note.txt'), 'no');
  writeFileSync(join(folder, 'bad.yaml'), Buffer.from([0x6b, 0xff, 0xfe]));
  writeFileSync(
    join(folder, 'nul.yaml'),
    'kind: parts\nparts:\n  A\0B: { name: A, kind: soft }\n  C: { name: C, kind: soft }\n',
  );
  symlinkSync(join(outside, 'secret.yaml'), join(folder, 'out.yaml'));
  symlinkSync(join(outside, 'secret.csv'), join(folder, 'out.csv'));
  symlinkSync(join(folder, 'shop.yaml'), join(folder, 'in.yaml'));
  symlinkSync(folder, join(folder, 'loop'));
  symlinkSync(join(folder, 'nowhere'), join(folder, 'gone.yaml'));
  execFileSync('mkfifo', [join(folder, 'pipe.yaml')]);
  writeFileSync(
    join(folder, 'p.parts.yaml'),
    'kind: parts\nfrom: { file: out.csv, columns: { number: Number }, kind: soft }\n',
  );
});

afterAll(() => rmSync(outside, { recursive: true }));

test('the YAML files of a folder, with what was not read and why', () => {
  const { texts, unread } = readFolder(folder);
  const root = folderUri(folder);
  expect([...texts.keys()].map((uri) => uri.slice(root.length)).sort()).toEqual([
    'in.yaml',
    'jobs/j.job.yml',
    'nul.yaml',
    'p.parts.yaml',
    'shop.yaml',
  ]);
  expect(
    Object.fromEntries(unread.map(({ path, message }) => [path.slice(folder.length + 1), message])),
  ).toEqual({
    'bad.yaml': 'is not UTF-8 text; save it as UTF-8.',
    'out.yaml': 'is not a file of the shop book, or a link that leads out of it; it was not read.',
    'pipe.yaml': 'is not a file of the shop book, or a link that leads out of it; it was not read.',
    'gone.yaml': 'cannot be read: ENOENT.',
  });
});

test('a folder that is not there', () => {
  expect(readFolder(join(folder, 'none'))).toEqual({
    texts: new Map(),
    unread: [{ path: join(folder, 'none'), message: 'cannot be read: ENOENT.' }],
  });
  expect(readText(join(folder, 'none.yaml'))).toEqual({ message: 'cannot be read: ENOENT.' });
});

test('what a file names is read only inside the book', () => {
  const root = folderUri(folder);
  expect(DISK.size(`${root}note.txt`, root)).toBe(2);
  expect(DISK.read(`${root}note.txt`, root)).toHaveLength(2);
  for (const name of ['out.csv', 'loop', 'jobs', 'pipe.yaml', 'none', 'a%00b', '%E0%A4%A']) {
    expect(DISK.size(root + name, root)).toBeUndefined();
    expect(DISK.read(root + name, root)).toBeUndefined();
  }
});

test('a price file that is a link out of the book is not drawn from, and the rest of the book works', () => {
  const { texts } = readFolder(folder);
  const workspace = new Workspace([folderUri(folder)], DISK);
  workspace.load(texts);
  const [book] = workspace.books;
  const problems = [...book!.files()].flatMap((file) =>
    book!.problemsOf(file).map(({ problem }) => problem.message),
  );
  expect(book!.definition('part', 'SECRET')).toBeUndefined();
  expect(problems).toContain('There is no price file "out.csv". Looked at out.csv.');
  expect(book!.value('part', 'C')).toBeDefined();
});
