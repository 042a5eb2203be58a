/**
 * Writes `schemas/json/`: JSON Schema 2020-12 of every kind of file, for editors that know only that, and of what is
 * given to other systems.
 * `--check` writes nothing and fails when a file is stale.
 */
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { exchangeSchema } from './exchange/estimate.ts';
import { KINDS } from './index.ts';
import { jsonSchemaOf } from './json-schema.ts';

const folder = join(import.meta.dirname, 'json');
const check = process.argv.includes('--check');
const stale: string[] = [];

mkdirSync(join(folder, 'exchange'), { recursive: true });
const schemas: (readonly [string, object])[] = [
  ...KINDS.map((kind) => [kind.kind, jsonSchemaOf(kind)] as const),
  ['exchange/estimate-1', exchangeSchema()],
];
for (const [name, schema] of schemas) {
  const path = join(folder, `${name}.schema.json`);
  const text = `${JSON.stringify(schema, null, 2)}\n`;
  if (readOrNothing(path) === text) continue;
  if (check) stale.push(name);
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
