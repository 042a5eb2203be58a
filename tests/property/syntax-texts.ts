import fc from 'fast-check';

/**
 * Texts as shops write them and as they look half typed: generated entries, then a few random changes. Most values are
 * ordinary, so that the fast reader gets its share; the rest are the corners of the language.
 */
const ORDINARY = [
  '4.10',
  'Pan gasket',
  '"quoted, text"',
  "'it''s'",
  '[a, b]',
  '{a: 1, "b": [x]}',
  '',
  'a#b',
  'x # c',
  '|',
  '>-',
  '"a\\nb"',
  '[]',
  '-1',
];
const CORNERS = [
  ...[
    'a: b',
    '"a \\"b\\" \\\\ c"',
    '"\\x41"',
    '[a, {b: c}]',
    '{a: }',
    '[a,]',
    '[a: b]',
    '{a}',
    '{a:1}',
    '[- x]',
  ],
  ...[
    '&a x',
    '*a',
    '-',
    '- x',
    '?',
    '# c',
    '~',
    '1:30',
    'a  b',
    '@x',
    '%x',
    "'",
    '"',
    '[',
    '}',
    '<<',
    '::',
    'a:b',
  ],
  ...[
    '---',
    '...',
    '!!str x',
    '😀 é',
    'a\u00a0',
    '\u2028',
    'http://a.b/c?d#e',
    '|+',
    '|2',
    '> x',
    '{a: b, a: c}',
  ],
];
const NAMES = ['a', 'b', 'c', 'd', 'e', 'f', 'name', 'cost', '"m n"', "'s'", 'o p', '0071', 'é', 'x.y'];
const ODD_NAMES = ['-z', 'name ', 'k:v', 'a#b', '<<', '?', '[x]', '&x y', '*y', '"a', ''];

const often = <T>(usual: readonly T[], odd: readonly T[]) =>
  fc.oneof(
    { weight: 24, arbitrary: fc.constantFrom(...usual) },
    { weight: 1, arbitrary: fc.constantFrom(...odd) },
  );

const value = often(ORDINARY, CORNERS);
const name = often(NAMES, ODD_NAMES);
const indent = often([2], [0, 1, 3, 4]);
const extra = often([''], ['\n', '# c\n', '  \n', '      # c\n', '\t\n']);
const words = often(['one', 'two # x', 'k: v'], ['', '  deeper', '- x', '\tt']);

type Block = (column: number) => string;

const { block } = fc.letrec<{ block: Block; map: Block; list: Block; below: Block; inline: Block }>(
  (tie) => ({
    block: fc.oneof(
      { weight: 3, arbitrary: tie('map') },
      { weight: 1, arbitrary: tie('list') },
    ) as fc.Arbitrary<Block>,
    map: fc
      .array(
        fc.tuple(name, fc.oneof({ maxDepth: 3 }, tie('inline'), tie('below')) as fc.Arbitrary<Block>, extra),
        {
          minLength: 1,
          maxLength: 4,
        },
      )
      .map(
        (pairs): Block =>
          (column) =>
            pairs.map(([key, rest, more]) => `${more}${' '.repeat(column)}${key}:${rest(column)}`).join(''),
      ),
    list: fc
      .array(fc.oneof({ maxDepth: 3 }, tie('inline'), tie('block')) as fc.Arbitrary<Block>, {
        minLength: 1,
        maxLength: 4,
      })
      .map(
        (items): Block =>
          (column) =>
            items
              .map((item) => {
                const text = item(column + 2);
                return `${' '.repeat(column)}- ${text.replace(/^ +/, '')}`;
              })
              .join(''),
      ),
    below: fc.tuple(tie('block') as fc.Arbitrary<Block>, indent).map(
      ([inner, step]): Block =>
        (column) =>
          `\n${inner(column + step)}`,
    ),
    inline: fc.tuple(value, fc.array(words, { maxLength: 3 }), often([' '], ['', '  ', '\t'])).map(
      ([text, lines, gap]): Block =>
        (column) => {
          const long = text.startsWith('|') || text.startsWith('>');
          const below = long
            ? lines.map((line) => (line ? ' '.repeat(column + 2) + line : '')).join('\n')
            : '';
          return `${gap}${text}\n${below && `${below}\n`}`;
        },
    ),
  }),
);

