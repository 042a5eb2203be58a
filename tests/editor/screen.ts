/** The workbench as somebody sits in front of it: keyboard, mouse, and what can be read on the screen. */
import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import axe from 'axe-core';
import type { Browser, FrameLocator, Locator, Page } from 'playwright-core';
import type { Workbench } from '../../client/workbench/serve.ts';

/** Time enough for a machine that does much else. */
const WITHIN = 90_000;
const PICTURES = join(import.meta.dirname, '../../dist/tests');

export class Screen {
  readonly page: Page;

  private constructor(page: Page) {
    this.page = page;
  }

  static async open(
    browser: Browser,
    workbench: Workbench,
    folder: string,
    size = { width: 1400, height: 900 },
  ): Promise<Screen> {
    const page = await browser.newPage({ viewport: size });
    page.setDefaultTimeout(WITHIN);
    await page.goto(workbench.address(folder));
    // The extension has an icon of its own; before it is there, the workbench does not know its commands.
    await page.locator('.activitybar').getByRole('tab', { name: 'Gearquill' }).waitFor();
    return new Screen(page);
  }

  press(keys: string): Promise<void> {
    return this.page.keyboard.press(keys);
  }

  /** Presses keys again while what they open does not come: a widget that opens before the server has answered closes. */
  async pressUntil(keys: string, opened: Locator): Promise<void> {
    const end = Date.now() + WITHIN;
    for (;;) {
      await this.press(keys);
      try {
        return await opened.waitFor({ timeout: 8_000 });
      } catch (error) {
        if (Date.now() > end) throw error;
        await this.press('Escape');
      }
    }
  }

  type(text: string): Promise<void> {
    return this.page.keyboard.type(text);
  }

  /** Presses keys one after the other, such as `Control+k v`. */
  async chord(keys: string): Promise<void> {
    for (const one of keys.split(' ')) await this.press(one);
  }

  async openFile(name: string): Promise<void> {
    await this.press('Control+p');
    await this.pick(name, name);
    await this.page
      .locator(`.editor-group-container.active .tab.active[data-resource-name="${name.split('/').at(-1)}"]`)
      .waitFor();
    await this.page.locator('.editor-instance .monaco-editor .view-line').first().waitFor();
  }

  /** Runs a command of the palette by its title. */
  async command(title: string): Promise<void> {
    await this.press('F1');
    await this.pick(title, title);
  }

  /** Types into the list that is open, or that asks this, and takes the first row that has a text. */
  async pick(typed: string, row: string | RegExp = typed, asked?: string): Promise<void> {
    const input = this.page.locator('.quick-input-widget .quick-input-filter input');
    await (asked === undefined ? input : this.page.getByPlaceholder(asked)).waitFor();
    await this.type(typed);
    await this.row(row).waitFor();
    await this.row(row).click();
  }

  row(text: string | RegExp): Locator {
    return this.page.locator('.quick-input-list .monaco-list-row', { hasText: text }).first();
  }

  /** Puts the cursor on a line, counted from 1. */
  async goTo(line: number, column = 1): Promise<void> {
    await this.press('Control+g');
    await this.page.locator('.quick-input-widget .quick-input-filter input').waitFor();
    await this.type(`${line}:${column}`);
    await this.press('Enter');
    await this.page.locator('.statusbar-item', { hasText: `Ln ${line}, Col ${column}` }).waitFor();
  }

  /** What the editor at hand shows; with as many lines as fit on the screen. */
  async text(): Promise<string> {
    const lines = this.page.locator('.editor-group-container.active .view-lines .view-line');
    const all = await lines.evaluateAll((found) =>
      found
        .map((one) => ({
          top: Number.parseFloat((one as HTMLElement).style.top),
          text: one.textContent ?? '',
        }))
        .sort((a, b) => a.top - b.top)
        .map((one) => one.text),
    );
    return all.join('\n').replaceAll('\u00a0', ' ');
  }

  status(text: string | RegExp): Locator {
    return this.page.locator('.statusbar-item', { hasText: text }).first();
  }

  async reads(text: string | RegExp): Promise<void> {
    const holds = async () => {
      const now = await this.text();
      return typeof text === 'string' ? now.includes(text) : text.test(now);
    };
    const end = Date.now() + WITHIN;
    while (!(await holds())) {
      if (Date.now() > end)
        throw new Error(`The editor does not show ${text}. It shows:\n${await this.text()}`);
      await this.page.waitForTimeout(100);
    }
  }

  /** The page inside the preview. */
  preview(): FrameLocator {
    return this.page.frameLocator('iframe.webview.ready').frameLocator('iframe#active-frame');
  }

  /** What axe-core finds wrong in the preview, a line each. */
  async barriers(): Promise<string[]> {
    const body = await this.preview().locator('body').elementHandle();
    const frame = (await body!.ownerFrame())!;
    await frame.evaluate(axe.source);
    return frame.evaluate(async () => {
      const { violations } = await (globalThis as unknown as { axe: typeof axe }).axe.run();
      return violations.map(({ id, nodes }) => `${id}: ${nodes.map((one) => one.html).join(' ')}`);
    });
  }

  async picture(name: string): Promise<void> {
    mkdirSync(PICTURES, { recursive: true });
    await this.page.screenshot({ path: join(PICTURES, `${name}.png`) });
  }

  /** Closes every editor, forgets what was not saved, and hides the panel. */
  async closeEditors(): Promise<void> {
    await this.press('Escape');
    const tabs = this.page.locator('.editor-group-container .tab');
    for (let left = await tabs.count(); left > 0; left = await tabs.count()) {
      await this.command('View: Revert and Close Editor');
      await this.page.waitForFunction(
        (before) => document.querySelectorAll('.editor-group-container .tab').length < before,
        left,
      );
    }
    if (await this.page.locator('.part.panel').isVisible()) await this.press('Control+j');
  }

  get closed(): boolean {
    return this.page.isClosed();
  }

  close(): Promise<void> {
    return this.page.close();
  }
}
