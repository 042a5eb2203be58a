/** From here to there: definitions, references, names, hierarchies. */
import {
  CallHierarchyIncomingCallsRequest,
  CallHierarchyOutgoingCallsRequest,
  CallHierarchyPrepareRequest,
  DefinitionRequest,
  DocumentHighlightRequest,
  PrepareRenameRequest,
  ReferencesRequest,
  RenameRequest,
  TypeHierarchyPrepareRequest,
  TypeHierarchySubtypesRequest,
  TypeHierarchySupertypesRequest,
  WillRenameFilesRequest,
  WorkspaceSymbolRequest,
} from 'vscode-languageserver';
import { canonical } from '../book/paths.ts';
import { incomingCalls, outgoingCalls, prepareCallHierarchy } from '../features/call-hierarchy.ts';
import { definition } from '../features/definition.ts';
import { fileRenames } from '../features/file-renames.ts';
import { highlights } from '../features/highlights.ts';
import { references } from '../features/references.ts';
import { prepareRename, rename } from '../features/rename.ts';
import { prepareTypeHierarchy, subtypes, supertypes } from '../features/type-hierarchy.ts';
import { workspaceSymbols } from '../features/workspace-symbols.ts';
import { workspaceEdit } from './edits.ts';
import { type Context, inFile, on, type Wire } from './wire.ts';

const EVERY_FILE = [{ scheme: 'file', pattern: { glob: '**/*' } }];

function bookOf({ session }: Context, item: { uri: string }) {
  const book = session.bookAround(item.uri);
  if (!book) throw new Error(`${item.uri} is in no book.`);
  return book;
}

export const NAVIGATION: readonly Wire[] = [
  {
    capability: () => ({ definitionProvider: true }),
    answers: [
      inFile(DefinitionRequest.type, ({ book, file }, { position }, { session }) => {
        const links = definition(book, file, position);
        if (session.client.textDocument?.definition?.linkSupport) return links;
        return links.map(({ targetUri, targetSelectionRange }) => ({
          uri: targetUri,
          range: targetSelectionRange,
        }));
      }),
    ],
  },
  {
    capability: () => ({ referencesProvider: true }),
    answers: [
      inFile(ReferencesRequest.type, ({ book, file }, { position, context }) =>
        references(book, file, position, context),
      ),
    ],
  },
  {
    capability: () => ({ documentHighlightProvider: true }),
    answers: [
      inFile(DocumentHighlightRequest.type, ({ book, file }, { position }) =>
        highlights(book, file, position),
      ),
    ],
  },
  {
    capability: () => ({ workspaceSymbolProvider: true }),
    answers: [
      on(WorkspaceSymbolRequest.type, ({ session }, { query }) => workspaceSymbols(session.books, query)),
    ],
  },
  {
    capability: (client) => ({
      renameProvider: client.textDocument?.rename?.prepareSupport ? { prepareProvider: true } : true,
    }),
    answers: [
      inFile(RenameRequest.type, ({ book, file }, { position, newName }, { session }) =>
        workspaceEdit(session, rename(book, file, position, newName)),
      ),
    ],
  },
  {
    // A part of the wire above, for clients that ask first.
    capability: (client) => (client.textDocument?.rename?.prepareSupport ? {} : undefined),
    answers: [
      inFile(
        PrepareRenameRequest.type,
        ({ book, file }, { position }) => prepareRename(book, file, position) ?? null,
      ),
    ],
  },
  {
    capability: () => ({
      workspace: {
        fileOperations: {
          willRename: {
            filters: EVERY_FILE,
          },
        },
      },
    }),
    answers: [
      on(WillRenameFilesRequest.type, ({ session }, { files }) => {
        const moves = files.map(({ oldUri, newUri }) => ({
          oldUri: canonical(oldUri),
          newUri: canonical(newUri),
        }));
        const edit = session.books.flatMap((book) => fileRenames(book, moves));
        return edit.length === 0 ? null : workspaceEdit(session, edit);
      }),
    ],
  },
  {
    capability: () => ({ callHierarchyProvider: true }),
    answers: [
      inFile(CallHierarchyPrepareRequest.type, ({ book, file }, { position }) =>
        prepareCallHierarchy(book, file, position),
      ),
      on(CallHierarchyIncomingCallsRequest.type, (context, { item }) =>
        incomingCalls(bookOf(context, item), item),
      ),
      on(CallHierarchyOutgoingCallsRequest.type, (context, { item }) =>
        outgoingCalls(bookOf(context, item), item),
      ),
    ],
  },
  {
    capability: () => ({ typeHierarchyProvider: true }),
    answers: [
      inFile(TypeHierarchyPrepareRequest.type, ({ book, file }, { position }) =>
        prepareTypeHierarchy(book, file, position),
      ),
      on(TypeHierarchySupertypesRequest.type, (context, { item }) => supertypes(bookOf(context, item), item)),
      on(TypeHierarchySubtypesRequest.type, (context, { item }) => subtypes(bookOf(context, item), item)),
    ],
  },
];
