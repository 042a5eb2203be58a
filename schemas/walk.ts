/**
 * Reading declarations: which fields a map may have, and which declaration holds at a place of a file.
 * Everything that the editor knows of a field comes through here.
 */
import { z } from 'zod';
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

const fieldsCache = new WeakMap<z.ZodObject, ReadonlyMap<string, Field>>();

/** The fields of an object declaration, in the order they are declared. */
export function fieldsOf(object: z.ZodObject): ReadonlyMap<string, Field> {
  let fields = fieldsCache.get(object);
  if (!fields) {
    fields = new Map(
      Object.entries(object.shape as Record<string, z.ZodType>).map(([key, schema]) => [
        key,
        { key, schema, meta: metaOf(schema), required: !isOptional(schema) },
      ]),
    );
    fieldsCache.set(object, fields);
  }
  return fields;
}

/** The first field of an alternative says which one it is: `part:`, `operation:`. */
export function leadOf(object: z.ZodObject): string {
  return Object.keys(object.shape)[0] ?? '';
}

/** What is inside optional and templated wrappers. */
export function bare(schema: z.ZodType): z.ZodType {
  const core = coreOf(schema);
  const templated = (core.meta() as FieldMeta | undefined)?.templated;
  return templated ? bare(templated) : core;
}

/** The alternatives of a declaration; one, when it is not a choice between shapes. */
export function alternativesOf(schema: z.ZodType): readonly z.ZodType[] {
  const core = bare(schema);
  if (core instanceof z.ZodUnion) return (core.options as z.ZodType[]).flatMap(alternativesOf);
  return [core];
}

/** The alternative that a value of this shape is meant to be; undefined when none has that shape. */
export function alternativeFor(schema: z.ZodType, shape: Shape): z.ZodType | undefined {
  const alternatives = alternativesOf(schema);
  if (alternatives.length === 1) return alternatives[0];
  switch (shape.type) {
    case 'map': {
      const maps = alternatives.filter((alternative) => alternative instanceof z.ZodObject);
      if (maps.length === 0) return alternatives.find((alternative) => alternative instanceof z.ZodRecord);
      const led = maps.find((map) => shape.keys.includes(leadOf(map)));
      if (led) return led;
      const known = (map: z.ZodObject) => shape.keys.filter((key) => key in map.shape).length;
      return maps.reduce((best, map) => (known(map) > known(best) ? map : best));
    }
    case 'list':
      return alternatives.find((alternative) => alternative instanceof z.ZodArray);
    case 'text':
    case 'empty':
      return alternatives.find(isText);
  }
}

export function isText(schema: z.ZodType): boolean {
  return !(
    schema instanceof z.ZodObject ||
    schema instanceof z.ZodArray ||
    schema instanceof z.ZodRecord ||
    schema instanceof z.ZodUnion ||
    schema instanceof z.ZodUnknown
  );
}

/** The declaration of a map's value or a list's item; undefined for a key that is not declared. */
export function childOf(parent: z.ZodType, step: string | number): z.ZodType | undefined {
  if (parent instanceof z.ZodObject) {
    return typeof step === 'string' ? fieldsOf(parent).get(step)?.schema : undefined;
  }
  if (parent instanceof z.ZodRecord) return parent.valueType as z.ZodType;
  if (parent instanceof z.ZodArray) return parent.element as z.ZodType;
  return undefined;
}

/** The declaration of a map's keys, when they are ids. */
export function keyOf(parent: z.ZodType): z.ZodType | undefined {
  return parent instanceof z.ZodRecord ? (parent.keyType as z.ZodType) : undefined;
}

/** The catalog sections of a kind: `parts`, `operations`. */
export function catalogsOf(object: z.ZodObject): readonly Field[] {
  return [...fieldsOf(object).values()].filter((field) => field.meta.catalog);
}
