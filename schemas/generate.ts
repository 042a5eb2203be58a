/**
 * Writes `schemas/json/`: JSON Schema 2020-12 of every kind of file, for editors that know only that.
 * `--check` writes nothing and fails when a file is stale.
 */
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { KINDS } from './index.ts';
import { jsonSchemaOf } from './json-schema.ts';

const folder = join(import.meta.dirname, 'json');
const check = process.argv.includes('--check');
const stale: string[] = [];

mkdirSync(folder, { recursive: true });
for (const kind of KINDS) {
  const path = join(folder, `${kind.kind}.schema.json`);
  const text = `${JSON.stringify(jsonSchemaOf(kind), null, 2)}\n`;
  if (readOrNothing(path) === text) continue;
  if (check) stale.push(kind.kind);
  else writeFileSync(path, text);
}
if (stale.length > 0) {
  console.error(`schemas/json is stale for: ${stale.join(', ')}. Run: npm run schemas`);
  process.exit(1);
}

function readOrNothing(path: string): string | undefined {
  try {
    return readFileSync(path, 'utf8');
  } catch {
    return undefined;
  }
}
