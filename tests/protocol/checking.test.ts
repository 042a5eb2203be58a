import { afterEach, describe, expect, it } from 'vitest';
import {
  CancellationTokenSource,
  type Diagnostic,
  type DocumentDiagnosticReport,
  type PublishDiagnosticsParams,
  type WorkspaceDiagnosticReport,
  type WorkspaceDocumentDiagnosticReport,
} from 'vscode-languageserver/node';
import { BOOK, JOB } from './book.ts';
import { FULL } from './capabilities.ts';
import { Client } from './client.ts';

let client: Client;
afterEach(async () => {
  expect(client.recorder.problems).toEqual([]);
  await client.stop();
});

const BROKEN = 'broken.parts.yaml';
const FILES = { ...BOOK, [BROKEN]: 'kind: parts\nparts: { A: { name: A } }\n' };

type Full = {
  kind: 'full';
  resultId: string;
  items: Diagnostic[];
  relatedDocuments?: Record<string, unknown>;
};

const pull = (name: string, previousResultId?: string) =>
  client.about<DocumentDiagnosticReport>(
    'textDocument/diagnostic',
    name,
    previousResultId ? { previousResultId } : {},
  );

const idsOf = (items: readonly WorkspaceDocumentDiagnosticReport[]) =>
  items.map((item) => ({ uri: item.uri, value: item.resultId! }));

const fix = {
  range: { start: { line: 1, character: 22 }, end: { line: 1, character: 22 } },
  text: ', kind: soft',
};

