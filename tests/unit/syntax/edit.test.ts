import { describe, expect, it } from 'vitest';
import {
  applyEdits,
  type Edits,
  insertItem,
  insertPair,
  remove,
  renameKey,
  setValue,
} from '../../../server/src/syntax/edit.ts';
import type { Node, Path, Plain } from '../../../server/src/syntax/node.ts';
import { readPiece } from '../../../server/src/syntax/read.ts';

/** The text after an edit, or undefined when it is refused. */
const after = (text: string, edit: (text: string, root: Node) => Edits) => {
  const edits = edit(text, readPiece(text).node);
  return edits && applyEdits(text, edits);
};
const set = (text: string, path: Path, value: string) =>
  after(text, (t, root) => setValue(t, root, path, value));
const add = (text: string, path: Path, key: string, value: Plain, index?: number) =>
  after(text, (t, root) => insertPair(t, root, path, key, value, index));
const push = (text: string, path: Path, value: Plain, index?: number) =>
  after(text, (t, root) => insertItem(t, root, path, value, index));
const drop = (text: string, path: Path) => after(text, (t, root) => remove(t, root, path));
const rename = (text: string, path: Path, name: string) =>
  after(text, (t, root) => renameKey(t, root, path, name));

describe('setting a value', () => {
  it.each([
    ['A:\n  cost: 1 # each\n', ['A', 'cost'], '2.50', 'A:\n  cost: 2.50 # each\n'],
    ["A: 'x'\n", ['A'], "it's", "A: 'it''s'\n"],
    ['A: "x" # c\n', ['A'], 'y', 'A: "y" # c\n'],
    ['A: x\n', ['A'], 'a: b', 'A: "a: b"\n'],
    ['A: x\n', ['A'], '', 'A: ""\n'],
    ['A: x\n', ['A'], ' padded ', 'A: " padded "\n'],
    ['A: x\n', ['A'], 'a #b', 'A: "a #b"\n'],
    ['A: [x, y]\n', ['A', 1], 'p, q', 'A: [x, "p, q"]\n'],
    ['A: x\n', ['A'], 'p, q', 'A: p, q\n'],
    ['A: x\n', ['A'], '*star', 'A: "*star"\n'],
    ['A: x\n', ['A'], 'tab\there', 'A: "tab\\there"\n'],
    ['A: x\n', ['A'], '😀 0071', 'A: 😀 0071\n'],
  ] as const)('%j', (text, path, value, want) => {
    expect(set(text, path, value)).toBe(want);
  });

  it.each([
    ['cost:\n', ['cost'], 'cost: 1\n'],
    ['cost: # each\n', ['cost'], 'cost: 1 # each\n'],
    ['cost:   # each\n', ['cost'], 'cost: 1  # each\n'],
    ['A:\n  -\n  - x\n', ['A', 0], 'A:\n  - 1\n  - x\n'],
    ['{a: , b}\n', ['a'], '{a: 1, b}\n'],
    ['{a: , b}\n', ['b'], '{a: , b: 1}\n'],
    ['cost:', ['cost'], 'cost: 1'],
  ] as const)('fills an empty one: %j', (text, path, want) => {
    expect(set(text, path, '1')).toBe(want);
  });

  it('writes several lines as a text block, under its old comment', () => {
    expect(set('A:\n  note: x\n  b: 1\n', ['A', 'note'], 'one\n\ntwo')).toBe(
      'A:\n  note: |-\n    one\n\n    two\n  b: 1\n',
    );
    expect(set('A:\r\n  note: > # why\r\n      x\r\n  b: 1\r\n', ['A', 'note'], 'one\ntwo\n')).toBe(
      'A:\r\n  note: | # why\r\n    one\r\n    two\r\n  b: 1\r\n',
    );
    expect(set('A: x # why\n', ['A'], 'one\ntwo')).toBe('A: "one\\ntwo" # why\n');
    expect(set('A: {note: x}\n', ['A', 'note'], 'one\ntwo')).toBe('A: {note: "one\\ntwo"}\n');
    expect(set('A: |\n  x\n', ['A'], ' lead\nand trail \n')).toBe('A: " lead\\nand trail \\n"\n');
  });

  it('is refused for groups, missing places, repeats of a value elsewhere, and what cannot be printed', () => {
    expect(set('A: x\n', ['A'], 'ring\u0007')).toBeUndefined();
    expect(set('A: {b: 1}\n', ['A'], 'x')).toBeUndefined();
    expect(set('A: 1\n', ['B'], 'x')).toBeUndefined();
    expect(set('A: &a {b: 1}\nB: *a\n', ['B', 'b'], 'x')).toBeUndefined();
  });
});

