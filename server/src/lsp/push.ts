/** Diagnostics told unasked, for clients that do not pull them: of the open documents, when they differ. */
import type { Reports } from './reports.ts';
import type { Session } from './session.ts';

/** Milliseconds without a change. */
const QUIET = 100;

export class Push {
  readonly #session: Session;
  readonly #reports: Reports;
  /** By URI as the client spells it: what was told last. */
  readonly #told = new Map<string, string>();
  #timer: ReturnType<typeof setTimeout> | undefined;

  constructor(session: Session, reports: Reports) {
    this.#session = session;
    this.#reports = reports;
    session.onChange(() => this.#soon());
  }

  closed(uri: string): void {
    if (this.#told.delete(uri)) this.#send(uri, []);
  }

  #soon(): void {
    clearTimeout(this.#timer);
    this.#timer = setTimeout(() => this.#all(), QUIET);
  }

  async #all(): Promise<void> {
    await this.#session.ready;
    for (const at of this.#session.openFiles()) {
      const uri = this.#session.documents.spelled(at.file.uri);
      const { resultId, items } = this.#reports.of(at);
      if (this.#told.get(uri) === resultId) continue;
      this.#told.set(uri, resultId);
      this.#send(uri, items);
    }
  }

  #send(uri: string, diagnostics: ReturnType<Reports['of']>['items']): void {
    const version = this.#session.documents.versionOf(uri);
    const sent = this.#session.connection.sendDiagnostics({
      uri,
      diagnostics,
      ...(version === null ? {} : { version }),
    });
    // A connection that has just gone needs no diagnostics.
    sent.catch(() => undefined);
  }
}
