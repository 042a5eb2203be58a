import { describe, expect, it } from 'vitest';
import { readFast } from '../../../server/src/syntax/fast.ts';
import { nodeAt, pairOf, toPlain } from '../../../server/src/syntax/node.ts';
import { readPiece } from '../../../server/src/syntax/read.ts';
import { problemsOf, valuesOf } from './reading.ts';

describe('text as typed', () => {
  it('keeps what other readers turn into numbers, dates and truth values', () => {
    const text =
      'a: 0071\nb: 24E7\nc: 1_000\nd: on\ne: 1:30\nf: null\ng: ~\nh: 2026-03-01\ni: 0x1F\nj: .5\nk: yes\n0071: x\n';
    expect(valuesOf(text)).toEqual({
      '0071': 'x',
      a: '0071',
      b: '24E7',
      c: '1_000',
      d: 'on',
      e: '1:30',
      f: 'null',
      g: '~',
      h: '2026-03-01',
      i: '0x1F',
      j: '.5',
      k: 'yes',
    });
    expect(readPiece(text).problems).toEqual([]);
  });

  it('tells an empty value from an empty text', () => {
    expect(valuesOf('a:\nb: ""\nc: # later\nd:\n  -\n  - x\n')).toEqual({
      a: null,
      b: '',
      c: null,
      d: [null, 'x'],
    });
  });

  it('unfolds long texts', () => {
    const text = 'a: |\n  one\n\n   two\nb: >-\n  one\n  two\n\n  three\nc: "x\n  y"\nd: p\n  q\n';
    expect(valuesOf(text)).toEqual({ a: 'one\n\n two\n', b: 'one two\nthree', c: 'x y', d: 'p q' });
  });

  it('treats names such as __proto__ as any other', () => {
    const plain = toPlain(readPiece('__proto__: x\nconstructor: y\n').node);
    expect(Object.entries(plain!)).toEqual([
      ['__proto__', 'x'],
      ['constructor', 'y'],
    ]);
  });

  it('repeats *aliases of &anchors, each placed where it stands', () => {
    const text = 'a: &x [p, {q: r}]\nb: *x\n';
    expect(valuesOf(text)).toEqual({ a: ['p', { q: 'r' }], b: ['p', { q: 'r' }] });
    const { node } = readPiece(text);
    const copy = nodeAt(node, ['b', 1, 'q']);
    expect(text.slice(copy.start, copy.end)).toBe('*x');
  });
});

describe('places', () => {
  const spans = (text: string) => {
    const out: string[] = [];
    const walk = (node: ReturnType<typeof readPiece>['node']) => {
      out.push(`${node.type} «${text.slice(node.start, node.end)}»`);
      if (node.type === 'list') node.items.forEach(walk);
      if (node.type === 'map')
        for (const pair of node.pairs) {
          out.push(`key «${text.slice(pair.key.start, pair.key.end)}»`);
          walk(pair.value);
        }
    };
    walk(readPiece(text).node);
    return out;
  };

  it('covers names, values, lists and brackets', () => {
    expect(spans('# c\n"a": [x, "y"] # c\nb:\n  - p: 1\n    q: 2 # c\n  # c\n')).toEqual([
      'map «"a": [x, "y"] # c\nb:\n  - p: 1\n    q: 2»',
      'key «"a"»',
      'list «[x, "y"]»',
      'scalar «x»',
      'scalar «"y"»',
      'key «b»',
      'list «- p: 1\n    q: 2»',
      'map «p: 1\n    q: 2»',
      'key «p»',
      'scalar «1»',
      'key «q»',
      'scalar «2»',
    ]);
  });

  it('counts UTF-16 units, over emoji and both kinds of line break', () => {
    const text = '😀: "🔧 é"\r\nb: [😀, x]\r\n';
    expect(spans(text)).toEqual([
      'map «😀: "🔧 é"\r\nb: [😀, x]»',
      'key «😀»',
      'scalar «"🔧 é"»',
      'key «b»',
      'list «[😀, x]»',
      'scalar «😀»',
      'scalar «x»',
    ]);
    expect(readPiece(text).node.end).toBe(text.length - 2);
  });

  it('puts an empty value after its colon or dash and one space', () => {
    const at = (text: string, ...path: (string | number)[]) => {
      const { start, end } = nodeAt(readPiece(text).node, path);
      expect(end).toBe(start);
      return `${text.slice(0, start)}|${text.slice(start)}`;
    };
    expect(at('a:\n', 'a')).toBe('a:|\n');
    expect(at('a:   # c\n', 'a')).toBe('a: |  # c\n');
    expect(at('a:\n  # c\nb: 1\n', 'a')).toBe('a:|\n  # c\nb: 1\n');
    expect(at('a:\n  - \n', 'a', 0)).toBe('a:\n  - |\n');
    expect(at('a: {b, c: }\n', 'a', 'b')).toBe('a: {b|, c: }\n');
    expect(at('a: {b, c: }\n', 'a', 'c')).toBe('a: {b, c: |}\n');
    expect(at('a: &x\n', 'a')).toBe('a: &x|\n');
  });

  it('ends a long text at its last line with words', () => {
    const text = 'a: |+ # c\n  x  \n  y \n\n\nb: 1\n';
    const { start, end } = pairOf(readPiece(text).node, 'a')!.value;
    expect(text.slice(start, end)).toBe('|+ # c\n  x  \n  y ');
  });
});

