import { describe, expect, test } from 'vitest';
import { isoDate } from '../../../schemas/values/dates.ts';
import { bookOf, fileIn, messages } from '../book/told.ts';
import { compared, difference, takenIn, weathered } from './prices-scene.ts';

const JULY = isoDate('2026-07-01');

function priced(yaml: string, csv: string, intake: Parameters<typeof takenIn>[2] = {}): string {
  const book = bookOf({ 'a.parts.yaml': yaml });
  return takenIn(book, compared(book, csv), intake).texts['a.parts.yaml'] ?? yaml;
}

const entry = (lines: string) => `kind: parts\nparts:\n${lines}`;

describe('in place', () => {
  test.each([
    ['plain', '10.00', '  A:\n    name: A # 10\n    kind: soft\n    cost: @   # net\n'],
    ['in single quotes', '10.00', "  A:\n    name: A\n    kind: soft\n    cost: '@'\n"],
    ['in double quotes', '10.00', '  A:\n    name: A\n    kind: soft\n    cost: "@" # x\n'],
    ['in braces', '10.00', '  A: { name: A, kind: soft, cost: @, list: 20.00 }\n'],
    ['without decimals', '10', '  A:\n     name: A\n     kind: soft\n     cost: @\n'],
    ['with thousands set off', '1,010.00', '  A:\n   name: A\n   kind: soft\n   cost: @\n'],
    [
      'oddly set in',
      '10.00',
      '     A:\n             name: A\n             kind: soft\n             cost:     @\n',
    ],
    ['with another line end', '10.00', '  A:\r\n    name: A\r\n    kind: soft\r\n    cost: @\r\n'],
    ['a catalog in braces', '10.00', ' { A: { name: A, kind: soft, cost: @ } }\n'],
  ])('%s', (_what, old, lines) => {
    expect(priced(entry(lines.replace('@', old)), 'Item,Net\nA,11.50\n', { accepts: () => true })).toBe(
      entry(lines.replace('@', '11.50')),
    );
  });

  test('as many decimals as stand there', () => {
    const yaml = entry(
      '  A: { name: A, kind: soft, cost: 10.00 }\n  B: { name: B, kind: soft, cost: 0.0375 }\n',
    );
    expect(difference(yaml, priced(yaml, 'Item,Net\nA,11\nB,0.04\n'))).toEqual([
      '-  A: { name: A, kind: soft, cost: 10.00 }',
      '-  B: { name: B, kind: soft, cost: 0.0375 }',
      '+  A: { name: A, kind: soft, cost: 11.00 }',
      '+  B: { name: B, kind: soft, cost: 0.0400 }',
    ]);
  });

  test('the price in force is the one that changes', () => {
    const yaml = entry(
      '  A:\n    name: A\n    kind: soft\n    cost: 8.00\n    prices:\n      - { from: 2025-01-01, cost: 9.00 } # old\n      - { from: 2026-01-01, cost: 10.00 }\n',
    );
    expect(difference(yaml, priced(yaml, 'Item,Net\nA,11.50\n'))).toEqual([
      '-      - { from: 2026-01-01, cost: 10.00 }',
      '+      - { from: 2026-01-01, cost: 11.50 }',
    ]);
  });

  test('a history with a row that cannot be read is left for a person', () => {
    const yaml = entry(
      '  A:\n    name: A\n    kind: soft\n    prices:\n      - { from: someday, cost: 9.00 }\n      - { from: 2026-01-01, cost: 10.00 }\n',
    );
    const book = bookOf({ 'a.parts.yaml': yaml });
    const made = takenIn(book, compared(book, 'Item,Net\nA,11.50\n'));
    expect(made.texts).toEqual({});
    expect(made.leftOut).toHaveLength(1);
  });

  test('prices that have ended do not change: the one of the part itself counts again', () => {
    const yaml = entry(
      '  A:\n    name: A\n    kind: soft\n    cost: 8.00\n    prices:\n      - { from: 2025-01-01, until: 2025-12-31, cost: 9.00 }\n',
    );
    expect(priced(yaml, 'Item,Net\nA,8.50\n')).toBe(yaml.replace('8.00', '8.50'));
  });

  test('a figure that was not there is added', () => {
    const yaml = entry(
      '  A:\n    name: A\n    kind: soft\n    cost: 10.00\n\n  B: { name: B, kind: soft }\n',
    );
    expect(difference(yaml, priced(yaml, 'Item,Net,Core\nA,10.00,4.00\nB,2.50,\n'))).toEqual([
      '-  B: { name: B, kind: soft }',
      '+    core: 4.00',
      '+  B: { name: B, kind: soft, cost: 2.50 }',
    ]);
  });

  test('by the pack', () => {
    const yaml = entry(
      '  A:\n    name: A\n    kind: fluid\n    unit: quart\n    pack: { unit: case, of: 12, cost: 81.00 }\n',
    );
    expect(priced(yaml, 'Item,Net,Per\nA,84.00,case\n')).toBe(yaml.replace('81.00', '84.00'));
  });

  test('a figure that is written once for several parts is left for a person', () => {
    const yaml =
      'kind: parts\nparts:\n  A:\n    name: A\n    kind: soft\n    cost: &c 10.00\n  B:\n    name: B\n    kind: soft\n    cost: *c\n  C:\n    name: C\n    kind: soft\n    cost: 3.00\n';
    const book = bookOf({ 'a.parts.yaml': yaml });
    const made = takenIn(book, compared(book, 'Item,Net\nA,11.00\nB,11.00\nC,3.10\n'));
    expect(made.texts['a.parts.yaml']).toBe(yaml.replace('3.00', '3.10'));
    expect(made.leftOut.map(({ number, why }) => `${number}: ${why}`)).toEqual([
      'A: The entry A is written in a way that cannot be changed from here. Change it by hand.',
      'B: The entry B is written in a way that cannot be changed from here. Change it by hand.',
    ]);
  });
});

