/** Runs the suite of host/ inside the editor's own extension host, and tells what came out as tests of this run. */
import { cpSync, existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, inject, it } from 'vitest';
import { startWorkbench } from '../../client/workbench/serve.ts';
import { launch } from './browser.ts';
import type { HostResult } from './host/suite.ts';
import type { Editor } from './set-up.ts';

const STARTER = join(import.meta.dirname, '../../client/starter');
const WITHIN = 300_000;

const editor = inject('editor');

describe.skipIf(typeof editor === 'string')('in the extension host', async () => {
  if (typeof editor === 'string') return;
  for (const { name, error } of await hostResults(editor)) it(name, () => expect(error).toBeUndefined());
});

async function hostResults({
  server,
  browser: executable,
  extension,
  hostTests,
  scratch,
}: Editor): Promise<HostResult[]> {
  const data = join(scratch, 'host');
  const folder = join(scratch, 'host-book');
  const results = join(scratch, 'host.json');
  cpSync(STARTER, folder, { recursive: true });
  const workbench = await startWorkbench({
    server,
    data,
    trustAll: true,
    driven: true,
    env: { GEARQUILL_TEST_RESULTS: results },
  });
  const browser = await launch(executable);
  try {
    const page = await browser.newPage();
    const remote = (path: string) => `vscode-remote://127.0.0.1:${workbench.port}${path}`;
    const address = workbench.address(folder, [
      ['extensionDevelopmentPath', remote(extension)],
      ['extensionTestsPath', remote(hostTests)],
    ]);
    await page.goto(address);
    const end = Date.now() + WITHIN;
    while (!existsSync(results)) {
      if (Date.now() > end) {
        await page.screenshot({ path: join(import.meta.dirname, '../../dist/tests/host.png') });
        const partial = existsSync(`${results}.partial`)
          ? readFileSync(`${results}.partial`, 'utf8')
          : 'nothing';
        throw new Error(
          `The suite in the extension host did not end; see dist/tests/host.png. So far: ${partial}`,
        );
      }
      await page.waitForTimeout(200);
    }
    return JSON.parse(readFileSync(results, 'utf8')) as HostResult[];
  } finally {
    await browser.close();
    await workbench.stop();
  }
}
