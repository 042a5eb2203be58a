/**
 * How a field is declared.
 *
 * A declaration is a zod schema that carries what it means. Validation, completion, hover, navigation,
 * rename, JSON Schema and the printed reference all read the same declaration; none of them knows a field by name.
 */
import { z } from 'zod';

/** What an id can name. The catalog section or map key that brings such an id into being says `defines`. */
export const REF_KINDS = [
  'shop',
  'rate',
  'schedule',
  'fee',
  'discount',
  'payer',
  'customer',
  'warranty',
  'supplier',
  'field',
  'jurisdiction',
  'tax-class',
  'part',
  'step',
  'operation',
  'adder',
  'caution',
  'unit',
  'fluid-class',
  'trait',
  'role',
  'finding',
  'rule',
  'record',
  'template',
  'parameter',
  'job',
  'option',
  'case',
] as const;
export type RefKind = (typeof REF_KINDS)[number];

/** How a text is read; decides what completion offers and what JSON Schema says. */
export type ScalarKind =
  | 'text'
  | 'prose'
  | 'id'
  | 'reference'
  | 'choice'
  | 'yes-no'
  | 'money'
  | 'percent'
  | 'number'
  | 'count'
  | 'selling-unit'
  | 'quantity'
  | 'range'
  | 'hours'
  | 'date'
  | 'date-time'
  | 'year'
  | 'vin'
  | 'currency'
  | 'file'
  | 'reading'
  | 'own';

export interface FieldMeta {
  /** A few words, as a heading or a label. */
  readonly title?: string;
  /** What it means and what follows from it, in plain sentences. */
  readonly description?: string;
  /** The unit of the number, when it has one: `hours`, `shop currency`. */
  readonly unit?: string;
  /** A value as one would type it. */
  readonly example?: string;
  /** What holds when the field is left out. */
  readonly fallback?: string;
  readonly scalar?: ScalarKind;
  /** The id names one of these. */
  readonly refers?: RefKind | readonly RefKind[];
  /** A key here brings an id of this kind into being. */
  readonly defines?: RefKind;
  /** Several places may bring the same id into being: traits, fluid classes, tax classes. */
  readonly shared?: boolean;
  /** The ids are known only within this file (a job's options, a template's parameters). */
  readonly local?: boolean;
  /** The map is a catalog: each entry is read, checked and indexed by itself. */
  readonly catalog?: boolean;
  /** For quantities and ranges: the dimension. */
  readonly dimension?: string;
  /** For keys that name fields of the shop: the kind of entry that has them. Left out: a value is asked for, of any. */
  readonly carrier?: string;
  /** For files: what sort of file. */
  readonly file?: 'picture' | 'video' | 'price-file' | 'shop';
  /** Text here may hold template parameters (`$name`); once they are filled in, this schema judges it. */
  readonly templated?: z.ZodType;
  /**
   * What is here, and in everything below it, tells of a person: `redact` gives it a stand-in. `false`: free text that
   * does not, although the file is of a kind whose free texts may.
   */
  readonly personal?: boolean;
  /** For choices: what each word means. Beside `refers`: words that hold here without being defined anywhere. */
  readonly choices?: Readonly<Record<string, string>>;
}

export type FieldExtra = Omit<FieldMeta, 'title' | 'description' | 'scalar' | 'templated'>;

/** A field: its title, what it means, how it is read. Put `.optional()` on the schema, not on the field. */
export function field<S extends z.ZodType>(
  title: string,
  description: string,
  schema: S,
  extra: FieldExtra = {},
): S {
  return schema.meta({ ...schema.meta(), title, description, ...extra });
}

const metas = new WeakMap<z.ZodType, FieldMeta>();

/** What is known of a schema, its wrappers included; the outermost word counts. */
export function metaOf(schema: z.ZodType): FieldMeta {
  let meta = metas.get(schema);
  if (!meta) {
    const layers: FieldMeta[] = [];
    for (let at: z.ZodType | undefined = schema; at; at = innerOf(at))
      layers.unshift((at.meta() ?? {}) as FieldMeta);
    meta = Object.assign({}, ...layers) as FieldMeta;
    metas.set(schema, meta);
  }
  return meta;
}

/** The schema inside `.optional()`, `.default()` and transforms; undefined at the core. */
export function innerOf(schema: z.ZodType): z.ZodType | undefined {
  if (schema instanceof z.ZodOptional || schema instanceof z.ZodDefault) return schema.unwrap() as z.ZodType;
  if (schema instanceof z.ZodLazy) return schema.unwrap() as z.ZodType;
  if (schema instanceof z.ZodPipe && !(schema.in instanceof z.ZodString)) return schema.in as z.ZodType;
  return undefined;
}

export function coreOf(schema: z.ZodType): z.ZodType {
  let core = schema;
  for (let next = innerOf(core); next; next = innerOf(core)) core = next;
  return core;
}

export function isOptional(schema: z.ZodType): boolean {
  return schema instanceof z.ZodOptional || schema instanceof z.ZodDefault;
}

/** A map whose keys are ids, or words of a choice: `rates:`, `findings:`, `by-kind:`. No key is obligatory. */
export function mapOf<V extends z.ZodType>(
  key: z.ZodType<string, string>,
  value: V,
): z.ZodRecord<z.ZodString, V> {
  return z.record(key instanceof z.ZodEnum ? wordKey(key) : key, value) as unknown as z.ZodRecord<
    z.ZodString,
    V
  >;
}

/** zod asks for every key of an enum; here each may be left out. */
function wordKey(words: z.ZodEnum): z.ZodType<string, string> {
  return z
    .string()
    .superRefine((text, context) => {
      const judged = words.safeParse(text);
      if (judged.success) return;
      context.addIssue({
        code: 'custom',
        message: judged.error.issues[0]?.message ?? 'This word is not known here.',
      });
    })
    .meta({ ...words.meta() });
}

/** A catalog: a map that may hold 100,000 entries, each a piece of its own. */
export function catalog<K extends z.ZodType<string, string>, V extends z.ZodType>(
  title: string,
  description: string,
  key: K,
  value: V,
) {
  return field(title, description, z.record(key, value), { catalog: true });
}

export interface KindDeclaration {
  /** What `kind:` says. */
  readonly kind: string;
  readonly title: string;
  readonly description: string;
  /** The usual file name: `shop.yaml`, or a suffix such as `.parts.yaml`. */
  readonly suffix: string;
  readonly schema: z.ZodObject;
  /** Files of this kind are laid over one another: the same id in two of them replaces, it does not clash. */
  readonly layered?: boolean;
  /** Free text in a file of this kind may tell of a person, whoever wrote it and in whatever field. */
  readonly personal?: boolean;
  /** For files that are one definition as a whole: the kind of id that their `id:` brings into being. */
  readonly defines?: RefKind;
}