describe('diagnostics that are pulled', () => {
  it('of a document are told once, and again when they differ', async () => {
    client = await Client.start(FILES);
    const first = (await pull(BROKEN)) as Full;
    expect(first.items.map((one) => one.code)).toEqual(['missing-field']);
    expect(await pull(BROKEN, first.resultId)).toEqual({ kind: 'unchanged', resultId: first.resultId });
    await client.open(BROKEN, FILES[BROKEN]);
    await client.change(BROKEN, fix);
    const then = (await pull(BROKEN, first.resultId)) as Full;
    expect(then).toMatchObject({ kind: 'full', items: [] });
    expect(then.resultId).not.toBe(first.resultId);
    expect(await client.about('textDocument/diagnostic', 'nowhere.yaml')).toEqual({
      kind: 'full',
      items: [],
    });
  });

  it('of a document come with those of the files at the other end', async () => {
    client = await Client.start({
      ...BOOK,
      'a.parts.yaml': 'kind: parts\nparts: { A: { name: A, kind: soft } }\n',
      'b.parts.yaml': 'kind: parts\nparts: { A: { name: A, kind: soft } }\n',
    });
    const { items, relatedDocuments } = (await pull('b.parts.yaml')) as Full;
    expect(items.map((one) => one.code)).toEqual(['defined-twice']);
    expect(Object.keys(relatedDocuments!).map((uri) => client.name(uri))).toEqual(['a.parts.yaml']);
  });

  it('of the workspace leave out what is clean and was, and say of the rest what has not changed', async () => {
    client = await Client.start(FILES);
    const first = await client.ask<WorkspaceDiagnosticReport>('workspace/diagnostic', {
      previousResultIds: [],
    });
    const told = first.items.map((item) => client.name(item.uri));
    expect(told).toContain(BROKEN);
    expect(told).not.toContain('b6.parts.yaml');
    const again = await client.ask<WorkspaceDiagnosticReport>('workspace/diagnostic', {
      previousResultIds: [...idsOf(first.items), { uri: client.uri('gone.parts.yaml'), value: 'x' }],
    });
    const kinds = new Map(again.items.map((item) => [client.name(item.uri), item.kind]));
    expect(kinds.get('gone.parts.yaml')).toBe('full');
    kinds.delete('gone.parts.yaml');
    expect(new Set(kinds.values())).toEqual(new Set(['unchanged']));
    expect([...kinds.keys()].sort()).toEqual(told.sort());
  });

  it('of the workspace come bit by bit to a client that takes them so, which then waits for a change', async () => {
    client = await Client.start(FILES);
    const got: WorkspaceDocumentDiagnosticReport[] = [];
    const token = 'bits';
    client.connection.onNotification(
      '$/progress',
      (params: { token: string; value: { items: typeof got } }) => {
        if (params.token === token) got.push(...params.value.items);
      },
    );
    const ask = (previousResultIds: object[], cancel?: CancellationTokenSource) =>
      client.connection.sendRequest<WorkspaceDiagnosticReport>(
        'workspace/diagnostic',
        { partialResultToken: token, previousResultIds },
        ...(cancel ? [cancel.token] : []),
      );
    expect(await ask([])).toEqual({ items: [] });
    expect(got.map((item) => client.name(item.uri))).toContain(BROKEN);

    const known = idsOf(got.splice(0));
    let answered = false;
    const waiting = ask(known).then(() => (answered = true));
    await new Promise((done) => setTimeout(done, 100));
    expect(answered).toBe(false);
    await client.open(BROKEN, FILES[BROKEN]);
    await client.change(BROKEN, fix);
    await waiting;
    expect(got).toMatchObject([{ uri: client.uri(BROKEN), kind: 'full', version: 2, items: [] }]);

    const cancel = new CancellationTokenSource();
    const ids = [...known.filter(({ uri }) => uri !== client.uri(BROKEN)), ...idsOf(got)];
    const cancelled = ask(ids, cancel);
    await new Promise((done) => setTimeout(done, 50));
    cancel.cancel();
    await expect(cancelled).rejects.toMatchObject({ code: -32800 });
  });

  it('of the workspace show how far they are', async () => {
    client = await Client.start(FILES);
    await client.ask('workspace/diagnostic', { previousResultIds: [], workDoneToken: 'work' });
    const kinds = client.recorder.sent
      .filter((one) => one.method === '$/progress')
      .map((one) => one.params as { token: string; value: { kind: string } })
      .filter((one) => one.token === 'work')
      .map((one) => one.value.kind);
    expect([kinds[0], kinds.at(-1)]).toEqual(['begin', 'end']);
  });

  it('of a document are not asked for again by what is typed in it alone', async () => {
    client = await Client.start(FILES);
    await client.open(BROKEN, FILES[BROKEN]);
    await new Promise((done) => setTimeout(done, 400));
    const before = client.recorder.sent.filter((one) => one.method.endsWith('/refresh')).length;
    await client.change(BROKEN, fix);
    await new Promise((done) => setTimeout(done, 400));
    expect(client.recorder.sent.filter((one) => one.method.endsWith('/refresh')).length).toBe(before);
  });

  it('and hints of other open documents are asked for again when they are concerned', async () => {
    client = await Client.start(FILES);
    await client.open(JOB, BOOK[JOB]!);
    await client.open('b6.parts.yaml', BOOK['b6.parts.yaml']!);
    await new Promise((done) => setTimeout(done, 400));
    const asked = client.asked('workspace/inlayHint/refresh');
    await client.change('b6.parts.yaml', {
      range: { start: { line: 3, character: 2 }, end: { line: 3, character: 6 } },
      text: 'TC-X',
    });
    await asked;
  });
});

describe('diagnostics for clients that do not pull', () => {
  it('are told of open documents, when they differ, with their version', async () => {
    const { diagnostic: _, ...textDocument } = FULL.textDocument!;
    client = await Client.start(FILES, { capabilities: { ...FULL, textDocument } });
    const published = (version?: number) =>
      client.next<PublishDiagnosticsParams>(
        'textDocument/publishDiagnostics',
        (params) =>
          client.name(params.uri) === BROKEN && (version === undefined || params.version === version),
      );
    const first = published(1);
    await client.open(BROKEN, FILES[BROKEN]);
    expect((await first).diagnostics.map((one) => one.code)).toEqual(['missing-field']);
    const second = published(2);
    await client.change(BROKEN, fix);
    expect((await second).diagnostics).toEqual([]);
    const broken = published(3);
    await client.change(BROKEN, { text: FILES[BROKEN] });
    await broken;
    const closed = published();
    await client.close(BROKEN);
    expect((await closed).diagnostics).toEqual([]);
    expect(client.initialized.capabilities.diagnosticProvider).toBeUndefined();
  });
});
