/** What is inserted for a name: its value opened as the declaration wants it, with tab stops where something is typed. */
import { z } from 'zod';
import { type FieldMeta, metaOf } from '../../../schemas/declare.ts';
import type { IsoDate } from '../../../schemas/values/dates.ts';
import { alternativesOf, fieldsOf, isText } from '../../../schemas/walk.ts';
import { STEP, writeKey, writeScalar } from '../syntax/write.ts';

export interface Layout {
  readonly snippets: boolean;
  /** Columns that the client itself puts before every line after the first. */
  readonly indented: number;
  readonly eol: string;
  readonly today: IsoDate | undefined;
}

/** What stands for a single value; undefined for an ordinary tab stop. */
export type SingleSource = (writer: SnippetWriter, meta: FieldMeta) => string | undefined;

/** Writes one inserted text; tab stops count up. */
export class SnippetWriter {
  readonly #layout: Layout;
  readonly #single: SingleSource;
  #stops = 0;

  constructor(layout: Layout, single: SingleSource = () => undefined) {
    this.#layout = layout;
    this.#single = single;
  }

  get snippet(): boolean {
    return this.#layout.snippets && this.#stops > 0;
  }

  stop(placeholder = ''): string {
    this.#stops++;
    if (!this.#layout.snippets) return placeholder;
    return placeholder === '' ? `$${this.#stops}` : `\${${this.#stops}:${this.text(placeholder)}}`;
  }

  choice(words: readonly string[]): string {
    this.#stops++;
    if (!this.#layout.snippets) return '';
    return `\${${this.#stops}|${words.map((word) => word.replace(/[\\,|$}]/g, '\\$&')).join(',')}|}`;
  }

  /** Text that stands as it is. */
  text(text: string): string {
    return this.#layout.snippets ? text.replace(/[\\$}]/g, '\\$&') : text;
  }

  line(column: number): string {
    return this.#layout.eol + ' '.repeat(Math.max(0, column - this.#layout.indented));
  }

  /** `key: value`, the key at `column`. */
  pair(key: string, declared: z.ZodType, column: number, flow: boolean): string {
    return `${this.text(writeKey(key))}:${this.value(declared, column, flow)}`;
  }

  /** What follows `key:`, the key at `column`. */
  value(declared: z.ZodType, column: number, flow: boolean): string {
    const alternatives = alternativesOf(declared);
    const single = alternatives.find(isText);
    if (single) return ` ${this.single(metaFor(declared, single), single)}`;
    const [group] = alternatives;
    if (group instanceof z.ZodArray) return this.#list(group.element as z.ZodType, column, flow);
    const inside = column + STEP;
    const body = () => (group instanceof z.ZodObject ? this.fields(group, inside, flow) : this.stop());
    return flow ? ` { ${body()} }` : this.line(inside) + body();
  }

  #list(item: z.ZodType, column: number, flow: boolean): string {
    const alternatives = alternativesOf(item);
    const single = alternatives.find(isText);
    const { scalar } = single ? metaFor(item, single) : {};
    if (flow || scalar === 'reference' || scalar === 'choice' || scalar === 'id') return ` [${this.stop()}]`;
    const dash = column + STEP;
    const [only] = alternatives;
    const fields = alternatives.length === 1 && only instanceof z.ZodObject;
    return `${this.line(dash)}- ${fields ? this.fields(only, dash + STEP, false) : this.stop()}`;
  }

  /** The fields that have to be given, the first on the line at hand; a tab stop when there are none. */
  fields(object: z.ZodObject, column: number, flow: boolean, lead?: string): string {
    const wanted = [...fieldsOf(object).values()].filter((field) => field.required || field.key === lead);
    if (wanted.length === 0) return this.stop();
    return wanted
      .map((field) => this.pair(field.key, field.schema, column, flow))
      .join(flow ? ', ' : this.line(column));
  }

  single(meta: FieldMeta, schema: z.ZodType): string {
    const special = this.#single(this, meta);
    if (special !== undefined) return special;
    if (schema instanceof z.ZodLiteral) return this.text(String([...schema.values][0]));
    if (meta.scalar === 'choice' && meta.choices) return this.choice(Object.keys(meta.choices));
    if (meta.scalar === 'yes-no') return this.choice(meta.fallback === 'yes' ? ['no', 'yes'] : ['yes', 'no']);
    if (meta.scalar === 'date' && this.#layout.today) return this.stop(this.#layout.today);
    return this.stop();
  }
}

/** All that is said of a single value: the words of the field count before those of the alternative inside it. */
export function metaFor(declared: z.ZodType, meant: z.ZodType): FieldMeta {
  return { ...metaOf(meant), ...metaOf(declared) };
}

/** A single text as it is written at a place, so that it reads back as the same. */
export function written(text: string, quote: '"' | "'" | undefined, flow: boolean): string {
  if (quote === "'") return text.replaceAll("'", "''");
  if (quote === '"') return writeScalar(text, 'double', { column: 0, eol: '\n', flow: false }).slice(1, -1);
  return writeScalar(text, 'plain', { column: 0, eol: '\n', flow });
}
