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

/** Where the editor or a browser cannot be had, the tests in them are left out, and the reason is told. */
export default async function setUp(project: TestProject): Promise<() => void> {
  const scratch = mkdtempSync(join(tmpdir(), 'gearquill-editor-'));
  const programs = editorPrograms();
  if (typeof programs === 'string') say(`Tests in the real editor are left out. ${programs}`);
  project.provide('editor', typeof programs === 'string' ? programs : await packed(programs, scratch));
  return () => rmSync(scratch, { recursive: true, force: true, maxRetries: 3 });
}

export async function prepare(scratch: string): Promise<Editor> {
  const programs = editorPrograms();
  if (typeof programs === 'string') throw new Error(programs);
  return packed(programs, scratch);
}

/** What is not ours, or why it cannot be had. */
function editorPrograms(): Pick<Editor, 'server' | 'browser'> | string {
  try {
    return { browser: findBrowser(say), server: installWorkbench(say) };
  } catch (error) {
    return error instanceof Error ? error.message : String(error);
  }
}

async function packed(programs: Pick<Editor, 'server' | 'browser'>, scratch: string): Promise<Editor> {
  const vsix = await pack();
  const hostTests = await buildHostTests();
  return { ...programs, vsix, extension: join(ROOT, 'dist/vscode'), hostTests, scratch };
}

function say(text: string): void {
  process.stderr.write(`${text}\n`);
}