describe('adding to a group', () => {
  it('lines the new name up, after the comment of the last line', () => {
    expect(add('A:\n    b: 1 # c\n    # end\nB: 2\n', ['A'], 'c', '2')).toBe(
      'A:\n    b: 1 # c\n    c: 2\n    # end\nB: 2\n',
    );
    expect(add('A:\r\n  b: 1', ['A'], 'c', '2')).toBe('A:\r\n  b: 1\r\n  c: 2');
    expect(add('- b: 1\n- x\n', [0], 'c', '2')).toBe('- b: 1\n  c: 2\n- x\n');
  });

  it('before another, above the comment of that', () => {
    expect(add('A:\n  # about b\n  b: 1\n', ['A'], 'a', '0', 0)).toBe('A:\n  a: 0\n  # about b\n  b: 1\n');
    expect(add('- b: 1\n', [0], 'a', '0', 0)).toBe('- a: 0\n  b: 1\n');
    expect(add('A:\n  b: 1\n  d: 1\n', ['A'], 'c', '0', 1)).toBe('A:\n  b: 1\n  c: 0\n  d: 1\n');
  });

  it('that is empty, in brackets, or after a text whose empty lines count', () => {
    expect(add('A: # none\n  # yet\nB: 1\n', ['A'], 'b', '1')).toBe('A: # none\n  b: 1\n  # yet\nB: 1\n');
    expect(add('A: {}\n', ['A'], 'b', '1')).toBe('A: {b: 1}\n');
    expect(add('A: {a: 1}\n', ['A'], 'b', 'x, y')).toBe('A: {a: 1, b: "x, y"}\n');
    expect(add('A: {a: }\n', ['A', 'a'], 'b', '1')).toBe('A: {a: { b: 1 }}\n');
    expect(add('A:\n  -\n', ['A', 0], 'b', '1')).toBe('A:\n  - b: 1\n');
    expect(add('A: |+\n  x\n\n', [], 'b', '1')).toBe('A: |+\n  x\n\nb: 1\n');
    expect(add('', [], 'kind', 'parts')).toBe('kind: parts\n');
  });

  it('writes groups and lists below each other', () => {
    const value = { id: 'x', lines: [{ part: 'P-1', note: 'a\nb' }, 'P-2', ['q']], none: null, empty: [] };
    expect(add('A:\n  b: 1\n', ['A'], 'c', value)).toBe(
      [
        ...['A:', '  b: 1', '  c:', '    id: x', '    lines:', '      - part: P-1', '        note: |-'],
        ...['          a', '          b', '      - P-2', '      - - q', '    none:', '    empty: []', ''],
      ].join('\n'),
    );
  });

  it('quotes names that need it, and refuses one that is there', () => {
    expect(add('A: {}\n', [], 'b: c', '1')).toBe('A: {}\n"b: c": 1\n');
    expect(add('A: 1\n', [], 'A', '2')).toBeUndefined();
    expect(add('A: 1\n', ['A'], 'b', '2')).toBeUndefined();
  });
});

describe('adding to a list', () => {
  it('keeps its dashes in line', () => {
    expect(push('A:\n- x # c\n- y\nB: 1\n', ['A'], 'z')).toBe('A:\n- x # c\n- y\n- z\nB: 1\n');
    expect(push('A:\n  # first\n  - x\n', ['A'], 'w', 0)).toBe('A:\n  - w\n  # first\n  - x\n');
    expect(push('A:\n  - x\n', ['A'], { part: 'P-1', qty: '2' })).toBe(
      'A:\n  - x\n  - part: P-1\n    qty: 2\n',
    );
    expect(push('- - x\n  - y\n', [0], 'w', 0)).toBe('- - w\n  - x\n  - y\n');
  });

  it('that is empty or in brackets', () => {
    expect(push('A: # c\n', ['A'], 'x')).toBe('A: # c\n  - x\n');
    expect(push('A: []\n', ['A'], 'x')).toBe('A: [x]\n');
    expect(push('A: [w, y]\n', ['A'], 'x', 1)).toBe('A: [w, x, y]\n');
    expect(push('A: [w]\n', ['A'], { a: '1', b: ['2'] })).toBe('A: [w, { a: 1, b: [2] }]\n');
  });
});

describe('removing', () => {
  it('takes the comment lines right above along, and nobody else’s', () => {
    expect(drop('A:\n  # of A\n\n  # of b\n  b: 1 # c\n  # of c\n  c: 2\n', ['A', 'b'])).toBe(
      'A:\n  # of A\n\n  # of c\n  c: 2\n',
    );
    expect(drop('a: 1\r\nb:\r\n  - x\r\nc: 2', ['b'])).toBe('a: 1\r\nc: 2');
    expect(drop('a: 1\nb: 2', ['b'])).toBe('a: 1\n');
    expect(drop('A:\n  b: 1\n', ['A', 'b'])).toBe('A:\n');
  });

  it('of a list item, also on the line of another dash', () => {
    expect(drop('- x\n# of y\n- y\n- z\n', [1])).toBe('- x\n- z\n');
    expect(drop('- a: 1\n  # of b\n  b: 2\n', [0, 'a'])).toBe('- # of b\n  b: 2\n');
    expect(drop('- - x\n  - y\n', [0, 0])).toBe('- - y\n');
    expect(drop('- a: 1\n', [0, 'a'])).toBe('- \n');
  });

  it('in brackets, with one comma', () => {
    expect(drop('A: [x, y, z]\n', ['A', 0])).toBe('A: [y, z]\n');
    expect(drop('A: [x, y, z]\n', ['A', 2])).toBe('A: [x, y]\n');
    expect(drop('A: [x]\n', ['A', 0])).toBe('A: []\n');
    expect(drop('A: {a: 1, b: 2}\n', ['A', 'b'])).toBe('A: {a: 1}\n');
  });
});

describe('renaming', () => {
  it('keeps quotes where they are and adds them where they are needed', () => {
    expect(rename('P-1: # c\n  cost: 1\n', ['P-1'], 'P-2')).toBe('P-2: # c\n  cost: 1\n');
    expect(rename('"P-1": x\n', ['P-1'], 'P-2')).toBe('"P-2": x\n');
    expect(rename('P-1: x\n', ['P-1'], '- 2')).toBe('"- 2": x\n');
    expect(rename('P-1: x\nP-2: y\n', ['P-1'], 'P-2')).toBeUndefined();
  });
});
