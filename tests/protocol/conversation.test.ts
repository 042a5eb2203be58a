import { describe, expect, it } from 'vitest';
import type {
  CallHierarchyIncomingCall,
  CallHierarchyItem,
  CodeAction,
  CodeLens,
  CompletionList,
  Diagnostic,
  DocumentDiagnosticReport,
  DocumentHighlight,
  DocumentLink,
  DocumentSymbol,
  FoldingRange,
  InlayHint,
  Location,
  LocationLink,
  SelectionRange,
  SemanticTokens,
  TextEdit,
  TypeHierarchyItem,
  WorkspaceEdit,
  WorkspaceSymbol,
} from 'vscode-languageserver/node';
import { BOOK, JOB, place } from './book.ts';
import { Client, type Transport } from './client.ts';

const ALL = { start: { line: 0, character: 0 }, end: { line: 99, character: 0 } };

describe.each<Transport>(['inside', 'stdio', 'ipc'])('a conversation over %s', (transport) => {
  it('asks for everything, and every message of both sides fits the protocol', async () => {
    const client = await Client.start(BOOK, { transport });
    await client.open(JOB, BOOK[JOB]!);
    const part = place(JOB, 'TC-1');

    const report = await client.about<DocumentDiagnosticReport>('textDocument/diagnostic', JOB);
    expect(report.kind).toBe('full');
    expect((report as { items: Diagnostic[] }).items.length).toBeGreaterThan(0);

    const links = await client.at<LocationLink[]>('textDocument/definition', JOB, part);
    expect(links.map((one) => [client.name(one.targetUri), one.targetSelectionRange.start])).toEqual([
      ['b6.parts.yaml', place('b6.parts.yaml', 'TC-1:')],
    ]);
    const found = await client.at<Location[]>('textDocument/references', JOB, part, {
      context: { includeDeclaration: true },
    });
    expect(found.map((one) => client.name(one.uri))).toEqual(['b6.parts.yaml', JOB]);
    expect(await client.at<DocumentHighlight[]>('textDocument/documentHighlight', JOB, part)).toHaveLength(1);

    expect(await client.at('textDocument/prepareRename', JOB, part)).toMatchObject({ placeholder: 'TC-1' });
    const renamed = await client.at<WorkspaceEdit>('textDocument/rename', JOB, part, { newName: 'TC-9' });
    expect(renamed.documentChanges).toHaveLength(2);
    expect(renamed.documentChanges).toContainEqual({
      textDocument: { uri: client.uri(JOB), version: 1 },
      edits: [
        {
          range: { start: part, end: { line: part.line, character: part.character + 4 } },
          newText: 'TC-9',
          annotationId: 'Where the part is named',
        },
      ],
    });
    expect(Object.keys(renamed.changeAnnotations!)).toEqual(['The part itself', 'Where the part is named']);
    const moved = await client.ask<WorkspaceEdit>('workspace/willRenameFiles', {
      files: [{ oldUri: client.uri('pictures/clean.jpg'), newUri: client.uri('clean.jpg') }],
    });
    expect(moved.documentChanges).toMatchObject([{ edits: [{ newText: 'clean.jpg' }] }]);

    expect(await client.about<DocumentSymbol[]>('textDocument/documentSymbol', JOB)).not.toHaveLength(0);
    const symbols = await client.ask<WorkspaceSymbol[]>('workspace/symbol', { query: 'TC-2' });
    expect(symbols.map((one) => one.name)).toEqual(['TC-2 Torque converter 🔧']);
    expect(await client.about<FoldingRange[]>('textDocument/foldingRange', JOB)).not.toHaveLength(0);
    const [grown] = await client.about<SelectionRange[]>('textDocument/selectionRange', JOB, {
      positions: [part],
    });
    expect(grown!.parent!.parent).toBeDefined();

    const [link] = await client.about<DocumentLink[]>('textDocument/documentLink', 'roles.rules.yaml');
    const opened = await client.ask<DocumentLink>('documentLink/resolve', link!);
    expect(client.name(opened.target!)).toBe('pictures/clean.jpg');

    const tokens = await client.about<SemanticTokens>('textDocument/semanticTokens/full', JOB);
    expect(tokens.data.length).toBeGreaterThan(0);
    const range = { start: { line: 0, character: 0 }, end: { line: 1, character: 0 } };
    const seen = await client.about<SemanticTokens>('textDocument/semanticTokens/range', JOB, { range });
    expect(tokens.data.slice(0, seen.data.length)).toEqual(seen.data);
    const same = await client.about<object>('textDocument/semanticTokens/full/delta', JOB, {
      previousResultId: tokens.resultId,
    });
    expect(same).toMatchObject({ edits: [] });

    const [item] = await client.at<CallHierarchyItem[]>('textDocument/prepareCallHierarchy', JOB, part);
    const callers = await client.ask<CallHierarchyIncomingCall[]>('callHierarchy/incomingCalls', { item });
    expect(callers.map((one) => one.from.name)).toEqual(['J-1', 'new-converter']);
    expect(await client.ask('callHierarchy/outgoingCalls', { item })).toMatchObject([
      { to: { name: 'converter' } },
      { to: { name: 'TC-2' } },
    ]);
    const [type] = await client.at<TypeHierarchyItem[]>('textDocument/prepareTypeHierarchy', JOB, part);
    expect(await client.ask('typeHierarchy/supertypes', { item: type })).toMatchObject([{ name: 'TC-2' }]);
    expect(await client.ask('typeHierarchy/subtypes', { item: type })).toEqual([]);

    const options = { tabSize: 2, insertSpaces: true };
    expect(await client.about<TextEdit[]>('textDocument/formatting', JOB, { options })).toEqual([]);
    expect(
      await client.about<TextEdit[]>('textDocument/rangeFormatting', JOB, { options, range: ALL }),
    ).toEqual([]);
    const typed = { options, ch: '\n' };
    expect(await client.at<TextEdit[]>('textDocument/onTypeFormatting', JOB, part, typed)).toEqual([]);

    await client.at('textDocument/hover', JOB, part);
    await client.at<CompletionList>('textDocument/completion', JOB, part, { context: { triggerKind: 1 } });
    await client.about<CodeAction[]>('textDocument/codeAction', JOB, {
      range: ALL,
      context: { diagnostics: [] },
    });
    const hints = await client.about<InlayHint[]>('textDocument/inlayHint', JOB, { range: ALL });
    const hint = await client.ask<InlayHint>('inlayHint/resolve', hints[0]!);
    expect(hint.tooltip).toBeDefined();
    await client.about('textDocument/codeLens', JOB);
    const lenses = await client.about<CodeLens[]>('textDocument/codeLens', 'roles.rules.yaml');
    const rule = lenses.find((one) => one.command === undefined)!;
    const told = await client.ask<CodeLens>('codeLens/resolve', rule);
    expect(told.command?.title).toBe('no case covers it');

    const ids: { uri: string; value: string }[] = [];
    await client.ask('workspace/diagnostic', { previousResultIds: ids });
    await client.close(JOB);

    expect(client.recorder.problems).toEqual([]);
    expect(await client.stop()).toBe(transport === 'inside' ? null : 0);
  });
});

describe('the server as a process', () => {
  it('talks over a socket', async () => {
    const client = await Client.start(BOOK, { transport: 'socket' });
    expect(await client.ask('workspace/symbol', { query: 'TC-2' })).toHaveLength(1);
    expect(client.recorder.problems).toEqual([]);
    expect(await client.stop()).toBe(0);
  });

  it('ends with 1 when it is told to exit before shutdown', async () => {
    const client = await Client.start(BOOK, { transport: 'stdio' });
    const ended = new Promise((done) => client.process!.once('exit', done));
    await client.connection.sendNotification('exit');
    expect(await ended).toBe(1);
    client.connection.dispose();
  });
});
