import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { didYouMean, suggestion } from '../../../schemas/values/words.ts';

/** Edits between two words, the plain way: a table of every pair of beginnings. */
function edits(a: string, b: string): number {
  let above = Array.from({ length: b.length + 1 }, (_, index) => index);
  for (let i = 1; i <= a.length; i += 1) {
    const row = [i];
    for (let j = 1; j <= b.length; j += 1) {
      const changed = above[j - 1]! + (a[i - 1] === b[j - 1] ? 0 : 1);
      row.push(Math.min(changed, above[j]! + 1, row[j - 1]! + 1));
    }
    above = row;
  }
  return above[b.length]!;
}

/** Two neighbours swapped is one slip, though it is two edits. */
function slips(typed: string, word: string): number {
  const swapped = [...typed]
    .slice(1)
    .map((_, i) => typed.slice(0, i) + typed[i + 1] + typed[i] + typed.slice(i + 2));
  return Math.min(edits(typed, word), swapped.includes(word) ? 1 : Infinity);
}

describe('did you mean', () => {
  test.each([
    ['convertr', ['converter', 'cooler', 'case'], ['converter']],
    ['TORQUE-CONVERTER', ['torque-converter'], ['torque-converter']],
    ['aa', ['ab', 'ba', 'aaa', 'bb'], ['ab', 'ba', 'aaa']],
    ['cost', ['core', 'list', 'costs', 'Cost'], ['Cost', 'costs']],
    ['pump', ['radiator'], []],
    ['csot', ['list', 'cost'], ['cost']],
    ['', ['a'], []],
  ])('%j among %j: %j', (word, candidates, expected) => {
    expect(didYouMean(word, candidates)).toEqual(expected);
  });

  test('the nearest are found however late they come', () => {
    const parts = Array.from({ length: 100_000 }, (_, index) => `TC-${String(index).padStart(6, '0')}-Q`);
    expect(didYouMean('TC-099999', [...parts, 'TC-099998', 'TC-099999'])).toEqual([
      'TC-099999',
      'TC-099998',
      'TC-099999-Q',
    ]);
  });

  test('gives what sorting all by slips gives', () => {
    const word = fc.string({ unit: fc.constantFrom(...'abcd'), minLength: 1, maxLength: 8 });
    fc.assert(
      fc.property(word, fc.array(word, { maxLength: 30 }), (typed, candidates) => {
        const limit = Math.min(3, Math.max(1, Math.floor(typed.length / 3)));
        const nearest = candidates
          .map((candidate) => ({ candidate, slips: slips(typed, candidate) }))
          .filter(({ slips }) => slips <= limit)
          .toSorted((a, b) => a.slips - b.slips)
          .slice(0, 3);
        expect(didYouMean(typed, candidates)).toEqual(nearest.map(({ candidate }) => candidate));
      }),
    );
  });
});

test('the sentence for a message', () => {
  expect(suggestion('cst', ['cost'])).toBe(' Did you mean "cost"?');
  expect(suggestion('aa', ['ab', 'ba'])).toBe(' Did you mean "ab" or "ba"?');
  expect(suggestion('aa', ['ab', 'ba', 'ac'])).toBe(' Did you mean "ab", "ba" or "ac"?');
  expect(suggestion('zzz', ['cost'])).toBe('');
});
