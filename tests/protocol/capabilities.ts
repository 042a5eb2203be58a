/** What clients say they can do, and which requests a server says it answers. */
import type { ClientCapabilities, ServerCapabilities } from 'vscode-languageserver/node';

/** An editor that can do all that the server makes use of. */
export const FULL: ClientCapabilities = {
  general: { positionEncodings: ['utf-16'] },
  window: { workDoneProgress: true },
  workspace: {
    workspaceFolders: true,
    applyEdit: true,
    workspaceEdit: {
      documentChanges: true,
      changeAnnotationSupport: { groupsOnLabel: true },
    },
    didChangeWatchedFiles: { dynamicRegistration: true },
    diagnostics: { refreshSupport: true },
    inlayHint: { refreshSupport: true },
    codeLens: { refreshSupport: true },
    semanticTokens: { refreshSupport: true },
    fileOperations: { willRename: true },
  },
  textDocument: {
    synchronization: {},
    definition: { linkSupport: true },
    rename: { prepareSupport: true },
    documentSymbol: { hierarchicalDocumentSymbolSupport: true },
    diagnostic: { relatedDocumentSupport: true },
    completion: {
      completionItem: {
        snippetSupport: true,
        documentationFormat: ['markdown'],
        insertTextModeSupport: { valueSet: [1, 2] },
        resolveSupport: { properties: ['documentation', 'detail'] },
      },
    },
    hover: { contentFormat: ['markdown'] },
    codeAction: {
      codeActionLiteralSupport: { codeActionKind: { valueSet: ['quickfix', 'refactor', 'source'] } },
      dataSupport: true,
      resolveSupport: { properties: ['edit'] },
    },
    semanticTokens: {
      requests: { range: true, full: { delta: true } },
      tokenTypes: [],
      tokenModifiers: [],
      formats: ['relative'],
    },
    foldingRange: { rangeLimit: 5000 },
    callHierarchy: {},
    typeHierarchy: {},
  },
};

type Says = (can: ServerCapabilities) => unknown;

const group = (value: unknown): Record<string, unknown> =>
  value !== null && typeof value === 'object' ? (value as Record<string, unknown>) : {};

/** By request of a client: where a server says that it answers it (specification of LSP 3.17, "Server Capability"). */
export const ADVERTISED: Readonly<Record<string, Says>> = {
  'textDocument/implementation': (can) => can.implementationProvider,
  'textDocument/typeDefinition': (can) => can.typeDefinitionProvider,
  'textDocument/documentColor': (can) => can.colorProvider,
  'textDocument/colorPresentation': (can) => can.colorProvider,
  'textDocument/foldingRange': (can) => can.foldingRangeProvider,
  'textDocument/declaration': (can) => can.declarationProvider,
  'textDocument/selectionRange': (can) => can.selectionRangeProvider,
  'textDocument/prepareCallHierarchy': (can) => can.callHierarchyProvider,
  'callHierarchy/incomingCalls': (can) => can.callHierarchyProvider,
  'callHierarchy/outgoingCalls': (can) => can.callHierarchyProvider,
  'textDocument/semanticTokens/full': (can) => group(can.semanticTokensProvider).full,
  'textDocument/semanticTokens/full/delta': (can) => group(group(can.semanticTokensProvider).full).delta,
  'textDocument/semanticTokens/range': (can) => group(can.semanticTokensProvider).range,
  'textDocument/linkedEditingRange': (can) => can.linkedEditingRangeProvider,
  'workspace/willCreateFiles': (can) => can.workspace?.fileOperations?.willCreate,
  'workspace/willRenameFiles': (can) => can.workspace?.fileOperations?.willRename,
  'workspace/willDeleteFiles': (can) => can.workspace?.fileOperations?.willDelete,
  'textDocument/moniker': (can) => can.monikerProvider,
  'textDocument/prepareTypeHierarchy': (can) => can.typeHierarchyProvider,
  'typeHierarchy/supertypes': (can) => can.typeHierarchyProvider,
  'typeHierarchy/subtypes': (can) => can.typeHierarchyProvider,
  'textDocument/inlineValue': (can) => can.inlineValueProvider,
  'textDocument/inlayHint': (can) => can.inlayHintProvider,
  'inlayHint/resolve': (can) => group(can.inlayHintProvider).resolveProvider,
  'textDocument/diagnostic': (can) => can.diagnosticProvider,
  'workspace/diagnostic': (can) => can.diagnosticProvider?.workspaceDiagnostics,
  'textDocument/inlineCompletion': (can) =>
    (can as { inlineCompletionProvider?: unknown }).inlineCompletionProvider,
  'textDocument/willSaveWaitUntil': (can) => group(can.textDocumentSync).willSaveWaitUntil,
  'textDocument/completion': (can) => can.completionProvider,
  'completionItem/resolve': (can) => can.completionProvider?.resolveProvider,
  'textDocument/hover': (can) => can.hoverProvider,
  'textDocument/signatureHelp': (can) => can.signatureHelpProvider,
  'textDocument/definition': (can) => can.definitionProvider,
  'textDocument/references': (can) => can.referencesProvider,
  'textDocument/documentHighlight': (can) => can.documentHighlightProvider,
  'textDocument/documentSymbol': (can) => can.documentSymbolProvider,
  'textDocument/codeAction': (can) => can.codeActionProvider,
  'codeAction/resolve': (can) => group(can.codeActionProvider).resolveProvider,
  'workspace/symbol': (can) => can.workspaceSymbolProvider,
  'workspaceSymbol/resolve': (can) => group(can.workspaceSymbolProvider).resolveProvider,
  'textDocument/codeLens': (can) => can.codeLensProvider,
  'codeLens/resolve': (can) => can.codeLensProvider?.resolveProvider,
  'textDocument/documentLink': (can) => can.documentLinkProvider,
  'documentLink/resolve': (can) => can.documentLinkProvider?.resolveProvider,
  'textDocument/formatting': (can) => can.documentFormattingProvider,
  'textDocument/rangeFormatting': (can) => can.documentRangeFormattingProvider,
  'textDocument/rangesFormatting': (can) => group(can.documentRangeFormattingProvider).rangesSupport,
  'textDocument/onTypeFormatting': (can) => can.documentOnTypeFormattingProvider,
  'textDocument/rename': (can) => can.renameProvider,
  'textDocument/prepareRename': (can) => group(can.renameProvider).prepareProvider,
  'workspace/executeCommand': (can) => can.executeCommandProvider,
};

/** Requests that every server answers. */
export const ALWAYS: ReadonlySet<string> = new Set(['initialize', 'shutdown']);
