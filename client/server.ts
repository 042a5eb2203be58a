/** The language server as the rest of the client sees it: whether it runs, and what it answers. */
import * as vscode from 'vscode';
import {
  type BaseLanguageClient,
  CodeAction,
  CodeActionKind,
  CodeActionRequest,
  CodeActionTriggerKind,
  type LanguageClientOptions,
  type Range,
  RevealOutputChannelOn,
  State,
  type WorkspaceEdit,
} from 'vscode-languageclient';
import type { Method, Requests } from '../server/src/features/client/requests.ts';
import type { CHANGED } from '../server/src/lsp/refresh.ts';
import { CODE_PAGES } from './code-pages.ts';
import { readForServer } from './files.ts';
import { LANGUAGES } from './languages.ts';

const changed: typeof CHANGED = 'gearquill/changed';

export type ServerState = 'starting' | 'ready' | 'stopped';

/** Makes the client of the desktop, or of the browser. */
export type MakeClient = (options: LanguageClientOptions) => BaseLanguageClient;

export class Server implements vscode.Disposable {
  readonly log: vscode.LogOutputChannel;
  readonly #client: BaseLanguageClient;
  readonly #changed = new vscode.EventEmitter<void>();
  readonly #stateChanged = new vscode.EventEmitter<ServerState>();
  readonly #disposables: vscode.Disposable[] = [];
  #state: ServerState = 'starting';

  constructor(make: MakeClient, reads: 'disk' | 'client') {
    this.log = vscode.window.createOutputChannel('Gearquill', { log: true });
    this.#client = make({
      documentSelector: bookSchemes().flatMap((scheme) =>
        LANGUAGES.map((language) => ({ language, scheme })),
      ),
      initializationOptions: { reads, codePages: `${CODE_PAGES}:/` },
      outputChannel: this.log,
      revealOutputChannelOn: RevealOutputChannelOn.Never,
      progressOnInitialization: true,
    });
    this.#disposables.push(
      this.log,
      this.#changed,
      this.#stateChanged,
      readForServer(this.#client),
      this.#client.onNotification(changed, () => this.#changed.fire()),
      this.#client.onDidChangeState(({ newState }) =>
        this.#become(
          newState === State.Running ? 'ready' : newState === State.Starting ? 'starting' : 'stopped',
        ),
      ),
    );
  }

  get state(): ServerState {
    return this.#state;
  }

  /** A book has changed: what was asked before may have another answer. Also when the server is there again. */
  get onChanged(): vscode.Event<void> {
    return this.#changed.event;
  }

  get onStateChanged(): vscode.Event<ServerState> {
    return this.#stateChanged.event;
  }

  async start(): Promise<void> {
    this.#become('starting');
    try {
      await this.#client.start();
    } catch (error) {
      this.log.error(error instanceof Error ? error : String(error));
      this.#become('stopped');
    }
  }

  async restart(): Promise<void> {
    if (this.#client.isRunning()) await this.#client.stop();
    await this.start();
  }

  /** Undefined while there is no server, and for files that it does not know. */
  async ask<M extends Method>(method: M, params: Requests[M][0]): Promise<Requests[M][1] | undefined> {
    if (this.#state !== 'ready') return undefined;
    try {
      const answer: Requests[M][1] | null = await this.#client.sendRequest(method, params);
      return answer ?? undefined;
    } catch (error) {
      // A server that has just gone is started again by itself; whoever asked asks again when it is there.
      if (this.#client.isRunning()) this.log.error(error instanceof Error ? error : String(error));
      return undefined;
    }
  }

  /** Long work that may be cancelled; what the server refuses is thrown in its words. Undefined while there is no server. */
  async work<A>(method: string, params: object, token: vscode.CancellationToken): Promise<A | undefined> {
    if (this.#state !== 'ready') return undefined;
    const answer: A | null = await this.#client.sendRequest(method, params, token);
    return answer ?? undefined;
  }

  /** What the server offers to mend what is wrong in a range. Plain protocol: the editor's own command drops which problem an action is for. */
  async quickFixes(uri: vscode.Uri, range: Range): Promise<CodeAction[]> {
    if (this.#state !== 'ready') return [];
    const answer = await this.#client.sendRequest(CodeActionRequest.type, {
      textDocument: { uri: this.#client.code2ProtocolConverter.asUri(uri) },
      range,
      context: {
        diagnostics: [],
        only: [CodeActionKind.QuickFix],
        triggerKind: CodeActionTriggerKind.Invoked,
      },
    });
    return (answer ?? []).filter((one) => CodeAction.is(one));
  }

  /** False when it was not made. */
  async apply({ edit }: Pick<CodeAction, 'edit'>): Promise<boolean> {
    const made = await this.#client.protocol2CodeConverter.asWorkspaceEdit(edit);
    return made !== undefined && (await vscode.workspace.applyEdit(made));
  }

  /** A change of many files; the editor previews what asks to be confirmed. False when it was not made. */
  async refactor(edit: WorkspaceEdit): Promise<boolean> {
    const made = await this.#client.protocol2CodeConverter.asWorkspaceEdit(edit);
    return made !== undefined && (await vscode.workspace.applyEdit(made, { isRefactoring: true }));
  }

  async dispose(): Promise<void> {
    for (const one of this.#disposables) one.dispose();
    await this.#client.dispose();
  }

  #become(state: ServerState): void {
    if (state === this.#state) return;
    this.#state = state;
    this.#stateChanged.fire(state);
    if (state === 'ready') this.#changed.fire();
  }
}

/** Where books lie. Old versions and previews of a file have schemes of their own, and are no files of a book. */
function bookSchemes(): string[] {
  const folders = vscode.workspace.workspaceFolders ?? [];
  return [...new Set(['file', ...folders.map(({ uri }) => uri.scheme)])];
}
