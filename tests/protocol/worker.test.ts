/** The server as a browser runs it: bundled, in a worker without Node, the client reading files for it. */
import { createContext, runInContext } from 'node:vm';
import { build } from 'esbuild';
import { beforeAll, describe, expect, it } from 'vitest';
import { WORKER } from '../../client/build.ts';
import { BOOK, JOB } from './book.ts';

const ROOT = 'memfs:/shop';
const uri = (name: string) => `${ROOT}/${name}`;

interface Message {
  readonly id?: number;
  readonly method?: string;
  readonly params?: unknown;
  readonly result?: unknown;
}

/** What a worker of a page has around it, and nothing of Node. */
function startWorker(script: string, files: Map<string, string>) {
  let next = 1;
  const waiting = new Map<number, (message: Message) => void>();
  const asked: string[] = [];
  const send = (message: Message) =>
    (scope.onmessage as (event: { data: Message }) => void)({ data: structuredClone(message) });
  const answers: Readonly<Record<string, (params: never) => unknown>> = {
    'gearquill/readFolder': () => ({ files: [...files].map(([one, text]) => ({ uri: one, text })) }),
    'gearquill/readFile': ({ uri: one }: { uri: string }) =>
      files.has(one) ? { text: files.get(one) } : { missing: true },
    'gearquill/sizes': ({ uris }: { uris: string[] }) => uris.map((one) => files.get(one)?.length ?? null),
  };
  const scope: Record<string, unknown> = {
    addEventListener: () => undefined,
    postMessage: (message: Message) => {
      if (message.method === undefined) return waiting.get(message.id!)?.(message);
      asked.push(message.method);
      if (message.id === undefined) return;
      const answer = answers[message.method];
      const result = answer ? answer(message.params as never) : null;
      queueMicrotask(() => send({ jsonrpc: '2.0', id: message.id, result } as Message));
    },
    console,
    performance,
    setTimeout,
    clearTimeout,
    queueMicrotask,
    structuredClone,
    TextDecoder,
    TextEncoder,
    URL,
    atob,
    btoa,
    crypto,
  };
  scope.self = scope;
  runInContext(script, createContext(scope), { filename: 'server.js' });
  return {
    asked,
    tell: (method: string, params: unknown) => send({ jsonrpc: '2.0', method, params } as Message),
    ask: (method: string, params: unknown) =>
      new Promise<unknown>((resolve) => {
        const id = next++;
        waiting.set(id, ({ result }) => resolve(result));
        send({ jsonrpc: '2.0', id, method, params } as Message);
      }),
  };
}

describe('the server in a worker', () => {
  let script: string;
  beforeAll(async () => {
    const { outputFiles } = await build({ ...WORKER, write: false, metafile: false, minify: false });
    script = outputFiles[0]!.text;
  });

  it('checks and prices what the client reads for it, and follows changes', async () => {
    const files = new Map(Object.entries(BOOK).map(([name, text]) => [uri(name), text]));
    const worker = startWorker(script, files);
    await worker.ask('initialize', {
      processId: null,
      rootUri: ROOT,
      workspaceFolders: [{ uri: ROOT, name: 'shop' }],
      capabilities: { textDocument: { diagnostic: {} } },
      initializationOptions: { reads: 'client', codePages: 'pages:/' },
    });
    worker.tell('initialized', {});

    const codes = async () => {
      const report = await worker.ask('textDocument/diagnostic', { textDocument: { uri: uri(JOB) } });
      return (report as { items: { code: string }[] }).items.map((one) => one.code);
    };
    expect(await codes()).toContain('part-superseded');
    const view = (await worker.ask('gearquill/estimate', { uri: uri(JOB) })) as object;
    expect(JSON.stringify(view)).toContain('$');

    // A file that comes, changes or goes beside the editor is read again by the client.
    files.set(uri(JOB), BOOK[JOB]!.replaceAll('TC-1', 'TC-2'));
    worker.tell('workspace/didChangeWatchedFiles', { changes: [{ uri: uri(JOB), type: 2 }] });
    await expect.poll(codes).not.toContain('part-superseded');
    files.delete(uri('b6.parts.yaml'));
    worker.tell('workspace/didChangeWatchedFiles', { changes: [{ uri: uri('b6.parts.yaml'), type: 3 }] });
    await expect.poll(codes).toContain('unknown-reference');
    expect(worker.asked).toContain('gearquill/readFile');
  });
});
