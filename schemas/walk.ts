/**
 * Reading declarations: which fields a map may have, and which declaration holds at a place of a file.
 * Everything that the editor knows of a field comes through here. What a declaration says never changes, so each
 * answer is worked out once.
 */
import type { z } from 'zod';
import { coreOf, type FieldMeta, isOptional, metaOf } from './declare.ts';

/** As much of a value as is needed to tell which alternative of a declaration it is meant to be. */
export type Shape =
  | { readonly type: 'map'; readonly keys: readonly string[] }
  | { readonly type: 'list' }
  | { readonly type: 'text' }
  | { readonly type: 'empty' };

export interface Field {
  readonly key: string;
  readonly schema: z.ZodType;
  readonly meta: FieldMeta;
  readonly required: boolean;
}

/** The fields of an object declaration, in the order they are declared. */
export const fieldsOf: (object: z.ZodObject) => ReadonlyMap<string, Field> = once(
  (object: z.ZodObject) =>
    new Map(
      Object.entries(object.shape as Record<string, z.ZodType>).map(([key, schema]) => [
        key,
        { key, schema, meta: metaOf(schema), required: !isOptional(schema) },
      ]),
    ),
);

/** The first field of an alternative says which one it is: `part:`, `operation:`. */
export function leadOf(object: z.ZodObject): string {
  return Object.keys(object.shape)[0] ?? '';
}

/** What is inside optional and templated wrappers. */
export const bare: (schema: z.ZodType) => z.ZodType = once((schema: z.ZodType) => {
  const core = coreOf(schema);
  const { templated } = metaOf(core);
  return templated ? bare(templated) : core;
});

/** The alternatives of a declaration; one, when it is not a choice between shapes. */
export const alternativesOf: (schema: z.ZodType) => readonly z.ZodType[] = once((schema: z.ZodType) => {
  const core = bare(schema);
  return isUnion(core) ? (core.options as z.ZodType[]).flatMap(alternativesOf) : [core];
});

/** The alternative that a value of this shape is meant to be; undefined when none has that shape. */
export function alternativeFor(schema: z.ZodType, shape: Shape): z.ZodType | undefined {
  const alternatives = alternativesOf(schema);
  if (alternatives.length === 1) return alternatives[0];
  switch (shape.type) {
    case 'map': {
      const maps = alternatives.filter(isObject);
      if (maps.length === 0) return alternatives.find(isRecord);
      const led = maps.find((map) => shape.keys.includes(leadOf(map)));
      if (led) return led;
      const known = (map: z.ZodObject) => shape.keys.filter((key) => fieldsOf(map).has(key)).length;
      return maps.reduce((best, map) => (known(map) > known(best) ? map : best));
    }
    case 'list':
      return alternatives.find(isList);
    case 'text':
    case 'empty':
      return alternatives.find(isText);
  }
}

/** What is known of a place, and of the alternative meant there: the outer words count. */
export function meaningOf(declared: z.ZodType, meant: z.ZodType): FieldMeta {
  return alternativesOf(declared).length === 1 ? metaOf(declared) : { ...metaOf(meant), ...metaOf(declared) };
}

// zod's own `instanceof` looks through a set of traits at each call; this is asked for every value of a book.
export function isObject(schema: z.ZodType): schema is z.ZodObject {
  return schema.type === 'object';
}

export function isRecord(schema: z.ZodType): schema is z.ZodRecord {
  return schema.type === 'record';
}

export function isList(schema: z.ZodType): schema is z.ZodArray {
  return schema.type === 'array';
}

function isUnion(schema: z.ZodType): schema is z.ZodUnion {
  return schema.type === 'union';
}

export function isText(schema: z.ZodType): boolean {
  return !(
    isObject(schema) ||
    isList(schema) ||
    isRecord(schema) ||
    isUnion(schema) ||
    schema.type === 'unknown'
  );
}

/** The declaration of a map's value or a list's item; undefined for a key that is not declared. */
export function childOf(parent: z.ZodType, step: string | number): z.ZodType | undefined {
  if (isObject(parent)) return typeof step === 'string' ? fieldsOf(parent).get(step)?.schema : undefined;
  if (isRecord(parent)) return parent.valueType as z.ZodType;
  if (isList(parent)) return parent.element as z.ZodType;
  return undefined;
}

/** The declaration of a map's keys, when they are ids. */
export function keyOf(parent: z.ZodType): z.ZodType | undefined {
  return isRecord(parent) ? (parent.keyType as z.ZodType) : undefined;
}

/** The catalog sections of a kind: `parts`, `operations`. */
export function catalogsOf(object: z.ZodObject): readonly Field[] {
  return [...fieldsOf(object).values()].filter((field) => field.meta.catalog);
}

function once<K extends z.ZodType, V>(work: (schema: K) => V): (schema: K) => V {
  const known = new WeakMap<K, V>();
  return (schema) => {
    let value = known.get(schema);
    if (value === undefined) {
      value = work(schema);
      known.set(schema, value);
    }
    return value;
  };
}
