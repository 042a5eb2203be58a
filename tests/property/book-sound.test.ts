import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { operation } from '../../schemas/kinds/labor.ts';
import { part } from '../../schemas/kinds/parts.ts';
import { unit } from '../../schemas/kinds/units.ts';
import { fieldsOf } from '../../schemas/walk.ts';
import { judge } from '../../server/src/book/judge.ts';
import { isSound } from '../../server/src/book/sound.ts';
import { readPiece } from '../../server/src/syntax/read.ts';
import { bookOf } from '../unit/book/told.ts';

const value = fc.constantFrom(
  '4.10',
  'four',
  'soft',
  'bench',
  'rear',
  'each',
  'yes',
  '12',
  '',
  '""',
  '[birch-6]',
  '[a, ""]',
  '[]',
  '{ unit: case, of: 12 }',
  '{ of: 12 }',
  '{ part: P-1, from: 2026-01-01 }',
  '{ dry: 11.6 qt }',
  '{ dry: 11.6 }',
  '{ toString: x }',
  '{ flow: { rows: [] } }',
  '{ flow: { rows: [{ least: 1 qt }] } }',
  '[{ from: 2026-01-01, cost: 1 }]',
  '[{ drive: [4wd] }]',
  '{ kind: external, material: steel }',
  '{ four-wheel: { name: More, hours: 1 } }',
);

const entries = [part, operation, unit].map((schema) => {
  const own = fc.constantFrom(...fieldsOf(schema).keys(), 'x-own', 'unknown', '__proto__');
  // Fields with a list that has to hold something are few; without this they would hardly be met.
  const key = schema === unit ? fc.oneof(own, fc.constant('limits')) : own;
  const required = [...fieldsOf(schema).values()].filter((field) => field.required).map((field) => field.key);
  return fc.tuple(
    fc.constant(schema),
    fc.constant(required),
    fc.array(fc.tuple(key, value), { maxLength: 6 }),
  );
});

test('what the quick look finds sound, the full judgment finds right', () => {
  let sound = 0;
  fc.assert(
    fc.property(fc.oneof(...entries), ([schema, required, pairs]) => {
      const good: Record<string, string> = {
        name: 'N',
        kind: 'soft',
        work: 'bench',
        layout: 'rear',
        'fluid-class': 'B',
      };
      const text = [...required.map((key) => [key, good[key]!] as const), ...pairs]
        .map(([key, one]) => `${key}: ${one}\n`)
        .join('');
      const { node } = readPiece(text);
      if (!isSound(schema, node)) return;
      sound++;
      const wrong = judge(schema, node).problems.filter(({ code }) => code !== 'unknown-key');
      expect(wrong, text).toEqual([]);
    }),
    { numRuns: 3000 },
  );
  expect(sound).toBeGreaterThan(100);
});

test('a whole catalog of ordinary parts is found sound', () => {
  const text = readFileSync('samples/quarrow-creek/parts/ironpost.parts.yaml', 'utf8');
  const book = bookOf({ 'soft.parts.yaml': text });
  const [file] = book.files();
  const parts = [...file!.facts()].filter(({ piece }) => piece.kind === 'entry');
  const found = parts.filter(({ piece }) => {
    const { node } = piece.read();
    return node.type === 'map' && isSound(part, node.pairs[0]!.value);
  });
  expect(parts.length).toBeGreaterThan(5);
  expect(found.length).toBe(parts.length);
});
