/** JSON Schema 2020-12 from a declaration. */
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
  id: ['string', 'number', 'boolean', 'null'],
  reference: ['string', 'number', 'boolean', 'null'],
  text: ['string', 'number', 'boolean'],
  prose: ['string', 'number', 'boolean'],
  reading: ['string', 'number', 'boolean'],
};

const OURS = [
  'scalar',
  'refers',
  'defines',
  'local',
  'shared',
  'catalog',
  'file',
  'choices',
  'dimension',
  'unit',
  'fallback',
  'templated',
];

export function jsonSchemaOf(kind: KindDeclaration): Record<string, unknown> {
  const { $schema, ...rest } = toJson(kind.schema);
  return {
    $schema,
    $id: `https://gearquill.invalid/schemas/${kind.kind}.schema.json`,
    title: kind.title,
    description: kind.description,
    ...rest,
  };
}

function toJson(schema: z.ZodType): Record<string, unknown> {
  return z.toJSONSchema(schema, {
    target: 'draft-2020-12',
    io: 'input',
    unrepresentable: 'any',
    override: ({ zodSchema, jsonSchema }) => {
      const json = jsonSchema as Record<string, unknown>;
      const meta = (zodSchema as unknown as z.ZodType).meta?.() as FieldMeta | undefined;
      if (meta?.templated) Object.assign(json, { type: 'object' });
      if (meta?.scalar) {
        const types = SCALAR_TYPES[meta.scalar];
        if (types) json.type = types;
      }
      if (meta?.example) json.examples = [meta.example];
      if (meta?.description) {
        const fallback = meta.fallback && `When left out: ${meta.fallback}.`;
        json.description = [meta.description, choicesText(meta), fallback].filter(Boolean).join('\n');
      }
      delete json.example;
      for (const key of OURS) delete json[key];
      if (json.type === 'object' && json.properties) {
        json.additionalProperties = false;
        json.patternProperties = { '^x-': {} };
      }
    },
  }) as Record<string, unknown>;
}

function choicesText(meta: FieldMeta | undefined): string | undefined {
  if (!meta?.choices) return undefined;
  return Object.entries(meta.choices)
    .map(([word, meaning]) => `${word}: ${meaning}`)
    .join('\n');
}
