import { describe, expect, test } from 'vitest';
import type { Part } from '../../../schemas/kinds/parts.ts';
import type { Book, Told } from '../../../server/src/book/book.ts';
import { bookOf, fileIn, ROOT, stateOf, told } from './told.ts';

const PARTS = (...ids: string[]) =>
  ['kind: parts', 'parts:', ...ids.map((id) => `  ${id}: { name: Part ${id}, kind: soft }`), ''].join('\n');

const files = (touched: { files: ReadonlySet<{ uri: string }> } | undefined) =>
  [...touched!.files].map((file) => file.uri.slice(ROOT.length)).sort();

describe('definitions and references', () => {
  test('an id is where its key is, its value is the judged entry, and its users are known', () => {
    const book = bookOf({
      'a.parts.yaml': 'kind: parts\nparts:\n  0071: { name: Gasket, kind: soft, cost: 1.10 }\n',
      'j.job.yaml': 'kind: job\nid: J-1\nopened: 2026-01-02\nunit: u\nlines:\n  - part: 0071\n',
    });
    expect((book.value('part', '0071') as Part).cost?.toString()).toBe('1.1');
    expect([...book.registry.users('part', '0071')].map(({ file }) => file.uri)).toEqual([
      `${ROOT}j.job.yaml`,
    ]);
    expect(book.value('job', 'J-1')).toMatchObject({ id: 'J-1', lines: [{ part: '0071' }] });
    expect(book.registry.definition('part', 'toString')).toBeUndefined();
    expect(book.value('part', 'constructor')).toBeUndefined();
  });

  test('the same value is the same object until its text changes', () => {
    const book = bookOf({ 'a.parts.yaml': PARTS('A', 'B') });
    const [a, b] = [book.value('part', 'A'), book.value('part', 'B')];
    book.edit(`${ROOT}a.parts.yaml`, [
      { range: { start: { line: 3, character: 15 }, end: { line: 3, character: 15 } }, text: 'x' },
    ]);
    expect(book.value('part', 'A')).toBe(a);
    expect(book.value('part', 'B')).not.toBe(b);
  });

  test('an id nobody defines is told where it is named, with what it may have been', () => {
    const book = bookOf({
      'a.parts.yaml': PARTS('TC-B6', 'TC-B8'),
      'j.job.yaml': 'kind: job\nid: J-1\nopened: 2026-01-02\nlines:\n  - part: TC-B7\n  - part: zebra\n',
    });
    expect(told(book, 'j.job.yaml').slice(1)).toEqual([
      '5:11-16 unknown-reference: There is no part "TC-B7" in the book at book. Did you mean "TC-B6" or "TC-B8"?',
      '6:11-16 unknown-reference: There is no part "zebra" in the book at book.',
    ]);
  });

  test('an id of one of two kinds', () => {
    const units = (row: string) =>
      `kind: units\nunits:\n  u: { name: U, layout: rear, fluid-class: B, traits: [bands], limits: { flow: { rows: [{ when: { ${row} }, least: 1 }] } } }\n`;
    const rules = 'kind: rules\nfindings:\n  flow: { name: Flow, kind: measurement, dimension: flow }\n';
    const unitsTold = (row: string) =>
      told(bookOf({ 'u.units.yaml': units(row), 'f.rules.yaml': rules }), 'u.units.yaml');
    expect(unitsTold('flow: 1')).toEqual([]);
    expect(unitsTold('bands: yes')).toEqual([]);
    // A fact of the unit is a word of the declaration: nobody has to define it.
    expect(unitsTold('cooler-material: steel')).toEqual([]);
    expect(unitsTold('cooler-metal: steel')).toEqual([
      '3:99-111 unknown-reference: There is no finding or trait "cooler-metal" in the book at book.',
    ]);
  });

  test('defined twice: told in each file, and the first by name counts', () => {
    const book = bookOf({ 'b.parts.yaml': PARTS('A', 'B'), 'a.parts.yaml': PARTS('B', 'C') });
    expect(told(book, 'a.parts.yaml')).toEqual([
      '3:3-4 defined-twice: The part "B" is also in b.parts.yaml. Keep one of them, or give one another id.',
    ]);
    expect(told(book, 'b.parts.yaml')).toEqual([
      '4:3-4 defined-twice: The part "B" is also in a.parts.yaml. Keep one of them, or give one another id.',
    ]);
    expect(book.definition('part', 'B')!.facts.file.uri).toBe(`${ROOT}a.parts.yaml`);
    expect(files(book.remove(`${ROOT}a.parts.yaml`))).toEqual(['a.parts.yaml', 'b.parts.yaml']);
    expect(told(book, 'b.parts.yaml')).toEqual([]);
  });

  test('two jobs with one number', () => {
    const job = 'kind: job\nid: J-1\nopened: 2026-01-02\nunit: u\n';
    const book = bookOf({ 'a.job.yaml': job, 'b.job.yaml': job });
    expect(told(book, 'b.job.yaml')).toContain(
      '2:5-8 defined-twice: The job "J-1" is also in a.job.yaml. Keep one of them, or give one another id.',
    );
  });

  test('shops laid over one another do not clash, nor do words that several places bring in', () => {
    const book = bookOf({
      'shop.yaml': 'kind: shop\nrates:\n  bench: { name: Bench, hourly: 100.00 }\n',
      'south/shop.yaml':
        'kind: shop\nextends: ../shop.yaml\nrates:\n  bench: { name: Bench, hourly: 110.00 }\n',
      'u.units.yaml':
        'kind: units\nunits:\n  u: { name: U, layout: rear, fluid-class: B, traits: [bands] }\n  v: { name: V, layout: rear, fluid-class: B, traits: [bands] }\n',
    });
    for (const file of book.files()) expect(book.problemsOf(file)).toEqual([]);
  });
});

