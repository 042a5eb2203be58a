import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  applyEdits,
  type Edits,
  insertItem,
  insertPair,
  remove,
  renameKey,
  setValue,
} from '../../server/src/syntax/edit.ts';
import {
  type Node,
  nodeAt,
  type Path,
  type Plain,
  samePlain,
  toPlain,
} from '../../server/src/syntax/node.ts';
import { readPiece } from '../../server/src/syntax/read.ts';
import { pieceText } from './syntax-texts.ts';

const RUNS = Number(process.env.RUNS ?? 400);

/** Texts a writer may give: plain ones, and every mark YAML knows. */
const words = fc.oneof(
  fc.constantFrom(
    'x',
    '4.10',
    'a: b',
    '- c',
    '#d',
    '',
    ' e ',
    "it's",
    'say "f"',
    'g\nh',
    'i\n\nj\n',
    '😀',
    '[k]',
    '<<',
    '~',
  ),
  fc.string({ maxLength: 12 }),
  fc.string({ unit: fc.constantFrom(...'ab \n\t:-#,[]{}&*!|>\'"%@`?\\é😀'), maxLength: 10 }),
);
const plain: fc.Arbitrary<Plain> = fc.letrec<{ any: Plain }>((tie) => ({
  any: fc.oneof(
    { maxDepth: 2 },
    words,
    fc.constant(null),
    fc.array(tie('any'), { maxLength: 3 }),
    fc.dictionary(words, tie('any'), { maxKeys: 3 }),
  ),
})).any as fc.Arbitrary<Plain>;

/** Paths of all nodes, the root first. */
function pathsOf(node: Node, path: Path = []): Path[] {
  if (node.type === 'map')
    return [path, ...node.pairs.flatMap((pair) => pathsOf(pair.value, [...path, pair.key.text]))];
  if (node.type === 'list') return [path, ...node.items.flatMap((item, i) => pathsOf(item, [...path, i]))];
  return [path];
}

/** What stands outside the edits is the same before and after, and what is read without problems stays so. */
function judge(text: string, edits: Edits, changed: (old: Plain) => Plain, path: Path): boolean {
  if (!edits) return false;
  const result = applyEdits(text, edits);
  let from = 0;
  let at = 0;
  for (const edit of [...edits].sort((a, b) => a.start - b.start)) {
    expect(result.slice(at, at + edit.start - from)).toBe(text.slice(from, edit.start));
    at += edit.start - from + edit.text.length;
    from = edit.end;
  }
  expect(result.slice(at)).toBe(text.slice(from));
  const { node, problems } = readPiece(result);
  expect(problems).toEqual([]);
  const old = toPlain(nodeAt(readPiece(text).node, path));
  expect(samePlain(toPlain(nodeAt(node, path)), changed(old))).toBe(true);
  return true;
}

const scene = fc
  .tuple(pieceText, fc.nat(1000), words, plain, fc.nat(4))
  .map(([text, pick, name, value, index]) => ({ text, pick, name, value, index }))
  .filter(({ text }) => readPiece(text).problems.length === 0);

describe('an edit of a sound piece', () => {
  it('does what was asked and nothing else', () => {
    const done: Record<string, number> = {};
    const asked: Record<string, number> = {};
    fc.assert(
      fc.property(scene, ({ text, pick, name, value, index }) => {
        const { node: root } = readPiece(text);
        const paths = pathsOf(root);
        const path = paths[pick % paths.length]!;
        const node = nodeAt(root, path);
        const parent = path.slice(0, -1);
        const last = path.at(-1);
        const note = (what: string, edits: Edits, changed: (old: Plain) => Plain, where: Path) => {
          asked[what] = (asked[what] ?? 0) + 1;
          if (judge(text, edits, changed, where)) done[what] = (done[what] ?? 0) + 1;
        };
        if ((node.type === 'scalar' || node.type === 'empty') && path.length > 0)
          note('set', setValue(text, root, path, name), () => name, path);
        if (node.type === 'map' || node.type === 'empty')
          note(
            'pair',
            insertPair(text, root, path, name, value, index),
            (old) => ({ ...(old as object), [name]: value }),
            path,
          );
        // Brackets cannot hold an empty item.
        if (
          node.type === 'empty' ||
          (node.type === 'list' && !(node.flow && JSON.stringify(value).includes('null')))
        )
          note(
            'item',
            insertItem(text, root, path, value, index),
            (old) => ((old ?? []) as Plain[]).toSpliced(index, 0, value),
            path,
          );
        if (typeof last === 'number')
          note(
            'drop item',
            remove(text, root, path),
            (old) =>
              (old as Plain[]).length === 1 && !isFlow(root, parent)
                ? null
                : (old as Plain[]).toSpliced(last, 1),
            parent,
          );
        if (typeof last === 'string') {
          const without = (old: Plain) =>
            Object.fromEntries(Object.entries(old as object).filter(([key]) => key !== last)) as {
              [key: string]: Plain;
            };
          note(
            'drop pair',
            remove(text, root, path),
            (old) => (Object.keys(without(old)).length === 0 && !isFlow(root, parent) ? null : without(old)),
            parent,
          );
          note(
            'rename',
            renameKey(text, root, path, name),
            (old) => ({ ...without(old), [name]: (old as { [key: string]: Plain })[last]! }),
            parent,
          );
        }
      }),
      { numRuns: RUNS, seed: 20_260_306 },
    );
    // Refusing is safe, but it must stay rare.
    for (const what of Object.keys(asked))
      expect([what, done[what]! / asked[what]! > 0.9]).toEqual([what, true]);
  });
});

function isFlow(root: Node, path: Path): boolean {
  const node = nodeAt(root, path);
  return (node.type === 'map' || node.type === 'list') && node.flow;
}
