import { describe, expect, it } from 'vitest';
import { Estimates } from '../../../server/src/estimate/estimates.ts';
import { diagnostics } from '../../../server/src/features/diagnostics.ts';
import { fixture } from './fixture.ts';

function told(source: string, name?: string, options?: { eol?: string }) {
  const f = fixture(source, options);
  const file = name === undefined ? f.file : f.named(name);
  return { f, file, list: diagnostics(new Estimates(f.book), file, 'pages:/') };
}

describe('diagnostics', () => {
  it('shows syntax, values, unknown ids and what is missing in one list', () => {
    const source = `
      === j.job.yaml
      kind: job
      unit: bir"ch
      opened: yesterday
      "🔧": x
      lines:
        - part: NO-🔧-1
      completed: '2026
    `;
    const { f, file, list } = told(source);
    expect(
      list.map((one) => `${one.severity} ${one.code} ${f.show([{ uri: file.uri, range: one.range }])}`),
    ).toEqual([
      '1 missing-field j.job.yaml:1: [kind: job]',
      '1 unknown-reference j.job.yaml:2: unit: [bir"ch]',
      '1 wrong-value j.job.yaml:3: opened: [yesterday]',
      '1 unknown-key j.job.yaml:4: ["🔧"]: x',
      '1 unknown-reference j.job.yaml:6:   - part: [NO-🔧-1]',
      expect.stringMatching(/^1 yaml-\S+ j\.job\.yaml:7: completed: \['2026/),
      expect.stringMatching(/^1 wrong-value j\.job\.yaml:7/),
      '2 no-jurisdiction j.job.yaml:1: [kind: job]',
    ]);
    expect(told(source, undefined, { eol: '\r\n' }).list.map((one) => one.range)).toEqual(
      list.map((one) => one.range),
    );
  });

  it('names the page of the code and carries what mends need', () => {
    const { list } = told(
      '=== p.parts.yaml\nkind: parts\nparts:\n  A: { name: A, kind: soft, costs: 1.00 }\n',
    );
    expect(list).toEqual([
      {
        range: { start: { line: 2, character: 28 }, end: { line: 2, character: 33 } },
        severity: 1,
        code: 'unknown-key',
        source: 'gearquill',
        message: expect.stringContaining('Did you mean "cost"?'),
        codeDescription: { href: 'pages:/unknown-key.md' },
        data: { path: ['parts', 'A', 'costs'], onKey: true, replaceKey: 'cost' },
      },
    ]);
  });

  it('points to the other place of an id that is defined twice', () => {
    const { f, list } = told(
      `
      === a.parts.yaml
      kind: parts
      parts:
        A: { name: A, kind: soft }
      === b.parts.yaml
      kind: parts
      parts:

        A: { name: B, kind: soft }
    `,
    );
    const twice = list.find((one) => one.code === 'defined-twice')!;
    expect(f.show(twice.relatedInformation!.map(({ location }) => location))).toEqual([
      'b.parts.yaml:4:   [A]: { name: B, kind: soft }',
    ]);
  });

  it('says nothing about files of others, and something about a kind that is unknown', () => {
    expect(told('=== compose.yaml\nservices:\n  web: {}\n').list).toEqual([]);
    expect(told('=== a.yaml\nkind: prats\n').list.map((one) => one.code)).toEqual(['unknown-kind']);
    expect(told('=== a.parts.yaml\nparts: {}\n').list.map((one) => one.code)).toEqual(['missing-field']);
  });

  it('shows the most severe thousand of a file', () => {
    const entries = Array.from({ length: 1500 }, (_, i) => `  P-${i}: { name: A }\n`).join('');
    expect(told(`=== p.parts.yaml\nkind: parts\nparts:\n${entries}`).list).toHaveLength(1000);
  });
});
