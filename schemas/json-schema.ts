/** JSON Schema 2020-12 from a declaration, for editors that know only that. It lets through what ours judges further. */
import { z } from 'zod';
import type { FieldMeta, KindDeclaration, ScalarKind } from './declare.ts';

/** A general YAML reader makes numbers, booleans and null of some texts; a schema for it has to let them through. */
const SCALAR_TYPES: Partial<Record<ScalarKind, readonly string[]>> = {
  'yes-no': ['boolean', 'string'],
  money: ['number', 'string'],
  number: ['number', 'string'],
  count: ['integer', 'string'],
  year: ['integer', 'string'],
  hours: ['number', 'string'],
  quantity: ['string', 'number'],
  id: ['string', 'number', 'boolean', 'null'],
  reference: ['string', 'number', 'boolean', 'null'],
  text: ['string', 'number', 'boolean'],
  prose: ['string', 'number', 'boolean'],
  reading: ['string', 'number', 'boolean'],
  own: ['string', 'number', 'boolean'],
};

type Json = Record<string, unknown>;

const KEPT = new Set(['title', 'description']);

export function jsonSchemaOf(kind: KindDeclaration): Json {
  const { $schema, ...rest } = shared(toJson(kind.schema));
  return {
    $schema,
    $id: `https://gearquill.invalid/schemas/${kind.kind}.schema.json`,
    title: kind.title,
    description: kind.description,
    ...rest,
  };
}

function toJson(schema: z.ZodType): Json {
  return z.toJSONSchema(schema, {
    target: 'draft-2020-12',
    io: 'input',
    unrepresentable: 'any',
    override: ({ zodSchema, jsonSchema }) => {
      const json = jsonSchema as Json;
      const declared = zodSchema as unknown as z.ZodType;
      const meta = (declared.meta() ?? {}) as FieldMeta;
      for (const key of Object.keys(meta)) if (!KEPT.has(key)) delete json[key];
      if (meta.templated) json.type = 'object';
      if (meta.scalar && SCALAR_TYPES[meta.scalar]) json.type = SCALAR_TYPES[meta.scalar];
      if (meta.example && meta.scalar) json.examples = [meta.example];
      if (meta.description) json.description = describe(meta);
      if (declared.type === 'record') namesOf(declared as z.ZodRecord, json);
      if (json.type === 'object' && json.properties) {
        json.additionalProperties = false;
        json.patternProperties = { '^x-': {} };
      }
    },
  }) as Json;
}

function describe(meta: FieldMeta): string {
  const choices = Object.entries(meta.choices ?? {}).map(([word, meaning]) => `${word}: ${meaning}`);
  return [
    meta.description,
    ...choices,
    meta.example && !meta.scalar && `For example: ${meta.example}`,
    meta.fallback && `When left out: ${meta.fallback}.`,
  ]
    .filter(Boolean)
    .join('\n');
}

/** Names of a map are always text there, so only a list of words says anything. */
function namesOf(record: z.ZodRecord, json: Json): void {
  const { scalar, choices } = ((record.keyType as z.ZodType).meta() ?? {}) as FieldMeta;
  if (scalar === 'choice') json.propertyNames = { enum: Object.keys(choices ?? {}) };
  else delete json.propertyNames;
}

/** Characters from which on it pays to write a schema once and refer to it. */
const WORTH = 400;

/** What is written more than once is put in `$defs`: the lines of a job stand in many places. */
function shared(root: Json): Json {
  const times = new Map<string, number>();
  const count = (node: unknown): void => {
    if (!isJson(node)) return;
    const text = JSON.stringify(node);
    if (text.length < WORTH) return;
    times.set(text, (times.get(text) ?? 0) + 1);
    if (times.get(text) === 1) for (const child of Object.values(node)) count(child);
  };
  count(root);

  const definitions: Json = {};
  const names = new Map<string, string>();
  const rewrite = (node: unknown): unknown => {
    if (!isJson(node)) return node;
    const text = JSON.stringify(node);
    if (Array.isArray(node) || (times.get(text) ?? 0) < 2 || !isSchema(node)) return inside(node);
    let name = names.get(text);
    if (name === undefined) {
      name = `shared-${names.size + 1}`;
      names.set(text, name);
      definitions[name] = inside(node);
    }
    return { $ref: `#/$defs/${name}` };
  };
  const inside = (node: object): unknown =>
    Array.isArray(node)
      ? node.map(rewrite)
      : Object.fromEntries(Object.entries(node).map(([key, child]) => [key, rewrite(child)]));

  const { $defs, ...rest } = inside(root) as Json;
  const all = { ...($defs as Json | undefined), ...definitions };
  return Object.keys(all).length > 0 ? { ...rest, $defs: all } : rest;
}

function isJson(node: unknown): node is object {
  return typeof node === 'object' && node !== null;
}

/** A schema, and not the list of fields inside one. */
function isSchema(node: object): boolean {
  return 'anyOf' in node || typeof (node as Json).type === 'string';
}