/** Bits of text that an edit may put in. */
const INSERTS = [
  ...[
    '\n',
    ' ',
    '  ',
    ':',
    '-',
    '"',
    "'",
    '#',
    '[',
    ']',
    '{',
    '}',
    ',',
    '\t',
    '\r',
    '\r\n',
    '|',
    '>',
    '&',
    '*',
  ],
  ...['!', 'x', '\\', '😀', '\ud800', '\0', '\ufeff', '?', ': ', '- ', '---\n', '%', '@', '\u00a0'],
];

interface Change {
  readonly at: number;
  readonly drop: number;
  readonly text: string;
}

const change: fc.Arbitrary<Change> = fc.record({
  at: fc.double({ min: 0, max: 1, noNaN: true }),
  drop: fc.constantFrom(0, 0, 1, 2),
  text: fc.oneof(fc.constant(''), fc.constantFrom(...INSERTS)),
});

function changed(text: string, changes: readonly Change[]): string {
  let out = text;
  for (const { at, drop, text: put } of changes) {
    const start = Math.floor(at * out.length);
    out = out.slice(0, start) + put + out.slice(start + drop);
  }
  return out;
}

const EOLS = ['\n', '\n', '\n', '\n', '\n', '\r\n', '\r\n', '\r'] as const;

/** A piece of text: well formed in about half the runs. */
export const pieceText: fc.Arbitrary<string> = fc
  .tuple(
    block,
    fc.constantFrom(0, 0, 2),
    fc.oneof(
      { weight: 2, arbitrary: fc.constant([]) },
      { weight: 1, arbitrary: fc.array(change, { minLength: 1, maxLength: 3 }) },
    ),
    fc.constantFrom(...EOLS),
    fc.boolean(),
  )
  .map(([tree, column, changes, eol, ended]) => {
    const text = changed(tree(column), changes).replaceAll('\n', eol);
    return ended ? text : text.trimEnd();
  });

/** Lines a file may be made of, in any order: this is how files look in the middle of an edit. */
const LINES = [
  ...[
    'parts:',
    'operations:',
    'kind: x',
    '  A-1:',
    '  B-2:',
    '    x: 1',
    '    y: "q',
    '   C:',
    ' D:',
    '# c',
    '  # c2',
  ],
  ...[
    '      # c6',
    '- a',
    '  - b',
    '',
    '  ',
    '\t',
    '\tx: 1',
    '---',
    '...',
    '}',
    '  E: {a: [1,',
    '  note: |+',
    '    text',
  ],
  ...[
    '😀',
    '"k: v":',
    'x',
    ':',
    ': v',
    '[',
    '  D: *a',
    'parts: {',
    '? q',
    'parts: |',
    'parts: some',
    'z: &a 1',
    '%Y',
  ],
  ...[
    '  "B-2":',
    "  'A-1': {}",
    '  "q\\u0041": 1',
    'parts: # c',
    '  {x: 1}',
    '\ufeffkind: x',
    '- ',
    '  -',
    'a b',
  ],
];

const fileLine = fc
  .tuple(fc.constantFrom(...LINES), fc.constantFrom(...EOLS))
  .map(([line, eol]) => line + eol);

export const fileText: fc.Arbitrary<string> = fc
  .array(fileLine, { maxLength: 24 })
  .map((lines) => lines.join(''));

export const fileChange = fc.record({
  from: fc.double({ min: 0, max: 1, noNaN: true }),
  length: fc.oneof({ weight: 4, arbitrary: fc.nat(3) }, { weight: 1, arbitrary: fc.nat(40) }),
  text: fc.oneof(fc.constant(''), fileLine, fc.constantFrom(...LINES, ...INSERTS), fileText),
});
