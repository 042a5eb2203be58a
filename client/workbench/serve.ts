/** Runs the editor's workbench as a local server. */
import { type ChildProcess, spawn, spawnSync } from 'node:child_process';
import { mkdirSync, writeFileSync } from 'node:fs';
import { createServer } from 'node:net';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';

/** Nothing that draws the eye away from the files. */
export const QUIET_SETTINGS: Readonly<Record<string, unknown>> = {
  'chat.disableAIFeatures': true,
  'workbench.startupEditor': 'none',
  'workbench.secondarySideBar.defaultVisibility': 'hidden',
  'telemetry.telemetryLevel': 'off',
  'update.mode': 'none',
  'files.autoSave': 'off',
  'extensions.autoUpdate': false,
  'extensions.autoCheckUpdates': false,
};

export interface WorkbenchOptions {
  /** Of the workbench's server, as `installWorkbench` answers. */
  readonly server: string;
  /** For settings, state and extensions of this run. */
  readonly data: string;
  readonly settings?: Readonly<Record<string, unknown>>;
  /** Folders open without asking; leave out to be asked whether a folder is trusted. */
  readonly trustAll?: boolean;
  /** The port; any free one when left out. */
  readonly port?: number;
  /** Read the test driver's payload from the address. */
  readonly driven?: boolean;
  readonly env?: Readonly<Record<string, string>>;
}

export interface Workbench {
  readonly port: number;
  /** The address that opens a folder. */
  address(folder: string, payload?: readonly (readonly [string, string])[]): string;
  /** Settings that hold from now on, also in windows that are open. */
  set(settings: Readonly<Record<string, unknown>>): void;
  stop(): Promise<void>;
}

/** Installs a VSIX where this run looks for extensions. */
export function installExtension(server: string, data: string, vsix: string): void {
  const ran = spawnSync(
    process.execPath,
    [server, '--install-extension', vsix, ...folders(data), '--accept-server-license-terms'],
    { encoding: 'utf8' },
  );
  if (ran.status !== 0) throw new Error(`The extension could not be installed.\n${ran.stdout}${ran.stderr}`);
}

export async function startWorkbench(options: WorkbenchOptions): Promise<Workbench> {
  const { server, data, settings = {}, trustAll = false, driven = false, env = {} } = options;
  const port = options.port ?? (await freePort());
  const set: Workbench['set'] = (more) => writeSettings(data, { ...QUIET_SETTINGS, ...settings, ...more });
  set({});
  const child = spawn(
    process.execPath,
    [
      server,
      '--host',
      '127.0.0.1',
      '--port',
      String(port),
      '--without-connection-token',
      '--accept-server-license-terms',
      ...folders(data),
      ...(trustAll ? ['--disable-workspace-trust'] : []),
      ...(driven ? ['--enable-smoke-test-driver'] : []),
    ],
    { stdio: ['ignore', 'pipe', 'pipe'], env: { ...process.env, ...env } },
  );
  const end = () => child.kill();
  process.once('exit', end);
  await listening(child);
  return {
    port,
    address: (folder, payload) => {
      const url = new URL(`http://127.0.0.1:${port}/`);
      url.searchParams.set('folder', pathToFileURL(folder).pathname);
      if (payload) url.searchParams.set('payload', JSON.stringify(payload));
      return url.href;
    },
    set,
    stop: () => {
      process.off('exit', end);
      return stopped(child);
    },
  };
}

function folders(data: string): string[] {
  return ['--server-data-dir', join(data, 'server'), '--extensions-dir', join(data, 'extensions')];
}

function writeSettings(data: string, settings: Readonly<Record<string, unknown>>): void {
  for (const kind of ['User', 'Machine']) {
    const folder = join(data, 'server/data', kind);
    mkdirSync(folder, { recursive: true });
    writeFileSync(join(folder, 'settings.json'), JSON.stringify(settings, null, 2));
  }
}

function listening(child: ChildProcess): Promise<void> {
  return new Promise((resolve, reject) => {
    let said = '';
    const hear = (chunk: Buffer) => {
      said += chunk.toString();
      if (/available at|listening on/i.test(said)) resolve();
    };
    child.stdout!.on('data', hear);
    child.stderr!.on('data', hear);
    child.once('exit', (code) => reject(new Error(`The workbench ended with ${code}.\n${said}`)));
    child.once('error', reject);
  });
}

function stopped(child: ChildProcess): Promise<void> {
  return new Promise((resolve) => {
    if (child.exitCode !== null || child.signalCode !== null) return resolve();
    child.once('exit', () => resolve());
    child.kill();
  });
}

function freePort(): Promise<number> {
  return new Promise((resolve, reject) => {
    const probe = createServer();
    probe.once('error', reject);
    probe.listen(0, '127.0.0.1', () => {
      const address = probe.address();
      probe.close(() =>
        typeof address === 'object' && address ? resolve(address.port) : reject(new Error('no port')),
      );
    });
  });
}
