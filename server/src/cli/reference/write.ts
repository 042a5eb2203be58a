/**
 * Writes the reference into `schemas/reference/`. `--check` writes nothing and fails when a page is stale or is no
 * longer one.
 */
import { mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { ROOT } from '../root.ts';
import { referencePages } from './pages.ts';

const FOLDER = join(ROOT, 'schemas/reference');
const json = (path: string) => JSON.parse(readFileSync(join(ROOT, path), 'utf8'));

const check = process.argv.includes('--check');
const pages = referencePages(json('package.json'), json('client/package.nls.json'));
mkdirSync(FOLDER, { recursive: true });
const there = new Map(readdirSync(FOLDER).map((name) => [name, readFileSync(join(FOLDER, name), 'utf8')]));
const gone = [...there.keys()].filter((name) => !pages.has(name));
const stale = [...pages].filter(([name, text]) => there.get(name) !== text).map(([name]) => name);

if (check && stale.length + gone.length > 0) {
  console.error(`schemas/reference is stale: ${[...stale, ...gone].join(', ')}. Run: npm run schemas`);
  process.exit(1);
}
if (!check) {
  for (const name of stale) writeFileSync(join(FOLDER, name), pages.get(name)!);
  for (const name of gone) rmSync(join(FOLDER, name));
}
