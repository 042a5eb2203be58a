/**
 * The editor's own workbench, from a package registry: for machines without a desktop editor, and for tests.
 *
 * It is some 600 MB and is kept outside the project, so that other clones find it ready.
 */
import { spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, mkdtempSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { homedir } from 'node:os';
import { dirname, join } from 'node:path';

/** Pinned: the tests drive its screen. */
export const PACKAGE = 'code-server@4.139.1';
const NATIVE = ['@vscode/spdlog', '@vscode/native-watchdog'];

/** Where the workbench is kept. */
export function workbenchFolder(): string {
  const cache = process.env.XDG_CACHE_HOME ?? join(homedir(), '.cache');
  return join(cache, 'gearquill', PACKAGE);
}

/** The workbench's server, when it is there already. */
export function installedWorkbench(): string | undefined {
  const server = serverIn(workbenchFolder());
  return existsSync(server) ? server : undefined;
}

/** The workbench's server; fetched the first time. Throws with what is needed when that cannot be done. */
export function installWorkbench(say: (text: string) => void = () => {}): string {
  const known = installedWorkbench();
  if (known) return known;
  const folder = workbenchFolder();
  mkdirSync(dirname(folder), { recursive: true });
  const making = mkdtempSync(join(dirname(folder), 'making-'));
  try {
    say(`Fetching the editor's workbench (${PACKAGE}) into ${folder}; this takes a minute, once.`);
    writeFileSync(join(making, 'package.json'), '{"private":true}');
    npm(making, ['install', '--ignore-scripts', PACKAGE]);
    const inner = join(making, 'node_modules/code-server/lib/vscode');
    npm(inner, ['install', '--omit=dev', '--ignore-scripts']);
    npm(inner, ['rebuild', ...NATIVE]);
    // Only a finished workbench gets its name; of two that are made at once, the first stays.
    if (!installedWorkbench()) renameSync(making, folder);
  } finally {
    rmSync(making, { recursive: true, force: true });
  }
  return serverIn(folder);
}

function serverIn(folder: string): string {
  return join(folder, 'node_modules/code-server/lib/vscode/out/server-main.js');
}

function npm(folder: string, args: readonly string[]): void {
  const ran = spawnSync('npm', [...args, '--no-audit', '--no-fund', '--loglevel=error'], {
    cwd: folder,
    encoding: 'utf8',
    shell: process.platform === 'win32',
    env: withoutNpm(),
  });
  if (ran.status === 0) return;
  throw new Error(
    `The editor's workbench could not be made ready: npm ${args.join(' ')} failed.\n${ran.error?.message ?? ran.stderr}\nIt needs a package registry, python3, make and a C++ compiler.`,
  );
}

/** Settings of an npm that started us (its prefix, its folder) are not for the npm we start. */
function withoutNpm(): NodeJS.ProcessEnv {
  return Object.fromEntries(Object.entries(process.env).filter(([name]) => !/^npm_/i.test(name)));
}
