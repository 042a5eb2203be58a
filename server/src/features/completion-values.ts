/** Values that can be written at a place. */
import { z } from 'zod';
import { type FieldMeta, metaOf } from '../../../schemas/declare.ts';
import { ownSchema } from '../../../schemas/kinds/own.ts';
import type { Template } from '../../../schemas/kinds/template.ts';
import { CURRENCY_CODES } from '../../../schemas/values/currency.ts';
import { addDays, type IsoDate } from '../../../schemas/values/dates.ts';
import { SELLING_UNITS } from '../../../schemas/values/selling.ts';
import type { Dimension } from '../../../schemas/values/units.ts';
import { modelYearOf } from '../../../schemas/values/vin.ts';
import { alternativesOf, fieldsOf, isText, keyOf } from '../../../schemas/walk.ts';
import { ownFieldFor } from '../book/own-fields.ts';
import { type Context, kindsOf, leading, type Slot, textAt } from './completion-context.ts';
import { fileDrafts } from './completion-files.ts';
import { type Draft, type Drafts, ITEM } from './completion-item.ts';
import { exampleDrafts, quantityDrafts, readingDrafts } from './completion-readings.ts';
import { idDrafts, parameterDrafts, templateInsert } from './completion-references.ts';
import { metaFor } from './completion-snippet.ts';
import { writerAt } from './completion-writer.ts';

export function valueDrafts(context: Context, slot: Slot): Drafts {
  const texts = alternativesOf(slot.declared).filter(isText);
  const metas = texts.map((meant) => metaFor(slot.declared, meant));
  const parameters =
    context.templated && texts.length > 0 && !slot.flow
      ? parameterDrafts(context, slot, metas.flatMap(kindsOf))
      : [];
  if (context.typing.typed.startsWith('$')) return whole(parameters);
  const lists = texts.map((meant, i) => ofOne(context, slot, metas[i]!, meant));
  return {
    drafts: [...parameters, ...lists.flatMap((list) => list.drafts)],
    cut: lists.some((list) => list.cut),
  };
}

const whole = (drafts: readonly Draft[]): Drafts => ({ drafts, cut: false });

function ofOne(context: Context, slot: Slot, meta: FieldMeta, meant: z.ZodType): Drafts {
  if (meant instanceof z.ZodLiteral) return whole([word(slot, String([...meant.values][0]), undefined)]);
  const given = parameterGiven(context);
  if (given) return ofParameter(context, slot, given);
  const own = meta.scalar === 'own' ? ownDeclared(context) : undefined;
  if (own) return ofOne(context, slot, metaOf(own), own);
  const kinds = kindsOf(meta);
  const words = wordDrafts(context, slot, meta);
  if (kinds.length === 0 || (meta.defines && !meta.shared))
    return whole([...words, ...ofScalar(context, slot, meta)]);
  const ids = idDrafts(
    context,
    slot,
    { kinds, local: meta.local === true, without: taken(context) },
    templateWith(context, slot),
  );
  return { drafts: [...ids.drafts, ...words], cut: ids.cut };
}

function ofScalar(context: Context, slot: Slot, meta: FieldMeta): Draft[] {
  const { typed } = context.typing;
  switch (meta.scalar) {
    case 'yes-no':
      return [
        word(slot, 'yes', meta.fallback === 'yes' ? 'when left out' : undefined),
        word(slot, 'no', meta.fallback === 'no' ? 'when left out' : undefined),
      ];
    case 'reading':
      return readingDrafts(context, slot, meta);
    case 'quantity':
    case 'range':
      return quantityDrafts(context, slot, meta.dimension as Dimension, undefined, meta.example);
    case 'hours':
      return /^\d/.test(typed.trim()) ? hourDrafts(slot, typed) : exampleDrafts(slot, meta);
    case 'percent':
      return /^\d[\d.]*$/.test(typed.trim())
        ? [word(slot, `${typed.trim()}%`, undefined)]
        : exampleDrafts(slot, meta);
    case 'date':
    case 'date-time':
      return dateDrafts(context, slot, meta.scalar === 'date-time');
    case 'year':
      return yearDrafts(context, slot);
    case 'selling-unit':
      return SELLING_UNITS.map((unit) => ({
        ...word(slot, unit.id, unit.unit?.symbol),
        match: [unit.id, ...unit.aliases],
      }));
    case 'currency':
      return CURRENCY_CODES.map((code) => word(slot, code, CURRENCY_NAMES.of(code)));
    case 'file':
      return meta.file ? fileDrafts(context, slot, meta.file) : [];
    case 'money':
      return exampleDrafts(slot, meta);
    default:
      return [];
  }
}

const CURRENCY_NAMES = new Intl.DisplayNames('en', { type: 'currency' });

function word(slot: Slot, text: string, meaning: string | undefined): Draft {
  return { slot, label: text, kind: ITEM.enumMember, insert: { text }, description: meaning };
}

function wordDrafts(context: Context, slot: Slot, meta: FieldMeta): Draft[] {
  const without = taken(context);
  return Object.entries(meta.choices ?? {})
    .filter(([choice]) => !without.has(choice))
    .map(([choice, meaning]) => ({
      ...word(slot, choice, firstSentence(meaning) + (meta.fallback === choice ? ' (when left out)' : '')),
      documentation: meaning,
    }));
}

