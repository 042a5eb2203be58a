import { isDeepStrictEqual } from 'node:util';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { SourceFile } from '../../server/src/syntax/file.ts';
import { offsetIn, positionIn } from '../../server/src/syntax/lines.ts';
import { fileChange, fileText } from './syntax-texts.ts';

const RUNS = Number(process.env.RUNS ?? 1_500);
const KEYS = new Set(['parts', 'operations']);
const open = (text: string) => SourceFile.open('file:///x.yaml', text, KEYS);

/** Everything there is to see of a version, but for the identity of its pieces. */
const seen = (file: SourceFile) => ({
  pieces: [...file.pieces()].map(({ kind, section, key, indent, head, lines, anchors, text }) => ({
    ...{ kind, section, key, indent, head, lines, anchors, text },
  })),
  problems: file.problems
    .map(({ code, start, message, piece }) => `${file.indexOf(piece)} ${code} ${start} ${message}`)
    .sort(),
});

describe('an edited file', () => {
  it('has the pieces that opening its text anew gives, and keeps the objects of those that did not change', () => {
    fc.assert(
      fc.property(
        fileText,
        fc.array(fileChange, { minLength: 1, maxLength: 8 }),
        fc.boolean(),
        (start, changes, whole) => {
          let text = start;
          let file = open(text);
          for (const { from, length, text: put } of changes) {
            const [a, b] = cut(text, from, length);
            const next = text.slice(0, a) + put + text.slice(b);
            const before = file;
            file = whole
              ? file.edit(next)
              : file.edit([{ range: { start: positionIn(text, a), end: positionIn(text, b) }, text: put }]);
            text = next;
            expect(file.text()).toBe(text);
            same(seen(file), seen(open(text)));
            const { removed, added } = file.changedFrom(before);
            sameObjects(
              [...before.pieces()].filter((piece) => file.indexOf(piece) === -1),
              removed,
            );
            sameObjects(
              [...file.pieces()].filter((piece) => before.indexOf(piece) === -1),
              added,
            );
          }
        },
      ),
      { numRuns: RUNS, seed: 20_260_303 },
    );
  });

  it('translates every position there and back', () => {
    fc.assert(
      fc.property(fileText, fc.double({ min: 0, max: 1, noNaN: true }), (text, at) => {
        const file = open(text);
        const [offset] = cut(text, at, 0);
        const position = positionIn(text, offset);
        expect(offsetIn(text, position)).toBe(offset);
        const place = file.offsetOf(position);
        expect(file.positionOf(place.piece, place.offset)).toEqual(position);
        expect(file.at(place.index)).toBe(place.piece);
        expect(file.pieceAt(position.line)).toBe(file.offsetOf({ line: position.line, character: 0 }).piece);
        expect(file.placeOf(offset).index).toBe(place.index);
        expect(file.lineCount).toBe(text.split(/\r\n|\n|\r/).length);
      }),
      { numRuns: RUNS * 2, seed: 20_260_304 },
    );
  });
});

/** The matcher says more, the comparison is a hundred times faster. */
function same(got: unknown, want: unknown): void {
  if (!isDeepStrictEqual(got, want)) expect(got).toEqual(want);
}

function sameObjects(got: readonly unknown[], want: readonly unknown[]): void {
  expect([got.length, got.every((each, i) => each === want[i])]).toEqual([want.length, true]);
}

/** Offsets of a stretch; none between \r and \n, where no position can point. */
function cut(text: string, from: number, length: number): [number, number] {
  const start = Math.floor(from * text.length);
  const whole = (at: number) => (text[at - 1] === '\r' && text[at] === '\n' ? at - 1 : at);
  return [whole(start), whole(Math.min(text.length, start + length))];
}
