/** Names that can be written at a place: fields not given yet, ids that a map goes by, new entries. */
import { z } from 'zod';
import { type FieldMeta, metaOf } from '../../../schemas/declare.ts';
import { alternativesOf, type Field, fieldsOf, leadOf } from '../../../schemas/walk.ts';
import { KIND_WORDS } from '../book/checks.ts';
import { ownFieldsFor } from '../book/own-fields.ts';
import { writeKey } from '../syntax/write.ts';
import { type Context, candidatesFor, kindsOf, type Slot } from './completion-context.ts';
import { type Draft, type Drafts, ITEM } from './completion-item.ts';
import { idDrafts } from './completion-references.ts';
import type { SnippetWriter } from './completion-snippet.ts';
import { writerAt } from './completion-writer.ts';
import { shown } from './hover-blocks.ts';
import { fieldBlocks } from './hover-field.ts';

export function keyDrafts(context: Context, slot: Slot): Drafts {
  const maps = candidatesFor(slot.declared, [...slot.taken.keys()]);
  const [only] = maps;
  if (maps.length === 1 && only instanceof z.ZodRecord) return recordDrafts(context, slot, only);
  const objects = maps.filter((one) => one instanceof z.ZodObject);
  if (objects.length === 1) {
    const fields = fieldDrafts(context, slot, objects[0]!);
    return { drafts: [...fields, ...otherLeads(context, slot, objects[0]!)], cut: false };
  }
  return { drafts: objects.flatMap((one) => leadDraft(context, slot, one)), cut: false };
}

/** What the map may still turn into: `fill:` above a `part:` makes it another sort of line. */
function otherLeads(context: Context, slot: Slot, object: z.ZodObject): Draft[] {
  const names = [...slot.taken.keys()];
  if (names.length === 0) return [];
  return alternativesOf(slot.declared).flatMap((one) => {
    if (one === object || !(one instanceof z.ZodObject) || fieldsOf(object).has(leadOf(one))) return [];
    if (!names.every((name) => fieldsOf(one).has(name))) return [];
    const lead = fieldsOf(one).get(leadOf(one))!;
    const value = (writer: SnippetWriter) => writer.value(lead.schema, slot.column, slot.flow);
    return [{ ...fieldDraft(context, slot, lead, value), description: lead.meta.title }];
  });
}

function fieldDrafts(context: Context, slot: Slot, object: z.ZodObject): Draft[] {
  const free = [...fieldsOf(object).values()].filter((field) => !slot.taken.has(field.key));
  const inOrder = [...free.filter((field) => field.required), ...free.filter((field) => !field.required)];
  return inOrder.map((field) =>
    fieldDraft(context, slot, field, (writer) => writer.value(field.schema, slot.column, slot.flow)),
  );
}

/** One sort of line: the field that says which, and what else it cannot do without. */
function leadDraft(context: Context, slot: Slot, object: z.ZodObject): Draft[] {
  const lead = fieldsOf(object).get(leadOf(object));
  if (!lead) return [];
  const others = (writer: SnippetWriter) => {
    const body = writer.fields(object, slot.column, slot.flow, lead.key);
    return body.slice(writer.text(writeKey(lead.key)).length + 1);
  };
  return [{ ...fieldDraft(context, slot, lead, others), description: lead.meta.title }];
}

function fieldDraft(
  context: Context,
  slot: Slot,
  field: Field,
  value: (writer: SnippetWriter) => string,
): Draft {
  const { meta, key, required } = field;
  const { markdown } = context.ask.client;
  return {
    slot,
    label: key,
    kind: ITEM.property,
    insert: keyInsert(context, key, value),
    description: [meta.title, required && 'needed'].filter(Boolean).join(', '),
    documentation: shown(fieldBlocks(meta, key), markdown).value,
    again: true,
    span: keySpan(context),
  };
}

