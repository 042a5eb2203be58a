import { describe, expect, test } from 'vitest';
import { z } from 'zod';
import { field } from '../../../schemas/declare.ts';
import { jobSchema } from '../../../schemas/kinds/job.ts';
import { part } from '../../../schemas/kinds/parts.ts';
import { text as textField } from '../../../schemas/scalars.ts';
import { judge, originalPath } from '../../../server/src/book/judge.ts';
import { readPiece } from '../../../server/src/syntax/read.ts';

/** `>text< code: message` for each problem, and what was saved. */
function judged(schema: z.ZodType, text: string) {
  const { value, problems, dropped } = judge(schema, readPiece(text).node);
  return {
    value: JSON.parse(JSON.stringify(value ?? null)),
    problems: [...problems]
      .sort((a, b) => a.start - b.start)
      .map(({ start, end, code, message }) => `>${text.slice(start, end)}< ${code}: ${message}`),
    dropped,
    raw: problems,
  };
}

const PART = 'name: Pan gasket\nkind: soft\n';

describe('keys', () => {
  test('a key that nobody knows is told with the one it may have been', () => {
    const { problems, value, raw } = judged(part, `${PART}csot: 4.10\n`);
    expect(problems).toEqual([
      '>csot< unknown-key: "csot" is not a field that is known here. Did you mean "cost"?',
    ]);
    expect(value).toEqual({ name: 'Pan gasket', kind: 'soft' });
    expect(raw[0]).toMatchObject({ path: ['csot'], onKey: true, data: { replaceKey: 'cost' } });
  });

  test('without a near one, the fields that may stand there are listed', () => {
    const { problems } = judged(
      z.object({ one: textField(), two: textField() }),
      'one: a\ntwo: b\nelephant: c\n',
    );
    expect(problems).toEqual([
      '>elephant< unknown-key: "elephant" is not a field that is known here. Known here: one, two. Your own fields begin with "x-".',
    ]);
  });

  test("the shop's own keys pass, at any depth", () => {
    const { problems } = judged(part, `${PART}x-bin: B4\npack:\n  unit: case\n  of: 12\n  x-note: heavy\n`);
    expect(problems).toEqual([]);
  });

  test('a known key at the wrong depth is not known there', () => {
    const { problems } = judged(part, `${PART}pack:\n  unit: case\n  of: 12\n  supplier: north\n`);
    expect(problems).toHaveLength(1);
    expect(problems[0]).toContain('>supplier< unknown-key');
  });

  test('names that every object answers to are no fields', () => {
    for (const key of ['toString', 'constructor', '__proto__']) {
      const { problems, value } = judged(part, `${PART}${key}: x\n`);
      expect(problems).toEqual([expect.stringContaining(`>${key}< unknown-key`)]);
      expect(value).toEqual({ name: 'Pan gasket', kind: 'soft' });
    }
  });
});

