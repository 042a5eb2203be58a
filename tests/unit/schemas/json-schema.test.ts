import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { describe, expect, test } from 'vitest';
import { parse } from 'yaml';
import { KINDS, kindByName } from '../../../schemas/index.ts';
import { jsonSchemaOf } from '../../../schemas/json-schema.ts';

const folder = 'schemas/json';
const read = (kind: string) => JSON.parse(readFileSync(join(folder, `${kind}.schema.json`), 'utf8'));

function validator(kind: string) {
  return new Ajv2020({
    strict: true,
    allErrors: true,
    allowUnionTypes: true,
    validateFormats: false,
  }).compile(read(kind));
}

test('the files are those of the declarations as they are now', () => {
  const written = readdirSync(folder).filter((name) => name.endsWith('.json'));
  expect(written.sort()).toEqual(KINDS.map(({ kind }) => `${kind}.schema.json`).sort());
  // `npm run schemas` writes them.
  for (const kind of KINDS) expect(read(kind.kind)).toEqual(jsonSchemaOf(kind));
});

// JSON Schema 2020-12, as ajv reads it in strict mode: unknown keywords are refused.
test.each(KINDS.map(({ kind }) => kind))('%s is a valid schema, and of a bearable size', (kind) => {
  expect(() => validator(kind)).not.toThrow();
  expect(JSON.stringify(read(kind)).length).toBeLessThan(60_000);
});

function* yamlFiles(at: string): Generator<string> {
  for (const entry of readdirSync(at, { withFileTypes: true })) {
    const path = join(at, entry.name);
    if (entry.isDirectory()) yield* yamlFiles(path);
    else if (/\.ya?ml$/.test(entry.name)) yield path;
  }
}

// Outside reference: the `yaml` package with its default schema (YAML 1.2 core) stands for an editor that knows only JSON Schema.
describe('the files of the demo book, as any YAML editor sees them', () => {
  const validators = new Map(KINDS.map(({ kind }) => [kind, validator(kind)]));
  test.each([...yamlFiles('samples/quarrow-creek')])('%s', (path) => {
    const value = parse(readFileSync(path, 'utf8'));
    expect(kindByName.has(value.kind)).toBe(true);
    const validate = validators.get(value.kind)!;
    validate(value);
    expect(validate.errors ?? []).toEqual([]);
  });
});

describe('what such an editor tells', () => {
  const errors = (kind: string, text: string) => {
    const validate = validator(kind);
    validate(parse(text));
    return (validate.errors ?? []).map(({ instancePath, keyword }) => `${instancePath} ${keyword}`);
  };

  test('a field with a slip, a wrong word, a missing field; own fields pass', () => {
    expect(
      errors(
        'parts',
        'kind: parts\nx-own: 1\nparts:\n  A: { name: A, kind: sfot, csot: 1, x-bin: B4 }\n  B: { kind: soft }\n',
      ),
    ).toEqual(['/parts/A additionalProperties', '/parts/A/kind enum', '/parts/B required']);
  });

  test('text that looks like something else', () => {
    expect(
      errors(
        'parts',
        'kind: parts\nparts:\n  0071: { name: 12, kind: soft, cost: 4.10, supplier-number: 24E7 }\n',
      ),
    ).toEqual([]);
    expect(
      errors(
        'job',
        'kind: job\nid: 1042\nopened: 2026-01-02\nunit: birch-6\nlines:\n  - part: 0071\n    quantity: 2\n',
      ),
    ).toEqual([]);
  });

  test('the words of a map by kind', () => {
    expect(errors('shop', 'kind: shop\npricing: { parts: a, by-kind: { sfot: a } }\n')).toContain(
      '/pricing/by-kind propertyNames',
    );
  });
});
