/** Pictures of the extension at work on the sample book, in the themes that people use: `npm run screenshots`. */
import { copyFileSync, mkdirSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Bench } from './bench.ts';
import type { Screen } from './screen.ts';
import { prepare } from './set-up.ts';

const ROOT = join(import.meta.dirname, '../..');
const SAMPLE = join(ROOT, 'samples/quarrow-creek');
/** All pictures; and those that the README shows. */
const OUT = join(ROOT, 'dist/screenshots');
const KEPT = join(ROOT, 'client/screenshots');
const IN_README: readonly string[] = ['job-dark', 'explain-light', 'job-contrast'];
const SIZE = { width: 1240, height: 760 };

/** The editor's names for its themes, and the mark of each on the screen. */
const THEMES = {
  light: ['Default Light Modern', '.vs'],
  dark: ['Default Dark Modern', '.vs-dark'],
  contrast: ['Default High Contrast', '.hc-black'],
} as const;

const scratch = mkdtempSync(join(tmpdir(), 'gearquill-pictures-'));
mkdirSync(OUT, { recursive: true });
mkdirSync(KEPT, { recursive: true });
try {
  const bench = await Bench.start(await prepare(scratch));
  try {
    const screen = await bench.open(bench.folder(SAMPLE), SIZE);
    for (const show of [job, explain, missing, book]) {
      await show(screen);
      for (const [name, [theme, mark]] of Object.entries(THEMES)) {
        bench.set({ 'workbench.colorTheme': theme, 'editor.minimap.enabled': false });
        await screen.page.locator(`.monaco-workbench${mark}`).waitFor();
        await screen.page.mouse.move(SIZE.width / 2, SIZE.height - 1);
        await screen.page.waitForTimeout(1500);
        await screen.page.screenshot({ path: join(OUT, `${show.name}-${name}.png`) });
        for (const barrier of await screen.barriers())
          process.stderr.write(`${show.name}-${name}: ${barrier}\n`);
      }
    }
  } finally {
    await bench.stop();
  }
  for (const name of IN_README) copyFileSync(join(OUT, `${name}.png`), join(KEPT, `${name}.png`));
} finally {
  rmSync(scratch, { recursive: true, force: true, maxRetries: 3 });
}

/** A job with its estimate beside it. */
async function job(screen: Screen): Promise<void> {
  await screen.openFile('J-1042.job.yaml');
  await screen.status('nothing missing').waitFor();
  await screen.chord('Control+k v');
  await screen.preview().getByRole('img', { name: 'Where the money goes' }).first().waitFor();
  await screen.command('View: Close Primary Side Bar');
}

/** How one number came about. */
async function explain(screen: Screen): Promise<void> {
  const preview = screen.preview();
  await preview.locator('.total button.figure').first().click();
  await preview.locator('#figure .tree').waitFor();
}

/** A finding that asks for more than the job has. */
async function missing(screen: Screen): Promise<void> {
  await screen.preview().locator('#figure').getByRole('button', { name: 'Close' }).click();
  await screen.press('Control+1');
  await screen.press('Control+f');
  await screen.type('part: RAD-7120');
  await screen.press('Enter');
  await screen.press('Escape');
  await screen.press('Control+/');
  await screen.status(/[1-9]\d* missing/).waitFor();
  await screen.preview().getByRole('button', { name: /^Add / }).first().waitFor();
}

/** The book in the side bar. */
async function book(screen: Screen): Promise<void> {
  await screen.chord('Control+Alt+g b');
  const row = (text: string) => screen.page.locator('.pane-body .monaco-list-row', { hasText: text }).first();
  await row('Open jobs').click();
  await row('Parts by role').click();
  await screen.page.waitForTimeout(1000);
}
