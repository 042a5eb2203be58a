import { describe, expect, it } from 'vitest';
import { checkParams, checkResult, checkStructure } from './meta-model.ts';

const position = { line: 0, character: 1 };
const textDocument = { uri: 'file:///a.yaml' };

describe('the meta model', () => {
  it('accepts what the protocol allows', () => {
    expect(
      checkParams('textDocument/hover', { textDocument, position, workDoneToken: 'a' }, 'client'),
    ).toEqual([]);
    expect(checkResult('textDocument/hover', { contents: { kind: 'markdown', value: 'x' } })).toEqual([]);
    expect(checkResult('textDocument/hover', null)).toEqual([]);
    expect(
      checkResult('textDocument/definition', [{ uri: 'a:b', range: { start: position, end: position } }]),
    ).toEqual([]);
    expect(
      checkStructure('Diagnostic', { range: { start: position, end: position }, message: '', data: [1] }),
    ).toEqual([]);
    expect(checkStructure('FoldingRange', { startLine: 1, endLine: 2, kind: 'of my own' })).toEqual([]);
  });

  it('says what does not fit', () => {
    expect(checkParams('textDocument/hover', { textDocument, position: { line: -1 } }, 'client')).toEqual([
      'textDocument/hover.position.line: -1 is no uinteger',
      'textDocument/hover.position.character: is missing',
    ]);
    expect(checkParams('textDocument/hover', { textDocument, position, more: 1 }, 'client')).toEqual([
      'textDocument/hover.more: the model does not know it',
    ]);
    expect(
      checkParams('textDocument/hover', { textDocument: { uri: 'a.yaml' }, position }, 'client'),
    ).toEqual(['textDocument/hover.textDocument.uri: "a.yaml" is no DocumentUri']);
    expect(checkParams('textDocument/hover', { textDocument, position }, 'server')).toEqual([
      'textDocument/hover: is not for the server to send',
    ]);
    expect(checkParams('textDocument/guess', {}, 'client')).toEqual([
      'textDocument/guess: the protocol knows no such message',
    ]);
    expect(
      checkResult('textDocument/completion', { isIncomplete: false, items: [{ label: 'x', kind: 99 }] }),
    ).toEqual(['textDocument/completion result.items[0].kind: 99 is no CompletionItemKind']);
    expect(
      checkStructure('DocumentSymbol', { name: 'x', kind: 1, range: {}, selectionRange: 1 }).length,
    ).toBe(3);
  });
});
