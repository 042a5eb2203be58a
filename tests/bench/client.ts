/** A client of a language server in a process of its own, over stdio, that takes the time. */
import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { readFileSync } from 'node:fs';
import { pathToFileURL } from 'node:url';
import {
  createMessageConnection,
  type MessageConnection,
  StreamMessageReader,
  StreamMessageWriter,
} from 'vscode-languageserver/node';

export interface Place {
  readonly line: number;
  readonly character: number;
}

/** Asked by a signal, the server collects its garbage and says on stderr what stays. */
const TELLS_HEAP =
  'process.on("SIGUSR2",()=>{gc();gc();process.stderr.write("heap "+process.memoryUsage().heapUsed+"\\n")})';

export class BenchClient {
  readonly connection: MessageConnection;
  readonly #process: ChildProcess;
  readonly #versions = new Map<string, number>();
  readonly #waiting = new Map<string, (diagnostics: readonly object[]) => void>();

  /** `settings`: what the server is told when it asks for its configuration. */
  constructor(program: readonly string[], settings: Readonly<Record<string, unknown>> = {}) {
    const flags = ['--expose-gc', '--import', `data:text/javascript,${encodeURIComponent(TELLS_HEAP)}`];
    const child = spawn(process.execPath, [...flags, ...program], { stdio: ['pipe', 'pipe', 'pipe'] });
    this.#process = child;
    this.connection = createMessageConnection(
      new StreamMessageReader(child.stdout),
      new StreamMessageWriter(child.stdin),
    );
    this.connection.onRequest('workspace/configuration', ({ items }: { items: { section?: string }[] }) =>
      items.map(({ section }) => settings[section ?? ''] ?? null),
    );
    this.connection.onRequest(() => null);
    this.connection.onNotification(
      'textDocument/publishDiagnostics',
      ({ uri, diagnostics }: { uri: string; diagnostics: object[] }) => {
        this.#waiting.get(uri)?.(diagnostics);
        this.#waiting.delete(uri);
      },
    );
    this.connection.onUnhandledNotification(() => undefined);
    this.connection.listen();
  }

  /** `pulls`: whether the client asks for diagnostics; else it is told. */
  async start(folder: string, pulls: boolean): Promise<void> {
    const uri = pathToFileURL(folder).href;
    await this.connection.sendRequest('initialize', {
      processId: process.pid,
      rootUri: uri,
      workspaceFolders: [{ uri, name: 'book' }],
      capabilities: {
        workspace: { configuration: true, workspaceFolders: true, diagnostics: { refreshSupport: false } },
        textDocument: {
          ...(pulls ? { diagnostic: {} } : { publishDiagnostics: {} }),
          completion: { completionItem: { snippetSupport: true } },
          hover: { contentFormat: ['markdown'] },
          rename: {},
        },
      },
    });
    await this.connection.sendNotification('initialized', {});
  }

  ask<T>(method: string, params: object): Promise<T> {
    return this.connection.sendRequest<T>(method, params);
  }

  async open(uri: string, text: string): Promise<void> {
    this.#versions.set(uri, 1);
    const textDocument = { uri, languageId: 'yaml', version: 1, text };
    await this.connection.sendNotification('textDocument/didOpen', { textDocument });
  }

  /** Replaces what stands between two places. */
  async type(uri: string, start: Place, end: Place, text: string): Promise<void> {
    const version = (this.#versions.get(uri) ?? 0) + 1;
    this.#versions.set(uri, version);
    await this.connection.sendNotification('textDocument/didChange', {
      textDocument: { uri, version },
      contentChanges: [{ range: { start, end }, text }],
    });
  }

  /** The diagnostics of a file that are told next. */
  told(uri: string): Promise<readonly object[]> {
    return new Promise((done) => this.#waiting.set(uri, done));
  }

  /** Processor time of the server so far, in milliseconds; undefined where the system does not tell. */
  cpu(): number | undefined {
    try {
      const fields = readFileSync(`/proc/${this.#process.pid}/stat`, 'utf8').split(') ')[1]!.split(' ');
      return (Number(fields[11]) + Number(fields[12])) * 10;
    } catch {
      return undefined;
    }
  }

  /** Megabytes of memory of the process; undefined where the system does not tell. */
  rss(): number | undefined {
    try {
      const status = readFileSync(`/proc/${this.#process.pid}/status`, 'utf8');
      return Number(/VmRSS:\s+(\d+)/.exec(status)?.[1]) / 1024;
    } catch {
      return undefined;
    }
  }

  /** Megabytes on the heap after a collection. */
  async heap(): Promise<number> {
    const answer = new Promise<number>((done) => {
      const hear = (bytes: Buffer) => {
        const said = /heap (\d+)/.exec(bytes.toString());
        if (!said) return;
        this.#process.stderr!.off('data', hear);
        done(Number(said[1]) / 1e6);
      };
      this.#process.stderr!.on('data', hear);
    });
    this.#process.kill('SIGUSR2');
    return answer;
  }

  async stop(): Promise<void> {
    this.connection.dispose();
    if (this.#process.exitCode !== null) return;
    const gone = once(this.#process, 'exit');
    this.#process.kill();
    await gone;
  }
}
