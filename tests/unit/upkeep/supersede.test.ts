/** Replaced numbers written as their successors, and numbers changed everywhere. */
import { expect, it } from 'vitest';
import { isoDate } from '../../../schemas/values/dates.ts';
import { renameMeaning } from '../../../server/src/features/rename.ts';
import { supersede } from '../../../server/src/features/upkeep/supersede.ts';
import { supersessionReport } from '../../../server/src/features/upkeep/supersede-report.ts';
import { reportText } from '../../../server/src/upkeep/report/text.ts';
import { job, SHOP, scene } from './upkeep-book.ts';

const DAY = isoDate('2026-03-01');

const CHAIN = `=== old.parts.yaml
kind: parts
parts:
  OLD-1:
    name: Seal
    kind: soft
    cost: 4.00
    superseded-by: { part: MID-1, quantity: 2 }
  MID-1:
    name: Seal
    kind: soft
    cost: 2.00
    superseded-by: { part: NEW-1, quantity: 3, needs: the wide groove }
  NEW-1: { name: Seal, kind: soft, cost: 1.00 }
  NEXT-1: { name: Ring, kind: soft, cost: 1.00, superseded-by: { part: NEW-1, from: 2026-04-01 } }
  KIT-1:
    name: Kit
    kind: kit
    cost: 9.00
    contents:
      - part: OLD-1   # both sides
        quantity: 2
`;

it('writes the end of the chain, with how many, where prices may still move', () => {
  const book = scene(
    SHOP +
      CHAIN +
      job('J-1', 'lines:\n  - part: OLD-1   # front\n  - { part: OLD-1, quantity: 4 }') +
      job('J-2', 'presented: 2026-02-03\nlines: [{ part: OLD-1 }]') +
      job('J-3', 'completed: 2026-02-03\nlines: [{ part: OLD-1 }]') +
      job('J-4', 'lines: [{ part: OLD-1, price: 7.00, reason: agreed }]'),
  );
  const found = supersede(book.book, DAY, 'OLD-1');
  expect(book.changes(found.edit)).toEqual([
    'J-1.job.yaml',
    '+ kind: job',
    '+ id: J-1',
    '+ opened: 2026-02-02',
    '+ unit: alpha',
    '+ lines:',
    '+   - part: NEW-1   # front',
    '+     quantity: 6',
    '+   - { part: NEW-1, quantity: 24 }',
    '+ ',
    'old.parts.yaml',
    '-       - part: OLD-1   # both sides',
    '+       - part: NEW-1   # both sides',
    '-         quantity: 2',
    '+         quantity: 12',
  ]);
  expect(found.successions[0]!.left.map(({ where, why }) => `${where}: ${why}`)).toEqual([
    'job J-2: its owner holds a paper with this number',
    'job J-3: the job is done',
    'job J-4: 6 for one: the line has a price of its own',
  ]);
  expect(reportText(supersessionReport(found))).toContain(
    'NEW-1, 6 for one  job J-1, kit KIT-1  the wide groove',
  );
});

it('follows a template where the number is a default, and leaves what has no quantity', () => {
  const template = `=== t.template.yaml
kind: template
id: t
name: T
parameters: { seal: { type: part, default: NEXT-1 }, old: { type: part, default: OLD-1 } }
lines: [{ part: $seal }, { part: $old }]
`;
  const book = scene(SHOP + CHAIN + template);
  const found = supersede(book.book, isoDate('2026-04-01'));
  expect(book.changes(found.edit).filter((line) => line.startsWith('+') && line.includes('seal'))).toEqual([
    '+ parameters: { seal: { type: part, default: NEW-1 }, old: { type: part, default: OLD-1 } }',
  ]);
  expect(found.successions.find(({ from }) => from === 'OLD-1')!.left.map(({ why }) => why)).toEqual([
    '6 for one: no quantity stands there',
  ]);
});

it.each([
  ['NEXT-1', 'NEXT-1 is replaced from 2026-04-01 on, which is not yet.'],
  ['NEW-1', 'NEW-1 has not been replaced: it has no `superseded-by`.'],
  ['NONE', 'There is no part "NONE" in this book.'],
])('says why %s has no successor', (number, why) => {
  expect(() => supersede(scene(SHOP + CHAIN).book, DAY, number)).toThrow(why);
});

it('gives a number another name everywhere, done jobs and locks too, and refuses one that is taken', () => {
  const lock = 'lock: { on: 2026-02-03, parts: { GSK-1: { price: 20.00 } } }';
  const book = scene(SHOP + job('J-1', `completed: 2026-02-09\nlines: [{ part: GSK-1 }]\n${lock}`));
  const meaning = { kind: 'part', id: 'GSK-1', home: undefined } as const;
  expect(
    book.changes(renameMeaning(book.book, meaning, 'GSK-2')).filter((line) => line.startsWith('+')),
  ).toEqual([
    '+   GSK-2: { name: Gasket, kind: soft, cost: 10.00 }',
    '+ lines: [{ part: GSK-2 }]',
    '+ lock: { on: 2026-02-03, parts: { GSK-2: { price: 20.00 } } }',
  ]);
  expect(() => renameMeaning(book.book, meaning, 'DRM-1')).toThrow(
    'There is a part "DRM-1" already, in a.parts.yaml; the two would become one.',
  );
});
