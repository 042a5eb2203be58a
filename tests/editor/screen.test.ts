/** The extension as users have it, installed from its package and driven by keyboard and mouse only. */
import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, inject, it } from 'vitest';
import { Bench } from './bench.ts';
import type { Screen } from './screen.ts';

const editor = inject('editor');
const JOB = 'J-1.job.yaml';
let screen: Screen;

/** A test that fails leaves a picture of what was on the screen, and its window is used no more. */
afterEach(async ({ task }) => {
  if (task.result?.state !== 'fail') return;
  await screen?.picture(task.name.replaceAll(/[^a-z]+/gi, '-'));
  await screen?.close();
});

describe.skipIf(typeof editor === 'string')('on the screen', () => {
  let bench: Bench;
  let folder: string | undefined;

  beforeAll(async () => {
    if (typeof editor !== 'string') bench = await Bench.start(editor);
  });
  afterAll(() => bench?.stop());

  /** The book as it was written, its first job open; in the same window, since a new one takes long. */
  beforeEach(async () => {
    folder ??= bench.folder();
    if (screen && !screen.closed) await screen.closeEditors();
    bench.restore(folder);
    if (!screen || screen.closed) screen = await bench.open(folder);
    await screen.openFile(JOB);
    await screen.status('2 missing').waitFor();
  });

  it('shows totals and what is missing in the status bar, and lists problems', async () => {
    expect(await screen.status('2 missing').textContent()).toMatch(
      /Your Shop: \$2,833\.72 \| \$4,230\.87, 2 missing/,
    );
    await screen.press('Control+Shift+m');
    await screen.page
      .locator('.markers-panel .monaco-list-row', { hasText: 'Cooler flush is required' })
      .waitFor();
  });

  it('changes the total while a line is typed', async () => {
    await screen.goTo(lineOf('part: KIT-A4'));
    await screen.press('End');
    await screen.press('Enter');
    await screen.type('quantity: 2');
    // A kit more, and its tax: 2,779.00 + 384.80 + 6% of 1,296.80.
    await screen.status('$3,241.61').waitFor();
  });

  it('completes a part number', async () => {
    await screen.goTo(lineOf('part: TC-A4'));
    await screen.press('End');
    for (let i = 0; i < 'TC-A4'.length; i++) await screen.press('Backspace');
    await screen.press('Control+Space');
    const offered = screen.page.locator('.suggest-widget .monaco-list-row', { hasText: 'UNIT-A4-X' });
    await offered.first().waitFor();
    await screen.type('UNIT');
    await offered.first().waitFor();
    await screen.press('Enter');
    await screen.reads(/- part: KIT-A4.*\n.*- part: UNIT-A4-X/);
  });

  it('adds the missing cooler flush by its quick fix', async () => {
    await screen.goTo(lineOf('metal-in-pan:'), 5);
    const fix = screen.page.locator('.action-widget .monaco-list-row', { hasText: 'Add Flush the cooler' });
    await screen.pressUntil('Control+.', fix.first());
    await fix.first().click();
    await screen.reads('- operation: cooler-flush');
    // 0.8 hours at 140.00 more; labor is not taxed and the supplies line is at its maximum.
    await screen.status('$2,945.72').waitFor();
  });

  it('adds everything that is missing from the keyboard alone', async () => {
    await screen.chord('Control+Alt+g m');
    await screen.row('Add all missing work').waitFor();
    await screen.press('Enter');
    await screen.reads(/- operation: cooler-flush.*\n.*- operation: flow-test/);
    await screen.status('$2,987.72').waitFor();
  });

  it('renames a part in the whole book, shown before it is done', async () => {
    await screen.openFile('catalog.parts.yaml');
    await screen.goTo(lineOf('KIT-A4:', 'catalog.parts.yaml'), 4);
    await screen.pressUntil('F2', screen.page.locator('.rename-box input:focus'));
    await screen.press('Control+a');
    await screen.type('KIT-0071');
    await screen.press('Control+Enter');
    const panel = screen.page.locator('.bulk-edit-panel');
    await panel.locator('.monaco-list-row', { hasText: JOB }).waitFor();
    await panel.getByRole('button', { name: 'Apply' }).click();
    await screen.openFile(JOB);
    await screen.reads('- part: KIT-0071');
  });

  it('shows the estimate beside the job: mends, explains, follows', async () => {
    await screen.chord('Control+k v');
    const preview = screen.preview();
    await preview.getByRole('heading', { name: 'J-1 · Alma Sample' }).waitFor();
    await preview.getByRole('heading', { name: 'What is missing (4)' }).waitFor();
    await preview.getByRole('img', { name: 'Where the money goes' }).waitFor();

    await preview.getByRole('button', { name: '$788.80' }).click();
    const tree = preview.locator('#figure');
    await tree.getByText('Overhaul kit, Alder-4').waitFor();
    expect((await screen.barriers()).join('\n')).toBe('');
    await tree.getByRole('button', { name: 'Close' }).click();

    await preview.getByRole('button', { name: 'Add Flush the cooler and its lines' }).first().click();
    await preview.getByRole('button', { name: '$2,945.72' }).first().waitFor();
    await screen.status('$2,945.72').waitFor();

    await preview.locator('summary', { hasText: 'Lines of Overhaul your unit' }).click();
    await preview.getByRole('button', { name: 'Torque converter, Alder-4' }).first().click();
    await screen.status(/Ln \d+, Col/).waitFor();
    await screen.goTo(lineOf('part: KIT-A4'));
    await preview.locator('tr.here', { hasText: 'KIT-A4' }).first().waitFor();
  });

  it('runs the cases of the shop, and shows what was expected beside what came out', async () => {
    await screen.command('Testing: Focus on Test Explorer View');
    const results = screen.page.locator('.test-explorer');
    await results.locator('.monaco-list-row', { hasText: 'shop.cases.yaml' }).waitFor();
    await screen.command('Test: Run All Tests');
    await results.getByText('2/2').waitFor();
    await screen.openFile(JOB);
    await screen.goTo(lineOf('metal-in-pan:'), 17);
    await screen.press('Shift+End');
    await screen.type('paste');
    await screen.status('nothing missing').waitFor();
    await screen.openFile('shop.cases.yaml');
    await screen.command('Test: Run All Tests');
    await results.getByText('1/2').waitFor();
    await screen.page.getByText('none != cooler-flush, flow-test').first().click();
    const diff = screen.page.locator('.test-output-peek .monaco-diff-editor').first();
    await diff.locator('.original .view-line', { hasText: 'cooler-flush' }).waitFor();
    await diff.locator('.modified .view-line', { hasText: 'none' }).waitFor();
  });

  it('begins a part where a job names one that is not there', async () => {
    await screen.goTo(lineOf('part: TC-A4'));
    await screen.press('End');
    await screen.press('Backspace');
    await screen.type('77');
    await screen.press('Escape');
    await screen.page.locator('.monaco-editor .squiggly-error').first().waitFor();
    await screen.press('ArrowLeft');
    await screen.command('Gearquill: New Part from Here');
    const id = screen.page.locator('.quick-input-widget .quick-input-filter input');
    await screen.page.getByText('New part', { exact: true }).waitFor();
    expect(await id.inputValue()).toBe('TC-A77');
    await screen.press('Enter');
    await screen.pick('torque', 'torque-converter', 'What is it to a rule?');
    await screen.pick('alder', 'alder-4', 'Which unit family');
    await screen.reads('TC-A77:');
    await screen.reads(/role: torque-converter\n {4}fits: \[alder-4\]/);
  });

  it('shows the book in the side bar, open jobs by what they lack', async () => {
    await screen.chord('Control+Alt+g b');
    const row = (text: string) =>
      screen.page.locator('.pane-body .monaco-list-row', { hasText: text }).first();
    await row('Open jobs').click();
    await row('Lack required work').click();
    await row('J-1').waitFor();
  });

  it('carries on when the language server is killed', async () => {
    await screen.goTo(lineOf('metal-in-pan:'), 17);
    await screen.press('Shift+End');
    await screen.type('paste');
    await screen.status('nothing missing').waitFor();
    process.kill(serverProcess(bench.data), 'SIGKILL');
    await screen.press('Control+Backspace');
    await screen.type('pieces');
    await screen.status('2 missing').waitFor();
    await screen.reads('metal-in-pan: pieces');
  });

  /** Counted from 1, as the file is on disk. */
  function lineOf(text: string, file = `jobs/${JOB}`): number {
    const lines = readFileSync(join(folder!, file), 'utf8').split('\n');
    const at = lines.findIndex((line) => line.includes(text));
    if (at === -1) throw new Error(`"${text}" is not in ${file}`);
    return at + 1;
  }
});