describe('missing, empty and misshapen', () => {
  test('what is missing is told at the first key, with what it means', () => {
    const { problems, value } = judged(part, 'kind: soft\ncost: 4.10\n');
    expect(problems).toEqual([
      '>kind< missing-field: "name" is missing; it is needed here. Name: as printed, such as Torque converter, Birch-6.',
    ]);
    expect(value).toBeNull();
  });

  test('a key with nothing after it', () => {
    const { problems, value } = judged(part, `${PART}cost:\n`);
    expect(problems).toEqual([
      '>cost< empty-value: "cost" has nothing after it. Write a value, or remove the line.',
    ]);
    expect(value).toEqual({ name: 'Pan gasket', kind: 'soft' });
  });

  test('a dash with nothing after it', () => {
    const { problems, value, dropped } = judged(part, `${PART}fits:\n  - birch-6\n  -\n  - alder-4\n`);
    expect(problems).toEqual([
      '>< empty-value: There is nothing after this dash. Write an item, or remove the line.',
    ]);
    expect(value.fits).toEqual(['birch-6', 'alder-4']);
    expect(dropped).toEqual([['fits', 1]]);
  });

  test.each([
    ['cost: [4.10]', '>[4.10]< wrong-shape: Here is a list; write a single value on one line.'],
    ['cost:\n  each: 4.10', '>each< wrong-shape: Here are fields; write a single value on one line.'],
    [
      'fits: birch-6',
      '>birch-6< wrong-shape: Here is a single value; write a list: "- …" on lines of their own, or [a, b].',
    ],
    [
      'pack: case',
      '>case< wrong-shape: Here is a single value; write fields of its own, such as "name: …", set in under it.',
    ],
    [
      'pack: [case]',
      '>[case]< wrong-shape: Here is a list; write fields of its own, such as "name: …", set in under it.',
    ],
    ['kind: [soft]', '>[soft]< wrong-shape: Here is a list; write a single value on one line.'],
  ])('%s', (line, problem) => {
    const { problems } = judged(
      part,
      `name: Pan gasket\n${line.startsWith('kind') ? '' : 'kind: soft\n'}${line}\n`,
    );
    expect(problems).toEqual([problem]);
  });

  test('a list that needs at least one', () => {
    const { problems } = judged(
      z.object({ rows: field('Rows', 'Some.', z.array(textField()).min(1)) }),
      'rows: []\n',
    );
    expect(problems).toEqual(['>[]< empty-value: At least one is needed here.']);
  });
});

describe('values', () => {
  test('each wrong value is told at itself and the others are kept', () => {
    const { problems, value, dropped } = judged(
      part,
      `${PART}cost: four\nlist: 9.50\ncondition: nwe\nlead-days: soon\n`,
    );
    expect(problems).toEqual([
      '>four< wrong-value: "four" is not a number. Write digits, such as 12.50.',
      '>nwe< wrong-word: "nwe" is not one of the words for this. Did you mean "new"?',
      '>soon< wrong-value: Write a whole number here, such as 12.',
    ]);
    expect(value).toEqual({ name: 'Pan gasket', kind: 'soft', list: '9.5' });
    expect(dropped.map(String).sort()).toEqual(['condition', 'cost', 'lead-days']);
  });

  test('a wrong word that is near none lists them', () => {
    const { problems } = judged(part, 'name: Pan gasket\nkind: zebra\n');
    expect(problems).toEqual([
      '>zebra< wrong-word: "zebra" is not one of the words for this. Write one of: soft, hard, kit, fluid, filter, electrical, cooling, converter, unit, hardware, consumable.',
    ]);
  });

  test('text stays as typed', () => {
    const { value } = judged(part, 'name: on\nkind: soft\nsupplier-number: 0071\nbrand: 24E7\n');
    expect(value).toMatchObject({ name: 'on', 'supplier-number': '0071', brand: '24E7' });
  });

  test('what a refinement finds is told once the parts are right', () => {
    const schema = z
      .object({ a: textField().optional(), b: textField().optional() })
      .refine((value) => value.a !== value.b, {
        message: 'They are the same.',
        path: ['b'],
        params: { code: 'same' },
      });
    expect(judged(schema, 'a: x\nb: x\n').problems).toEqual(['>x< same: They are the same.']);
  });
});

const JOB = 'id: J-1\nopened: 2026-01-02\nunit: birch-6\n';
const job = (lines: string) => judged(jobSchema.omit({ kind: true }), `${JOB}lines:\n${lines}`);

