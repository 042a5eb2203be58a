import { describe, expect, it } from 'vitest';
import { SourceFile } from '../../../server/src/syntax/file.ts';
import { positionIn } from '../../../server/src/syntax/lines.ts';

const KEYS = new Set(['parts']);
const open = (text: string) => SourceFile.open('file:///x.parts.yaml', text, KEYS);
const at = (line: number, character: number) => ({ line, character });

describe('positions', () => {
  const text = 'kind: 😀x\r\nparts:\r  P-1: "é"\n  P-2:\n    a: 1';
  const file = open(text);

  it('count UTF-16 units, with \\r\\n, \\n and a lone \\r as line ends', () => {
    const place = file.offsetOf(at(2, 7));
    expect(place.piece.key).toBe('P-1');
    expect(place.piece.text.slice(place.offset)).toBe('"é"\n');
    expect(file.positionOf(place.piece, place.offset)).toEqual(at(2, 7));
    expect(file.offsetOf(at(0, 8)).offset).toBe(8);
    expect(file.lineCount).toBe(5);
    expect(file.lineOf(3)).toBe(3);
  });

  it('past the end of a line or of the file give its end', () => {
    expect(file.offsetOf(at(0, 99))).toMatchObject({ index: 0, offset: 9 });
    expect(file.offsetOf(at(99, 0))).toMatchObject({ index: 3, offset: file.at(3).text.length });
    expect(file.pieceAt(99).key).toBe('P-2');
  });

  it('agree with offsets of the whole text', () => {
    for (let offset = 0; offset <= text.length; offset++) {
      const { piece, offset: inside } = file.placeOf(offset);
      if (text[offset - 1] === '\r' && text[offset] === '\n') continue;
      expect(file.positionOf(piece, inside)).toEqual(positionIn(text, offset));
    }
  });
});

describe('an edit', () => {
  const text = 'kind: parts\nparts:\n  P-1:\n    cost: 1\n  P-2:\n    cost: 2\n  P-3:\n    cost: 3\n';
  const keys = (file: SourceFile) => [...file.pieces()].map((piece) => piece.key);
  const insert = (line: number, character: number, put: string) => [
    { range: { start: at(line, character), end: at(line, character) }, text: put },
  ];

  it('changes one piece and keeps the objects of all others', () => {
    const before = open(text);
    const after = before.edit(insert(5, 10, '0'));
    expect(after.text()).toBe(text.replace('cost: 2', 'cost: 02'));
    const { removed, added } = after.changedFrom(before);
    expect([removed.map((p) => p.key), added.map((p) => p.key)]).toEqual([['P-2'], ['P-2']]);
    expect([0, 1, 2, 4].map((i) => after.at(i) === before.at(i))).toEqual([true, true, true, true]);
    expect(before.text()).toBe(text);
  });

  it('splits and joins entries', () => {
    const split = open(text).edit(insert(4, 0, '  P-9: x\n'));
    expect(keys(split)).toEqual(['kind', 'parts', 'P-1', 'P-9', 'P-2', 'P-3']);
    const joined = split.edit(insert(3, 0, '  # c\n')).edit(insert(5, 0, '  '));
    expect(keys(joined)).toEqual(['kind', 'parts', 'P-1', 'P-2', 'P-3']);
  });

  it('that renames the catalog joins its entries, and undoing it splits them again', () => {
    const renamed = open(text).edit(insert(1, 4, 'x'));
    expect(keys(renamed)).toEqual(['kind', 'partxs']);
    expect(keys(renamed.edit([{ range: { start: at(1, 4), end: at(1, 5) }, text: '' }]))).toEqual(
      keys(open(text)),
    );
  });

  it('in several steps counts each position in the text after the one before', () => {
    const file = open('a: 1\n').edit([...insert(0, 0, 'b: 2\n'), ...insert(1, 3, 'x')]);
    expect(file.text()).toBe('b: 2\na: x1\n');
  });

  it('of the whole text keeps the pieces at both ends', () => {
    const before = open(text);
    const after = before.edit(text.replace('cost: 2', 'cost: 20\n    list: 4'));
    expect(keys(after)).toEqual(keys(before));
    expect([0, 1, 2, 4].map((i) => after.at(i) === before.at(i))).toEqual([true, true, true, true]);
    expect(before.edit(text)).toBe(before);
  });

  it('in a file of many entries gives what opening it anew gives', () => {
    let seed = 20_260_305;
    const random = (below: number) => {
      seed = (Math.imul(seed, 1_103_515_245) + 12_345) & 0x7fffffff;
      return (seed >> 8) % below;
    };
    const entries = (from: number, count: number) =>
      Array.from({ length: count }, (_, i) => `  P-${from + i}:\n    cost: ${i}\n`).join('');
    let file = open(`kind: parts\nparts:\n${entries(0, 1500)}`);
    for (let step = 0; step < 50; step++) {
      const line = random(file.lineCount);
      const lines = random(4) ? 0 : random(1200);
      const put = random(3) ? '    list: 1\n' : entries(10_000 * step, random(900));
      const range = { start: at(line, 0), end: at(Math.min(line + lines, file.lineCount - 1), 0) };
      file = file.edit([{ range, text: put }]);
      const fresh = open(file.text());
      expect([file.size, file.length, file.lineCount]).toEqual([fresh.size, fresh.length, fresh.lineCount]);
      const index = random(file.size);
      expect(file.at(index).text).toBe(fresh.at(index).text);
      expect(file.indexOf(file.at(index))).toBe(index);
      expect(file.positionOf(index, 1)).toEqual(fresh.positionOf(index, 1));
      expect(file.problems.length).toBe(fresh.problems.length);
      const key = file.at(index).key;
      expect(file.find('parts', key).length).toBe(fresh.find('parts', key).length);
    }
  });
});

