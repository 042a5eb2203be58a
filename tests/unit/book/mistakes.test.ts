import { expect, test } from 'vitest';
import type { Part } from '../../../schemas/kinds/parts.ts';
import { Estimates } from '../../../server/src/estimate/estimates.ts';
import { problemsOf } from '../../../server/src/estimate/problems.ts';
import { checkPart } from '../../../server/src/pricing/check.ts';
import { AROUND, MISTAKES } from './mistakes.ts';
import { bookOf, fileIn } from './told.ts';

/** Everything that is told of a file with a mistake in it, by the book and by what prices it. */
function toldOf(kind: string, text: string): string[] {
  const name = kind === 'shop' ? 'west/shop.yaml' : `west/mistake.${kind}.yaml`;
  const book = bookOf({ ...AROUND, [name]: `kind: ${kind}\n${text}` });
  const file = fileIn(book, name);
  const part = (id: string) => book.value('part', id) as Part | undefined;
  const priced = [...file.facts()]
    .flatMap((facts) => facts.parts)
    .filter((one) => one.section === 'parts' && one.value !== undefined)
    .flatMap((one) => checkPart(one.key, one.value as Part, { part }));
  const found = problemsOf(new Estimates(book), file).map(({ problem }) => problem);
  return [...new Set([...found, ...priced].map(({ code, message }) => `${code}: ${message}`))];
}

test.each(MISTAKES)('%s', (_what, kind, text, told) => {
  expect(toldOf(kind, text)).toEqual(told);
});

test('messages are sentences in plain words', () => {
  for (const [what, , , told] of MISTAKES) {
    expect(told.length, what).toBeGreaterThan(0);
    for (const one of told) {
      const message = one.replace(/^[a-z-]+: /, '');
      expect(message, what).toMatch(/^["`\p{Lu}\d\\].*[.?!)a-z0-9]$/u);
      expect(message, what).not.toMatch(
        / {2}|undefined|null|NaN|\[object|Invalid input|expected |received|schema|parse|string\b|array\b|boolean/i,
      );
    }
  }
});
