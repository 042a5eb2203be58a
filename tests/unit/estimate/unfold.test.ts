import { describe, expect, it } from 'vitest';
import { type Line, templateLine } from '../../../schemas/kinds/lines.ts';
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

describe('conditions', () => {
  const towing = template({
    id: 'towing',
    when: { unit: ['birch-6'] },
    lines: [
      { part: 'KIT' },
      { operation: 'remove-transfer-case', when: { drive: ['4wd', 'awd'] } },
      { part: 'FL-A', when: { finding: 'debris' } },
      { template: 'nested', when: { unit: ['alder-4'] } },
    ],
  });
  const withConditions = (answers: Record<string, 'yes' | 'no' | 'unknown'>) =>
    unfold([{ template: 'towing' }], (i) => ['lines', i], {
      ...lookup,
      template: (id) => ({ towing, nested, clutch })[id],
      holds: (when) => answers[Object.keys(when)[0]!] ?? 'no',
    });

  it('keep lines off a job of which they do not hold', () => {
    const { lines, written, problems } = withConditions({ drive: 'yes', unit: 'yes', finding: 'no' });
    expect(ids(lines)).toEqual(['KIT', 'remove-transfer-case', 'TC-1', 'FL-A', 'rr-unit', 'KIT']);
    expect(written[1]).toEqual({ operation: 'remove-transfer-case' });
    expect(problems).toEqual([]);
  });

  it('that nobody can answer are told, and so is a template that is meant for other jobs', () => {
    const { lines, problems } = withConditions({ drive: 'unknown', finding: 'yes' });
    expect(ids(lines)).toEqual(['KIT', 'FL-A']);
    expect(problems.map(({ code, severity, path, message }) => [code, severity, path, message])).toEqual([
      [
        'template-for-others',
        'warning',
        ['lines', 0, 'template'],
        'The template "towing" is meant for: birch-6. Nothing of this job says so; look whether its lines fit.',
      ],
      [
        'template-condition',
        'warning',
        ['lines', 0],
        'Line 2 of the template "towing" is for: 4wd or awd. The job does not say how the vehicle is driven, so the line is left out. Write: vehicle: { drive: ... }',
      ],
    ]);
  });

  it('hold of everything where no job is there to ask', () => {
    expect(
      ids(
        unfold([{ template: 'towing' }], () => [], {
          ...lookup,
          template: (id) => ({ towing, nested, clutch })[id],
        }).lines,
      ),
    ).toHaveLength(7);
  });
});

describe('what differs on the job', () => {
  const changing = (change: Record<string, Record<string, string>>) =>
    unfold(
      [templateLine.parse({ template: 'clutch', with: { converter: 'TC-1' }, change })],
      (i) => ['lines', i],
      lookup,
    );

  it('counts instead of what the template says', () => {
    const { lines, problems } = changing({
      'FL-A': { quantity: '7.5', price: '9.00', reason: 'as agreed' },
      'rr-unit': { hours: '4.0', reason: 'rusted' },
    });
    expect(problems).toEqual([]);
    expect(lines.map(({ line }) => JSON.parse(JSON.stringify(line)))).toEqual([
      { part: 'TC-1' },
      { part: 'FL-A', quantity: '7.5', price: '9', reason: 'as agreed' },
      { operation: 'rr-unit', hours: '4', reason: 'rusted' },
    ]);
  });

  it('says of what line, and is told when there is no such line or field', () => {
    const { problems } = changing({ 'FL-B': { quantity: '2' }, 'TC-1': { hours: '3' } });
    expect(problems.map(({ code, path, message }) => `${code} ${path.join('.')}: ${message}`)).toEqual([
      'template-change lines.0.change.TC-1.hours: The line of TC-1 has no "hours" to change.',
      'template-change lines.0.change.FL-B: The template "clutch" brings no line of FL-B to this job, so there is nothing to change. Did you mean "FL-A"?',
    ]);
  });
});
