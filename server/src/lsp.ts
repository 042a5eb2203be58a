/**
 * The language server on a connection. It translates: messages into calls of `features/`, their answers into
 * messages; it decides nothing about books.
 */
import {
  type Connection,
  type InitializeParams,
  type InitializeResult,
  TextDocumentSyncKind,
} from 'vscode-languageserver';
import { canonical } from './book/paths.ts';
import { REQUESTS } from './features/client/requests.ts';
import { answered, heard } from './lsp/answering.ts';
import { ClientFiles, type Files } from './lsp/files.ts';
import { answerPaper } from './lsp/paper.ts';
import { answerPrices } from './lsp/prices.ts';
import { workingUnasked } from './lsp/progress.ts';
import { Push } from './lsp/push.ts';
import { refreshOnChange, tellChanges } from './lsp/refresh.ts';
import { Reports } from './lsp/reports.ts';
import { Session } from './lsp/session.ts';
import { answerReports } from './lsp/upkeep.ts';
import { Watching } from './lsp/watching.ts';
import { type Context, merged } from './lsp/wire.ts';
import { WIRES } from './lsp/wires.ts';

/** What our own client says when it starts the server. */
interface ClientOptions {
  /** Who reads files; the server does when left out. */
  readonly reads?: 'disk' | 'client';
  /** What stands before `<code>.md` in the address of a code's page. */
  readonly codePages?: string;
}

/** `disk`: files that the server can read by itself; without it the client reads for it. */
export function serve(connection: Connection, disk?: Files): void {
  connection.onInitialize((params) => initialize(connection, params, disk));
  connection.listen();
}

function initialize(
  connection: Connection,
  params: InitializeParams,
  disk: Files | undefined,
): InitializeResult {
  const options = params.initializationOptions as ClientOptions | undefined;
  const files = disk && options?.reads !== 'client' ? disk : new ClientFiles(connection);
  const client = params.capabilities;
  const session = new Session(connection, client, foldersOf(params), files, {
    codePages: options?.codePages,
    own: options !== undefined,
  });
  const reports = new Reports(session);
  const context: Context = { session, reports, colours: new WeakMap() };

  const wires = WIRES.flatMap(({ capability, answers }) => {
    const advertised = capability(client);
    return advertised ? [{ advertised, answers }] : [];
  });
  for (const { method, answer } of wires.flatMap((wire) => wire.answers))
    connection.onRequest(method, (asked: unknown, token) =>
      answered(session, method, token, () => answer(context, asked, token)),
    );
  listenToDocuments(session, client.textDocument?.diagnostic ? undefined : new Push(session, reports));
  if (session.options.own) faceOf(session);

  return {
    serverInfo: { name: 'gearquill' },
    capabilities: merged([
      {
        positionEncoding: 'utf-16',
        textDocumentSync: { openClose: true, change: TextDocumentSyncKind.Incremental },
        workspace: { workspaceFolders: { supported: true, changeNotifications: true } },
      },
      ...wires.map((wire) => wire.advertised),
    ]),
  };
}

function foldersOf({ workspaceFolders, rootUri }: InitializeParams): string[] {
  if (workspaceFolders) return workspaceFolders.map((folder) => folder.uri);
  return rootUri ? [rootUri] : [];
}

function listenToDocuments(session: Session, push: Push | undefined): void {
  const { connection } = session;
  const watching = new Watching(session);
  connection.onInitialized(() => {
    watching.register();
    workingUnasked(session, 'Reading the shop book', (tell) => session.load(tell));
    // Until all is read, answers wait; only later is there anything to ask again for.
    session.ready.then(() => refreshOnChange(session));
    if (session.client.workspace?.workspaceFolders)
      connection.workspace.onDidChangeWorkspaceFolders(({ added, removed }) =>
        heard(session, 'workspace/didChangeWorkspaceFolders', () =>
          session.foldersChanged(
            added.map((folder) => folder.uri),
            removed.map((folder) => folder.uri),
          ),
        ),
      );
  });
  connection.onDidOpenTextDocument(({ textDocument }) =>
    heard(session, 'textDocument/didOpen', () => session.opened(textDocument)),
  );
  connection.onDidChangeTextDocument(({ textDocument, contentChanges }) =>
    heard(session, 'textDocument/didChange', () => session.changed(textDocument, contentChanges)),
  );
  connection.onDidCloseTextDocument(({ textDocument }) =>
    heard(session, 'textDocument/didClose', () => {
      session.closed(textDocument.uri);
      push?.closed(textDocument.uri);
    }),
  );
  connection.onDidChangeWatchedFiles(({ changes }) =>
    heard(session, 'workspace/didChangeWatchedFiles', () => watching.changed(changes.map(({ uri }) => uri))),
  );
}

/** What our own client asks beside the protocol. */
function faceOf(session: Session): void {
  tellChanges(session);
  answerPrices(session);
  answerReports(session);
  answerPaper(session);
  for (const [method, answer] of Object.entries(REQUESTS)) {
    const ask = answer as (books: Session['estimates'], params: object) => unknown;
    session.connection.onRequest(method, (params: { uri?: string }, token) =>
      answered(session, method, token, () => {
        const { uri } = params;
        return ask(session.estimates, uri === undefined ? params : { ...params, uri: canonical(uri) });
      }),
    );
  }
}