describe('ids that are known only where they are', () => {
  const labor =
    'kind: labor\noperations:\n  rr:\n    name: R\n    work: removal\n    adders:\n      rust: { name: Rust, hours: 1 }\n      four: { name: Four, hours: }\n';
  const template =
    'kind: template\nid: t\nname: T\nparameters:\n  pump: { type: part }\nlines:\n  - part: $pump\n  - part: $pmup\n  - { operation: $op, adders: [rust] }\n';
  const job =
    'kind: job\nid: J\nopened: 2026-01-02\nunit: u\nlines:\n  - { operation: rr, adders: [rust, four, ruts] }\n  - { template: t, with: { pump: A, pimp: B } }\n  - { operation: none, adders: [rust] }\noptions:\n  one: { name: One, kind: repair }\nchosen: two\nauthorizations:\n  - { on: 2026-01-02T10:30, by: A, how: text, amount: 1, option: one }\n';
  const book = bookOf({ 'l.labor.yaml': labor, 't.template.yaml': template, 'j.job.yaml': job });

  test("a line's add-ons are those of its operation, its parameters those of its template, options those of the job", () => {
    expect(told(book, 'j.job.yaml').filter((one) => !one.includes('"u"'))).toEqual([
      '6:43-47 unknown-reference: The operation "rr" has no add-on "ruts". It has: rust, four. Did you mean "rust"?',
      '7:37-41 unknown-reference: The template "t" has no parameter "pimp". It has: pump. Did you mean "pump"?',
      '8:18-22 unknown-reference: There is no operation "none" in the book at book.',
      '11:9-12 unknown-reference: This file has no option "two". It has: one.',
    ]);
  });

  test('a parameter of a template is one of that file', () => {
    expect(told(book, 't.template.yaml')).toEqual([
      '8:11-16 unknown-reference: This file has no parameter "pmup". It has: pump. Did you mean "pump"?',
      '9:18-21 unknown-reference: This file has no parameter "op". It has: pump.',
    ]);
  });

  test('what names them is checked again when they come and go', () => {
    const own = bookOf({ 'l.labor.yaml': labor, 't.template.yaml': template, 'j.job.yaml': job });
    const before = told(own, 'j.job.yaml');
    expect(files(own.put(`${ROOT}l.labor.yaml`, labor.replace('rust:', 'ruts:')))).toEqual([
      'j.job.yaml',
      'l.labor.yaml',
    ]);
    expect(told(own, 'j.job.yaml')).not.toEqual(before);
    expect(files(own.put(`${ROOT}t.template.yaml`, template.replace('pump:', 'pimp:')))).toContain(
      'j.job.yaml',
    );
    expect(told(own, 'j.job.yaml').filter((one) => one.includes('parameter'))).toEqual([
      '7:28-32 unknown-reference: The template "t" has no parameter "pump". It has: pimp. Did you mean "pimp"?',
    ]);
  });
});

