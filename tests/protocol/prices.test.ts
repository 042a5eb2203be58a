/** A price file taken in from the editor. Parts, numbers and prices are made up. */
import { afterAll, beforeAll, expect, it } from 'vitest';
import type { AnnotatedTextEdit, TextDocumentEdit, TextEdit } from 'vscode-languageserver/node';
import { TextDocument } from 'vscode-languageserver-textdocument';
import type { PricesAsked } from '../../server/src/features/upkeep/prices.ts';
import type { PricesAnswer } from '../../server/src/lsp/prices.ts';
import { weathered } from '../unit/upkeep/prices-scene.ts';
import { Client } from './client.ts';

const CATALOG = `kind: parts\r\nparts:\r\n  A-1:\r\n     name: Kit # the usual\r\n     kind: soft\r\n     cost: "10.00"\r\n  A-2: { name: Kit, kind: soft, cost: 20.00, list: 50.00, core: 5.00 }\r\n  A-3: { name: Kit, kind: soft, cost: 30.00 }\r\n  A-4: { name: Kit, kind: soft, cost: 40.00 }\r\n`;
const CSV =
  'Item,Net,List,Core,Replaced by\nA-1,11.00,,,\nA-2,19.00,52.00,6.00,\nA-3,300.00,,,\nA-4,40.00,,,A-3\nB-1,5.00,,,\n';
const LARGE = weathered(5000);

let client: Client;
beforeAll(async () => {
  client = await Client.start({
    'shop.yaml': 'kind: shop\nname: Two Rivers\ncurrency: USD\n',
    'a.parts.yaml': CATALOG,
    'large/large.parts.yaml': LARGE.yaml,
  });
});
afterAll(() => client.stop());

const asked = (csv: string, more: Partial<PricesAsked> = {}): PricesAsked => ({
  uri: client.uri('north.csv'),
  bytes: Buffer.from(csv).toString('base64'),
  ...more,
});
const take = (csv: string, more?: Partial<PricesAsked>) =>
  client.ask<PricesAnswer>('gearquill/prices', asked(csv, more));

/** The text after the edits, and after they have been taken back. */
function madeAndUndone(text: string, edits: readonly TextEdit[]): [string, string] {
  const before = TextDocument.create('', '', 0, text);
  const after = TextDocument.applyEdits(before, [...edits]);
  const spans = edits
    .map(({ range, newText }) => ({
      start: before.offsetAt(range.start),
      end: before.offsetAt(range.end),
      newText,
    }))
    .sort((a, b) => a.start - b.start);
  const undone: string[] = [];
  let at = 0;
  let moved = 0;
  for (const { start, end, newText } of spans) {
    undone.push(after.slice(at, start + moved), text.slice(start, end));
    at = start + moved + newText.length;
    moved += newText.length - (end - start);
  }
  return [after, undone.join('') + after.slice(at)];
}

it('every edit stands under the word that a preview groups it by; what is doubtful has to be ticked', async () => {
  const found = await take(CSV);
  const [file] = found.edit.documentChanges as TextDocumentEdit[];
  const edits = file!.edits as AnnotatedTextEdit[];
  const labels = found.edit.changeAnnotations!;
  expect(client.name(file!.textDocument.uri)).toBe('a.parts.yaml');
  expect(
    edits
      .map(({ newText, annotationId }) => {
        const { label, needsConfirmation } = labels[annotationId]!;
        return `${label}${needsConfirmation ? ' ?' : ''}: ${newText.trim().replace(/\s+/g, ' ')}`;
      })
      .sort(),
  ).toEqual([
    'Core charge: 6.00',
    'Cost goes down: 19.00',
    'Cost goes up: 11.00',
    'Doubtful: read the report, and tick what is meant ?: 300.00',
    'List price: 52.00',
    'Superseded: , superseded-by: { part: A-3 }',
  ]);
  expect(found).toMatchObject({ plain: 3, doubtful: 1, fresh: 1, edits: 6 });
  expect(found.catalog).toMatchObject({ name: 'a.parts.yaml', kind: 'soft' });
  expect(found.report).toContain('### Held back');
});

it('new parts are added when that is asked for', async () => {
  const { edit } = await take(CSV, { addNew: { catalog: client.uri('a.parts.yaml'), kind: 'soft' } });
  const edits = (edit.documentChanges as TextDocumentEdit[])[0]!.edits as AnnotatedTextEdit[];
  expect(edits.find(({ annotationId }) => annotationId === 'New part')!.newText).toBe(
    '  B-1:\r\n    name: B-1\r\n    kind: soft\r\n    cost: 5.00\r\n',
  );
});

it('of 5,000 weathered entries only digits change, and undo gives every byte back', async () => {
  const { edit } = await take(LARGE.csv);
  const [file] = edit.documentChanges as TextDocumentEdit[];
  const [after, undone] = madeAndUndone(LARGE.yaml, file!.edits as TextEdit[]);
  expect(after === LARGE.expected).toBe(true);
  expect(undone === LARGE.yaml).toBe(true);
});

it('from a day on, the old price stays', async () => {
  const { edit } = await take('Item,Net\nA-1,11.00\n', { from: '2026-07-01' });
  const [file] = edit.documentChanges as TextDocumentEdit[];
  expect(madeAndUndone(CATALOG, file!.edits as TextEdit[])[0]).toBe(
    CATALOG.replace(
      '"10.00"\r\n',
      '"10.00"\r\n     prices:\r\n       - from: 2026-07-01\r\n         cost: 11.00\r\n',
    ),
  );
});

it.each([
  ['Blah\n1\n', {}, 'It cannot be told which column holds the part numbers.'],
  ['Item,Net\nA-1,11.00\n', { from: 'July' }, 'July'],
])('%j is refused in plain words', async (csv, more, message) => {
  await expect(take(csv, more)).rejects.toThrow(message);
});

it('may be cancelled, and tells how far it is', async () => {
  const { CancellationTokenSource } = await import('vscode-languageserver/node');
  const source = new CancellationTokenSource();
  const told: string[] = [];
  client.connection.onNotification(
    '$/progress',
    ({ token, value }: { token: string; value: { kind: string } }) => {
      if (token !== 'take') return;
      told.push(value.kind);
      source.cancel();
    },
  );
  const answer = client.connection.sendRequest(
    'gearquill/prices',
    { ...asked(LARGE.csv), workDoneToken: 'take' },
    source.token,
  );
  await expect(answer).rejects.toThrow(/cancel/i);
  expect([told[0], told.at(-1)]).toEqual(['begin', 'end']);
});
