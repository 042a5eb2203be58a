import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { BookFile } from '../../../server/src/book/file.ts';
import {
  semanticTokens,
  semanticTokensIn,
  TOKEN_MODIFIERS,
  TOKEN_TYPES,
  tokensDelta,
} from '../../../server/src/features/semantic-tokens.ts';
import { fixture } from './fixture.ts';

/** `line: text type modifiers` of each token. */
function decoded(file: BookFile, data: readonly number[]): string[] {
  const lines = file.source.text().split(/\r\n|\n/);
  const out: string[] = [];
  let line = 0;
  let character = 0;
  for (let i = 0; i < data.length; i += 5) {
    const [down, right, length, type, mods] = data.slice(i, i + 5) as [
      number,
      number,
      number,
      number,
      number,
    ];
    character = down === 0 ? character + right : right;
    line += down;
    const words = TOKEN_MODIFIERS.filter((_, bit) => mods & (1 << bit));
    out.push(
      [`${line}:`, lines[line]!.slice(character, character + length), TOKEN_TYPES[type], ...words].join(' '),
    );
  }
  return out;
}

const BOOK = `
  === j.job.yaml
  kind: job
  id: J-1
  opened: 2026-03-01
  unit: 🔧-6
  lines:
    - part: "OLD-1"
      quantity: 2
      price: 10.50
      discount: 5%
      note: plain words
    - fill: dry
      part: F-1
      loss: 1 qt
      optional: yes
      reason: |
        several
        lines
  === p.parts.yaml
  kind: parts
  parts:
    OLD-1: { name: A, kind: soft, superseded-by: { part: NEW-1 } }
    NEW-1: { name: B, kind: soft }
  === t.template.yaml
  kind: template
  id: t
  name: T
  parameters: { fluid: { type: part, default: F-1 } }
  lines: [{ fill: dry, part: $fluid, without: 1 }]
`;

describe('semanticTokens', () => {
  it('colours a job by meaning', () => {
    const { book, file } = fixture(BOOK);
    expect(decoded(file, semanticTokens(book, file)!)).toEqual([
      '0: job enumMember',
      '1: J-1 namespace definition',
      '2: 2026-03-01 number date',
      '3: 🔧-6 class',
      '5: OLD-1 variable deprecated',
      '6: 2 number',
      '7: 10.50 number money',
      '8: 5% number percent',
      '10: dry enumMember',
      '11: F-1 variable',
      '12: 1 qt number quantity',
      '13: yes keyword',
    ]);
  });

  it('colours parameters and catalog keys, in CRLF files as well', () => {
    const { book, named } = fixture(BOOK, { eol: '\r\n' });
    const template = named('t.template.yaml');
    expect(decoded(template, semanticTokens(book, template)!)).toEqual([
      '0: template enumMember',
      '1: t macro definition',
      '3: fluid parameter definition',
      '3: part enumMember',
      '4: dry enumMember',
      '4: $fluid parameter',
    ]);
    const parts = named('p.parts.yaml');
    expect(decoded(parts, semanticTokens(book, parts)!)).toEqual([
      '0: parts enumMember',
      '2: OLD-1 variable definition deprecated',
      '2: soft enumMember',
      '2: NEW-1 variable',
      '3: NEW-1 variable definition',
      '3: soft enumMember',
    ]);
  });

  it('colours what is on the screen', () => {
    const { book, named } = fixture(BOOK);
    const file = named('p.parts.yaml');
    const range = { start: { line: 3, character: 0 }, end: { line: 3, character: 5 } };
    expect(decoded(file, semanticTokensIn(book, file, range))).toEqual([
      '3: NEW-1 variable definition',
      '3: soft enumMember',
    ]);
  });

  it('gives no overlapping tokens for repeated values', () => {
    const { book, file } = fixture(`
      === p.parts.yaml
      kind: parts
      parts:
        A: &a { name: x, kind: soft, fits: [u] }
        B: *a
    `);
    expect(decoded(file, semanticTokens(book, file)!)).toEqual([
      '0: parts enumMember',
      '2: A variable definition',
      '2: soft enumMember',
      '2: u class',
      '3: B variable definition',
    ]);
  });

  it('leaves very large files to the screen, and unknown files alone', () => {
    const { book, file } = fixture('=== a.yaml\nkind: nothing\n');
    expect(semanticTokens(book, file)).toEqual([]);
    const many = Array.from({ length: 6000 }, (_, i) => `  P-${i}: { name: x, kind: soft }\n`).join('');
    const large = fixture(`=== p.parts.yaml\nkind: parts\nparts:\n${many}`);
    expect(semanticTokens(large.book, large.file)).toBeUndefined();
  });
});

describe('tokensDelta', () => {
  it('turns the old numbers into the new ones with one edit', () => {
    const numbers = fc.array(fc.nat(3), { maxLength: 30 });
    fc.assert(
      fc.property(numbers, numbers, (before, after) => {
        const edits = tokensDelta(before, after);
        const out = [...before];
        for (const { start, deleteCount, data } of edits) out.splice(start, deleteCount, ...(data ?? []));
        expect(out).toEqual(after);
        expect(edits.length).toBe(before.join() === after.join() ? 0 : 1);
      }),
    );
  });
});
