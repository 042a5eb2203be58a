/** Runs the suite of host/ in the desktop editor, on machines that can download it: `npm run test:desktop`. */
import { cpSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { runTests } from '@vscode/test-electron';
import { stage } from '../../client/package.ts';
import { QUIET_SETTINGS } from '../../client/workbench/serve.ts';
import { buildHostTests } from './host-bundle.ts';

const STARTER = join(import.meta.dirname, '../../client/starter');
const scratch = mkdtempSync(join(tmpdir(), 'gearquill-desktop-'));
try {
  const folder = join(scratch, 'book');
  const data = join(scratch, 'data');
  cpSync(STARTER, folder, { recursive: true });
  mkdirSync(join(data, 'User'), { recursive: true });
  writeFileSync(join(data, 'User/settings.json'), JSON.stringify(QUIET_SETTINGS));
  await runTests({
    extensionDevelopmentPath: await stage(),
    extensionTestsPath: await buildHostTests(),
    launchArgs: [folder, '--disable-extensions', '--disable-workspace-trust', '--user-data-dir', data],
  });
} finally {
  rmSync(scratch, { recursive: true, force: true, maxRetries: 3 });
}
