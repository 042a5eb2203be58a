import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { WorkspaceDiagnosticReport } from 'vscode-languageserver/node';
import { type Position, positionIn } from '../../server/src/syntax/lines.ts';
import { BOOK } from './book.ts';
import { Client } from './client.ts';

/** In a folder of one name, because messages say it. */
const TEXTS: Readonly<Record<string, string>> = Object.fromEntries(
  Object.entries(BOOK).map(([name, text]) => [`book/${name}`, text]),
);
const FILES = Object.keys(TEXTS).filter((name) => name.endsWith('.yaml'));

interface Edit {
  readonly file: number;
  /** Shares of the text's length. */
  readonly from: number;
  readonly length: number;
  readonly text: string;
}

const FRAGMENTS = [
  '',
  '',
  '\n',
  '\r\n',
  '  ',
  ':',
  ': ',
  '- ',
  '"',
  "'",
  '{',
  '}',
  '[',
  ']',
  '|\n',
  '#',
  '🔧',
  '\t',
  '&a ',
  '*a',
  ',',
  'part: TC-1\n',
  'parts:\n',
  'kind: job\n',
  '  X-1: { name: x, kind: soft }\n',
  '$x',
  '1.00',
  'TC-2',
  'x-mine: 1\n',
  '\u0000',
  '\ud83d',
];

const edits: fc.Arbitrary<Edit[]> = fc.array(
  fc.record({
    file: fc.nat(FILES.length - 1),
    from: fc.double({ min: 0, max: 1, noNaN: true }),
    length: fc.oneof(fc.constant(0), fc.nat(3), fc.nat(80)),
    text: fc.constantFrom(...FRAGMENTS),
  }),
  { minLength: 1, maxLength: 12 },
);

/** What a client is told about the texts, without the name of the folder they lie in. */
async function answers(client: Client): Promise<unknown> {
  const { items } = await client.ask<WorkspaceDiagnosticReport>('workspace/diagnostic', {
    previousResultIds: [],
  });
  const about = FILES.map(async (name) => ({
    symbols: await client.about('textDocument/documentSymbol', name),
    folds: await client.about('textDocument/foldingRange', name),
    tokens: await client
      .about<{ data: number[] }>('textDocument/semanticTokens/full', name)
      .then(({ data }) => data),
    links: await client.about('textDocument/documentLink', name),
    layout: await client.about('textDocument/formatting', name, {
      options: { tabSize: 2, insertSpaces: true },
    }),
    place: await client.at('textDocument/definition', name, { line: 3, character: 9 }),
  }));
  const told = items
    .map((item) => ({ ...item, version: 0, resultId: '' }))
    .sort((a, b) => (a.uri < b.uri ? -1 : 1));
  const symbols = await client.ask('workspace/symbol', { query: '' });
  const text = JSON.stringify([told, symbols, await Promise.all(about)]);
  return JSON.parse(text.replaceAll(client.uri(''), 'folder:/'));
}

describe('random edits', () => {
  it('leave the server with the answers of one that has read the final texts', async () => {
    await fc.assert(
      fc.asyncProperty(edits, async (list) => {
        const client = await Client.start(TEXTS, { folders: ['book'] });
        const texts = { ...TEXTS };
        for (const name of FILES) await client.open(name, texts[name]!);
        for (const { file, from, length, text } of list) {
          const name = FILES[file]!;
          const before = texts[name]!;
          const start = Math.floor(from * before.length);
          const end = Math.min(before.length, start + length);
          const at = (offset: number): Position => positionIn(before, offset);
          // A position inside a line break means the end of the line, for every client and server.
          if (/\r$/.test(before.slice(0, start)) || /\r$/.test(before.slice(0, end))) continue;
          texts[name] = before.slice(0, start) + text + before.slice(end);
          await client.change(name, { range: { start: at(start), end: at(end) }, text });
        }
        const fresh = await Client.start(TEXTS, { folders: ['book'] });
        for (const name of FILES) await fresh.open(name, texts[name]!);
        expect(await answers(client)).toEqual(await answers(fresh));
        expect(client.recorder.problems).toEqual([]);
        expect(client.logged).toEqual([]);
        await client.stop();
        await fresh.stop();
      }),
      { numRuns: 25 },
    );
  }, 120_000);
});
