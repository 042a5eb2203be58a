/** Every kind of file and every field, from the declarations. */
import { z } from 'zod';
import { type FieldMeta, type KindDeclaration, metaOf, type RefKind } from '../../../../schemas/declare.ts';
import { KINDS } from '../../../../schemas/index.ts';
import { DIMENSIONS, type Dimension } from '../../../../schemas/values/units.ts';
import {
  alternativesOf,
  bare,
  type Field,
  fieldsOf,
  isList,
  isObject,
  isRecord,
  keyOf,
  leadOf,
} from '../../../../schemas/walk.ts';
import { KIND_WORDS } from '../../book/words.ts';
import { anchorOf, code, link, page, prose, table } from './markdown.ts';

/** An object declaration under a heading of its own; shared ones stand where they are met first. */
interface Section {
  readonly kind: KindDeclaration;
  readonly heading: string;
  readonly object: z.ZodObject;
}

/** By file name. */
export function fieldPages(): Map<string, string> {
  const reference = new Reference(KINDS);
  return new Map(KINDS.map((kind) => [fileOf(kind), reference.page(kind)]));
}

export function fileOf({ kind }: KindDeclaration): string {
  return `${kind}.md`;
}

class Reference {
  readonly #sections = new Map<z.ZodType, Section>();
  /** Where ids of a kind are brought into being. */
  readonly #defined = new Map<RefKind, string>();

  constructor(kinds: readonly KindDeclaration[]) {
    // What templates hold are lines of jobs with parameters in them: those stand with the jobs.
    const later: [KindDeclaration, string, z.ZodType][] = [];
    for (const kind of kinds) {
      if (kind.defines) this.#defined.set(kind.defines, fileOf(kind));
      this.#collect(kind, '', kind.schema, later);
    }
    for (const [kind, heading, schema] of later) this.#collect(kind, heading, schema, []);
  }

  page(kind: KindDeclaration): string {
    const sections = [...this.#sections.values()].filter((one) => one.kind === kind);
    const [whole, ...rest] = sections;
    return page(
      kind.title,
      prose(kind.description),
      `Usual file name: ${code(kind.suffix.startsWith('.') ? `*${kind.suffix}` : kind.suffix)}. First line: ${code(`kind: ${kind.kind}`)}. A field of your own begins with ${code('x-')}.`,
      whole && this.#table(kind, whole.object),
      ...rest.flatMap(({ heading, object }) => [`## ${heading}`, this.#table(kind, object)]),
    );
  }

  #collect(
    kind: KindDeclaration,
    heading: string,
    schema: z.ZodType,
    later: [KindDeclaration, string, z.ZodType][],
  ) {
    if (metaOf(schema).templated) later.push([kind, heading, bare(schema)]);
    if (metaOf(schema).templated) return;
    const alternatives = alternativesOf(schema);
    const several = alternatives.filter(isObject).length > 1;
    for (const one of alternatives) {
      const below = (step: string) => (heading === '' ? step : `${heading} › ${step}`);
      if (isList(one)) this.#collect(kind, heading, one.element as z.ZodType, later);
      else if (isRecord(one)) {
        const defines = metaOf(keyOf(one)!).defines;
        if (defines && !this.#defined.has(defines)) {
          const under = alternativesOf(one.valueType as z.ZodType).some(isObject)
            ? `#${anchorOf(heading)}`
            : '';
          this.#defined.set(defines, fileOf(kind) + under);
        }
        this.#collect(kind, heading, one.valueType as z.ZodType, later);
      } else if (isObject(one) && !this.#sections.has(one)) {
        const own = several ? below(leadOf(one)) : heading;
        this.#sections.set(one, { kind, heading: own, object: one });
        for (const field of fieldsOf(one).values())
          this.#collect(
            kind,
            several || heading !== '' ? `${own} › ${field.key}` : field.key,
            field.schema,
            later,
          );
      } else if (!isObject(one)) {
        const { defines } = metaOf(one);
        if (defines && !this.#defined.has(defines)) this.#defined.set(defines, fileOf(kind));
      }
    }
  }

  #table(kind: KindDeclaration, object: z.ZodObject): string {
    return table(
      ['Field', 'Needed', 'What it means', 'Written as', 'For example', 'When left out'],
      [...fieldsOf(object).values()].map((field) => [
        code(field.key),
        field.required ? 'yes' : '',
        meaning(field),
        this.#form(kind, field.schema),
        field.meta.example === undefined ? '' : code(field.meta.example),
        prose(field.meta.fallback ?? ''),
      ]),
    );
  }

  /** How a value is written, in words. */
  #form(kind: KindDeclaration, schema: z.ZodType): string {
    const meta = metaOf(schema);
    const words = alternativesOf(schema).map((one): string => {
      if (isList(one)) return `a list: ${this.#form(kind, one.element as z.ZodType)}`;
      if (isRecord(one)) {
        const inner = this.#form(kind, one.valueType as z.ZodType);
        return `a map, by ${this.#single(kind, metaOf(keyOf(one)!))}: ${inner}`;
      }
      if (isObject(one)) return this.#linked(kind, one);
      if (one instanceof z.ZodLiteral) return code(String([...one.values][0]));
      return this.#single(kind, { ...metaOf(one), ...meta });
    });
    return [...new Set(words)].join(', or ');
  }

