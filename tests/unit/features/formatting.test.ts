import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { TextEdit } from 'vscode-languageserver-types';
import { Lexer } from 'yaml';
import { BookFile } from '../../../server/src/book/file.ts';
import { formatFile, formatOnType, formatRange } from '../../../server/src/features/formatting.ts';
import { offsetIn, type Position } from '../../../server/src/syntax/lines.ts';
import { type Plain, samePlain, toPlain } from '../../../server/src/syntax/node.ts';
import { entriesOf } from '../../../server/src/syntax/piece.ts';
import { readPiece } from '../../../server/src/syntax/read.ts';

const URI = 'file:///shop/a.parts.yaml';

function applied(text: string, edits: readonly TextEdit[]): string {
  let out = text;
  const at = (position: Position) => offsetIn(text, position);
  for (const { range, newText } of [...edits].sort((a, b) => at(b.range.start) - at(a.range.start)))
    out = out.slice(0, at(range.start)) + newText + out.slice(at(range.end));
  return out;
}

const format = (text: string) => applied(text, formatFile(BookFile.open(URI, text)));

describe('formatting', () => {
  it('sets columns, spaces, empty lines and the end of the file', () => {
    expect(
      format(
        [
          '',
          '# head   ',
          'kind:   parts  ',
          '',
          '',
          '',
          'parts:',
          '    # above',
          '    A-1:   # beside',
          '          name:  Gasket  ',
          '          fits:',
          '          -   birch-6',
          '          # inside',
          '          -   cedar-8',
          '          prices:',
          '             -   from: 2026-01-01',
          '                 cost:    4.10   # net',
          '          pack: { unit: case,   of: 12,',
          '                  cost: 40.00 }',
          '    B: { name: x }',
          '',
          '',
        ].join('\n'),
      ),
    ).toBe(
      [
        '# head',
        'kind: parts',
        '',
        'parts:',
        '  # above',
        '  A-1:   # beside',
        '    name: Gasket',
        '    fits:',
        '      - birch-6',
        '      # inside',
        '      - cedar-8',
        '    prices:',
        '      - from: 2026-01-01',
        '        cost: 4.10   # net',
        '    pack: { unit: case,   of: 12,',
        '            cost: 40.00 }',
        '  B: { name: x }',
        '',
      ].join('\n'),
    );
  });

  it('moves texts of several lines as they are', () => {
    expect(
      format(
        [
          'kind: parts',
          'parts:',
          ' A:',
          '     note: |',
          '        one  ',
          '          two',
          '',
          '',
          '        three',
          '     say: "first  ',
          '',
          '',
          '        last"',
          '     name: >-',
          '      folded',
          '',
          '     reason:',
          '         plain',
          '           goes on',
          '',
        ].join('\n'),
      ),
    ).toBe(
      [
        'kind: parts',
        'parts:',
        '  A:',
        '    note: |',
        '       one  ',
        '         two',
        '',
        '',
        '       three',
        '    say: "first  ',
        '',
        '',
        '       last"',
        '    name: >-',
        '     folded',
        '',
        '    reason:',
        '      plain',
        '        goes on',
        '',
      ].join('\n'),
    );
  });

  it('keeps line ends, marks at the start, anchors and texts that end the file', () => {
    expect(format('\ufeffkind:  parts\r\n\r\n\r\nx-a:  1')).toBe('\ufeffkind: parts\r\n\r\nx-a: 1\r\n');
    expect(format('kind: parts\nparts:\n   A:  &a\n      name:  🔧  x\n   B:  *a\n')).toBe(
      'kind: parts\nparts:\n  A: &a\n    name: 🔧  x\n  B: *a\n',
    );
    expect(format('kind:  parts\nx-a: |+\n  a\n\n\n')).toBe('kind: parts\nx-a: |+\n  a\n\n\n');
    expect(format('kind:  parts\nx-a: |\n   a')).toBe('kind: parts\nx-a: |\n   a\n');
  });

  it('leaves alone what it cannot read, and what is right', () => {
    const broken = 'kind: parts\nparts:\n   A:\n\t name:  x\n     y\n';
    expect(format(broken)).toBe(broken);
    expect(formatFile(BookFile.open(URI, 'kind: parts\nparts:\n  A:\n    name: x\n'))).toEqual([]);
    expect(formatFile(BookFile.open(URI, ''))).toEqual([]);
    expect(formatFile(BookFile.open(URI, '# only a comment\n'))).toEqual([]);
  });

  it('keeps entries in one column when one of them cannot be laid out', () => {
    expect(format('kind: parts\nparts:\n    A:\n       name:  x\n    B:\n      ? name\n      : y\n')).toBe(
      'kind: parts\nparts:\n    A:\n      name: x\n    B:\n      ? name\n      : y\n',
    );
  });

  it('lays out the entries that a range touches', () => {
    const text = 'kind:  parts\nparts:\n    A:\n        name:  x\n    B:\n        name:  y\n';
    const range = { start: { line: 3, character: 0 }, end: { line: 3, character: 4 } };
    expect(applied(text, formatRange(BookFile.open(URI, text), range))).toBe(
      'kind:  parts\nparts:\n    A:\n      name: x\n    B:\n        name:  y\n',
    );
  });

  it('tidies the line that was left, without moving it', () => {
    const text = 'kind: parts\nparts:\n    A:\n        name:  x  \n        \n';
    const typed = (line: number) =>
      applied(text, formatOnType(BookFile.open(URI, text), { line, character: 0 }));
    expect(typed(4)).toBe('kind: parts\nparts:\n    A:\n        name: x\n        \n');
    expect(typed(3)).toBe(text);
    expect(typed(0)).toBe(text);
    const block = 'kind: parts\nx-a: |\n  one  \n  \n';
    expect(formatOnType(BookFile.open(URI, block), { line: 3, character: 2 })).toEqual([]);
  });
});

