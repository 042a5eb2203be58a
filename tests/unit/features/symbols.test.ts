import { describe, expect, it } from 'vitest';
import type { DocumentSymbol } from 'vscode-languageserver-types';
import { documentSymbols } from '../../../server/src/features/symbols.ts';
import { workspaceSymbols } from '../../../server/src/features/workspace-symbols.ts';
import { fixture } from './fixture.ts';

function outline(symbols: readonly DocumentSymbol[], depth = 0): string[] {
  return symbols.flatMap((symbol) => {
    const { start, end } = symbol.range;
    const tag = symbol.tags ? ' (outdated)' : '';
    const line = `${'  '.repeat(depth)}${symbol.name}${symbol.detail ? ` = ${symbol.detail}` : ''}${tag} #${symbol.kind} ${start.line}-${end.line}`;
    return [line, ...outline(symbol.children ?? [], depth + 1)];
  });
}

const PARTS = `
  === p.parts.yaml
  # head
  kind: parts
  parts:
    # the old one
    TC-1: { name: Converter, kind: converter, superseded-by: { part: "TC 🔧" } }
    "TC 🔧":
      name: 'Converter: new'

  x-notes: [a, b]
`;

describe('documentSymbols', () => {
  it('outlines a catalog', () => {
    expect(outline(documentSymbols(fixture(PARTS).file))).toEqual([
      'kind = parts #7 1-1',
      'parts #19 2-6',
      '  TC-1 = Converter (outdated) #14 4-4',
      '    name = Converter #7 4-4',
      '    kind = converter #7 4-4',
      '    superseded-by #19 4-4',
      '      part = TC 🔧 #7 4-4',
      '  TC 🔧 = Converter: new #14 5-6',
      '    name = Converter: new #7 6-6',
      'x-notes #18 8-8',
      '  a #7 8-8',
      '  b #7 8-8',
    ]);
  });

  it('outlines a job, its lines called by what they sell', () => {
    expect(
      outline(
        documentSymbols(
          fixture(`
            === j.job.yaml
            kind: job
            options:
              main:
                name: Overhaul
                lines:
                  - part: TC-1
                    quantity: 2
                  - { operation: rr }
                  -
          `).file,
        ),
      ),
    ).toEqual([
      'kind = job #7 0-0',
      'options #19 1-8',
      '  main = Overhaul #10 2-8',
      '    name = Overhaul #7 3-3',
      '    lines #18 4-8',
      '      part TC-1 #19 5-6',
      '        part = TC-1 #7 5-5',
      '        quantity = 2 #7 6-6',
      '      operation rr #19 7-7',
      '        operation = rr #7 7-7',
      '      3 #7 8-8',
    ]);
  });

  it('marks ids inside their quotes, and every selection lies in its range', () => {
    const f = fixture(PARTS);
    const entries = documentSymbols(f.file)[1]!.children!;
    expect(f.show(entries.map((one) => ({ uri: f.file.uri, range: one.selectionRange })))).toEqual([
      'p.parts.yaml:5:   [TC-1]: { name: Converter, kind: converter, superseded-by: { part: "TC 🔧" } }',
      'p.parts.yaml:6:   "[TC 🔧]":',
    ]);
  });

  it('shows the entries of a large catalog without what is inside', () => {
    const entry = (i: number) => `  ${i % 2 ? `P-${i}` : `"P-${i}"`}: { name: N${i}, kind: soft }\n`;
    const entries = Array.from({ length: 3000 }, (_, i) => entry(i)).join('');
    const f = fixture(`=== p.parts.yaml\nkind: parts\nparts:\n${entries}`);
    const [, parts] = documentSymbols(f.file);
    expect(parts!.children).toHaveLength(3000);
    expect(outline(parts!.children!.slice(0, 2))).toEqual(['P-0 = N0 #14 2-2', 'P-1 = N1 #14 3-3']);
    expect(parts!.children!.slice(0, 2).map((one) => one.selectionRange)).toEqual([
      { start: { line: 2, character: 3 }, end: { line: 2, character: 6 } },
      { start: { line: 3, character: 2 }, end: { line: 3, character: 5 } },
    ]);
  });

  it('gives broken and empty files what outline they have', () => {
    expect(outline(documentSymbols(fixture('=== a.job.yaml\n').file))).toEqual([]);
    expect(outline(documentSymbols(fixture('=== a.job.yaml\n"": x\nfoo\n').file))).toEqual(['"" = x #7 0-0']);
  });
});

describe('workspaceSymbols', () => {
  const f = fixture(`
    === p.parts.yaml
    kind: parts
    parts:
      TC-1: { name: Torque converter, kind: converter, status: discontinued }
      XTC-12: { name: Housing, kind: hard }
      A-1: { name: Pan gasket, kind: soft }
    === l.labor.yaml
    kind: labor
    operations:
      tc: { name: Fit the converter, work: install }
    === t.template.yaml
    kind: template
    id: pan-service
    name: Pan service
    lines: []
  `);
  const found = (query: string, most?: number) =>
    workspaceSymbols(f.workspace.books, query, most).map(
      (one) => `${one.name} #${one.kind} ${one.containerName}${one.tags ? ' (outdated)' : ''}`,
    );

  it('puts the id first, then its start, its middle, then names', () => {
    expect(found('TC')).toEqual([
      'tc Fit the converter #12 l.labor.yaml',
      'TC-1 Torque converter #14 p.parts.yaml (outdated)',
      'XTC-12 Housing #14 p.parts.yaml',
    ]);
    expect(found('pan')).toEqual([
      'pan-service Pan service #2 t.template.yaml',
      'A-1 Pan gasket #14 p.parts.yaml',
    ]);
    expect(found('tqcv')).toEqual(['TC-1 Torque converter #14 p.parts.yaml (outdated)']);
    expect(found('zzz')).toEqual([]);
  });

  it('gives at most so many, with their places', () => {
    expect(found('', 2)).toHaveLength(2);
    const [first] = workspaceSymbols(f.workspace.books, 'pan-service');
    expect(f.show([first!.location as never])).toEqual(['t.template.yaml:2: id: [pan-service]']);
  });
});
