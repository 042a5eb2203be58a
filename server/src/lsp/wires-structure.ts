/** What a file is made of, how it looks, what is wrong with it. */
import {
  DocumentDiagnosticRequest,
  DocumentFormattingRequest,
  DocumentLinkRequest,
  DocumentLinkResolveRequest,
  DocumentOnTypeFormattingRequest,
  DocumentRangeFormattingRequest,
  type DocumentSymbol,
  DocumentSymbolRequest,
  FoldingRangeRequest,
  SelectionRangeRequest,
  SemanticTokensDeltaRequest,
  SemanticTokensRangeRequest,
  SemanticTokensRequest,
  type SymbolInformation,
  WorkspaceDiagnosticRequest,
} from 'vscode-languageserver';
import { folding } from '../features/folding.ts';
import { formatFile, formatOnType, formatRange } from '../features/formatting.ts';
import { links, resolveLink } from '../features/links.ts';
import { selection } from '../features/selection.ts';
import {
  semanticTokens,
  semanticTokensIn,
  TOKEN_MODIFIERS,
  TOKEN_TYPES,
  tokensDelta,
} from '../features/semantic-tokens.ts';
import { documentSymbols } from '../features/symbols.ts';
import type { At } from './session.ts';
import { type Context, inFile, on, type Wire } from './wire.ts';

let coloured = 0;

/** Keeps what is sent, so that the next answer can say what differs. */
function colours({ book, file }: At, context: Context) {
  const data = semanticTokens(book, file);
  if (!data) return null;
  const sent = { resultId: String(++coloured), data };
  context.colours.set(file, sent);
  return sent;
}

/** For clients that cannot show an outline as a tree. */
function flat(uri: string, symbols: readonly DocumentSymbol[], containerName?: string): SymbolInformation[] {
  return symbols.flatMap(({ name, kind, range, children = [] }) => [
    { name, kind, location: { uri, range }, ...(containerName === undefined ? {} : { containerName }) },
    ...flat(uri, children, name),
  ]);
}

export const STRUCTURE: readonly Wire[] = [
  {
    capability: () => ({ documentSymbolProvider: true }),
    answers: [
      inFile(DocumentSymbolRequest.type, ({ file }, { textDocument }, { session }) => {
        const symbols = documentSymbols(file);
        const tree = session.client.textDocument?.documentSymbol?.hierarchicalDocumentSymbolSupport;
        return tree ? symbols : flat(textDocument.uri, symbols);
      }),
    ],
  },
  {
    capability: () => ({ foldingRangeProvider: true }),
    answers: [
      inFile(FoldingRangeRequest.type, ({ file }, _, { session }) =>
        folding(file, session.client.textDocument?.foldingRange?.rangeLimit),
      ),
    ],
  },
  {
    capability: () => ({ selectionRangeProvider: true }),
    answers: [inFile(SelectionRangeRequest.type, ({ file }, { positions }) => selection(file, positions))],
  },
  {
    capability: () => ({ documentLinkProvider: { resolveProvider: true } }),
    answers: [
      inFile(DocumentLinkRequest.type, ({ book, file }) => links(book, file)),
      on(DocumentLinkResolveRequest.type, (_, link) => resolveLink(link)),
    ],
  },
  {
    capability: () => ({
      semanticTokensProvider: {
        legend: { tokenTypes: [...TOKEN_TYPES], tokenModifiers: [...TOKEN_MODIFIERS] },
        full: { delta: true },
        range: true,
      },
    }),
    answers: [
      inFile(SemanticTokensRequest.type, (at, _, context) => colours(at, context)),
      inFile(SemanticTokensRangeRequest.type, ({ book, file }, { range }) => ({
        data: semanticTokensIn(book, file, range),
      })),
      inFile(SemanticTokensDeltaRequest.type, (at, { previousResultId }, context) => {
        const before = context.colours.get(at.file);
        const now = colours(at, context);
        if (!now || before?.resultId !== previousResultId) return now;
        return { resultId: now.resultId, edits: tokensDelta(before.data, now.data) };
      }),
    ],
  },
  {
    capability: () => ({ documentFormattingProvider: true }),
    answers: [inFile(DocumentFormattingRequest.type, ({ file }) => formatFile(file))],
  },
  {
    capability: () => ({ documentRangeFormattingProvider: true }),
    answers: [inFile(DocumentRangeFormattingRequest.type, ({ file }, { range }) => formatRange(file, range))],
  },
  {
    capability: () => ({ documentOnTypeFormattingProvider: { firstTriggerCharacter: '\n' } }),
    answers: [
      inFile(DocumentOnTypeFormattingRequest.type, ({ file }, { position }) => formatOnType(file, position)),
    ],
  },
  {
    // Clients that do not pull are told; see `push.ts`.
    capability: (client) =>
      client.textDocument?.diagnostic
        ? {
            diagnosticProvider: {
              identifier: 'gearquill',
              interFileDependencies: true,
              workspaceDiagnostics: true,
            },
          }
        : undefined,
    answers: [
      on(DocumentDiagnosticRequest.type, ({ reports }, params) => reports.document(params)),
      on(WorkspaceDiagnosticRequest.type, ({ reports }, params, token) => reports.workspace(params, token)),
    ],
  },
];