/** Comments as the `yaml` package sees them, a lexer of its own. */
function comments(text: string): string[] {
  return [...new Lexer().lex(text)].filter((token) => token.startsWith('#')).map((token) => token.trimEnd());
}

/** YAML written without care: any columns, stray spaces, comments and empty lines anywhere. */
const careless: fc.Arbitrary<string> = (() => {
  const word = fc.constantFrom(
    'a',
    'b7',
    '0071',
    '6.5%',
    'two words',
    "it's",
    '🔧',
    'x # y',
    'a: b',
    '- z',
    '',
  );
  const step = fc.integer({ min: 1, max: 5 });
  const blank = fc.constantFrom('', '', '', '   ', '\n', '\n  \n');
  const remark = fc.constantFrom('', '', '', '   # why: x', ' #');
  const above = (column: number) =>
    fc
      .tuple(blank, fc.constantFrom('', '', `${' '.repeat(column)}# - note: 1\n`))
      .map(([b, c]) => (b ? `${b}\n` : '') + c);

  const single = (column: number) =>
    fc.oneof(
      word.map((text) => (/^[\w.%]+( \w+)?$|^🔧$/.test(text) ? text : `'${text.replaceAll("'", "''")}'`)),
      word.map((text) => JSON.stringify(text)),
      fc.tuple(step, word).map(([deep, text]) => `"${text}  \n\n${' '.repeat(column + deep)}more"`),
      fc
        .tuple(fc.constantFrom('|', '>', '|-', '>+', '|2'), step, fc.constantFrom('\n', '\n\n', '\n   \n'))
        .map(([mark, deep, gap]) => {
          const pad = ' '.repeat(column + (mark === '|2' ? 2 : deep));
          return `${mark}\n${pad}one  ${gap}${pad}  two # no comment`;
        }),
      fc.constantFrom('[a,  b ]', '{ k:  v,  l: [x] }', '[]'),
      step.map((deep) => `[a,\n${' '.repeat(column + deep)}b]`),
    );

  const value = (column: number, depth: number): fc.Arbitrary<string> => {
    const space = fc.constantFrom(' ', ' ', '   ');
    const inline = fc
      .tuple(space, single(column), remark)
      .map(([s, v, r]) => s + v + (v.includes('\n') ? '' : r));
    if (depth === 0) return inline;
    const deeper = step.chain((by) => block(column + by, depth - 1).map((text) => `\n${text}`));
    const list = fc
      .integer({ min: 0, max: 3 })
      .chain((by) => items(column + by, depth - 1).map((text) => `\n${text}`));
    return fc.oneof(
      inline,
      inline,
      fc.tuple(remark, deeper).map(([r, t]) => r + t),
      fc.tuple(remark, list).map(([r, t]) => r + t),
    );
  };

  const block = (column: number, depth: number): fc.Arbitrary<string> =>
    fc
      .array(fc.tuple(above(column), value(column, depth), fc.constantFrom('', ' ')), {
        minLength: 1,
        maxLength: 3,
      })
      .map((pairs) =>
        pairs
          .map(([lead, v, s], i) => `${lead}${' '.repeat(column)}k${i}${s}:${v}`)
          .join('\n')
          .replace(/\n\n\n\n+/g, '\n\n\n'),
      );

  const items = (column: number, depth: number): fc.Arbitrary<string> =>
    step.chain((by) =>
      fc
        .array(
          fc.oneof(
            single(column).map((text) => text),
            block(column + by + 1, depth).map((text) => text.trimStart()),
          ),
          { minLength: 1, maxLength: 3 },
        )
        .map((list) => list.map((text) => `${' '.repeat(column)}-${' '.repeat(by)}${text}`).join('\n')),
    );

  const entries = step.chain((column) =>
    fc
      .array(fc.tuple(above(column), value(column, 2)), { minLength: 1, maxLength: 3 })
      .map((list) => list.map(([lead, v], i) => `${lead}${' '.repeat(column)}P-${i}:${v}`).join('\n')),
  );
  return fc
    .tuple(
      fc.constantFrom('', '\n\n', '# head  \n'),
      block(0, 2),
      entries,
      fc.constantFrom('', '\n', '\n\n\n'),
      fc.constantFrom('\n', '\r\n'),
    )
    .map(([head, top, parts, end, eol]) =>
      `${head}kind:  parts\n${top}\nparts:\n${parts}${end}`.replaceAll('\n', eol),
    );
})();

