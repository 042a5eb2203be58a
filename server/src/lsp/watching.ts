/** Files that change outside the editor, gathered: a checkout changes hundreds at once. */
import { DidChangeWatchedFilesNotification, WatchKind } from 'vscode-languageserver';
import type { Session } from './session.ts';

/** Milliseconds that a batch waits for more. */
const GATHER = 50;

export class Watching {
  readonly #session: Session;
  readonly #waiting = new Set<string>();
  #timer: ReturnType<typeof setTimeout> | undefined;

  constructor(session: Session) {
    this.#session = session;
  }

  /** Asks the client to watch; folders as well, because one that goes is told of as one thing. */
  register(): void {
    if (!this.#session.client.workspace?.didChangeWatchedFiles?.dynamicRegistration) return;
    const watchers = [{ globPattern: '**/*', kind: WatchKind.Create | WatchKind.Change | WatchKind.Delete }];
    this.#session.connection.client
      .register(DidChangeWatchedFilesNotification.type, { watchers })
      .catch(() => undefined);
  }

  changed(uris: readonly string[]): void {
    for (const uri of uris) if (!isIgnored(uri)) this.#waiting.add(uri);
    this.#timer ??= setTimeout(() => {
      this.#timer = undefined;
      const batch = [...this.#waiting];
      this.#waiting.clear();
      if (batch.length > 0) this.#session.filesChanged(batch);
    }, GATHER);
  }
}

function isIgnored(uri: string): boolean {
  return /\/(\.[^/]+|node_modules|dist)(\/|$)/.test(uri);
}
