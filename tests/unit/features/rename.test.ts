import { describe, expect, it } from 'vitest';
import { prepareRename, rename } from '../../../server/src/features/rename.ts';
import { fixture } from './fixture.ts';

function renamed(source: string, name: string, options?: { eol?: string }): string[] | string {
  const f = fixture(source, options);
  try {
    return f.changes(rename(f.book, f.file, f.position, name));
  } catch (error) {
    return (error as Error).message;
  }
}

function prepared(source: string): unknown {
  const f = fixture(source);
  try {
    const found = prepareRename(f.book, f.file, f.position) as never as
      | { range: never; placeholder: string }
      | undefined;
    return found && [found.placeholder, ...f.show([{ uri: f.file.uri, range: found.range }])];
  } catch (error) {
    return (error as Error).message;
  }
}

const PARTS = `
  === p.parts.yaml
  kind: parts
  parts:
    # the wide one
    TC-1: # supplier calls it 88
      name: Converter, see TC-1
      kind: converter
    "TC-2":
      name: Converter
      kind: converter
      superseded-by: { part: 'TC-1' }   # since May
  === j.job.yaml
  kind: job
  id: J-1
  lines:
    - part: T<|>C-1 # fits
      quantity: 2
  lock:
    parts:
      TC-1: { price: 10.00 }
`;

