/** Values of findings, and numbers with their unit of measure. */
import type { z } from 'zod';
import { type FieldMeta, metaOf } from '../../../schemas/declare.ts';
import { ownSchema } from '../../../schemas/kinds/own.ts';
import type { Finding } from '../../../schemas/kinds/rules.ts';
import { type Unit as Family, type UnitFact, unit } from '../../../schemas/kinds/units.ts';
import { type Dimension, findUnit, type Unit, unitsOf } from '../../../schemas/values/units.ts';
import { bare, childOf } from '../../../schemas/walk.ts';
import { ownFieldFor } from '../book/own-fields.ts';
import { lastNormalStep } from '../work/readings.ts';
import { type Context, nearest, type Slot, unitFor } from './completion-context.ts';
import { type Draft, ITEM } from './completion-item.ts';
import type { SingleSource } from './completion-snippet.ts';

/** What a reading can be: a finding's answer, or a fact of the unit family that a row of a limit asks for. */
type Answer =
  | { readonly words: readonly (readonly [word: string, meaning: string])[] }
  | { readonly dimension: Dimension; readonly usual: Unit | undefined };

function answerTo(context: Context, id: string): Answer | undefined {
  const finding = context.book.value('finding', id) as Finding | undefined;
  if (!finding) return factWords(id);
  const { name, kind, dimension, scale = [], sensitivity } = finding;
  if (kind === 'yes-no') {
    const caveat = sensitivity === undefined ? '' : `; the test sees no less than ${sensitivity}`;
    return {
      words: [
        ['yes', name],
        ['no', `not found${caveat}`],
      ],
    };
  }
  if (kind === 'scale') {
    const last = lastNormalStep(finding);
    return { words: scale.map((word, i) => [word, i <= last ? 'normal' : 'worse than normal'] as const) };
  }
  return dimension && { dimension, usual: usualUnit(context, id, dimension) };
}

/** Where the entry of a unit family says what a limit may ask for. */
const FACT_FIELDS: Record<UnitFact, readonly string[]> = {
  'cooler-material': ['cooler', 'material'],
  'cooler-kind': ['cooler', 'kind'],
  'thermal-bypass': ['cooler', 'bypass'],
  'converter-lining': ['converter-lining'],
  layout: ['layout'],
};

/** A trait is there or not; other facts have the words of their field. */
function factWords(id: string): Answer {
  const fields = Object.hasOwn(FACT_FIELDS, id) ? FACT_FIELDS[id as UnitFact] : [];
  const schema = fields.reduce<z.ZodType | undefined>((at, field) => at && childOf(bare(at), field), unit);
  const choices = schema && metaOf(schema).choices;
  return {
    words: Object.entries(choices ?? { yes: 'The family has it.', no: 'The family does not have it.' }),
  };
}

/** What is inserted for a reading of what goes by this id. */
export function readingOf(context: Context, id: string | undefined): SingleSource {
  return (writer, meta) => {
    if (id === undefined) return undefined;
    const field = meta.scalar === 'own' ? ownFieldFor(context.book, context.file, id) : undefined;
    if (field) return writer.single(metaOf(ownSchema(field)), ownSchema(field));
    if (meta.scalar !== 'reading') return undefined;
    const answer = answerTo(context, id);
    if (!answer) return undefined;
    if ('words' in answer) return writer.choice(answer.words.map(([word]) => word));
    return answer.usual && `${writer.stop()} ${writer.text(answer.usual.id)}`;
  };
}

export function readingDrafts(context: Context, slot: Slot, meta: FieldMeta): Draft[] {
  const id = nearest(context, 'finding');
  const answer = id === undefined ? undefined : answerTo(context, id);
  if (!answer) return exampleDrafts(slot, meta);
  if ('words' in answer) return answer.words.map(([word, meaning]) => wordDraft(slot, word, meaning));
  return quantityDrafts(context, slot, answer.dimension, answer.usual, undefined);
}

function wordDraft(slot: Slot, word: string, meaning: string): Draft {
  return { slot, label: word, kind: ITEM.enumMember, insert: { text: word }, description: meaning };
}

/** The unit that the family's limit is written in, else the most usual one. */
function usualUnit(context: Context, id: string, dimension: Dimension): Unit | undefined {
  const family = unitFor(context);
  const limits =
    family === undefined ? undefined : (context.book.value('unit', family) as Family | undefined)?.limits;
  const row = limits && Object.hasOwn(limits, id) ? limits[id]?.rows[0] : undefined;
  const typed = /[^\d.,\s-].*$/.exec(row?.least ?? row?.most ?? '')?.[0];
  const found = typed === undefined ? undefined : findUnit(typed);
  return found?.dimension === dimension ? found : unitsOf(dimension)[0];
}

const NUMBER = /^(.*?\d[\d,]*(?:\.\d*)?)\s*(\D*)$/;

/** After a number: the same number with each unit. Before one: an example, and the units to type a number for. */
export function quantityDrafts(
  context: Context,
  slot: Slot,
  dimension: Dimension,
  usual: Unit | undefined,
  example: string | undefined,
): Draft[] {
  const number = NUMBER.exec(context.typing.typed)?.[1];
  const units = [...unitsOf(dimension)];
  if (usual) units.sort((a, b) => Number(b === usual) - Number(a === usual));
  if (number !== undefined) {
    return units.map((unit) => {
      const text = unit.id === '' ? number : `${number} ${unit.id}`;
      const match = [text, ...unit.aliases.map((alias) => `${number} ${alias}`)];
      return { slot, label: text, kind: ITEM.unit, insert: { text }, description: unit.name, match };
    });
  }
  const examples = example === undefined ? [] : exampleDrafts(slot, { example });
  if (!context.ask.client.snippets || context.typing.quote) return examples;
  const typed = units.map((unit): Draft => {
    const insert = { source: `\${1:0} ${unit.id}`.trim(), snippet: true };
    return { slot, label: `0 ${unit.id}`.trim(), kind: ITEM.unit, insert, description: unit.name };
  });
  return [...examples, ...typed];
}

export function exampleDrafts(slot: Slot, { example }: FieldMeta): Draft[] {
  if (example === undefined) return [];
  return [{ slot, label: example, kind: ITEM.value, insert: { text: example }, description: 'for example' }];
}
