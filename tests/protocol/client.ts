/** A client of our server, over any of its transports, that holds every message against the meta model. */
import { type ChildProcess, fork, spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { PassThrough } from 'node:stream';
import { fileURLToPath, pathToFileURL } from 'node:url';
import {
  type ClientCapabilities,
  createConnection,
  createMessageConnection,
  type InitializeResult,
  IPCMessageReader,
  IPCMessageWriter,
  type MessageConnection,
  type MessageReader,
  type MessageWriter,
  SocketMessageReader,
  SocketMessageWriter,
  StreamMessageReader,
  StreamMessageWriter,
} from 'vscode-languageserver/node';
import { DISK_FILES } from '../../server/src/lsp/disk-files.ts';
import { serve } from '../../server/src/lsp.ts';
import { FULL } from './capabilities.ts';
import { Recorder } from './recorder.ts';

export type Transport = 'inside' | 'stdio' | 'ipc' | 'socket';

const MAIN = fileURLToPath(new URL('../../server/src/main.ts', import.meta.url));

export interface Setting {
  /** `inside`: in this process, the quickest. */
  readonly transport?: Transport;
  readonly capabilities?: ClientCapabilities;
  readonly options?: object;
  /** Folders below the one of the test; the whole of it when left out. */
  readonly folders?: readonly string[];
}

export class Client {
  readonly recorder = new Recorder();
  /** What the server has written into its log. */
  readonly logged: string[] = [];
  readonly folder: string;
  readonly connection: MessageConnection;
  readonly process: ChildProcess | undefined;
  #started: InitializeResult | undefined;
  readonly #versions = new Map<string, number>();

  private constructor(folder: string, reader: MessageReader, writer: MessageWriter, child?: ChildProcess) {
    this.folder = folder;
    this.process = child;
    this.connection = createMessageConnection(this.recorder.reader(reader), this.recorder.writer(writer));
    this.connection.onRequest(() => null);
    this.connection.onUnhandledNotification(() => undefined);
    this.connection.onNotification('window/logMessage', ({ message }: { message: string }) => {
      this.logged.push(message);
    });
    this.connection.listen();
  }

  /** `files` are written into a folder of their own and served from there. */
  static async start(files: Readonly<Record<string, string>>, setting: Setting = {}): Promise<Client> {
    const folder = mkdtempSync(join(tmpdir(), 'gearquill-'));
    for (const [name, text] of Object.entries(files)) write(folder, name, text);
    const client = await Client.#connected(folder, setting.transport ?? 'inside');
    const folders = (setting.folders ?? ['']).map((name) => pathToFileURL(join(folder, name)).href);
    client.#started = await client.connection.sendRequest<InitializeResult>('initialize', {
      processId: setting.transport === undefined ? null : process.pid,
      rootUri: folders[0] ?? null,
      workspaceFolders: folders.map((uri) => ({ uri, name: uri })),
      capabilities: setting.capabilities ?? FULL,
      initializationOptions: setting.options ?? { codePages: 'pages:/' },
    });
    await client.connection.sendNotification('initialized', {});
    return client;
  }

  static async #connected(folder: string, transport: Transport): Promise<Client> {
    if (transport === 'stdio') {
      const child = spawn(process.execPath, [MAIN, '--stdio'], { stdio: ['pipe', 'pipe', 'inherit'] });
      return new Client(
        folder,
        new StreamMessageReader(child.stdout),
        new StreamMessageWriter(child.stdin),
        child,
      );
    }
    if (transport === 'ipc') {
      const child = fork(MAIN, ['--node-ipc'], { execArgv: [] });
      return new Client(folder, new IPCMessageReader(child), new IPCMessageWriter(child), child);
    }
    if (transport === 'socket') {
      const server = createServer().listen(0, '127.0.0.1');
      await once(server, 'listening');
      const { port } = server.address() as { port: number };
      const child = spawn(process.execPath, [MAIN, `--socket=${port}`], { stdio: 'inherit' });
      const [socket] = await once(server, 'connection');
      server.close();
      return new Client(folder, new SocketMessageReader(socket), new SocketMessageWriter(socket), child);
    }
    const [up, down] = [new PassThrough(), new PassThrough()];
    serve(createConnection(new StreamMessageReader(up), new StreamMessageWriter(down)), DISK_FILES);
    return new Client(folder, new StreamMessageReader(down), new StreamMessageWriter(up));
  }

  get initialized(): InitializeResult {
    return this.#started!;
  }

  uri(name: string): string {
    return pathToFileURL(join(this.folder, name)).href;
  }

  /** Names of the test's files for their URIs. */
  name(uri: string): string {
    return decodeURIComponent(uri.slice(pathToFileURL(this.folder).href.length + 1));
  }

  ask<T>(method: string, params: object): Promise<T> {
    return this.connection.sendRequest<T>(method, params);
  }

  /** A request about a place, given as the text it stands at the beginning of. */
  at<T>(
    method: string,
    name: string,
    position: { line: number; character: number },
    more: object = {},
  ): Promise<T> {
    return this.ask(method, { textDocument: { uri: this.uri(name) }, position, ...more });
  }

  about<T>(method: string, name: string, more: object = {}): Promise<T> {
    return this.ask(method, { textDocument: { uri: this.uri(name) }, ...more });
  }

  async open(name: string, text: string): Promise<void> {
    this.#versions.set(name, 1);
    const document = { uri: this.uri(name), languageId: 'yaml', version: 1, text };
    await this.connection.sendNotification('textDocument/didOpen', { textDocument: document });
  }

  /** Each change has the positions of the text after the one before. */
  async change(name: string, ...contentChanges: object[]): Promise<void> {
    const version = (this.#versions.get(name) ?? 0) + 1;
    this.#versions.set(name, version);
    await this.connection.sendNotification('textDocument/didChange', {
      textDocument: { uri: this.uri(name), version },
      contentChanges,
    });
  }

  async close(name: string): Promise<void> {
    await this.connection.sendNotification('textDocument/didClose', {
      textDocument: { uri: this.uri(name) },
    });
  }

  write(name: string, text: string): void {
    write(this.folder, name, text);
  }

  remove(name: string): void {
    rmSync(join(this.folder, name), { recursive: true });
  }

  /** As a watcher tells of it: 1 created, 2 changed, 3 deleted. */
  async watched(...changes: [name: string, type: 1 | 2 | 3][]): Promise<void> {
    await this.connection.sendNotification('workspace/didChangeWatchedFiles', {
      changes: changes.map(([name, type]) => ({ uri: this.uri(name), type })),
    });
  }

  /** Resolves with the parameters when the server next sends this. */
  next<T>(method: string, matches: (params: T) => boolean = () => true): Promise<T> {
    return new Promise((done) => {
      this.connection.onNotification(method, (params: T) => {
        if (matches(params)) done(params);
      });
    });
  }

  /** Resolves when the server next asks this. */
  asked(method: string): Promise<unknown> {
    return new Promise((done) => {
      this.connection.onRequest(method, (params: unknown) => {
        done(params);
        return null;
      });
    });
  }

  /** Ends the conversation; the exit code of a server in a process of its own. */
  async stop(): Promise<number | null> {
    let code: number | null = null;
    await this.connection.sendRequest('shutdown');
    if (this.process) {
      const exited = once(this.process, 'exit');
      await this.connection.sendNotification('exit');
      [code] = (await exited) as [number];
    }
    this.connection.dispose();
    rmSync(this.folder, { recursive: true });
    return code;
  }
}

function write(folder: string, name: string, text: string): void {
  const path = join(folder, name);
  mkdirSync(dirname(path), { recursive: true });
  writeFileSync(path, text);
}
