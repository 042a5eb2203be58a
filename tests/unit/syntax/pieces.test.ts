import { describe, expect, it } from 'vitest';
import { entriesOf, entryOf } from '../../../server/src/syntax/piece.ts';
import { splitPieces } from '../../../server/src/syntax/pieces.ts';

const KEYS = new Set(['parts', 'operations']);

/** One line a piece: what it is, then its text. */
const pieces = (text: string) => {
  const split = splitPieces(text, KEYS);
  expect(split.map((piece) => piece.text).join('')).toBe(text);
  return split.map((piece) => [
    piece.section ? `${piece.section}/${piece.key}` : `${piece.kind} ${piece.key}`,
    piece.text,
  ]);
};
const names = (text: string) => pieces(text).map(([name]) => name);

describe('a file is cut', () => {
  it('at names of the top and at entries of catalogs, comments with what they describe', () => {
    expect(
      pieces(
        '# the shop\nkind: parts\n\n# all parts\nparts: # by number\n\n  # first\n  P-1:\n    cost: 1\n    # was 2\n  # second\n\n  P-2: {cost: 2}\n  # to come\n# end\nname: x\n# last\n',
      ),
    ).toEqual([
      ['header kind', '# the shop\nkind: parts\n\n'],
      ['section parts', '# all parts\nparts: # by number\n\n'],
      ['parts/P-1', '  # first\n  P-1:\n    cost: 1\n    # was 2\n'],
      ['parts/P-2', '  # second\n\n  P-2: {cost: 2}\n  # to come\n'],
      ['header name', '# end\nname: x\n# last\n'],
    ]);
  });

  it('not inside lists at the column of their name, nor before closing brackets', () => {
    expect(names('lines:\n- a: 1\n  b: 2\n-\n- c\nmore: [\n  x\n]\nend: {\n}\n')).toEqual([
      'header lines',
      'header more',
      'header end',
    ]);
    expect(names('parts:\n  P-1:\n  - a\n  - b: [\n  ]\n  P-2: x\n')).toEqual([
      'section parts',
      'parts/P-1',
      'parts/P-2',
    ]);
    // Items may be set in as they like, the first deeper than the next.
    expect(names('parts:\n  P-1:\n  - a: [b,\n       c]\n  - a: d\n    e:\n      f: g\n  P-2: x\n')).toEqual([
      'section parts',
      'parts/P-1',
      'parts/P-2',
    ]);
  });

  it('not inside long texts, whatever their lines look like', () => {
    const text =
      'parts:\n  P-1:\n    note: |+\n      # no comment\n      P-9: no entry\n\n\n  P-2: "x\n     y: z"\n';
    expect(pieces(text)).toEqual([
      ['section parts', 'parts:\n'],
      ['parts/P-1', '  P-1:\n    note: |+\n      # no comment\n      P-9: no entry\n\n\n'],
      ['parts/P-2', '  P-2: "x\n     y: z"\n'],
    ]);
    // The empty lines are content of the `|+` text, so they have to stay with it.
    const first = entryOf(splitPieces(text, KEYS)[1]!)!;
    expect(first.value.type === 'map' && first.value.pairs[0]!.value).toMatchObject({
      text: '# no comment\nP-9: no entry\n\n\n',
    });
  });

  it('not at all in a catalog written as a list or in brackets', () => {
    expect(names('parts: {P-1: {cost: 1},\n  P-2: {cost: 2}\n}\nname: x\n')).toEqual([
      'section parts',
      'header name',
    ]);
    expect(names('parts:\n  {P-1: 1,\n   P-2: 2}\nname: x\n')).toEqual(['section parts', 'header name']);
    expect(names('parts:\n  - id: P-1\n    cost: 1\n  - id: P-2\nname: x\n')).toEqual([
      'section parts',
      'header name',
    ]);
  });

  it('with each kind of line break, and behind a byte order mark', () => {
    expect(names('\ufeffkind: x\r\nparts:\r\n  P-1:\r    cost: 1\r  P-2: y\n')).toEqual([
      'header kind',
      'section parts',
      'parts/P-1',
      'parts/P-2',
    ]);
  });

  it('with ids as the reader reads them', () => {
    expect(names('parts:\n  "P\\u002d1": x\n  \'P-2\' : y\n  0071: z\n  P 4 : u\n  a:b: v\n')).toEqual([
      'section parts',
      'parts/P-1',
      'parts/P-2',
      'parts/0071',
      'parts/P 4',
      'parts/a:b',
    ]);
  });

  it('so that an entry out of line, or an open quote, harms nobody else', () => {
    expect(
      names(
        'parts:\n  P-1:\n    cost: 1\n   P-2:\n    cost: 2\n P-3:\n    cost: 3\n  P-4:\n    cost: "4\n  P-5: y\n',
      ),
    ).toEqual(['section parts', 'parts/P-1', 'parts/P-2', 'parts/P-3', 'parts/P-4', 'parts/P-5']);
  });

  it('and document marks stay where they can be reported', () => {
    expect(pieces('%YAML 1.2\n---\nkind: x\n---\nname: y\n...\n')).toEqual([
      ['header kind', '%YAML 1.2\n---\nkind: x\n---\n'],
      ['header name', 'name: y\n...\n'],
    ]);
  });

  it('into one piece when there are no words', () => {
    expect(pieces('')).toEqual([['whole ', '']]);
    expect(pieces('# soon\n\n')).toEqual([['whole ', '# soon\n\n']]);
  });
});

describe('entries', () => {
  const entries = (text: string) =>
    splitPieces(text, KEYS).flatMap((piece) =>
      entriesOf(piece, KEYS).map(({ section, key }) => `${section ?? ''}/${key.text}`),
    );

  it('are the same however the catalog is written', () => {
    const want = ['/kind', 'parts/P-1', 'parts/P-2'];
    expect(entries('kind: x\nparts: {P-1: {cost: 1}, P-2: {cost: 2}}\n')).toEqual(want);
    expect(entries('kind: x\nparts:\n  P-1:\n    cost: 1\n  P-2: {cost: 2}\n')).toEqual([
      '/kind',
      '/parts',
      'parts/P-1',
      'parts/P-2',
    ]);
  });
});

describe('a piece', () => {
  const problems = (text: string) =>
    splitPieces(text, KEYS).flatMap((piece) =>
      piece.read().problems.map(({ code, start, end }) => `${code} «${piece.text.slice(start, end)}»`),
    );

  it('that is no name and value is a problem', () => {
    expect(problems('kind: x\nfoo bar\nname: y\n')).toEqual(['yaml-missing-colon «foo bar»']);
    expect(problems('- a\n- b\n')).toEqual(['yaml-missing-colon «- a»']);
    expect(problems('{kind: x}\n')).toEqual(['yaml-missing-colon «{kind: x}»']);
    expect(problems('parts:\n  P-1\n  P-2: x\n')).toEqual(['yaml-missing-colon «P-1»']);
  });

  it('that opens a catalog has no text of its own', () => {
    expect(problems('parts: some\n  P-1: x\n')).toEqual(['yaml-section-text «some»']);
  });
});