describe('rename', () => {
  it('renumbers a part across the book; comments, quotes and prose stay', () => {
    const answer = [
      'p.parts.yaml',
      '-   TC-1: # supplier calls it 88',
      '+   TC-9R: # supplier calls it 88',
      "-     superseded-by: { part: 'TC-1' }   # since May",
      "+     superseded-by: { part: 'TC-9R' }   # since May",
      'j.job.yaml',
      '-   - part: TC-1 # fits',
      '+   - part: TC-9R # fits',
      '-     TC-1: { price: 10.00 }',
      '+     TC-9R: { price: 10.00 }',
    ];
    expect(renamed(PARTS, 'TC-9R')).toEqual(answer);
    expect(renamed(PARTS, 'TC-9R', { eol: '\r\n' })).toEqual(answer);
  });

  it('adds quotes where the new number needs them', () => {
    expect(renamed(PARTS, '9: R #1 🔧')).toEqual([
      'p.parts.yaml',
      '-   TC-1: # supplier calls it 88',
      '+   "9: R #1 🔧": # supplier calls it 88',
      "-     superseded-by: { part: 'TC-1' }   # since May",
      "+     superseded-by: { part: '9: R #1 🔧' }   # since May",
      'j.job.yaml',
      '-   - part: TC-1 # fits',
      '+   - part: "9: R #1 🔧" # fits',
      '-     TC-1: { price: 10.00 }',
      '+     "9: R #1 🔧": { price: 10.00 }',
    ]);
  });

  it('gives every edit a word why', () => {
    const f = fixture(PARTS);
    const labels = rename(f.book, f.file, f.position, 'X').flatMap(({ edits }) =>
      edits.map((edit) => edit.label),
    );
    expect(labels).toEqual([
      'The part itself',
      'Where the part is named',
      'Where the part is named',
      'Where the part is named',
    ]);
  });

  it('renames what a file is called by, and does nothing for the same name', () => {
    const source = `
      === t.template.yaml
      kind: template
      id: pan
      name: Pan
      lines: []
      === j.job.yaml
      kind: job
      lines:
        - template: p<|>an
    `;
    expect(renamed(source, 'pan-service')).toEqual([
      't.template.yaml',
      '- id: pan',
      '+ id: pan-service',
      'j.job.yaml',
      '-   - template: pan',
      '+   - template: pan-service',
    ]);
    expect(renamed(source, 'pan')).toEqual([]);
  });

  it('renames a parameter in its template and where it is filled', () => {
    const source = `
      === t.template.yaml
      kind: template
      id: pan
      name: Pan
      parameters:
        gask<|>et: { type: part }
      lines:
        - part: $gasket
        - part: "$gasket"
      === j.job.yaml
      kind: job
      lines:
        - template: pan
          with: { gasket: X }
    `;
    expect(renamed(source, 'seal')).toEqual([
      't.template.yaml',
      '-   gasket: { type: part }',
      '+   seal: { type: part }',
      '-   - part: $gasket',
      '+   - part: $seal',
      '-   - part: "$gasket"',
      '+   - part: "$seal"',
      'j.job.yaml',
      '-     with: { gasket: X }',
      '+     with: { seal: X }',
    ]);
    expect(renamed(source, 'wide seal')).toMatch(/^"wide seal" cannot be a parameter/);
  });

  it('renames only the add-on of this operation', () => {
    expect(
      renamed(
        `
        === l.labor.yaml
        kind: labor
        operations:
          a:
            adders: { rust: { hours: 1 } }
          b:
            adders: { rust: { hours: 2 } }
        === j.job.yaml
        kind: job
        lines:
          - operation: b
            adders: [ru<|>st]
          - operation: a
            adders: [rust]
      `,
        'rusted',
      ),
    ).toEqual([
      'l.labor.yaml',
      '-     adders: { rust: { hours: 2 } }',
      '+     adders: { rusted: { hours: 2 } }',
      'j.job.yaml',
      '-     adders: [rust]',
      '+     adders: [rusted]',
    ]);
  });

  it('lets repeats follow what they repeat', () => {
    const source = `
      === p.parts.yaml
      kind: parts
      parts:
        G<|>: { role: gasket }
        A: { alternates: &all [G] }
        B: { alternates: *all }
    `;
    expect(renamed(source, 'H')).toEqual([
      'p.parts.yaml',
      '-   G: { role: gasket }',
      '+   H: { role: gasket }',
      '-   A: { alternates: &all [G] }',
      '+   A: { alternates: &all [H] }',
    ]);
  });

  it('refuses and says why', () => {
    expect(renamed(PARTS, 'TC-2')).toBe(
      'There is a part "TC-2" already, in p.parts.yaml; the two would become one. Choose another name.',
    );
    expect(renamed(PARTS, ' TC')).toBe('An id cannot begin or end with a space.');
    expect(renamed(PARTS, '')).toBe('An id cannot be empty.');
    expect(renamed('=== j.job.yaml\nkind: job\nunit: bir<|>ch\n', 'x')).toMatch(
      /^There is no unit family "birch" in this book/,
    );
    expect(renamed('=== j.job.yaml\nkind: j<|>ob\n', 'x')).toBe(
      'There is no id at this place that could be renamed.',
    );
    expect(
      renamed(
        `
        === p.parts.yaml
        kind: parts
        parts: { A: { role: x } }
        === l.labor.yaml
        kind: labor
        operations: { fit: { work: bench } }
        === j.job.yaml
        kind: job
        lines:
          - template: t
            without: [<|>A]
      `,
        'fit',
      ),
    ).toMatch(/^j.job.yaml, line 4 could then mean the operation "fit" as well/);
    expect(
      renamed(
        `
        === u.units.yaml
        kind: units
        units: { alder: { name: A }, }
        === l.labor.yaml
        kind: labor
        operations:
          fit: { hours-by: { al<|>der: 1, oak: 2 } }
      `,
        'oak',
      ),
    ).toMatch(/^"oak" cannot be written at l.labor.yaml, line 3: its group has that name already/);
  });

  it('refuses a number that comes from a price file', () => {
    expect(
      prepared(`
        === p.parts.yaml
        kind: parts
        from: { file: a.csv, columns: { number: No }, kind: soft }
        === a.csv
        No
        G-1
        === j.job.yaml
        kind: job
        lines: [{ part: G<|>-1 }]
      `),
    ).toMatch(/^The part "G-1" comes from a supplier's price file/);
  });
});

describe('prepareRename', () => {
  it('marks the id without quotes and sign', () => {
    expect(prepared(PARTS.replace('T<|>C-1 #', "'TC-1<|>' #"))).toEqual([
      'TC-1',
      "j.job.yaml:4:   - part: '[TC-1]' # fits",
    ]);
    expect(prepared('=== j.job.yaml\nki<|>nd: job\n')).toBeUndefined();
  });
});