describe('broken text', () => {
  const saved = (text: string) => ({ problems: problemsOf(text), values: valuesOf(text) });

  it('keeps the neighbours of a line without a colon', () => {
    expect(saved('A:\n  name Gasket\n  cost: 3\n')).toEqual({
      problems: ['yaml-missing-colon: «name Gasket» at 5'],
      values: { A: { cost: '3' } },
    });
  });

  it('keeps the neighbours of a colon without a space', () => {
    expect(saved('A:\n  cost:3\n  name: Gasket\n  list:7\n')).toEqual({
      problems: ['yaml-missing-space: «cost:3» at 5', 'yaml-missing-space: «list:7» at 29'],
      values: { A: { name: 'Gasket' } },
    });
    expect(saved('A: {qty:2, id: x}\n').problems).toEqual(['yaml-missing-space: «qty:2» at 4']);
  });

  it('closes a quote at the end of its line', () => {
    expect(saved('A:\n  name: "abc\n  cost: 3\n  note: "x"\n')).toEqual({
      problems: ['yaml-unclosed-quote: «"abc» at 11'],
      values: { A: { name: 'abc', cost: '3', note: 'x' } },
    });
    expect(saved("A:\n  name: 'abc\n  cost: 3\n")).toEqual({
      problems: ["yaml-unclosed-quote: «'abc» at 11"],
      values: { A: { name: 'abc', cost: '3' } },
    });
  });

  it('closes a bracket where the next name starts', () => {
    expect(saved('A:\n  fits: [a, b\n  cost: 3\n')).toEqual({
      problems: ['yaml-unclosed-bracket: «[a, b» at 11'],
      values: { A: { fits: ['a', 'b'], cost: '3' } },
    });
  });

  it('reports several problems of one entry, each where it is', () => {
    const text = 'A:\r\n\tname: "😀 x"\r\n  note: it: is\r\n  cost 3\r\n  list: @y\r\n  l: [a]]\r\n';
    expect(saved(text)).toEqual({
      problems: [
        'yaml-tab-indent: «\t» at 4',
        'yaml-colon-in-value: «it: is» at 27',
        'yaml-missing-colon: «cost 3» at 37',
        'yaml-reserved-start: «@y» at 53',
        'yaml-stray-bracket: «]» at 65',
      ],
      values: { A: { note: 'it', list: '@y', l: ['a'] } },
    });
  });

  it.each([
    ['A:\n  name: x\n   cost: 3\n', 'yaml-bad-indent: «cost: 3» at 16', { A: { name: 'x' } }],
    ['A:\n  name: x\n cost: 3\n  z: 1\n', 'yaml-bad-indent: «cost: 3» at 14', { A: { name: 'x', z: '1' } }],
    ['A:\n  l:\n    - a\n   - b\n  c: 3\n', 'yaml-bad-indent: «- b» at 19', { A: { l: ['a'], c: '3' } }],
    ['A:\n  l: - a\n  c: 3\n', 'yaml-dash-place: «- a» at 8', { A: { l: 'a', c: '3' } }],
    ['A:\n  n: a: b\n  c: 3\n', 'yaml-colon-in-value: «a: b» at 8', { A: { n: 'a', c: '3' } }],
    ['A:\n  n: "a" b\n  c: 3\n', 'yaml-text-after-value: «b» at 12', { A: { n: 'a', c: '3' } }],
    ['A: {a: 1}}\n', 'yaml-stray-bracket: «}» at 9', { A: { a: '1' } }],
    ['A: "a\\qb"\n', 'yaml-bad-escape: «\\q» at 5', { A: 'a\\qb' }],
    ['A: x\n---\nB: y\n', 'yaml-second-document: «---» at 5', { A: 'x' }],
    ['A: x\n"b":{c: 1}\nd: y\n', 'yaml-missing-space: «"b":{c: 1}» at 5', { A: 'x', d: 'y' }],
    ['A: *b\n', 'yaml-unknown-alias: «*b» at 3', { A: '*b' }],
    ['A: &a [*a]\n', 'yaml-unknown-alias: «*a» at 7', { A: ['*a'] }],
    ['A: \u0000x\n', 'yaml-control-character: «\u0000» at 3', { A: '\ufffdx' }],
    ['A: \ud83dx\n', 'yaml-control-character: «\ud83d» at 3', { A: '\ufffdx' }],
    ['A: "\\0"\n', 'yaml-control-character: «"\\0"» at 3', { A: '\u0000' }],
  ])('%j', (text, problem, values) => {
    expect(saved(text)).toEqual({ problems: [problem], values });
  });

  it('says which of two equal names counts, and where the first is', () => {
    const { node, problems } = readPiece('A:\n  cost: 1\n  x: 2\n  cost: 3\n');
    expect(problems).toEqual([
      {
        code: 'yaml-duplicate-key',
        start: 22,
        end: 26,
        message: '`cost` is already given 2 lines above. The first one counts; delete or rename one of them.',
      },
    ]);
    expect(toPlain(node)).toEqual({ A: { cost: '1', x: '2' } });
  });

  it('reports each name once however broken the piece is, and never outside it', () => {
    const text = 'a: "b\n- c: [d\n e: }\n\tf: \'g\n? h\n  i: j: k\n';
    const { problems } = readPiece(text);
    expect(new Set(problems.map((p) => text.lastIndexOf('\n', p.start - 1))).size).toBe(problems.length);
    for (const { start, end } of problems) {
      expect(start).toBeGreaterThanOrEqual(0);
      expect(end).toBeGreaterThanOrEqual(start);
      expect(end).toBeLessThanOrEqual(text.length);
    }
  });
});

