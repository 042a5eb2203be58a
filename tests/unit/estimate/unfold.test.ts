import { describe, expect, it } from 'vitest';
import type { Line } from '../../../schemas/kinds/lines.ts';
import { type Template, templateSchema } from '../../../schemas/kinds/template.ts';
import { type UnfoldLookup, unfold } from '../../../server/src/estimate/unfold.ts';

const template = (text: Record<string, unknown>): Template =>
  templateSchema.parse({ kind: 'template', name: 'A template', ...text });

const clutch = template({
  id: 'clutch',
  parameters: {
    converter: { type: 'part', role: 'torque-converter' },
    quarts: { type: 'number', default: '6' },
  },
  lines: [{ part: '$converter' }, { part: 'FL-A', quantity: '$quarts' }, { operation: 'rr-unit' }],
});
const nested = template({
  id: 'nested',
  lines: [{ template: 'clutch', with: { converter: 'TC-1' } }, { part: 'KIT' }],
});
const circle = template({ id: 'circle', lines: [{ template: 'circle' }] });
const wrong = template({
  id: 'wrong',
  parameters: { many: { type: 'text' } },
  lines: [{ part: 'FL-A', quantity: '$many' }, { part: 'KIT' }],
});

const lookup: UnfoldLookup = {
  template: (id) => ({ clutch, nested, circle, wrong })[id],
  part: (id) => ({ 'TC-1': { role: 'torque-converter' }, 'FL-A': { role: 'fluid' } })[id],
  operation: () => undefined,
};

const open = (...lines: Line[]) => unfold(lines, (i) => ['lines', i], lookup);
const ids = (lines: readonly { line: Line }[]) =>
  lines.map(({ line }) => ('part' in line ? line.part : 'operation' in line ? line.operation : '?'));

describe('unfolding templates', () => {
  it('fills parameters in, takes defaults, and says where each line comes from', () => {
    const { lines, problems } = open({ part: 'A' }, { template: 'clutch', with: { converter: 'TC-1' } });
    expect(problems).toEqual([]);
    expect(ids(lines)).toEqual(['A', 'TC-1', 'FL-A', 'rr-unit']);
    expect(lines.map((one) => one.path)).toEqual([
      ['lines', 0],
      ['lines', 1],
      ['lines', 1],
      ['lines', 1],
    ]);
    expect(lines[2]?.from).toEqual({ template: 'clutch', path: ['lines', 1] });
    expect(lines[2]?.line).toMatchObject({ part: 'FL-A' });
    expect(String((lines[2]!.line as { quantity: unknown }).quantity)).toBe('6');
  });

  it('follows templates in templates, and leaves out what the job leaves out', () => {
    expect(ids(open({ template: 'nested' }).lines)).toEqual(['TC-1', 'FL-A', 'rr-unit', 'KIT']);
    expect(ids(open({ template: 'clutch', with: { converter: 'TC-1' }, without: ['FL-A'] }).lines)).toEqual([
      'TC-1',
      'rr-unit',
    ]);
  });

  it('tells a circle, and ends', () => {
    const { lines, problems } = open({ template: 'circle' });
    expect(lines).toEqual([]);
    expect(problems).toMatchObject([
      {
        code: 'template-cycle',
        path: ['lines', 0],
        message: 'Templates use one another in a circle: circle -> circle. Take one of them out.',
      },
    ]);
  });

  it.each([
    [{ template: 'clutch' }, 'The template "clutch" needs a value for "converter": write it under `with`.'],
    [
      { template: 'clutch', with: { converter: 'TC-9' } },
      'There is no part "TC-9" in the book, which "converter" stands for.',
    ],
    [
      { template: 'clutch', with: { converter: 'FL-A' } },
      '"converter" has to be a torque-converter; FL-A is a fluid.',
    ],
  ])('tells a parameter that is missing or wrong: %o', (line, message) => {
    expect(open(line).problems.map((one) => one.message)).toContain(message);
  });

  it('keeps the other lines when one does not hold with the values given', () => {
    const { lines, problems } = open({ template: 'wrong', with: { many: 'plenty' } });
    expect(ids(lines)).toEqual(['KIT']);
    expect(problems).toMatchObject([{ code: 'template-line', path: ['lines', 0] }]);
    expect(problems[0]?.message).toContain('Line 1 of the template "wrong"');
  });
});