/** A name with its colon and value; the name alone where a colon follows it, with the colon where other text does. */
function keyInsert(
  context: Context,
  key: string,
  value: (writer: SnippetWriter) => string,
  readingOf?: string,
): Draft['insert'] {
  const { typing } = context;
  if (typing.colon) return { source: writeKey(key), snippet: false };
  if (textFollows(context)) return { source: `${writeKey(key)}:`, snippet: false };
  const writer = readingOf === undefined ? writerAt(context) : writerAt(context, readingOf);
  const source = `${writer.text(writeKey(key))}:${value(writer)}`;
  return { source: writer.snippet ? source : source.trimEnd().replace(/:$/, ': '), snippet: writer.snippet };
}

/** Whether more text stands on the line, set off from the word at the cursor: `par| X-1`. */
function textFollows({ typing, piece }: Context): boolean {
  const { span } = typing;
  const at = span.start + typing.typed.length;
  return /^\S*[ \t]+\S/.test(piece.text.slice(at, span.end));
}

function keySpan(context: Context): Draft['span'] {
  const { span, typed } = context.typing;
  if (!textFollows(context)) return undefined;
  const at = span.start + typed.length;
  return { start: span.start, end: at + /^\S*/.exec(context.piece.text.slice(at, span.end))![0].length };
}

function recordDrafts(context: Context, slot: Slot, record: z.ZodRecord): Drafts {
  const keyMeta = metaOf(record.keyType as z.ZodType);
  const declared = record.valueType as z.ZodType;
  const value = (writer: SnippetWriter) => writer.value(declared, slot.column, slot.flow);
  const words: Draft[] = Object.entries(keyMeta.choices ?? {})
    .filter(([choice]) => !slot.taken.has(choice))
    .map(([choice, meaning]) => ({
      slot,
      label: choice,
      kind: ITEM.enumMember,
      insert: keyInsert(context, choice, value, choice),
      documentation: meaning,
      again: true,
    }));
  const kinds = kindsOf(keyMeta);
  const makes = keyMeta.scalar === 'id' ? [newEntry(context, slot, record)] : [];
  if (kinds.length === 0 || (keyMeta.defines && !keyMeta.shared))
    return { drafts: [...words, ...makes], cut: makes.length > 0 };
  const without = new Set([...slot.taken.keys(), ...elsewhere(context, keyMeta)]);
  const ids = idDrafts(context, slot, { kinds, local: keyMeta.local === true, without }, (_kind, id) =>
    keyInsert(context, id, value, id),
  );
  const drafts = ids.drafts.map((draft) => ({ ...draft, again: true }));
  return { drafts: [...drafts, ...words, ...makes], cut: ids.cut || makes.length > 0 };
}

/** Fields of the shop that entries of this kind do not have. */
function elsewhere({ book, file }: Context, { carrier }: FieldMeta): string[] {
  if (carrier === undefined) return [];
  return Object.entries(ownFieldsFor(book, file)).flatMap(([id, { on }]) =>
    on.some((one) => one === carrier) ? [] : [id],
  );
}

/** A new entry of a catalog: its id, then the fields it cannot do without. */
function newEntry(context: Context, slot: Slot, record: z.ZodRecord): Draft {
  const { defines } = metaOf(record.keyType as z.ZodType);
  const what = defines ? KIND_WORDS[defines] : 'entry';
  const typed = context.typing.typed.trim();
  const id = typed === '' ? `new-${what.replaceAll(' ', '-')}` : typed;
  const { colon } = context.typing;
  const writer = writerAt(context);
  const head = typed === '' ? writer.stop(id) : writer.text(writeKey(id));
  const source = colon
    ? writeKey(id)
    : `${head}:${writer.value(record.valueType as z.ZodType, slot.column, slot.flow)}`;
  return {
    slot,
    label: id,
    kind: ITEM.snippet,
    insert: { source, snippet: !colon && writer.snippet },
    description: `new ${what}`,
    matches: true,
  };
}
