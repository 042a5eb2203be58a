import { describe, expect, it } from 'vitest';
import { definition } from '../../../server/src/features/definition.ts';
import { highlights } from '../../../server/src/features/highlights.ts';
import { references } from '../../../server/src/features/references.ts';
import { type Fixture, fixture } from './fixture.ts';

const BOOK = `
  === shop.yaml
  kind: shop
  rates:
    bench: { name: Bench, hourly: 155.00 }
  === b.units.yaml
  kind: units
  units:
    birch-6: { name: Birch-6, layout: front, fluid-class: B, traits: [bands] }
    cedar-8: { name: Cedar-8, layout: front, fluid-class: B, traits: [bands] }
  === l.labor.yaml
  kind: labor
  operations:
    rr-unit:
      name: Remove and refit
      work: removal
      rate: bench
      hours-by: { birch-6: 7.8 }
      adders:
        rust: { name: Rust, hours: 0.5, judged: yes }
    fit-pan:
      name: Pan
      work: bench
      adders:
        rust: { name: Rust, hours: 0.2 }
  === p.parts.yaml
  kind: parts
  parts:
    "0071":
      name: Pan gasket
      kind: soft
      fits: [birch-6]
    TC-1:
      name: Converter
      kind: converter
      superseded-by: { part: '0071' }
  === t.template.yaml
  kind: template
  id: pan-service
  name: Pan service
  parameters:
    gasket: { type: part, default: TC-1 }
    count: { type: number, default: 1 }
  lines:
    - part: $gasket
    - operation: fit-pan
      adders: [rust]
  === j.job.yaml
  kind: job
  id: J-1
  opened: 2026-03-01
  unit: birch-6
  options:
    overhaul:
      name: Overhaul
      kind: overhaul
      lines:
        - part: 0071
        - operation: rr-unit
          adders: [rust]
        - template: pan-service
          with: { gasket: "0071", count: 4 }
  chosen: overhaul
`;

/** The book with a cursor put into the nth place where \`text\` stands, \`into\` units in. */
function at(text: string, nth = 0, source = BOOK): Fixture {
  let index = -1;
  for (let i = 0; i <= nth; i++) index = source.indexOf(text, index + 1);
  return fixture(`${source.slice(0, index)}<|>${source.slice(index)}`);
}

function define(f: Fixture): string[] {
  return f.show(
    definition(f.book, f.file, f.position).map((link) => ({
      uri: link.targetUri,
      range: link.targetSelectionRange,
    })),
  );
}

function refer(f: Fixture, includeDeclaration = true): string[] {
  return f.show(references(f.book, f.file, f.position, { includeDeclaration }));
}

describe('definition', () => {
  it('finds the entry of a part, through quotes and without', () => {
    const entry = ['p.parts.yaml:3:   "[0071]":'];
    expect(define(at("0071' }"))).toEqual(entry);
    expect(define(at('0071\n'))).toEqual(entry);
    expect(define(at('0071", count'))).toEqual(entry);
    expect(define(at('0071":'))).toEqual(entry);
  });

  it('finds what a key names', () => {
    expect(define(at('birch-6: 7.8'))).toEqual([
      'b.units.yaml:3:   [birch-6]: { name: Birch-6, layout: front, fluid-class: B, traits: [bands] }',
    ]);
  });

  it('finds an add-on through the operation of its line', () => {
    expect(define(at('rust]', 1))).toEqual([
      'l.labor.yaml:9:       [rust]: { name: Rust, hours: 0.5, judged: yes }',
    ]);
    expect(define(at('rust]', 0))).toEqual(['l.labor.yaml:14:       [rust]: { name: Rust, hours: 0.2 }']);
  });

  it('finds a parameter inside its template and from the line that fills it', () => {
    const declared = ['t.template.yaml:5:   [gasket]: { type: part, default: TC-1 }'];
    expect(define(at('$gasket'))).toEqual(declared);
    expect(define(at('gasket: "0071"'))).toEqual(declared);
  });

  it('finds the option of the job and the file of a template', () => {
    expect(define(at('overhaul', 2))).toEqual(['j.job.yaml:6:   [overhaul]:']);
    expect(define(at('pan-service', 1))).toEqual(['t.template.yaml:2: id: [pan-service]']);
  });

  it('shows the whole entry behind the link', () => {
    const f = at('0071\n');
    const [link] = definition(f.book, f.file, f.position);
    expect(f.show([{ uri: link!.targetUri, range: link!.targetRange }])).toEqual([
      'p.parts.yaml:3:   ["0071":…6]',
    ]);
    expect(link!.originSelectionRange).toEqual({
      start: { line: 9, character: 14 },
      end: { line: 9, character: 18 },
    });
  });

  it('finds several places for an id that several may bring into being', () => {
    expect(define(at('bands]'))).toHaveLength(2);
  });

  it('finds the line of a price file and the file itself', () => {
    const source = `
      === shop.yaml
      kind: shop
      === s.parts.yaml
      kind: parts
      from:
        file: lists/spring.csv
        columns: { number: No, name: Text, cost: Net }
        kind: soft
      === lists/spring.csv
      No,Text,Net
      G-1,Gasket,4.10
      G-2,"Gasket, wide",5.20
      === j.job.yaml
      kind: job
      lines:
        - part: G-2
    `;
    const link = (text: string) => {
      const f = at(text, 0, source);
      return definition(f.book, f.file, f.position).map((one) => [
        one.targetUri,
        one.targetSelectionRange.start,
      ]);
    };
    expect(link('G-2\n')).toEqual([['file:///shop/lists/spring.csv', { line: 2, character: 0 }]]);
    expect(link('lists/spring.csv\n')).toEqual([
      ['file:///shop/lists/spring.csv', { line: 0, character: 0 }],
    ]);
  });

  it('finds nothing for words, unknown ids and empty places', () => {
    expect(define(at('Pan gasket'))).toEqual([]);
    expect(define(at('removal'))).toEqual([]);
    expect(define(at('rust]', 0, BOOK.replace('operation: fit-pan', 'operation: no-such')))).toEqual([]);
    expect(define(fixture('=== a.job.yaml\nkind: job\nunit: no<|>ne\n'))).toEqual([]);
    expect(define(fixture('=== a.job.yaml\n<|>'))).toEqual([]);
  });
});

