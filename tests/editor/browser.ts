/** A browser for the workbench. */
import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { delimiter, join } from 'node:path';
import { type Browser, chromium } from 'playwright-core';

const NAMES = [
  'chromium',
  'chromium-browser',
  'google-chrome',
  'google-chrome-stable',
  'microsoft-edge',
  'chrome',
];
const ELSEWHERE = [
  '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
  'C:\\Program Files\\Google\\Chrome\\Application\\chrome.exe',
  'C:\\Program Files (x86)\\Microsoft\\Edge\\Application\\msedge.exe',
];

/** A browser of this machine. On a machine that checks every change, one is installed when there is none. */
export function findBrowser(say: (text: string) => void): string {
  const known = installed();
  if (known) return known;
  if (process.env.CI && process.getuid?.() === 0 && onPath('apt-get')) {
    say('Installing chromium for the tests in the real editor.');
    spawnSync('apt-get', ['update', '-qq'], { stdio: 'inherit' });
    spawnSync('apt-get', ['install', '-y', '-qq', '--no-install-recommends', 'chromium'], {
      stdio: 'inherit',
    });
    const now = installed();
    if (now) return now;
  }
  throw new Error('There is no Chromium, Chrome or Edge on this machine; name one in GEARQUILL_BROWSER.');
}

function installed(): string | undefined {
  const named = process.env.GEARQUILL_BROWSER;
  if (named) return named;
  return NAMES.map(onPath).find((path) => path !== undefined) ?? ELSEWHERE.find((path) => existsSync(path));
}

function onPath(name: string): string | undefined {
  const folders = (process.env.PATH ?? '').split(delimiter);
  return folders.map((folder) => join(folder, name)).find((path) => existsSync(path));
}

export function launch(executablePath: string): Promise<Browser> {
  return chromium.launch({
    executablePath,
    args: [
      '--no-sandbox',
      '--disable-gpu',
      '--disable-quic',
      '--no-first-run',
      '--disable-background-networking',
      '--disable-component-update',
      '--disable-sync',
    ],
  });
}