describe('chains of superseded numbers', () => {
  const chain = (next: Record<string, string>) =>
    [
      'kind: parts',
      'parts:',
      ...Object.entries(next).map(
        ([id, to]) => `  ${id}: { name: P, kind: soft, superseded-by: { part: ${to} } }`,
      ),
      '  END: { name: P, kind: soft }',
      '',
    ].join('\n');

  test('a chain that ends is right, however long', () => {
    const next = Object.fromEntries(
      Array.from({ length: 300 }, (_, i) => [`A${i}`, i === 299 ? 'END' : `A${i + 1}`]),
    );
    expect(told(bookOf({ 'a.parts.yaml': chain(next) }), 'a.parts.yaml')).toEqual([]);
  });

  test('a circle is told at each of its members and not at what leads into it', () => {
    const book = bookOf({ 'a.parts.yaml': chain({ A: 'B', B: 'C', C: 'B', D: 'D' }) });
    expect(told(book, 'a.parts.yaml')).toEqual([
      '4:52-53 supersession-cycle: These numbers replace one another in a circle: B → C → B. Take one of the replacements out.',
      '5:52-53 supersession-cycle: These numbers replace one another in a circle: C → B → C. Take one of the replacements out.',
      '6:52-53 supersession-cycle: These numbers replace one another in a circle: D → D. Take one of the replacements out.',
    ]);
  });

  test('a circle through two files is told in both, and gone from both when one of them breaks it', () => {
    const book = bookOf({
      'a.parts.yaml': chain({ A: 'B' }),
      'b.parts.yaml': chain({ B: 'A' }).replace('  END: { name: P, kind: soft }\n', ''),
    });
    expect(told(book, 'a.parts.yaml')).toHaveLength(1);
    expect(files(book.put(`${ROOT}b.parts.yaml`, PARTS('B')))).toEqual(['a.parts.yaml', 'b.parts.yaml']);
    expect(told(book, 'a.parts.yaml')).toEqual([]);
  });
});

