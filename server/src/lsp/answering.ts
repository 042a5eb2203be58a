/** The way from a request to its answer: waiting for the books, cancelling, refusing, failing. */
import { type CancellationToken, ErrorCodes, LSPErrorCodes, ResponseError } from 'vscode-languageserver';
import { Refusal } from '../features/edit.ts';
import type { Session } from './session.ts';

/** No request brings the server down, and none stays without an answer. */
export async function answered(
  session: Session,
  method: string,
  token: CancellationToken,
  answer: () => unknown,
): Promise<unknown> {
  const cancelled = () => new ResponseError(LSPErrorCodes.RequestCancelled, 'Cancelled.');
  try {
    await session.ready;
    if (token.isCancellationRequested) return cancelled();
    const result = await answer();
    return token.isCancellationRequested ? cancelled() : respelled(session, result ?? null);
  } catch (error) {
    if (error instanceof Refusal) return new ResponseError(LSPErrorCodes.RequestFailed, error.message);
    failed(session, method, error);
    return new ResponseError(
      ErrorCodes.InternalError,
      `Gearquill could not answer ${method}. The log has the details; what you have written is safe.`,
    );
  }
}

/** A notification has no answer; what goes wrong is logged. */
export function heard(session: Session, method: string, listen: () => void): void {
  try {
    listen();
  } catch (error) {
    failed(session, method, error);
  }
}

function failed(session: Session, method: string, error: unknown): void {
  const details = error instanceof Error ? (error.stack ?? error.message) : String(error);
  session.connection.console.error(`${method} failed: ${details}`);
}

/** URIs of open documents as the client spells them. */
function respelled(session: Session, value: unknown): unknown {
  if (!session.documents.spellsOtherwise || value === null || typeof value !== 'object') return value;
  if (Array.isArray(value)) return value.map((one) => respelled(session, one));
  const out: Record<string, unknown> = {};
  for (const [key, one] of Object.entries(value)) {
    const isUri = (key === 'uri' || key === 'targetUri') && typeof one === 'string';
    out[key] = isUri ? session.documents.spelled(one) : respelled(session, one);
  }
  return out;
}