describe('doubtful rows', () => {
  const yaml = entry(
    '  A: { name: A, kind: soft, cost: 10.00 }\n  B: { name: B, kind: soft, cost: 10.00 }\n',
  );
  const csv = 'Item,Net\nA,100.00\nB,1.00\n';

  test('are held back, and taken when their number is accepted', () => {
    expect(priced(yaml, csv)).toBe(yaml);
    expect(priced(yaml, csv, { accepts: (number) => number === 'A' })).toBe(yaml.replace('10.00', '100.00'));
  });

  test('stand in a preview under a word of their own', () => {
    const book = bookOf({ 'a.parts.yaml': yaml });
    const made = takenIn(book, compared(book, 'Item,Net\nA,100.00\nB,10.50\n'), { withDoubtful: true });
    expect(made.edits.map(({ group }) => group).sort()).toEqual(['cost-up', 'doubtful']);
  });
});

describe('from a day on', () => {
  const yaml = entry(
    '  A:\n    name: A\n    kind: soft\n    cost: 10.00\n    core: 4.00\n  H:\n    name: H\n    kind: hard\n    cost: 8.00\n    prices:\n      - from: 2026-01-01\n        cost: 10.00\n        price: 30.00\n',
  );
  const csv = 'Item,Net\nA,11.50\nH,12.00\n';

  test('the old prices stay, the new ones follow with all that the history says', () => {
    const text = priced(yaml, csv, { from: JULY });
    expect(difference(yaml, text)).toEqual([
      '+      - from: 2026-07-01',
      '+        cost: 11.50',
      '+    prices:',
      '+      - from: 2026-07-01',
      '+        cost: 12.00',
      '+        price: 30.00',
    ]);
    const book = bookOf({ 'a.parts.yaml': text });
    expect(messages(book, 'a.parts.yaml')).toEqual([]);
    expect(text.match(/price: 30\.00/g)).toHaveLength(2);
  });

  test('again with other prices for the same day: the row of that day changes', () => {
    const text = priced(yaml, csv, { from: JULY });
    const book = bookOf({ 'a.parts.yaml': text });
    const made = takenIn(book, compared(book, 'Item,Net,Core\nA,11.75,\nH,12.00,5.00\n', { on: JULY }), {
      from: JULY,
    });
    expect(difference(text, made.texts['a.parts.yaml']!)).toEqual([
      '-        cost: 11.50',
      '+        cost: 11.75',
      '+        core: 5.00',
    ]);
  });

  test.each([
    [
      'until: 2026-12-31\n',
      'The prices of H hold until 2026-12-31. End them the day before 2026-07-01, then take the file in again.',
    ],
    [
      'until: 2026-06-30\n      - from: 2026-09-01\n        cost: 11.00\n',
      'The history of H has prices from 2026-09-01 already. Change it by hand.',
    ],
  ])('a history that has no room for it: %j', (more, why) => {
    const book = bookOf({ 'a.parts.yaml': yaml.replace('price: 30.00\n', more) });
    const made = takenIn(book, compared(book, 'Item,Net\nH,12.00\n', { on: JULY }), { from: JULY });
    expect(made.texts).toEqual({});
    expect(made.leftOut.map((one) => one.why)).toEqual([why]);
  });
});

