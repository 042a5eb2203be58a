import { describe, expect, it } from 'vitest';
import type { CallHierarchyItem } from 'vscode-languageserver-types';
import {
  incomingCalls,
  outgoingCalls,
  prepareCallHierarchy,
} from '../../../server/src/features/call-hierarchy.ts';
import { prepareTypeHierarchy, subtypes, supertypes } from '../../../server/src/features/type-hierarchy.ts';
import { fixture } from './fixture.ts';

const BOOK = `
  === r.rules.yaml
  kind: rules
  roles:
    converter: { name: Torque converter, of: part }
  findings:
    debris: { name: Debris, kind: yes-no }
  rules:
    new-converter:
      when: { finding: debris }
      requires: [{ role: converter }]
      because: It holds debris.
      basis: practice
    keep-converter:
      when: { role: converter }
      because: Nothing.
      basis: practice
  === p.parts.yaml
  kind: parts
  parts:
    TC-1: { name: Converter, kind: converter, role: converter, superseded-by: { part: TC-2 } }
    TC-0: { name: Converter, kind: converter, superseded-by: { part: TC-1 } }
    TC-00: { name: Converter, kind: converter, superseded-by: { part: TC-1 } }
    TC-2: { name: Converter, kind: converter, role: converter, alternates: [TC-1] }
    KIT: { name: Kit, kind: kit, contents: [{ part: TC-1 }, { part: TC-1 }] }
  === l.labor.yaml
  kind: labor
  steps:
    unit-out: { name: Out, hours: 2 }
  operations:
    fit: { name: Fit, work: install, steps: [unit-out], parts: [{ role: converter }], includes: [check] }
    check: { name: Check, work: bench }
  === t.template.yaml
  kind: template
  id: overhaul
  name: Overhaul
  lines:
    - part: TC-1
    - operation: fit
  === j.job.yaml
  kind: job
  id: J-1
  lines:
    - part: T<|>C-1
    - template: overhaul
`;

const at = (text: string) => {
  const plain = BOOK.replace('<|>', '');
  const index = plain.indexOf(text);
  return fixture(`${plain.slice(0, index)}<|>${plain.slice(index)}`);
};

function calls(text: string, direction: 'in' | 'out'): string[] {
  const f = at(text);
  const [item] = prepareCallHierarchy(f.book, f.file, f.position);
  if (!item) return ['nothing here'];
  const found =
    direction === 'in'
      ? incomingCalls(f.book, item).map((one) => ({ ...one, other: one.from, uri: one.from.uri }))
      : outgoingCalls(f.book, item).map((one) => ({ ...one, other: one.to, uri: item.uri }));
  return found.map(
    ({ other, fromRanges, uri }) =>
      `${other.name} < ${f.show(fromRanges.map((range) => ({ uri, range }))).join(' | ')}`,
  );
}

describe('call hierarchy', () => {
  it('says what calls for a part: those that name it and those that ask for its role', () => {
    expect(calls('TC-1:', 'in')).toEqual([
      'J-1 < j.job.yaml:4:   - part: [TC-1]',
      'TC-0 < p.parts.yaml:4:   TC-0: { name: Converter, kind: converter, superseded-by: { part: [TC-1] } }',
      'TC-00 < p.parts.yaml:5:   TC-00: { name: Converter, kind: converter, superseded-by: { part: [TC-1] } }',
      'TC-2 < p.parts.yaml:6:   TC-2: { name: Converter, kind: converter, role: converter, alternates: [[TC-1]] }',
      'KIT < p.parts.yaml:7:   KIT: { name: Kit, kind: kit, contents: [{ part: [TC-1] }, { part: TC-1 }] } | p.parts.yaml:7:   KIT: { name: Kit, kind: kit, contents: [{ part: TC-1 }, { part: [TC-1] }] }',
      'overhaul < t.template.yaml:5:   - part: [TC-1]',
      'fit < l.labor.yaml:5:   fit: { name: Fit, work: install, steps: [unit-out], parts: [{ role: [converter] }], includes: [check] }',
      'new-converter < r.rules.yaml:9:     requires: [{ role: [converter] }]',
    ]);
  });

  it('says what calls for an operation, a template, a role', () => {
    expect(calls('check:', 'in').map((one) => one.split(' ')[0])).toEqual(['fit']);
    expect(calls('overhaul\n', 'in').map((one) => one.split(' ')[0])).toEqual(['J-1']);
    expect(calls('converter: { name: Torque', 'in').map((one) => one.split(' ')[0])).toEqual([
      'fit',
      'new-converter',
      'keep-converter',
    ]);
  });

  it('says what an entry, a file, a role holds', () => {
    const names = (text: string) => calls(text, 'out').map((one) => one.split(' ')[0]);
    expect(names('fit: {')).toEqual(['unit-out', 'converter', 'check']);
    expect(names('overhaul\n')).toEqual(['TC-1', 'fit']);
    expect(names('J-1')).toEqual(['TC-1', 'overhaul']);
    expect(names('converter: { name: Torque')).toEqual(['TC-1', 'TC-2']);
    expect(names('new-converter')).toEqual(['debris', 'converter']);
  });

  it('starts from the entry around the cursor, and not from things that call for nothing', () => {
    expect(calls('It holds debris', 'out').map((one) => one.split(' ')[0])).toEqual(['debris', 'converter']);
    const f = fixture('=== s/shop.yaml\nkind: shop\nrates: { be<|>nch: { name: B, hourly: 1.00 } }\n');
    expect(prepareCallHierarchy(f.book, f.file, f.position)).toEqual([]);
  });

  it('gives items that survive the way to the client and back', () => {
    const f = at('TC-1:');
    const [item] = prepareCallHierarchy(f.book, f.file, f.position);
    expect(item).toMatchObject({
      name: 'TC-1',
      detail: 'Converter',
      tags: [1],
      data: { kind: 'part', id: 'TC-1' },
    });
    const back = JSON.parse(JSON.stringify(item)) as CallHierarchyItem;
    expect(incomingCalls(f.book, back)).toEqual(incomingCalls(f.book, item!));
    expect(f.show([{ uri: item!.uri, range: item!.selectionRange }])[0]).toContain('[TC-1]:');
  });
});

describe('type hierarchy', () => {
  it('follows supersession up and down', () => {
    const f = at('TC-1\n');
    const [item] = prepareTypeHierarchy(f.book, f.file, f.position);
    expect(item!.name).toBe('TC-1');
    expect(supertypes(f.book, item!).map((one) => one.name)).toEqual(['TC-2']);
    expect(subtypes(f.book, item!).map((one) => one.name)).toEqual(['TC-0', 'TC-00']);
    const [newest] = supertypes(f.book, item!);
    expect(supertypes(f.book, newest!)).toEqual([]);
    expect(subtypes(f.book, newest!).map((one) => one.name)).toEqual(['TC-1']);
  });

  it('is for parts only', () => {
    const f = at('fit: {');
    expect(prepareTypeHierarchy(f.book, f.file, f.position)).toEqual([]);
  });
});
