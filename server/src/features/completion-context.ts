/** What the declarations say of the place where something is being typed. */
import { z } from 'zod';
import { type FieldMeta, metaOf, type RefKind } from '../../../schemas/declare.ts';
import type { IsoDate } from '../../../schemas/values/dates.ts';
import { alternativeFor, alternativesOf, childOf, fieldsOf, keyOf, leadOf } from '../../../schemas/walk.ts';
import type { Book } from '../book/book.ts';
import type { BookFile } from '../book/file.ts';
import type { Estimates } from '../estimate/estimates.ts';
import type { Position } from '../syntax/lines.ts';
import type { Piece } from '../syntax/piece.ts';
import { type Frame, frame } from './completion-frames.ts';
import { type Typing, typingIn } from './completion-typing.ts';

/** What the client can take. */
export interface CompletionClient {
  /** Tab stops. */
  readonly snippets: boolean;
  /** Lines of an inserted text are taken as they are, not set in again. */
  readonly linesAsTheyAre: boolean;
  readonly markdown: boolean;
  /** A command that opens the list again after a name was accepted. */
  readonly again?: string | undefined;
}

export interface CompletionAsk {
  readonly estimates: Estimates;
  readonly file: BookFile;
  readonly position: Position;
  /** The shop's day: dates are offered from it on. */
  readonly today?: IsoDate | undefined;
  readonly client: CompletionClient;
}

/** A map or list around the place, beside its declaration. */
export interface Level {
  readonly frame: Frame;
  readonly schema: z.ZodType;
  readonly step: string | number;
}

/** Something that can be written at the place: a map's name or a value, of this declaration. */
export interface Slot {
  readonly declared: z.ZodType;
  readonly name: boolean;
  readonly value: boolean;
  /** Names that the map has already. */
  readonly taken: ReadonlyMap<string, string | undefined>;
  /** Where names that are written here are lined up. */
  readonly column: number;
  readonly flow: boolean;
  /** What goes around it: the dash of a list item, the brackets of a list. */
  readonly lead: string;
  readonly trail: string;
}

export interface Context {
  readonly ask: CompletionAsk;
  readonly book: Book;
  readonly file: BookFile;
  readonly piece: Piece;
  readonly typing: Typing;
  /** Outermost first. */
  readonly levels: readonly Level[];
  /** The declaration of what is being typed; undefined where nothing is declared. */
  readonly declared: z.ZodType | undefined;
  /** Text here may hold `$parameters`. */
  readonly templated: boolean;
}

export function contextAt(ask: CompletionAsk): Context | undefined {
  const { file, estimates } = ask;
  const { piece, offset } = file.source.offsetOf(ask.position);
  const typing = typingIn(piece.text, offset, framesAround(file, piece));
  if (!typing) return undefined;
  const levels: Level[] = [];
  let declared: z.ZodType | undefined = file.kind?.schema;
  let templated = false;
  for (const [i, step] of typing.path.entries()) {
    const at = typing.above[i]!;
    if (declared && metaOf(declared).templated) templated = true;
    const schema = declared && settled(declared, at, step);
    if (!schema) {
      declared = undefined;
      break;
    }
    levels.push({ frame: at, schema, step });
    declared = childOf(schema, step);
  }
  if (declared && metaOf(declared).templated) templated = true;
  return { ask, book: estimates.book, file, piece, typing, levels, declared, templated };
}

/** What can be written at a place: where a list goes, its items can. */
export function slotsOf({ typing, declared }: Context): Slot[] {
  if (!declared) return [];
  const { name, value, column, flow, dash } = typing;
  const inList = typing.above.at(-1)?.type === 'list' && typing.inner !== typing.above.at(-1);
  const lead = dash && inList ? '- ' : '';
  const taken = typing.inner?.pairs ?? new Map<string, string | undefined>();
  const slots: Slot[] = [
    { declared, name, value, taken, column: column + lead.length, flow, lead, trail: '' },
  ];
  const list = value ? alternativesOf(declared).find((one) => one instanceof z.ZodArray) : undefined;
  if (list && lead === '' && !typing.quote) {
    const item = { declared: list.element as z.ZodType, value: true, taken: new Map() };
    if (dash) slots.push({ ...item, name: true, column: column + 2, flow: false, lead: '- ', trail: '' });
    else slots.push({ ...item, name: false, column, flow: true, lead: '[', trail: ']' });
  }
  return slots;
}

