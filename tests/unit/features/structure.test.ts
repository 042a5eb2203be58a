import { describe, expect, it } from 'vitest';
import type { SelectionRange } from 'vscode-languageserver-types';
import { folding } from '../../../server/src/features/folding.ts';
import { selection } from '../../../server/src/features/selection.ts';
import { fixture } from './fixture.ts';

const PARTS = `
  === p.parts.yaml
  # Parts of the shop.
  # Prices without tax.
  kind: parts
  parts:
    TC-1:
      name: Converter
      note: |
        Two lines
        of text.

    # wide
    # one
    G-1: { name: Gasket,
           kind: soft }
    G-2: { name: Gasket }
`;

describe('folding', () => {
  const fold = (source: string, most?: number) =>
    folding(fixture(source).file, most).map(
      ({ startLine, endLine, kind }) => `${startLine}-${endLine}${kind ? ` ${kind}` : ''}`,
    );

  it('folds catalogs, entries, texts and comments', () => {
    expect(fold(PARTS)).toEqual(['3-14', '4-8', '12-13', '0-1 comment', '6-8', '10-11 comment']);
  });

  it('folds inside jobs', () => {
    expect(
      fold(`
        === j.job.yaml
        kind: job
        lines:
          - part: A
            quantity: 2
          - part: B
        options:
          main:
            name: Main
      `),
    ).toEqual(['1-4', '5-7', '2-3', '6-7']);
  });

  it('keeps to the number the editor can show, outer ranges first', () => {
    expect(fold(PARTS, 2)).toEqual(['3-14', '4-8']);
    expect(fold('=== a.job.yaml\n')).toEqual([]);
  });
});

describe('selection', () => {
  const grow = (source: string) => {
    const f = fixture(source);
    const out: string[] = [];
    for (let at: SelectionRange | undefined = selection(f.file, [f.position])[0]; at; at = at.parent)
      out.push(
        ...f.show([{ uri: f.file.uri, range: at.range }]).map((line) => line.replace('p.parts.yaml:', '')),
      );
    return out;
  };

  it('grows from the word to the file', () => {
    expect(
      grow(`
        === p.parts.yaml
        kind: parts
        parts:
          A:
            fits: [x, "a🔧<|>b"]
          B: {}
      `),
    ).toEqual([
      '4:     fits: [x, "a🔧[]b"]',
      '4:     fits: [x, "[a🔧b]"]',
      '4:     fits: [x, ["a🔧b"]]',
      '4:     fits: [[x, "a🔧b"]]',
      '4:     [fits: [x, "a🔧b"]]',
      '3:   [A:…4]',
      '2: [parts:…5]',
      '1: [kind: parts…6]',
    ]);
  });

  it('starts at a key, or at an empty line', () => {
    expect(grow('=== p.parts.yaml\nkind: parts\nparts:\n  A:\n    na<|>me: X\n').slice(0, 4)).toEqual([
      '4:     na[]me: X',
      '4:     [name]: X',
      '4:     [name: X]',
      '3:   [A:…4]',
    ]);
    expect(grow('=== p.parts.yaml\nkind: parts\n<|>\n')).toEqual(['2: []', '1: [kind: parts…3]']);
  });
});
