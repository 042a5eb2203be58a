/** Price files and catalogs made up at random: taken in twice, nothing is left to write; what is held back stays. */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { Part } from '../../schemas/kinds/parts.ts';
import { isoDate } from '../../schemas/values/dates.ts';
import { pricesOn } from '../../server/src/pricing/history.ts';
import { bookOf, fileIn, messages } from '../unit/book/told.ts';
import { compared, TODAY, takenIn } from '../unit/upkeep/prices-scene.ts';

const amount = fc.integer({ min: 100, max: 99_999 }).map((cents) => (cents / 100).toFixed(2));
const maybe = <T>(one: fc.Arbitrary<T>) => fc.option(one, { nil: undefined });

const partOf = fc.record({
  shape: fc.constantFrom('block', 'braces', 'dated', 'quoted'),
  comment: fc.boolean(),
  cost: maybe(amount),
  list: maybe(amount),
  core: maybe(amount),
});
const row = fc.record({
  cost: maybe(amount),
  list: maybe(amount),
  core: maybe(amount),
  next: maybe(fc.nat(11)),
});
const scene = fc.record({
  eol: fc.constantFrom('\n', '\r\n'),
  indent: fc.integer({ min: 1, max: 5 }),
  parts: fc.array(partOf, { minLength: 1, maxLength: 8 }),
  rows: fc.array(row, { minLength: 1, maxLength: 12 }),
  from: maybe(fc.constant(isoDate('2026-07-01'))),
  accepted: fc.boolean(),
  add: fc.boolean(),
});
type Scene = typeof scene extends fc.Arbitrary<infer S> ? S : never;

function catalog({ eol, indent, parts }: Scene): string {
  const pad = ' '.repeat(indent);
  const entries = parts.map(({ shape, comment, ...figures }, i) => {
    const given = Object.entries(figures).filter(([, value]) => value !== undefined);
    const note = comment ? ` # figure of ${i}` : '';
    if (shape === 'braces')
      return [
        `${pad}P-${i}: { name: P, kind: soft${given.map(([key, value]) => `, ${key}: ${value}`).join('')} }${note}`,
      ];
    const head = [`${pad}P-${i}:${note}`, `${pad}   name: P`, `${pad}   kind: soft`];
    if (shape === 'dated' && given.length > 0)
      return [
        ...head,
        `${pad}   prices:`,
        ...given.map(([key, value], at) => `${pad}   ${at === 0 ? '-' : ' '} ${key}: ${value}`),
        `${pad}     from: 2026-01-01`,
      ];
    const quote = shape === 'quoted' ? '"' : '';
    return [...head, ...given.map(([key, value]) => `${pad}   ${key}: ${quote}${value}${quote}${note}`)];
  });
  return ['kind: parts', 'parts:', ...entries.flat(), ''].join(eol);
}

function file({ rows }: Scene): string {
  const cells = rows.map(({ cost, list, core, next }, i) =>
    [`P-${i}`, `Part ${i}`, cost, list, core, next === undefined ? '' : `P-${next}`]
      .map((cell) => cell ?? '')
      .join(','),
  );
  return ['Item,Description,Net,List,Core,Replaced by', ...cells].join('\n');
}

test('taken in twice, the second time changes nothing; and what was meant is in force', () => {
  fc.assert(
    fc.property(scene, (made) => {
      const yaml = catalog(made);
      const csv = file(made);
      const intake = (book: ReturnType<typeof bookOf>) => ({
        from: made.from,
        accepts: () => made.accepted,
        ...(made.add ? { newParts: { file: fileIn(book, 'a.parts.yaml'), kind: 'soft' as const } } : {}),
      });
      const on = made.from ?? TODAY;
      const book = bookOf({ 'a.parts.yaml': yaml });
      expect(messages(book, 'a.parts.yaml')).toEqual([]);
      const first = takenIn(book, compared(book, csv, { on }), intake(book));
      const text = first.texts['a.parts.yaml'] ?? yaml;
      const after = bookOf({ 'a.parts.yaml': text });
      // What two rows together make of it (a chain that comes back) is told by the book, not by the intake.
      const told = messages(after, 'a.parts.yaml').filter((message) => !message.includes('superse'));
      expect(told).toEqual([]);
      const second = takenIn(after, compared(after, csv, { on }), intake(after));
      expect(second.texts).toEqual({});
      const left = new Set(first.leftOut.map(({ number }) => number));
      for (const [i, given] of made.rows.entries()) {
        const part = after.value('part', `P-${i}`) as Part | undefined;
        if (!part || left.has(`P-${i}`)) continue;
        const now = pricesOn(part, on);
        for (const figure of ['cost', 'list', 'core'] as const)
          if (given[figure] !== undefined) expect(now[figure]?.toFixed(2)).toBe(given[figure]);
      }
      // Lines that are there stay, and keep their order; only digits in them may differ.
      const bare = (line: string) =>
        line.replace(/\d+\.\d\d/g, '#').replace(/, (list|cost|core|superseded-by|prices): .*(?= })/, '');
      const lines = text.split(made.eol).map(bare);
      let at = 0;
      for (const line of yaml.split(made.eol).map(bare)) {
        at = lines.indexOf(line, at) + 1;
        expect(at, line).toBeGreaterThan(0);
      }
    }),
    { numRuns: 60 },
  );
});