function firstSentence(text: string): string {
  return (/^.*?[.:](?=\s|$)/.exec(text)?.[0] ?? text).replace(/[.:]$/, '');
}

/** What the list at hand holds already. */
function taken({ typing }: Context): Set<string> {
  const list = typing.above.at(-1);
  return new Set(list?.type === 'list' ? list.items.filter((item) => item !== undefined) : []);
}

function hourDrafts(slot: Slot, typed: string): Draft[] {
  const number = /^[\d.]+/.exec(typed.trim())?.[0] ?? '';
  return [word(slot, `${number} h`, 'hours'), word(slot, `${number} min`, 'minutes')];
}

const AHEAD = [0, 1, 2, 3, 7, 14, 30, 90] as const;
const BEHIND = [-1, -7] as const;

function dateDrafts(context: Context, slot: Slot, timed: boolean): Draft[] {
  const { today } = context.ask;
  if (today === undefined) return [];
  const asked = /^([+-])(\d{1,4})$/.exec(context.typing.typed.trim());
  const days = asked ? [Number(`${asked[1]}${asked[2]}`)] : [...AHEAD, ...BEHIND];
  return days.map((day) => {
    const date = addDays(today, day);
    const label = timed ? `${date}T` : date;
    const match = asked ? [context.typing.typed] : [date, dayWord(day)];
    return {
      ...word(slot, label, `${dayWord(day)}, ${weekday(date)}`),
      insert: { text: label },
      kind: ITEM.event,
      match,
    };
  });
}

export function dayWord(day: number): string {
  if (day === 0) return 'today';
  if (day === 1) return 'tomorrow';
  if (day === -1) return 'yesterday';
  return day > 0 ? `in ${day} days` : `${-day} days ago`;
}

const WEEKDAYS = new Intl.DateTimeFormat('en', { weekday: 'long', timeZone: 'UTC' });

export function weekday(date: IsoDate): string {
  return WEEKDAYS.format(new Date(`${date}T00:00:00Z`));
}

/** The years that a car in the shop may be of; what the VIN beside it says comes first. */
function yearDrafts(context: Context, slot: Slot): Draft[] {
  const said = context.levels.length - 1;
  const vinField = fieldOf(context, 'vin');
  const vin = vinField && textAt(context, said, vinField);
  const year = vin === undefined ? undefined : modelYearOf(vin);
  const last = context.ask.today ? Number(context.ask.today.slice(0, 4)) + 1 : undefined;
  const years =
    last === undefined ? [] : Array.from({ length: 30 }, (_, i) => last - i).filter((one) => one !== year);
  return [
    ...(year === undefined ? [] : [word(slot, String(year), 'from the VIN')]),
    ...years.map((one) => word(slot, String(one), undefined)),
  ];
}

/** The field beside the place that is read so. */
function fieldOf({ levels }: Context, scalar: FieldMeta['scalar']): string | undefined {
  const schema = levels.at(-1)?.schema;
  if (!(schema instanceof z.ZodObject)) return undefined;
  return [...fieldsOf(schema).values()].find((field) => field.meta.scalar === scalar)?.key;
}

/** At the value of a field of the shop: what the shop declares it to be. */
function ownDeclared({ book, file, levels }: Context): z.ZodType | undefined {
  const field = ownFieldFor(book, file, String(levels.at(-1)?.step));
  return field && ownSchema(field);
}

type Parameter = NonNullable<Template['parameters']>[string];

/** At the value of a template's parameter: what it stands for. */
function parameterGiven(context: Context): Parameter | undefined {
  const level = context.levels.at(-1);
  const keys = level && keyOf(level.schema);
  if (!level || !keys || metaOf(keys).refers !== 'parameter') return undefined;
  const id = leading(context, 'template');
  const template =
    id === undefined ? undefined : (context.book.value('template', id) as Template | undefined);
  const parameters = template?.parameters ?? {};
  const name = String(level.step);
  return Object.hasOwn(parameters, name) ? parameters[name] : undefined;
}

function ofParameter(context: Context, slot: Slot, parameter: Parameter): Drafts {
  if (parameter.choices) return whole(parameter.choices.map((one) => word(slot, one, undefined)));
  const usual = parameter.default === undefined ? [] : [word(slot, parameter.default, 'when left out')];
  if (parameter.type !== 'part' && parameter.type !== 'operation') return whole(usual);
  return idDrafts(context, slot, {
    kinds: [parameter.type],
    local: false,
    without: new Set(),
    role: parameter.role,
  });
}

/** A template that is named on a line brings its parameters along, unless they are given already. */
function templateWith(context: Context, slot: Slot) {
  const level = context.levels.at(-1);
  if (!(level?.schema instanceof z.ZodObject) || slot.lead !== '') return undefined;
  const field = [...fieldsOf(level.schema).values()].find((one) => {
    const keys = keyOf(alternativesOf(one.schema)[0]!);
    return keys && metaOf(keys).refers === 'parameter';
  });
  if (!field || level.frame.pairs.has(field.key)) return undefined;
  return templateInsert(context, slot, field.key, () => writerAt(context));
}