describe('shops', () => {
  const rates = (id: string, hourly: number) => `rates:\n  ${id}: { name: R, hourly: ${hourly}.00 }\n`;
  const shopOf = (book: Book, name: string) => {
    const found = book.shopOf(ROOT + name);
    return found && JSON.parse(JSON.stringify(found.shop));
  };

  test('the nearest shop holds, laid over what it extends', () => {
    const book = bookOf({
      'common/shop.yaml': `kind: shop\nname: Common\ncurrency: USD\n${rates('bench', 100)}`,
      'south/shop.yaml': `kind: shop\nextends: ../common/shop.yaml\nname: South\nrates:\n  bench: { name: R, hourly: 110.00 }\n  road: { name: Road, hourly: 90.00 }\n`,
      'south/jobs/j.job.yaml': 'kind: job\n',
      'j.job.yaml': 'kind: job\n',
    });
    expect(shopOf(book, 'south/jobs/j.job.yaml')).toMatchObject({
      name: 'South',
      currency: 'USD',
      rates: { bench: { hourly: '110' }, road: { hourly: '90' } },
    });
    // Beside all shops: any of them, but always the same.
    expect(shopOf(book, 'j.job.yaml').name).toBe('Common');
    book.put(`${ROOT}common/shop.yaml`, `kind: shop\ncurrency: CAD\n`);
    expect(shopOf(book, 'south/jobs/j.job.yaml')).toMatchObject({ currency: 'CAD' });
    book.remove(`${ROOT}south/shop.yaml`);
    expect(shopOf(book, 'south/jobs/j.job.yaml')).toEqual({ kind: 'shop', currency: 'CAD' });
    book.put(`${ROOT}common/shop.yaml`, 'kind: parts\n');
    expect(shopOf(book, 'j.job.yaml')).toBeUndefined();
  });

  test('extends: what is not there, what is no shop, what comes back to itself', () => {
    const book = bookOf({
      'a/shop.yaml': 'kind: shop\nextends: ../b/shop.yaml\n',
      'b/shop.yaml': 'kind: shop\nextends: ../c/shop.yaml\n',
      'd/shop.yaml': 'kind: shop\nextends: ../a/shop.yaml\n',
      'e/shop.yaml': 'kind: shop\nextends: ../x.parts.yaml\n',
      'f/shop.yaml': 'kind: shop\nextends: /etc/shop.yaml\n',
      'x.parts.yaml': 'kind: parts\n',
    });
    expect(told(book, 'b/shop.yaml')).toEqual([
      '2:10-24 shop-extends: There is no file "../c/shop.yaml" in this book. Looked at c/shop.yaml.',
    ]);
    expect(told(book, 'e/shop.yaml')).toEqual([
      '2:10-25 shop-extends: "../x.parts.yaml" is not a shop file; only a shop file can be extended.',
    ]);
    expect(told(book, 'f/shop.yaml')).toEqual([
      '2:10-24 shop-extends: There is no file "/etc/shop.yaml" in this book. Looked at /etc/shop.yaml.',
    ]);
    const touched = book.put(`${ROOT}c/shop.yaml`, 'kind: shop\nextends: ../a/shop.yaml\n');
    expect(files(touched)).toContain('a/shop.yaml');
    expect(told(book, 'a/shop.yaml')).toEqual([
      '2:10-24 shop-extends: These shop files extend one another in a circle: a/shop.yaml → b/shop.yaml → c/shop.yaml → a/shop.yaml. Take one "extends" away.',
    ]);
    expect(told(book, 'd/shop.yaml')).toEqual([]);
    expect(shopOf(book, 'd/j.job.yaml')).toMatchObject({ kind: 'shop' });
  });

  test('an entry that is broken is left out, and what it would have replaced holds', () => {
    const book = bookOf({
      'shop.yaml': `kind: shop\n${rates('bench', 100)}`,
      'south/shop.yaml': `kind: shop\nextends: ../shop.yaml\nrates:\n  bench: { name: R, hourly: much }\n`,
    });
    expect(shopOf(book, 'south/j.job.yaml').rates.bench.hourly).toBe('100');
  });
});

