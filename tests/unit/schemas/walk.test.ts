import { describe, expect, test } from 'vitest';
import { z } from 'zod';
import { catalog, field, isOptional, mapOf, metaOf } from '../../../schemas/declare.ts';
import { KINDS, kindByName } from '../../../schemas/index.ts';
import { jobFinding, jobSchema } from '../../../schemas/kinds/job.ts';
import { line } from '../../../schemas/kinds/lines.ts';
import { partsSchema } from '../../../schemas/kinds/parts.ts';
import { condition } from '../../../schemas/kinds/rules.ts';
import { templateSchema } from '../../../schemas/kinds/template.ts';
import { choice, id, text } from '../../../schemas/scalars.ts';
import {
  alternativeFor,
  alternativesOf,
  bare,
  catalogsOf,
  childOf,
  fieldsOf,
  isObject,
  keyOf,
  leadOf,
  meaningOf,
} from '../../../schemas/walk.ts';

const map = (...keys: string[]) => ({ type: 'map', keys }) as const;

describe('what a declaration says', () => {
  test('the outer words count, and the inner ones show through', () => {
    const inner = field('Inner', 'What it is inside.', text(), { example: 'a' });
    const outer = field('Outer', 'What it is here.', inner.optional());
    expect(metaOf(outer)).toMatchObject({
      title: 'Outer',
      description: 'What it is here.',
      example: 'a',
      scalar: 'text',
    });
    expect(metaOf(inner)).toMatchObject({ title: 'Inner' });
    expect(isOptional(outer)).toBe(true);
    expect(isOptional(inner)).toBe(false);
  });

  test('fields, in their order, with what is required', () => {
    const fields = [...fieldsOf(jobSchema).values()];
    expect(fields.slice(0, 4).map(({ key, required }) => [key, required])).toEqual([
      ['kind', true],
      ['demo', false],
      ['id', true],
      ['opened', true],
    ]);
    expect(fieldsOf(jobSchema).has('toString')).toBe(false);
  });

  test('catalogs and their keys', () => {
    expect(catalogsOf(partsSchema).map(({ key }) => key)).toEqual(['parts']);
    const parts = bare(fieldsOf(partsSchema).get('parts')!.schema);
    expect(metaOf(keyOf(parts)!)).toMatchObject({ scalar: 'id', defines: 'part' });
    expect(isObject(childOf(parts, 'anything')!)).toBe(true);
    const things = z.object({ things: catalog('Things', 'Some.', id(), text()).optional() });
    expect(catalogsOf(things).map(({ key }) => key)).toEqual(['things']);
  });

  test('a map of words takes each of them and none has to be there', () => {
    const schema = mapOf(choice({ soft: 'Soft.', hard: 'Hard.' }), text());
    expect(schema.safeParse({ soft: 'a' }).success).toBe(true);
    expect(schema.safeParse({ sfot: 'a' }).error?.issues[0]).toMatchObject({ code: 'invalid_key' });
    expect(metaOf(keyOf(schema)!)).toMatchObject({
      scalar: 'choice',
      choices: { soft: 'Soft.', hard: 'Hard.' },
    });
  });
});

describe('which alternative is meant', () => {
  test.each([
    [map('part', 'quantity'), 'part'],
    [map('quantity', 'operation'), 'operation'],
    [map('fill', 'part'), 'fill'],
    [map('part', 'operation'), 'part'],
    [map('adders'), 'operation'],
    [map('with'), 'template'],
  ])('a line with %j', (shape, lead) => {
    const meant = alternativeFor(line, shape);
    expect(meant && isObject(meant) && leadOf(meant)).toBe(lead);
  });

  test('by shape, where there is only one of each', () => {
    expect(isObject(alternativeFor(jobFinding, map())!)).toBe(true);
    expect(metaOf(alternativeFor(jobFinding, { type: 'text' })!)).toMatchObject({ scalar: 'reading' });
    expect(metaOf(alternativeFor(jobFinding, { type: 'empty' })!)).toMatchObject({ scalar: 'reading' });
    expect(alternativeFor(jobFinding, { type: 'list' })).toBeUndefined();
  });

  test('the words of the place count before those of the alternative', () => {
    const { schema } = fieldsOf(jobSchema).get('customer')!;
    expect(meaningOf(schema, alternativeFor(schema, { type: 'text' })!)).toMatchObject({
      title: 'Customer',
      refers: 'customer',
    });
  });

  test('through templates and declarations that hold themselves', () => {
    const lines = bare(fieldsOf(templateSchema).get('lines')!.schema);
    const alternatives = alternativesOf(childOf(lines, 0)!).filter(isObject);
    expect(alternatives.some((one) => fieldsOf(one).has('part'))).toBe(true);
    const all = childOf(bare(condition), 'all')!;
    expect(childOf(childOf(bare(all), 0)!, 'finding')).toBeDefined();
  });
});

describe('the house rules of declarations', () => {
  /** Every object and its fields, each once. */
  function* objects(schema: z.ZodType, seen = new Set<z.ZodType>()): Generator<z.ZodObject> {
    for (const alternative of alternativesOf(schema)) {
      if (seen.has(alternative)) continue;
      seen.add(alternative);
      if (isObject(alternative)) {
        yield alternative;
        for (const { schema: inner } of fieldsOf(alternative).values()) yield* objects(inner, seen);
      } else {
        const inner = childOf(alternative, 0);
        if (inner) yield* objects(inner, seen);
      }
    }
  }

  const fields = KINDS.flatMap(({ kind, schema }) =>
    [...objects(schema)].flatMap((object) => [...fieldsOf(object).values()].map((one) => ({ kind, ...one }))),
  ).filter(({ key, meta }) => key !== 'kind' || meta.title !== undefined);

  test('every field has a title and a meaning, in sentences', () => {
    expect(fields.length).toBeGreaterThan(300);
    for (const { kind, key, meta } of fields) {
      expect(meta.title, `${kind}: ${key}`).toMatch(/^[A-Z].*[^.]$/);
      expect(meta.description, `${kind}: ${key}`).toMatch(/^\S.*[.!?)]$/s);
      expect(`${meta.title} ${meta.description}`, `${kind}: ${key}`).not.toMatch(/ {2}/);
    }
  });

  test('an example is read without a problem', () => {
    for (const { kind, key, schema, meta } of fields) {
      if (meta.example === undefined || meta.scalar === undefined) continue;
      expect(schema.safeParse(meta.example).success, `${kind}: ${key}: ${meta.example}`).toBe(true);
    }
  });

  test('each kind is found by its name and has a file name of its own', () => {
    expect(new Set(KINDS.map(({ suffix }) => suffix)).size).toBe(KINDS.length);
    for (const kind of KINDS) expect(kindByName.get(kind.kind)).toBe(kind);
  });
});
