/**
 * Opens a folder in an editor with the extension: the desktop editor when there is one, else the workbench in a
 * browser.
 */
import { spawnSync } from 'node:child_process';
import { mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pack } from '../package.ts';
import { installWorkbench } from './install.ts';
import { installExtension, startWorkbench } from './serve.ts';

/** Answers with where it was opened: a sentence for the terminal. In a browser it stays open until the process ends. */
export async function openInEditor(folder: string, say: (text: string) => void): Promise<string> {
  const vsix = await pack();
  if (code('--install-extension', vsix, '--force') && code(folder))
    return 'The folder is open in VS Code, with the extension.';
  const server = installWorkbench(say);
  const data = mkdtempSync(join(tmpdir(), 'gearquill-'));
  installExtension(server, data, vsix);
  const workbench = await startWorkbench({ server, data, trustAll: true });
  process.once('SIGINT', () => void workbench.stop().then(() => process.exit(0)));
  return `Open this address in a browser: ${workbench.address(folder)}\nPress Ctrl+C to end.`;
}

function code(...args: string[]): boolean {
  const ran = spawnSync('code', args, {
    stdio: 'ignore',
    timeout: 60_000,
    shell: process.platform === 'win32',
  });
  return ran.status === 0;
}
