/** A running workbench with the extension installed as users install it, and a browser in front of it. */
import { cpSync, mkdirSync, mkdtempSync } from 'node:fs';
import { join } from 'node:path';
import type { Browser } from 'playwright-core';
import { installExtension, startWorkbench, type Workbench } from '../../client/workbench/serve.ts';
import { launch } from './browser.ts';
import { Screen } from './screen.ts';
import type { Editor } from './set-up.ts';

/** Nothing moves that nobody watches, and nothing runs that is not ours. */
const STILL = {
  'editor.cursorBlinking': 'solid',
  'workbench.reduceMotion': 'on',
  'git.enabled': false,
};
const STARTER = join(import.meta.dirname, '../../client/starter');

export interface BenchOptions {
  readonly settings?: Readonly<Record<string, unknown>>;
  /** Folders are trusted without asking, unless this is no. */
  readonly trustAll?: boolean;
}

export class Bench {
  readonly #editor: Editor;
  readonly #workbench: Workbench;
  readonly #browser: Browser;
  /** What this run keeps. */
  readonly data: string;

  private constructor(editor: Editor, workbench: Workbench, browser: Browser, data: string) {
    this.#editor = editor;
    this.#workbench = workbench;
    this.#browser = browser;
    this.data = data;
  }

  static async start(editor: Editor, { settings = {}, trustAll = true }: BenchOptions = {}): Promise<Bench> {
    const data = mkdtempSync(join(editor.scratch, 'data-'));
    installExtension(editor.server, data, editor.vsix);
    const workbench = await startWorkbench({
      server: editor.server,
      data,
      settings: { ...STILL, ...settings },
      trustAll,
    });
    return new Bench(editor, workbench, await launch(editor.browser), data);
  }

  /** A folder of its own with a copy of a book; the small one of the walkthrough when none is named. */
  folder(book: string = STARTER): string {
    const folder = join(mkdtempSync(join(this.#editor.scratch, 'folder-')), 'book');
    cpSync(book, folder, { recursive: true });
    return folder;
  }

  /** Puts a folder back to what the book says. */
  restore(folder: string, book: string = STARTER): void {
    cpSync(book, folder, { recursive: true });
  }

  emptyFolder(): string {
    const folder = join(mkdtempSync(join(this.#editor.scratch, 'folder-')), 'new-book');
    mkdirSync(folder);
    return folder;
  }

  open(folder: string, size?: { width: number; height: number }): Promise<Screen> {
    return Screen.open(this.#browser, this.#workbench, folder, size);
  }

  /** Changes settings under the windows that are open. */
  set(settings: Readonly<Record<string, unknown>>): void {
    this.#workbench.set(settings);
  }

  async stop(): Promise<void> {
    await this.#browser.close();
    await this.#workbench.stop();
  }
}