describe.skipIf(typeof editor === 'string')('from an empty folder', () => {
  let bench: Bench;
  beforeAll(async () => {
    if (typeof editor !== 'string') bench = await Bench.start(editor);
  });
  afterAll(() => bench?.stop());

  it('leads to a first priced job of one’s own', async () => {
    screen = await bench.open(bench.emptyFolder());
    await screen.command('Gearquill: Get Started');
    await screen.page.getByText('From an empty folder to a priced job').first().waitFor();
    await screen.page.locator('.step-title', { hasText: 'Write a small shop book' }).click();
    await screen.page
      .locator('.getting-started-step.expanded .monaco-button', { hasText: 'Write a Small Shop Book' })
      .click();
    await screen.page.locator(`.tab.active[data-resource-name="${JOB}"]`).waitFor();
    await screen.status('2 missing').waitFor();

    await screen.command('Gearquill: New Job');
    await screen.page.getByText('New job', { exact: true }).waitFor();
    await screen.press('Enter');
    await screen.pick('alder', 'alder-4', 'Which unit family');
    await screen.page.locator('.tab.active[data-resource-name="J-2.job.yaml"]').waitFor();
    await screen.reads('- ');
    await screen.press('Escape');
    await screen.press('Control+End');
    await screen.status('Ln 10, Col 1').waitFor();
    await screen.press('ArrowUp');
    await screen.press('End');
    await screen.type('operation: overhaul');
    // 6.5 h at 150.00 and 5.8 h at 140.00, supplies at their maximum of 40.00, 6% tax on those.
    await screen.status('$1,829.40').waitFor();
    await screen.picture('empty-folder');
  });
});