describe('lines', () => {
  test('one bad line does not take the others with it', () => {
    const { problems, value, dropped } = job(
      '  - part: A\n  - part: B\n    quantity: many\n  - part:\n  - part: C\n',
    );
    expect(problems).toEqual([
      expect.stringMatching(/^>many< wrong-value: /),
      '>part< empty-value: "part" has nothing after it. Write a value, or remove the line.',
    ]);
    expect(value.lines).toEqual([{ part: 'A' }, { part: 'B' }, { part: 'C' }]);
    expect(dropped).toEqual([
      ['lines', 1, 'quantity'],
      ['lines', 2],
    ]);
    expect(originalPath(['lines', 2, 'part'], dropped)).toEqual(['lines', 3, 'part']);
    expect(originalPath(['lines', 1, 'part'], dropped)).toEqual(['lines', 1, 'part']);
  });

  test('what is wrong is told of the alternative that is meant', () => {
    const { problems } = job('  - operation: rr-unit\n    hours: long\n    core: held\n');
    expect(problems).toEqual([
      '>long< wrong-value: Write hours as 3.9, 3.9 h or 45 min.',
      expect.stringContaining('>core< unknown-key: "core" is not a field that is known here.'),
    ]);
  });

  test('a slip in the word that says what a line is', () => {
    const { problems, raw } = job('  - prat: A\n    quantity: 2\n  - part: B\n');
    expect(problems).toEqual([
      '>prat< unknown-key: "prat" is not a field that is known here. Did you mean "part"?',
    ]);
    expect(raw[0]).toMatchObject({ data: { replaceKey: 'part' }, path: ['lines', 0, 'prat'] });
  });

  test('a line that does not say what it is', () => {
    expect(job('  - quantity: 2\n').problems).toEqual([
      '>quantity< unclear-entry: This does not say what it is. Begin it with one of: fill, part, operation, sublet, fee, other, template.',
    ]);
  });

  test('a line that is two things', () => {
    expect(job('  - part: A\n    operation: rr-unit\n').problems).toEqual([
      '>operation< unknown-key: One entry cannot have both "part" and "operation". Give each an entry of its own.',
    ]);
  });

  test('a line that is no line', () => {
    const { problems, value } = job('  - rr-unit\n  - [part, A]\n  - part: B\n');
    expect(problems).toEqual([
      '>rr-unit< wrong-shape: Here is a single value; write fields of its own, such as "name: …", set in under it.',
      '>[part, A]< wrong-shape: Here is a list; write fields of its own, such as "name: …", set in under it.',
    ]);
    expect(value.lines).toEqual([{ part: 'B' }]);
  });

  test('a value or fields: either will do, and the one that is written is judged', () => {
    const finding = (text: string) => judged(jobSchema.omit({ kind: true }), `${JOB}findings:\n${text}`);
    expect(finding('  glycol: yes\n  debris:\n    value: paste\n').problems).toEqual([]);
    expect(finding('  debris:\n    valeu: paste\n').problems).toEqual([
      '>valeu< unknown-key: "valeu" is not a field that is known here. Did you mean "value"?',
    ]);
    expect(finding('  debris:\n    test: strip\n').problems).toEqual([
      '>debris< missing-field: "value" is missing; it is needed here. Value: yes or no, a word of the scale, or a measurement with its unit.',
    ]);
    expect(finding('  debris: [paste]\n').problems).toEqual([
      '>[paste]< wrong-shape: Here is a list; write a single value on one line, or fields of its own, such as "name: …", set in under it.',
    ]);
    expect(finding('  debris:\n').problems).toEqual([
      '>debris< empty-value: "debris" has nothing after it. Write a value, or remove the line.',
    ]);
  });

  test('bad lines inside bad options, several rounds deep', () => {
    const { value, problems } = judged(
      jobSchema.omit({ kind: true }),
      `${JOB}options:\n  one:\n    name: One\n    kind: overhual\n  two:\n    name: Two\n    kind: repair\n    lines:\n      - part: A\n      - zebra\n      - part: B\n        core: kept\n`,
    );
    expect(problems.map((one) => one.split(':')[0])).toEqual([
      '>overhual< wrong-word',
      '>zebra< wrong-shape',
      '>kept< wrong-word',
    ]);
    expect(value.options).toEqual({
      two: { name: 'Two', kind: 'repair', lines: [{ part: 'A' }, { part: 'B' }] },
    });
  });

  test('of two thousand bad lines each is told, and what is right of each is kept', () => {
    const lines = Array.from({ length: 2000 }, (_, i) => `  - part: P-${i}\n    quantity: q${i}\n`).join('');
    const { problems, value } = job(lines);
    expect(problems).toHaveLength(2000);
    expect(value.lines).toHaveLength(2000);
  });
});