describe('numbers that came and went', () => {
  const yaml = entry(
    '  A:\n    name: A\n    kind: soft\n    cost: 10.00\n  # the last one\n  B: { name: B, kind: soft, cost: 1.00 }\n',
  );

  test('a successor in the book, one that comes with the file, one that nobody knows, and a circle', () => {
    expect(difference(yaml, priced(yaml, 'Item,Net,New number\nA,10.00,B\n'))).toEqual([
      '+    superseded-by:',
      '+      part: B',
    ]);
    const book = bookOf({ 'a.parts.yaml': yaml });
    const found = compared(book, 'Item,Description,Net,New number\nA,,10.00,N-1\nN-1,"New: one",2.5,\n');
    expect(takenIn(book, found).leftOut.map(({ why }) => why)).toEqual([
      'N-1, which takes its place, is not in the book. Add it first.',
    ]);
    const newParts = { file: fileIn(book, 'a.parts.yaml'), kind: 'soft' as const };
    const made = takenIn(book, found, { newParts });
    expect(made.leftOut).toEqual([]);
    expect(difference(yaml, made.texts['a.parts.yaml']!)).toEqual([
      '+    superseded-by:',
      '+      part: N-1',
      '+  N-1:',
      '+    name: "New: one"',
      '+    kind: soft',
      '+    cost: 2.50',
    ]);
    expect(messages(bookOf(made.texts), 'a.parts.yaml')).toEqual([]);
    const circle = bookOf({
      'a.parts.yaml': yaml.replace('cost: 1.00', 'cost: 1.00, superseded-by: { part: A }'),
    });
    expect(takenIn(circle, compared(circle, 'Item,Net,New number\nA,10.00,B\n')).leftOut[0]!.why).toContain(
      'is itself superseded by A',
    );
  });

  test('new parts stand apart as the others do, in a file with other line ends and none at its end', () => {
    const crlf =
      'kind: parts\r\nparts:\r\n\r\n  A:\r\n    name: A\r\n    kind: soft\r\n\r\n  B:\r\n    name: B\r\n    kind: soft';
    const book = bookOf({ 'a.parts.yaml': crlf });
    const newParts = { file: fileIn(book, 'a.parts.yaml'), kind: 'soft' as const };
    const made = takenIn(book, compared(book, 'Item,Net,Per\nN-1,1.00,set\nN-2,0.00,\n'), { newParts });
    expect(made.texts['a.parts.yaml']).toBe(
      `${crlf}\r\n\r\n  N-1:\r\n    name: N-1\r\n    kind: soft\r\n    cost: 1.00\r\n    unit: set\r\n`,
    );
  });

  test('several catalogs, each in its place', () => {
    const files = {
      'a.parts.yaml': entry('  A: { name: A, kind: soft, cost: 1.00 }\n'),
      'b.parts.yaml': entry('  B: { name: B, kind: soft, cost: 2.00 }\n'),
    };
    const book = bookOf(files);
    expect(takenIn(book, compared(book, 'Item,Net\nA,1.10\nB,2.20\n')).texts).toEqual({
      'a.parts.yaml': files['a.parts.yaml'].replace('1.00', '1.10'),
      'b.parts.yaml': files['b.parts.yaml'].replace('2.00', '2.20'),
    });
  });
});

test('of 5,000 weathered entries only the digits of the figures change, and they change back', () => {
  const { yaml, csv, expected } = weathered(5000);
  const book = bookOf({ 'a.parts.yaml': yaml });
  const made = takenIn(book, compared(book, csv));
  expect(made.written.size).toBe(1667);
  expect(made.leftOut).toEqual([]);
  const text = made.texts['a.parts.yaml']!;
  // Not toEqual: a difference of a megabyte is no help.
  expect(text === expected).toBe(true);
  const again = bookOf({ 'a.parts.yaml': text });
  expect(takenIn(again, compared(again, csv)).texts).toEqual({});
  const back = takenIn(again, compared(again, csv.replaceAll('13.75', '12.50')));
  expect(back.texts['a.parts.yaml'] === yaml).toBe(true);
});
