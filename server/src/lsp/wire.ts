/** What the server can do, and who answers for it: capability and handlers side by side. */
import type {
  CancellationToken,
  ClientCapabilities,
  ProtocolRequestType,
  ServerCapabilities,
} from 'vscode-languageserver';
import type { BookFile } from '../book/file.ts';
import type { Reports } from './reports.ts';
import type { At, Session } from './session.ts';

/** What answers are made from. */
export interface Context {
  readonly session: Session;
  readonly reports: Reports;
  /** The colours last sent of a file, so that only what differs is sent next. */
  readonly colours: WeakMap<BookFile, { readonly resultId: string; readonly data: number[] }>;
}

export interface Answer {
  readonly method: string;
  readonly answer: (context: Context, params: unknown, token: CancellationToken) => unknown;
}

export interface Wire {
  /** What is advertised; undefined when this client cannot make use of it, and then nothing is answered either. */
  readonly capability: (client: ClientCapabilities) => ServerCapabilities | undefined;
  readonly answers: readonly Answer[];
}

export function on<P, R, PR, E, RO>(
  type: ProtocolRequestType<P, R, PR, E, RO>,
  answer: (context: Context, params: P, token: CancellationToken) => R | Promise<R>,
): Answer {
  return { method: type.method, answer: answer as Answer['answer'] };
}

interface InDocument {
  readonly textDocument: { readonly uri: string };
}

/** An answer about one document; null for a document that is not known. */
export function inFile<P extends InDocument, R, PR, E, RO>(
  type: ProtocolRequestType<P, R | null, PR, E, RO>,
  answer: (at: At, params: P, context: Context) => NoInfer<R> | null,
): Answer {
  return on(type, (context, params) => {
    const at = context.session.at(params.textDocument.uri);
    return at ? answer(at, params, context) : null;
  });
}

/** Capabilities laid over one another, groups of them merged. */
export function merged(parts: readonly ServerCapabilities[]): ServerCapabilities {
  return parts.reduce((all, part) => mergedTwo(all, part) as ServerCapabilities, {});
}

function mergedTwo(a: object, b: object): object {
  const out: Record<string, unknown> = { ...a };
  for (const [key, value] of Object.entries(b)) {
    const old = out[key];
    const groups = old !== null && typeof old === 'object' && value !== null && typeof value === 'object';
    out[key] = groups ? mergedTwo(old, value) : value;
  }
  return out;
}
