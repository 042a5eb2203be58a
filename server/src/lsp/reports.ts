/** Diagnostics as they are pulled: with the id of what was told last, so that nothing is told twice. */
import type {
  CancellationToken,
  Diagnostic,
  DocumentDiagnosticParams,
  DocumentDiagnosticReport,
  FullDocumentDiagnosticReport,
  PreviousResultId,
  WorkspaceDiagnosticParams,
  WorkspaceDiagnosticReport,
  WorkspaceDocumentDiagnosticReport,
} from 'vscode-languageserver';
import type { BookFile } from '../book/file.ts';
import { canonical } from '../book/paths.ts';
import { diagnostics } from '../features/diagnostics.ts';
import { working } from './progress.ts';
import type { At, Session } from './session.ts';
import { pause, Slices } from './slices.ts';

export interface Report {
  /** Equal exactly when the diagnostics are. */
  readonly resultId: string;
  readonly items: Diagnostic[];
}

/** Reports that are sent at a time to a client that takes them bit by bit. */
const BATCH = 200;
/** Milliseconds without a change before the workspace is looked at again. */
const QUIET = 300;

export class Reports {
  readonly #session: Session;
  readonly #kept = new WeakMap<BookFile, { readonly version: number; readonly report: Report }>();

  constructor(session: Session) {
    this.#session = session;
  }

  of({ book, file, estimates }: At): Report {
    const kept = this.#kept.get(file);
    if (kept?.version === book.version) return kept.report;
    const items = diagnostics(estimates, file, this.#session.options.codePages);
    const report = { resultId: digest(JSON.stringify(items)), items };
    this.#kept.set(file, { version: book.version, report });
    return report;
  }

  document({ textDocument, previousResultId }: DocumentDiagnosticParams): DocumentDiagnosticReport {
    const at = this.#session.at(textDocument.uri);
    if (!at) return { kind: 'full', items: [] };
    const report = this.of(at);
    const related = this.#related(at, report);
    const more = Object.keys(related).length > 0 ? { relatedDocuments: related } : {};
    if (report.resultId === previousResultId)
      return { kind: 'unchanged', resultId: report.resultId, ...more };
    return { kind: 'full', resultId: report.resultId, items: report.items, ...more };
  }

  /** A client that takes results bit by bit is told when there is something new; another one is told at once. */
  async workspace(
    params: WorkspaceDiagnosticParams,
    token: CancellationToken,
  ): Promise<WorkspaceDiagnosticReport> {
    const { partialResultToken, previousResultIds } = params;
    let items = await working(this.#session, params.workDoneToken, 'Checking the shop book', (tell) =>
      this.#all(previousResultIds, token, tell),
    );
    if (partialResultToken === undefined) return { items };
    for (;;) {
      const fresh = items.filter((item) => item.kind === 'full');
      if (token.isCancellationRequested || fresh.length > 0 || previousResultIds.length === 0) {
        const { connection } = this.#session;
        for (let from = 0; from < fresh.length; from += BATCH)
          await connection.sendNotification('$/progress', {
            token: partialResultToken,
            value: { items: fresh.slice(from, from + BATCH) },
          });
        return { items: [] };
      }
      await this.#session.change(QUIET, token);
      await this.#session.ready;
      items = await this.#all(previousResultIds, token);
    }
  }

  async #all(
    previous: readonly PreviousResultId[],
    token: CancellationToken,
    tell: (percent: number) => void = () => undefined,
  ): Promise<WorkspaceDocumentDiagnosticReport[]> {
    const before = new Map(previous.map(({ uri, value }) => [canonical(uri), { uri, value }]));
    const items: WorkspaceDocumentDiagnosticReport[] = [];
    const slices = new Slices();
    const uris = this.#session.books.flatMap((book) => [...book.files()].map((file) => file.uri));
    for (const [done, uri] of uris.entries()) {
      if (slices.over) {
        tell(Math.floor((100 * done) / uris.length));
        await pause();
        if (token.isCancellationRequested) return [];
      }
      // A file may have gone meanwhile.
      const at = this.#session.at(uri);
      if (!at) continue;
      const item = this.#item(at, before.get(uri)?.value);
      if (item) items.push(item);
      before.delete(uri);
    }
    for (const { uri } of before.values()) items.push({ kind: 'full', uri, version: null, items: [] });
    return items;
  }

  /** Nothing is said of a file that has no problems and had none. */
  #item(at: At, before: string | undefined): WorkspaceDocumentDiagnosticReport | undefined {
    const { resultId, items } = this.of(at);
    const uri = this.#session.documents.spelled(at.file.uri);
    const version = this.#session.documents.versionOf(uri);
    if (resultId === before) return { kind: 'unchanged', uri, version, resultId };
    if (items.length === 0 && before === undefined) return undefined;
    return { kind: 'full', uri, version, resultId, items };
  }

  /** The files at the other end of a problem that has two. */
  #related({ file }: At, { items }: Report): Record<string, FullDocumentDiagnosticReport> {
    if (!this.#session.client.textDocument?.diagnostic?.relatedDocumentSupport) return {};
    const others = items.flatMap((item) =>
      (item.relatedInformation ?? []).map(({ location }) => location.uri),
    );
    const out: Record<string, FullDocumentDiagnosticReport> = {};
    for (const uri of new Set(others)) {
      const at = uri === file.uri ? undefined : this.#session.at(uri);
      if (at) out[this.#session.documents.spelled(uri)] = { kind: 'full', ...this.of(at) };
    }
    return out;
  }
}

/** 64 bits of the text (FNV-1a from both ends) and its length. */
function digest(text: string): string {
  let low = 0x811c9dc5;
  let high = 0xc9dc5118;
  for (let i = 0; i < text.length; i++) {
    low = Math.imul(low ^ text.charCodeAt(i), 0x01000193);
    high = Math.imul(high ^ text.charCodeAt(text.length - 1 - i), 0x01000193);
  }
  return (low >>> 0).toString(36) + (high >>> 0).toString(36) + text.length.toString(36);
}