function valuesOf(text: string): Plain {
  return toPlain(readPiece(text).node);
}

/** The values as the book reads them, piece by piece. */
function valuesByPiece(text: string): Plain {
  const { source, splitKeys } = BookFile.open(URI, text);
  const out: { [key: string]: Plain } = Object.create(null);
  for (const piece of source.pieces())
    for (const { section, key, value } of entriesOf(piece, splitKeys)) {
      if (section === undefined) out[key.text] ??= toPlain(value);
      else {
        out[section] = (out[section] ?? Object.create(null)) as { [key: string]: Plain };
        (out[section] as { [key: string]: Plain })[key.text] ??= toPlain(value);
      }
    }
  return out;
}

describe('formatting of anything', () => {
  it('never changes a value or loses a comment, and is done after one time', () => {
    let changed = 0;
    fc.assert(
      fc.property(careless, (text) => {
        // How a file is cut into pieces has tests of its own.
        fc.pre(samePlain(valuesByPiece(text), valuesOf(text)));
        const once = format(text);
        if (once !== text) changed++;
        expect(valuesOf(once)).toEqual(valuesOf(text));
        expect(comments(once)).toEqual(comments(text));
        expect(readPiece(once).problems.length).toBe(readPiece(text).problems.length);
        expect(format(once)).toBe(once);
      }),
      { numRuns: 100 },
    );
    expect(changed).toBeGreaterThan(50);
  }, 60_000);
});