describe.skipIf(typeof editor === 'string')('in restricted mode', () => {
  let bench: Bench;
  beforeAll(async () => {
    if (typeof editor !== 'string') bench = await Bench.start(editor, { trustAll: false });
  });
  afterAll(() => bench?.stop());

  it('checks and prices a folder that is not trusted', async () => {
    screen = await bench.open(bench.folder());
    await screen.status('Restricted Mode').waitFor();
    await screen.openFile(JOB);
    await screen.status('2 missing').waitFor();
  });
});

describe.skipIf(typeof editor === 'string')('in the browser alone', () => {
  let bench: Bench;
  beforeAll(async () => {
    if (typeof editor === 'string') return;
    bench = await Bench.start(editor, {
      settings: { 'remote.extensionKind': { 'gearquill.gearquill': ['web'] } },
    });
  });
  afterAll(() => bench?.stop());

  it('checks and prices in a worker of the page, without a process beside it', async () => {
    screen = await bench.open(bench.folder());
    await screen.openFile(JOB);
    await screen.status('2 missing').waitFor();
    expect(() => serverProcess(bench.data)).toThrow();
    await screen.chord('Control+k v');
    await screen.preview().getByRole('heading', { name: 'What is missing (4)' }).waitFor();
  });
});

/** The language server of this run: its program lies where the run keeps its extensions. */
function serverProcess(data: string): number {
  const list = execFileSync('ps', ['-eo', 'pid=,args='], { encoding: 'utf8' }).split('\n');
  const line = list.find((one) => one.includes(data) && one.includes('server.cjs'));
  if (!line) throw new Error('There is no process of the language server.');
  return Number(line.trim().split(/\s+/)[0]);
}
