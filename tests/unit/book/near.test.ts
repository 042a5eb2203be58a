import fc from 'fast-check';
import { expect, test } from 'vitest';
import { slipsAllowed, slipsBetween } from '../../../schemas/values/words.ts';
import { byNearness, isNear, NearIds } from '../../../server/src/book/near.ts';

const word = fc.string({ unit: fc.constantFrom(...'abcAB1-'), minLength: 1, maxLength: 10 });

test('gives what comparing with every id gives, whatever order they came in', () => {
  fc.assert(
    fc.property(word, fc.uniqueArray(word, { maxLength: 60 }), fc.array(fc.nat(59)), (typed, ids, gone) => {
      const near = new NearIds();
      for (const id of ids) near.add(id);
      const removed = new Set(gone.map((i) => ids[i]));
      for (const id of removed) if (id !== undefined) near.delete(id);
      const left = ids
        .filter((id) => !removed.has(id))
        .map((id) => ({ id, slips: slipsBetween(typed.toLowerCase(), id.toLowerCase()) }))
        .filter(({ slips }) => slips <= slipsAllowed(typed.length))
        .sort(byNearness);
      const nearest = left.filter(({ slips }) => Math.max(1, slips) === Math.max(1, left[0]!.slips));
      expect(near.nearest(typed, 3)).toEqual(nearest.slice(0, 3));
      for (const id of ids)
        expect(isNear(typed, id)).toBe(
          slipsBetween(typed.toLowerCase(), id.toLowerCase()) <= slipsAllowed(typed.length),
        );
    }),
  );
});

test('a word among a hundred thousand ids is a matter of milliseconds', () => {
  const near = new NearIds();
  for (let i = 0; i < 100_000; i++) near.add(`NP-${String(i).padStart(6, '0')}`);
  near.nearest('NP-01234', 3);
  const times = ['NP-01234', 'PN-012345', 'NP-0123456', 'ZZ-999999', 'MP_099999'].map((typed) => {
    const began = performance.now();
    near.nearest(typed, 3);
    return performance.now() - began;
  });
  expect(Math.min(...times)).toBeLessThan(100);
  expect(near.nearest('PN-012345', 3)).toEqual([{ id: 'NP-012345', slips: 1 }]);
});
