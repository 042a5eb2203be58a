import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readFast } from '../../server/src/syntax/fast.ts';
import { readFull } from '../../server/src/syntax/full.ts';
import type { Node } from '../../server/src/syntax/node.ts';
import { pieceText } from './syntax-texts.ts';

const RUNS = Number(process.env.RUNS ?? 12_000);

describe('the fast reader', () => {
  it('reads what the full one reads, to the same values and places, or leaves it alone', () => {
    let taken = 0;
    fc.assert(
      fc.property(pieceText, (text) => {
        const fast = readFast(text);
        if (!fast) return;
        taken++;
        expect({ node: fast, problems: [] }).toEqual(readFull(text));
      }),
      { numRuns: RUNS, seed: 20_260_301 },
    );
    // Else the test would say little.
    expect(taken).toBeGreaterThan(RUNS / 5);
  });
});

describe('the full reader', () => {
  it('keeps every node and problem inside the text, parents around their children, and never throws', () => {
    fc.assert(
      fc.property(pieceText, (text) => {
        const { node, problems } = readFull(text);
        for (const { start, end, message } of problems) {
          expect(start).toBeGreaterThanOrEqual(0);
          expect(end).toBeGreaterThanOrEqual(start);
          expect(end).toBeLessThanOrEqual(text.length);
          expect(message).toMatch(/^[^\n]+[.?]$/);
        }
        nested(node, 0, text.length);
      }),
      { numRuns: RUNS / 12, seed: 20_260_302 },
    );
  });
});

function nested(node: Node, from: number, to: number): void {
  expect(node.start).toBeGreaterThanOrEqual(from);
  expect(node.end).toBeGreaterThanOrEqual(node.start);
  expect(node.end).toBeLessThanOrEqual(to);
  if (node.type === 'list') for (const item of node.items) nested(item, node.start, node.end);
  if (node.type === 'map')
    for (const pair of node.pairs) {
      expect(pair.start).toBe(pair.key.start);
      expect(pair.end).toBeGreaterThanOrEqual(pair.key.end);
      nested(pair.value, node.start, Math.max(pair.end, node.end));
    }
}