/** The maps that a piece lies in. Names elsewhere in the file count as written. */
function framesAround(file: BookFile, piece: Piece): Frame[] {
  const inCatalog = piece.section !== undefined;
  const root = frame('map', inCatalog ? piece.sectionIndent : piece.kind === 'whole' ? 0 : piece.indent);
  for (const key of file.kind ? fieldsOf(file.kind.schema).keys() : ['kind']) {
    if (file.source.find(undefined, key).some((other) => other !== piece)) root.pairs.set(key, undefined);
  }
  if (!inCatalog) return [root];
  root.step = piece.section!;
  return [root, frame('map', piece.indent)];
}

/** The alternative that a half-written map or list is meant to be. */
function settled(declared: z.ZodType, at: Frame, step: string | number): z.ZodType | undefined {
  if (at.type === 'list') return alternativeFor(declared, { type: 'list' });
  return candidatesFor(declared, [...at.pairs.keys(), String(step)])[0];
}

/**
 * The maps that a map with these names may be meant to be, the likeliest first: the one that its first field leads to
 * alone, unless another one alone knows all of the names.
 */
export function candidatesFor(declared: z.ZodType, names: readonly string[]): readonly z.ZodType[] {
  const maps = alternativesOf(declared).filter(
    (one) => one instanceof z.ZodObject || one instanceof z.ZodRecord,
  );
  if (maps.length < 2) return maps;
  const knowing = maps.filter(
    (one) => one instanceof z.ZodObject && names.every((name) => fieldsOf(one).has(name)),
  );
  const led = (knowing.length > 0 ? knowing : maps).filter(
    (one) => one instanceof z.ZodObject && names.includes(leadOf(one)),
  );
  if (led.length > 0) return led.slice(0, 1);
  return knowing.length > 0 ? knowing : maps;
}

export function kindsOf(meta: FieldMeta): readonly RefKind[] {
  if (meta.refers) return typeof meta.refers === 'string' ? [meta.refers] : meta.refers;
  return meta.defines ? [meta.defines] : [];
}

/** The single text of another name in the map at a level. */
export function textAt(context: Context, level: number, name: string): string | undefined {
  const text = context.levels[level]?.frame.pairs.get(name);
  if (text !== undefined || level > 0) return text;
  const value = context.file.entryAt([name])?.value;
  return value?.type === 'scalar' ? value.text : undefined;
}

/** The nearest id of a kind that stands around the place: a name beside it or above it, or the key it lies under. */
export function nearest(context: Context, kind: RefKind): string | undefined {
  const { levels, typing } = context;
  for (let i = levels.length - 1; i >= 0; i--) {
    const { schema, step } = levels[i]!;
    const found = (name: string) => textAt(context, i, name);
    if (schema instanceof z.ZodObject) {
      for (const field of fieldsOf(schema).values()) {
        if (field.key === step || field.meta.refers !== kind) continue;
        const text = found(field.key);
        if (text !== undefined) return text;
      }
    }
    const keys = keyOf(schema);
    if (keys && kindsOf(metaOf(keys)).includes(kind)) return String(step);
  }
  const { declared } = context;
  if (!typing.inner || !declared) return undefined;
  for (const map of candidatesFor(declared, [...typing.inner.pairs.keys()])) {
    if (!(map instanceof z.ZodObject)) continue;
    for (const field of fieldsOf(map).values()) {
      const text = field.meta.refers === kind ? typing.inner.pairs.get(field.key) : undefined;
      if (text !== undefined) return text;
    }
  }
  return undefined;
}

/** The id of a kind that a map around the place is led by: the operation of its line, the template. */
export function leading(context: Context, kind: RefKind): string | undefined {
  for (let i = context.levels.length - 1; i >= 0; i--) {
    const { schema } = context.levels[i]!;
    if (!(schema instanceof z.ZodObject)) continue;
    const [lead] = fieldsOf(schema).values();
    const text = lead?.meta.refers === kind ? textAt(context, i, lead.key) : undefined;
    if (text !== undefined) return text;
  }
  return undefined;
}

/**
 * The unit family that the place is about: a job's own, a family's entry, the family of the job that a case starts
 * from, the first family that the entry around it is made for.
 */
export function unitFor(context: Context): string | undefined {
  const { book, levels } = context;
  const unit = nearest(context, 'unit');
  if (unit !== undefined) return unit;
  const job = nearest(context, 'job');
  const value = job === undefined ? undefined : (book.value('job', job) as { unit?: unknown } | undefined);
  if (typeof value?.unit === 'string') return value.unit;
  for (const { schema, step } of levels) {
    const keys = keyOf(schema);
    const defines = keys && metaOf(keys).defines;
    const entry = defines && (book.value(defines, String(step)) as { fits?: unknown } | undefined);
    if (entry && Array.isArray(entry.fits)) return entry.fits[0] as string | undefined;
  }
  return undefined;
}
