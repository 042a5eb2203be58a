import { isDeepStrictEqual } from 'node:util';
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
        const full = readFull(text);
        // The matcher says more, the comparison is a hundred times faster.
        if (!isDeepStrictEqual({ node: fast, problems: [] }, full))
          expect({ node: fast, problems: [] }).toEqual(full);
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
        for (const { start, end, message } of problems)
          if (!(0 <= start && start <= end && end <= text.length && /^[^\n]+[.?]$/.test(message)))
            throw new Error(`${start} to ${end}: ${message}`);
        nested(node, 0, text.length);
      }),
      { numRuns: RUNS / 6, seed: 20_260_302 },
    );
  });
});

function nested(node: Node, from: number, to: number): void {
  const { start, end } = node;
  if (!(from <= start && start <= end && end <= to))
    throw new Error(`${start} to ${end} in ${from} to ${to}`);
  if (node.type === 'list') for (const item of node.items) nested(item, start, end);
  if (node.type === 'map')
    for (const { key, value, ...pair } of node.pairs) {
      if (pair.start !== key.start || pair.end < key.end)
        throw new Error(`pair ${pair.start} to ${pair.end}`);
      nested(value, start, Math.max(pair.end, end));
    }
}
