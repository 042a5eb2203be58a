/** Asks the client to ask again, when something has changed that it cannot know of. */
import {
  CodeLensRefreshRequest,
  DiagnosticRefreshRequest,
  InlayHintRefreshRequest,
  SemanticTokensRefreshRequest,
} from 'vscode-languageserver';
import type { Session, SessionChange } from './session.ts';

/** Milliseconds without a change. */
const QUIET = 200;

/** Told to our own client after every change of a book. */
export const CHANGED = 'gearquill/changed';

export function refreshOnChange(session: Session): void {
  const can = session.client.workspace;
  let timer: ReturnType<typeof setTimeout> | undefined;
  let fromOutside = false;

  session.onChange((change) => {
    if (change.typed && !concernsOthers(session, change)) return;
    fromOutside ||= !change.typed;
    clearTimeout(timer);
    timer = setTimeout(() => {
      // What is typed in one document makes the client pull the others by itself; changes from outside do not.
      if (fromOutside && can?.diagnostics?.refreshSupport) ask(DiagnosticRefreshRequest.method);
      if (can?.inlayHint?.refreshSupport) ask(InlayHintRefreshRequest.method);
      if (can?.codeLens?.refreshSupport) ask(CodeLensRefreshRequest.method);
      if (can?.semanticTokens?.refreshSupport) ask(SemanticTokensRefreshRequest.method);
      fromOutside = false;
    }, QUIET);
  });

  function ask(method: string): void {
    // A client that goes away, or thinks better of it, is no trouble of ours.
    session.connection.sendRequest(method).catch(() => undefined);
  }
}

function concernsOthers(session: Session, { files }: SessionChange): boolean {
  let open = 0;
  for (const { file } of session.openFiles()) if (files.has(file)) open++;
  return open > 1;
}

/** At most one on its way, however much is typed. */
export function tellChanges(session: Session): void {
  let due = false;
  session.onChange(() => {
    if (due) return;
    due = true;
    setTimeout(() => {
      due = false;
      session.connection.sendNotification(CHANGED, {}).catch(() => undefined);
    }, 0);
  });
}
