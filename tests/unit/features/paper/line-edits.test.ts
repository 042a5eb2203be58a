import fc from 'fast-check';
import { expect, it } from 'vitest';
import { TextDocument } from 'vscode-languageserver-textdocument';
import { lineEdits } from '../../../../server/src/features/paper/line-edits.ts';

const applied = (before: string, after: string) =>
  TextDocument.applyEdits(TextDocument.create('', '', 0, before), lineEdits(before, after));

it('gives the new text, whatever the lines and their ends', () => {
  const text = fc
    .array(fc.tuple(fc.constantFrom('a', 'b', '', 'c d'), fc.constantFrom('\n', '\r\n', '\r')), {
      maxLength: 12,
    })
    .chain((lines) =>
      fc.constantFrom('', 'end').map((last) => lines.map((one) => one.join('')).join('') + last),
    );
  fc.assert(
    fc.property(text, text, (before, after) => {
      expect(applied(before, after)).toBe(after);
    }),
    { numRuns: 400 },
  );
});

it('touches only the lines that changed', () => {
  const before = 'lines:\n  - a\n  - b # kept\n  - c\nchosen: x\n';
  const after = 'lines:\n  - b # kept\n  - c\nchosen: y\n';
  expect(lineEdits(before, after)).toEqual([
    { range: { start: { line: 1, character: 0 }, end: { line: 2, character: 0 } }, newText: '' },
    { range: { start: { line: 4, character: 0 }, end: { line: 5, character: 0 } }, newText: 'chosen: y\n' },
  ]);
});

it('of the same text are none', () => {
  expect(lineEdits('a\nb', 'a\nb')).toEqual([]);
});