describe('references', () => {
  it('lists a part across the book, its entry first', () => {
    const all = [
      'p.parts.yaml:3:   "[0071]":',
      'j.job.yaml:10:       - part: [0071]',
      'j.job.yaml:14:         with: { gasket: "[0071]", count: 4 }',
      "p.parts.yaml:10:     superseded-by: { part: '[0071]' }",
    ];
    expect(refer(at('0071":'))).toEqual(all);
    expect(refer(at('0071\n'))).toEqual(all);
    expect(refer(at('0071":'), false)).toEqual(all.slice(1));
  });

  it('counts keys that name an id', () => {
    expect(refer(at('birch-6:'), false)).toEqual([
      'j.job.yaml:4: unit: [birch-6]',
      'l.labor.yaml:7:     hours-by: { [birch-6]: 7.8 }',
      'p.parts.yaml:6:     fits: [[birch-6]]',
    ]);
  });

  it('keeps add-ons of the same name on different operations apart', () => {
    expect(refer(at('rust: { name: Rust, hours: 0.5'))).toEqual([
      'l.labor.yaml:9:       [rust]: { name: Rust, hours: 0.5, judged: yes }',
      'j.job.yaml:12:         adders: [[rust]]',
    ]);
    expect(refer(at('rust]', 0))).toEqual([
      'l.labor.yaml:14:       [rust]: { name: Rust, hours: 0.2 }',
      't.template.yaml:10:     adders: [[rust]]',
    ]);
  });

  it('follows a parameter into the jobs that fill it', () => {
    expect(refer(at('gasket: { type'))).toEqual([
      't.template.yaml:5:   [gasket]: { type: part, default: TC-1 }',
      'j.job.yaml:14:         with: { [gasket]: "0071", count: 4 }',
      't.template.yaml:8:   - part: $[gasket]',
    ]);
  });

  it('counts what stands for a parameter as an id when its type says so', () => {
    expect(refer(at('TC-1:'), false)).toEqual([
      't.template.yaml:5:   gasket: { type: part, default: [TC-1] }',
    ]);
    expect(refer(at('4 }'))).toEqual([]);
    expect(refer(at('1 }', 1))).toEqual([]);
  });

  it('lists ids that nothing defines', () => {
    expect(refer(fixture('=== a.job.yaml\nkind: job\nlines:\n  - part: X\n  - part: <|>X\n'))).toEqual([
      'a.job.yaml:3:   - part: [X]',
      'a.job.yaml:4:   - part: [X]',
    ]);
  });
});

describe('highlights', () => {
  it('stays in the file and tells defining from naming', () => {
    const f = at('overhaul', 0);
    const shown = highlights(f.book, f.file, f.position).map(
      ({ range, kind }) => `${kind} ${f.show([{ uri: f.file.uri, range }])[0]}`,
    );
    expect(shown).toEqual(['3 j.job.yaml:6:   [overhaul]:', '2 j.job.yaml:15: chosen: [overhaul]']);
    const part = at('0071":');
    expect(highlights(part.book, part.file, part.position).map((one) => one.kind)).toEqual([3, 2]);
  });
});
