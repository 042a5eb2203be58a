/** Listens to both sides of a conversation and holds every message against the meta model. */
import type {
  Message,
  MessageReader,
  MessageWriter,
  NotificationMessage,
  RequestMessage,
  ResponseMessage,
} from 'vscode-languageserver/node';
import { checkParams, checkPartial, checkResult, checkStructure, type Side } from './meta-model.ts';

/** Messages between server and our own client that are beside the protocol. */
const OWN = /^gearquill\//;

export class Recorder {
  /** What does not fit the model. */
  readonly problems: string[] = [];
  /** Methods by who has sent them, in order. */
  readonly sent: { from: Side; method: string; params: unknown }[] = [];
  readonly #asked = new Map<string, string>();
  /** By token: the request whose partial results come under it. */
  readonly #partial = new Map<unknown, string>();

  reader(inner: MessageReader): MessageReader {
    const listen = inner.listen.bind(inner);
    inner.listen = (callback) =>
      listen((message) => {
        this.#note(message, 'server');
        callback(message);
      });
    return inner;
  }

  writer(inner: MessageWriter): MessageWriter {
    const write = inner.write.bind(inner);
    inner.write = (message) => {
      // As it is on the wire, without what JSON leaves out.
      this.#note(JSON.parse(JSON.stringify(message)) as Message, 'client');
      return write(message);
    };
    return inner;
  }

  #note(message: Message, from: Side): void {
    const { method, params, id } = message as RequestMessage & NotificationMessage;
    if (method === undefined) {
      this.#answer(message as ResponseMessage, from);
      return;
    }
    this.sent.push({ from, method, params });
    if (id !== undefined) this.#asked.set(`${from} ${id}`, method);
    if (OWN.test(method)) return;
    this.problems.push(...checkParams(method, params, from));
    const { partialResultToken } = (params ?? {}) as { partialResultToken?: unknown };
    if (partialResultToken !== undefined) this.#partial.set(partialResultToken, method);
    if (method === '$/progress') this.#progress(params as unknown as { token: unknown; value: unknown });
  }

  #answer({ id, result, error }: ResponseMessage, from: Side): void {
    const method = this.#asked.get(`${from === 'server' ? 'client' : 'server'} ${id}`);
    if (method === undefined || OWN.test(method)) return;
    if (error === undefined) this.problems.push(...checkResult(method, result));
    else if (!Number.isInteger(error.code) || typeof error.message !== 'string')
      this.problems.push(`${method}: an error without a code or a message`);
  }

  #progress({ token, value }: { token: unknown; value: unknown }): void {
    const method = this.#partial.get(token);
    if (method !== undefined) {
      this.problems.push(...checkPartial(method, value));
      return;
    }
    const kind = String((value as { kind?: unknown } | undefined)?.kind);
    const name = kind.slice(0, 1).toUpperCase() + kind.slice(1);
    this.problems.push(...checkStructure(`WorkDoneProgress${name}`, value));
  }
}
