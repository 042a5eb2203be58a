/** Ids that are known only within what they belong to: a job's options, a template's parameters, an operation's add-ons. */
import { z } from 'zod';
import { metaOf, type RefKind } from '../../../schemas/declare.ts';
import { KINDS } from '../../../schemas/index.ts';
import { alternativesOf, catalogsOf, fieldsOf, keyOf } from '../../../schemas/walk.ts';

/** What a kind of local id belongs to, and the field there whose keys bring it into being. */
interface Belonging {
  readonly owner: RefKind;
  readonly field: string;
}

const BELONGINGS: ReadonlyMap<RefKind, Belonging> = new Map(
  KINDS.flatMap((kind) => [
    ...(kind.defines ? localFields(kind.schema, kind.defines) : []),
    ...catalogsOf(kind.schema).flatMap((catalog) => {
      const record = alternativesOf(catalog.schema)[0];
      if (!(record instanceof z.ZodRecord)) return [];
      const owner = metaOf(record.keyType as z.ZodType).defines;
      return owner ? localFields(record.valueType as z.ZodType, owner) : [];
    }),
  ]),
);

function localFields(schema: z.ZodType, owner: RefKind): [RefKind, Belonging][] {
  if (!(schema instanceof z.ZodObject)) return [];
  return [...fieldsOf(schema).values()].flatMap((field): [RefKind, Belonging][] => {
    const keys = keyOf(alternativesOf(field.schema)[0]!);
    const { defines, local } = keys ? metaOf(keys) : {};
    return defines && local ? [[defines, { owner, field: field.key }]] : [];
  });
}

export function localOwner(kind: RefKind): RefKind | undefined {
  return BELONGINGS.get(kind)?.owner;
}

/** The ids of a kind in what they belong to, as it was read, each with its entry. */
export function localEntries(holder: unknown, kind: RefKind): [string, unknown][] {
  const belonging = BELONGINGS.get(kind);
  const entries = belonging && (holder as Record<string, unknown> | undefined)?.[belonging.field];
  return entries && typeof entries === 'object' ? Object.entries(entries) : [];
}