  #linked(kind: KindDeclaration, object: z.ZodObject): string {
    const section = this.#sections.get(object);
    if (!section) return 'fields';
    const file = section.kind === kind ? '' : fileOf(section.kind);
    return section.heading === ''
      ? link(section.kind.title, fileOf(section.kind))
      : link(prose(section.heading), `${file}#${anchorOf(section.heading)}`);
  }

  #single(kind: KindDeclaration, meta: FieldMeta): string {
    const { scalar = 'text', refers, dimension, unit, choices } = meta;
    if (refers) {
      const kinds = [refers].flat().map((one) => {
        const target = this.#defined.get(one);
        const here = target?.startsWith(`${fileOf(kind)}#`) ? target.slice(fileOf(kind).length) : target;
        return here ? link(KIND_WORDS[one], here) : KIND_WORDS[one];
      });
      return `the id of: ${kinds.join(' or ')}`;
    }
    if (choices) return Object.keys(choices).map(code).join(' ');
    const spoken = dimension ? DIMENSIONS[dimension as Dimension]?.spoken : undefined;
    return prose(
      `${FORMS[scalar]}${spoken ? `: ${spoken}` : ''}${unit && scalar !== 'hours' ? ` (${unit})` : ''}`,
    );
  }
}

const FORMS: Record<NonNullable<FieldMeta['scalar']>, string> = {
  text: 'text on one line',
  prose: 'text, of several lines if need be',
  id: 'an id',
  reference: 'an id',
  choice: 'a word',
  'yes-no': 'yes or no',
  money: 'an amount',
  percent: 'a percentage',
  number: 'a number',
  count: 'a whole number',
  'selling-unit': 'a unit that it is sold in',
  quantity: 'a number with its unit',
  range: 'a range with its unit, `65..66 F`',
  hours: 'hours, `3.9 h` or `45 min`',
  date: 'a day, `2026-03-14`',
  'date-time': 'a day and a time, `2026-03-14T10:20`',
  year: 'a year',
  vin: '17 characters',
  currency: 'an ISO 4217 code',
  file: 'a file name, relative to this file',
  reading: 'yes or no, a word of the scale, or a measurement',
  own: 'what the shop declares for the field',
};

/** The meaning, and what each word of a choice means. */
function meaning({ schema, meta }: Field): string {
  const inner = alternativesOf(schema).flatMap((one) =>
    isList(one) ? alternativesOf(one.element as z.ZodType) : [one],
  );
  const choices = Object.assign({}, ...inner.map((one) => metaOf(one).choices)) as Record<string, string>;
  const words = Object.entries(choices).map(([word, says]) => `${code(word)}: ${prose(says)}`);
  return [meta.title && `**${prose(meta.title)}.**`, prose(meta.description ?? ''), ...words]
    .filter(Boolean)
    .join(' ');
}