describe('the fast reader', () => {
  it('reads ordinary entries itself', () => {
    const text =
      '  P-100:\r\n    # steel\r\n    name: Pan gasket, HX4\r\n    cost: 4.10 # each\r\n    fits: [HX4, "HX6"]\r\n' +
      '    kit:\r\n    - part: P-7\r\n      qty: 2\r\n    - P-8\r\n    size: {w: 1 in, h: "2"}\r\n    note: |\r\n      One.\r\n\r\n      Two.\r\n';
    expect(readFast(text)).toBeDefined();
    expect(toPlain(readFast(text)!)).toEqual({
      'P-100': {
        name: 'Pan gasket, HX4',
        cost: '4.10',
        fits: ['HX4', 'HX6'],
        kit: [{ part: 'P-7', qty: '2' }, 'P-8'],
        size: { w: '1 in', h: '2' },
        note: 'One.\n\nTwo.\n',
      },
    });
  });

  it.each([
    'a: b: c\n',
    'a: 1\na: 2\n',
    'a: &x 1\n',
    'a:\tb\n',
    'a: x\n  y\n',
    'a: "x\n  y"\n',
    'a: 1\n b: 2\n',
    'x\n',
  ])('leaves %j to the full one', (text) => {
    expect(readFast(text)).toBeUndefined();
  });
});