describe('kinds of file', () => {
  test.each([
    ['kind: prats\n', 'x.yaml', '1:7-12 unknown-kind: "prats" is not a kind of file. Did you mean "parts"?'],
    [
      'services: {}\n',
      'compose.yaml',
      expect.stringMatching(/^1:1-13 unknown-kind: This file is not read as part of the shop book\. /),
    ],
    ['kind: Deployment\n', 'deploy.yaml', expect.stringContaining('unknown-kind: This file is not read')],
    ['', 'empty.yaml', expect.stringContaining('unknown-kind: This file is not read')],
    [
      'parts: {}\n',
      'x.parts.yaml',
      '1:1-10 missing-field: "kind" is missing; a parts file needs it. Write: kind: parts',
    ],
    ['kind: prats\n', 'x.parts.yaml', '1:7-12 wrong-word: This has to be "parts".'],
  ])('%j in %s', (text, name, problem) => {
    expect(told(bookOf({ [name]: text }), name)).toEqual([problem]);
  });

  test('a file that is not of the book is no error', () => {
    const book = bookOf({ 'compose.yaml': 'services: {}\n', 'x.yaml': 'kind: prats\n' });
    const severities = (name: string) =>
      book.problemsOf(fileIn(book, name)).map((one: Told) => one.problem.severity);
    expect(severities('compose.yaml')).toEqual(['information']);
    expect(severities('x.yaml')).toEqual(['error']);
  });

  test('what is missing from a whole file is told at its first line, once', () => {
    const book = bookOf({ 'j.job.yaml': '# a job\nkind: job\nid: J-1\nunti: u\nopened: 2026-01-02\n' });
    expect(told(book, 'j.job.yaml')).toEqual([
      '4:1-5 unknown-key: "unti" is not a field of a job file. Did you mean "unit"?',
    ]);
    book.put(`${ROOT}j.job.yaml`, '# a job\nkind: job\nid: J-1\nunit: u\n');
    expect(told(book, 'j.job.yaml')[0]).toBe(
      '2:1-10 missing-field: "opened" is missing; a job file needs it. Opened: the day it came in.',
    );
  });

  test('a file that turns into another kind', () => {
    const book = bookOf({ 'x.yaml': PARTS('A') });
    expect(book.definition('part', 'A')).toBeDefined();
    book.edit(`${ROOT}x.yaml`, [
      { range: { start: { line: 0, character: 6 }, end: { line: 0, character: 11 } }, text: 'labor' },
    ]);
    expect(book.definition('part', 'A')).toBeUndefined();
    expect(told(book, 'x.yaml')[0]).toBe(
      '2:1-6 unknown-key: "parts" is not a field of a labor file. Known here: kind, demo, cautions, steps, operations.',
    );
    book.put(`${ROOT}x.yaml`, PARTS('A'));
    expect(stateOf(book)).toEqual(stateOf(bookOf({ 'x.yaml': PARTS('A') })));
  });

  test.each(['﻿kind: parts\n', '"kind": parts\n', 'kind:   parts # all of them\n', "kind: 'parts'\r\n"])(
    'the kind as %j says it',
    (text) => expect(fileIn(bookOf({ 'x.yaml': text }), 'x.yaml').kind?.kind).toBe('parts'),
  );
});

test('what counts the changes counts only what it is for', () => {
  const book = bookOf({
    'shop.yaml': 'kind: shop\n',
    'a.parts.yaml': PARTS('A'),
    'j.job.yaml': 'kind: job\n',
  });
  const counts = () => [book.version, book.catalogVersion, book.policyVersion];
  const change = (name: string, text: string) => {
    const before = counts();
    book.put(ROOT + name, text);
    return counts().map((count, i) => count - before[i]!);
  };
  expect(change('j.job.yaml', 'kind: job\nid: J\n')).toEqual([1, 0, 0]);
  expect(change('a.parts.yaml', PARTS('A', 'B'))).toEqual([1, 1, 0]);
  expect(change('shop.yaml', 'kind: shop\nname: S\n')).toEqual([1, 1, 1]);
  expect(change('a.parts.yaml', 'kind: job\n')).toEqual([1, 1, 0]);
  expect(change('new.job.yaml', 'kind: job\n')).toEqual([1, 0, 0]);
});

test('a job is touched by what it names, and by nothing else', () => {
  const book = bookOf({
    'a.parts.yaml': PARTS('A'),
    'b.parts.yaml': PARTS('B'),
    'j.job.yaml': 'kind: job\nid: J\nopened: 2026-01-02\nunit: u\nlines:\n  - part: A\n',
  });
  expect(files(book.put(`${ROOT}b.parts.yaml`, PARTS('B', 'C')))).toEqual(['b.parts.yaml']);
  expect(files(book.put(`${ROOT}a.parts.yaml`, PARTS('ZZZZ')))).toEqual(['a.parts.yaml', 'j.job.yaml']);
  told(book, 'j.job.yaml');
  // A suggestion that was not there before.
  expect(files(book.put(`${ROOT}a.parts.yaml`, PARTS('YYYY')))).toEqual(['a.parts.yaml']);
  expect(files(book.put(`${ROOT}a.parts.yaml`, PARTS('AB')))).toEqual(['a.parts.yaml', 'j.job.yaml']);
  expect(told(book, 'j.job.yaml').at(-1)).toContain(
    'There is no part "A" in the book at book. Did you mean "AB"',
  );
});
