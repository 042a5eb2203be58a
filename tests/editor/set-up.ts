/** Makes the real editor ready, once for all tests that run in it: workbench, browser, packaged extension. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { TestProject } from 'vitest/node';
import { pack } from '../../client/package.ts';
import { installWorkbench } from '../../client/workbench/install.ts';
import { findBrowser } from './browser.ts';
import { buildHostTests } from './host-bundle.ts';

const ROOT = join(import.meta.dirname, '../..');

/** What the tests need to know of the editor. */
export interface Editor {
  /** The workbench's server. */
  readonly server: string;
  readonly browser: string;
  /** The extension as users get it, and the folder that it was packed from. */
  readonly vsix: string;
  readonly extension: string;
  /** The module that runs inside the extension host. */
  readonly hostTests: string;
  /** For books and for what the editor keeps; gone afterwards. */
  readonly scratch: string;
}

declare module 'vitest' {
  export interface ProvidedContext {
    /** The reason, where the editor cannot be had. */
    readonly editor: Editor | string;
  }
}

/** On a machine that checks every change, a missing editor is a failure; elsewhere its tests are left out. */
export default async function setUp(project: TestProject): Promise<() => void> {
  const scratch = mkdtempSync(join(tmpdir(), 'gearquill-editor-'));
  try {
    const editor = await prepare(scratch);
    project.provide('editor', editor);
  } catch (error) {
    if (process.env.CI) throw error;
    const reason = error instanceof Error ? error.message : String(error);
    process.stderr.write(`Tests in the real editor are left out. ${reason}\n`);
    project.provide('editor', reason);
  }
  return () => rmSync(scratch, { recursive: true, force: true, maxRetries: 3 });
}

export async function prepare(scratch: string): Promise<Editor> {
  const say = (text: string) => process.stderr.write(`${text}\n`);
  const browser = findBrowser(say);
  const server = installWorkbench(say);
  const vsix = await pack();
  const hostTests = await buildHostTests();
  return { server, browser, vsix, extension: join(ROOT, 'dist/vscode'), hostTests, scratch };
}