describe('problems of the whole file', () => {
  const said = (file: SourceFile) =>
    file.problems.map(({ piece, code, start, end, message }) => [
      `${code} «${piece.text.slice(start, end)}» on line ${file.positionOf(piece, start).line + 1}`,
      message,
    ]);

  it('name the line of the first when an id or a name is given twice', () => {
    const file = open('kind: x\nparts:\n  # one\n  P-1: a\n  "P-1": b\nkind: y\n');
    expect(said(file)).toEqual([
      [
        'yaml-duplicate-key «"P-1"» on line 5',
        '`P-1` is already given on line 4. The first one counts; delete or rename one of them.',
      ],
      [
        'yaml-duplicate-key «kind» on line 6',
        '`kind` is already given on line 1. The first one counts; delete or rename one of them.',
      ],
    ]);
    const moved = file.edit([{ range: { start: at(0, 0), end: at(0, 0) }, text: '\n' }]);
    expect(said(moved)[0]![1]).toContain('on line 5');
    expect(said(moved.edit([{ range: { start: at(5, 0), end: at(6, 0) }, text: '' }])).length).toBe(1);
  });

  it('show entries and names out of line', () => {
    expect(said(open(' kind: x\nparts:\n  P-1: a\n   P-2: b\n  P-3: c\n'))).toEqual([
      [
        'yaml-uneven-indent «kind» on line 1',
        '`kind` is set in by 1 space. Names at the top of a file start at the first column.',
      ],
    ]);
    expect(said(open('parts:\n  P-1:\n    a: 1\n   P-2:\n    b: 1\n  P-3: c\n'))).toEqual([
      [
        'yaml-uneven-indent «P-2» on line 4',
        '`P-2` is set in by 3 spaces, the other entries of `parts` by 2. Line it up with them.',
      ],
    ]);
  });
});

describe('anchors', () => {
  it('make a small file one piece, so that they may point across it', () => {
    const file = open('kind: x\nx-usual: &u [a]\nparts:\n  P-1:\n    fits: *u\n');
    expect(file.size).toBe(1);
    expect(file.at(0).kind).toBe('whole');
    expect(file.at(0).read().problems).toEqual([]);
    const without = file.edit([{ range: { start: at(1, 9), end: at(1, 12) }, text: '' }]);
    expect(without.size).toBe(1);
    expect([...without.allProblems()].map((p) => p.problem.code)).toEqual(['yaml-unknown-alias']);
    const plain = without.edit([{ range: { start: at(4, 10), end: at(4, 12) }, text: 'b' }]);
    expect(plain.size).toBe(4);
  });

  it('are not seen in notes with stars and ampersands', () => {
    const file = open('kind: R&D\nnote: |\n  *bold* words\n  &c\nname: "& *x"\nother: a *b &c\n# &x\n');
    expect(file.size).toBe(4);
  });

  it('leave a large file split, and point inside one entry only', () => {
    const entries = Array.from({ length: 9000 }, (_, i) => `  P-${i}:\n    note: ${'x'.repeat(20)}\n`).join(
      '',
    );
    const file = open(`parts:\n${entries}  Q-1: [&a x, *a]\n  Q-2: *a\n`);
    expect(file.size).toBe(9003);
    expect([...file.allProblems()].map(({ problem }) => problem.code)).toEqual(['yaml-unknown-alias']);
  });
});
