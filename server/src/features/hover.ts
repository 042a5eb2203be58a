/** What a field, a value or an id means, at the place where it stands. */

import type { Hover } from 'vscode-languageserver-types';
import { z } from 'zod';
import { type FieldMeta, metaOf } from '../../../schemas/declare.ts';
import type { Vehicle } from '../../../schemas/kinds/job.ts';
import type { Finding } from '../../../schemas/kinds/rules.ts';
import type { IsoDate } from '../../../schemas/values/dates.ts';
import type { Dimension } from '../../../schemas/values/units.ts';
import { fieldsOf, keyOf, leadOf } from '../../../schemas/walk.ts';
import type { BookFile } from '../book/file.ts';
import { ownFieldFor } from '../book/own-fields.ts';
import type { Estimates } from '../estimate/estimates.ts';
import type { Position } from '../syntax/lines.ts';
import { type Node, pairOf, type Span } from '../syntax/node.ts';
import { localEntries } from './completion-local.ts';
import { type Block, shown } from './hover-blocks.ts';
import { entryBlocks } from './hover-entry.ts';
import { fieldBlocks } from './hover-field.ts';
import { ownValueBlocks } from './hover-own.ts';
import { treeTable } from './hover-tree.ts';
import { quantityBlocks, scalarBlocks, vinBlocks } from './hover-values.ts';
import { pictureBlocks, View } from './hover-view.ts';
import { type Home, type IdMark, idSpan, meaningOf } from './ids.ts';
import { amountsAt } from './inlay.ts';
import { innermost, type Level, type Place, placeAt } from './place.ts';

export interface HoverAsk {
  readonly estimates: Estimates;
  readonly file: BookFile;
  readonly position: Position;
  readonly today?: IsoDate | undefined;
  /** The client shows Markdown; plain text else. */
  readonly markdown: boolean;
}

export function hover(ask: HoverAsk): Hover | null {
  const { file, estimates } = ask;
  const place = placeAt(file, ask.position);
  if (place.on === 'gap') return null;
  const view = new View(estimates, file, unitAround(place), ask.today);
  const { span, blocks } = onKind(place) ?? (place.on === 'key' ? onKey(view, place) : onValue(view, place));
  const contents = shown(blocks, ask.markdown);
  if (contents.value === '') return null;
  return { contents, range: file.source.rangeOf(place.piece, span) };
}

interface Told {
  readonly span: Span;
  readonly blocks: readonly Block[];
}

/** On the line that says what sort of file it is. */
function onKind({ levels, file, on }: Place): Told | undefined {
  const { meant, node, pair } = levels.at(-1)!;
  if (!(meant instanceof z.ZodLiteral) || !file.kind || !pair) return undefined;
  const { title, description, kind } = file.kind;
  const blocks: Block[] = [
    { is: 'title', text: title, id: kind },
    { is: 'text', text: description, ours: true },
  ];
  return { span: on === 'key' ? pair.key : node, blocks };
}

function onKey(view: View, place: Place): Told {
  const { mark } = place;
  const level = innermost(place);
  const key = level.pair!.key;
  const totals = totalBlocks(view, place);
  if (mark?.onKey) return { span: idSpan(mark), blocks: [...totals, ...markBlocks(view, mark)] };
  const above = place.levels.at(-2)?.meant;
  const words = above && keyOf(above) ? choiceOf(metaOf(keyOf(above)!), key.text) : undefined;
  return { span: key, blocks: [...totals, ...(words ?? fieldBlocks(level.meta, key.text))] };
}

/** What a word among a map's keys means: `hard:` under `by-kind:`. */
function choiceOf({ choices }: FieldMeta, word: string): Block[] | undefined {
  const meaning = choices && Object.hasOwn(choices, word) ? choices[word] : undefined;
  return meaning === undefined
    ? undefined
    : [
        { is: 'title', text: word },
        { is: 'text', text: meaning, ours: true },
      ];
}

function onValue(view: View, place: Place): Told {
  const level = innermost(place);
  const { node, meta, pair } = level;
  if (node.type !== 'scalar') return { span: node, blocks: [] };
  const field = fieldBlocks({ ...meta, choices: {} }, pair?.key.text);
  const { mark } = place;
  if (mark && meaningOf(view.book, mark)) return { span: idSpan(mark), blocks: markBlocks(view, mark) };
  const { text } = node;
  const own = ownBlocks(view, place, text);
  const told = meta.title !== undefined;
  return {
    span: node,
    blocks:
      own.length > 0 ? [...own, ...(told ? [{ is: 'rule' } as const, ...field] : [])] : told ? field : [],
  };
}

function ownBlocks(view: View, place: Place, text: string): Block[] {
  const { meta, pair } = innermost(place);
  if (meta.scalar === 'vin') return vinBlocks(text, vinContext(view));
  if (meta.scalar === 'reading') return readingBlocks(view, place, text);
  if (meta.scalar === 'own' && pair) {
    const field = ownFieldFor(view.book, view.file, pair.key.text);
    return field ? ownValueBlocks(view, pair.key.text, field, text) : [];
  }
  if (meta.scalar === 'file')
    return meta.file === 'picture' ? pictureBlocks(view, view.file, text, text) : [];
  return scalarBlocks(view, meta, text, pair?.key.text);
}

function vinContext({ file }: View) {
  const vehicle = (file.value.vehicle ?? {}) as Partial<Vehicle>;
  return { region: vehicle.region, statedYear: vehicle.year, lightVehicle: !vehicle.heavy };
}

/** A reading: what it is of, and in which other units. */
function readingBlocks(view: View, place: Place, text: string): Block[] {
  const id = nearestFinding(place);
  const finding = id === undefined ? undefined : view.value<Finding>('finding', id);
  if (id === undefined || !finding) return [];
  const units = finding.dimension ? quantityBlocks(text, finding.dimension as Dimension) : [];
  return [
    ...units,
    ...entryBlocks(view, 'finding', id, finding, view.book.definition('finding', id)?.facts.file),
  ];
}

function nearestFinding({ levels }: Place): string | undefined {
  for (let i = levels.length - 1; i > 0; i--) {
    const level = levels[i]!;
    const above = levels[i - 1]!;
    const beside = namedIn(above, 'finding');
    if (beside !== undefined) return beside;
    const keys = above.meant && keyOf(above.meant);
    if (keys && namesKind(metaOf(keys), 'finding') && level.pair) return level.pair.key.text;
  }
  return undefined;
}

function namesKind({ refers, defines }: FieldMeta, kind: string): boolean {
  return defines === kind || refers === kind || (Array.isArray(refers) && refers.includes(kind));
}

/** The id of a kind that a map names in one of its fields. */
function namedIn({ node, meant }: Level, kind: string): string | undefined {
  if (!(meant instanceof z.ZodObject)) return undefined;
  for (const field of fieldsOf(meant).values()) {
    const value: Node | undefined = field.meta.refers === kind ? pairOf(node, field.key)?.value : undefined;
    if (value?.type === 'scalar') return value.text;
  }
  return undefined;
}

/** The unit family around the place: named beside it, the key it lies under, or the file's own. */
function unitAround(place: Place): string | undefined {
  const { levels, file } = place;
  for (let i = levels.length - 1; i >= 0; i--) {
    const level = levels[i]!;
    const named = namedIn(level, 'unit');
    if (named !== undefined) return named;
    const keys = i > 0 && levels[i - 1]!.meant && keyOf(levels[i - 1]!.meant!);
    if (keys && namesKind(metaOf(keys), 'unit') && level.pair) return level.pair.key.text;
  }
  const field =
    file.kind && [...fieldsOf(file.kind.schema).values()].find((one) => one.meta.refers === 'unit');
  const value = field && file.value[field.key];
  return typeof value === 'string' ? value : undefined;
}

/** The total that stands behind a name of a job, with its whole tree: an option's, a line's at its first name. */
function totalBlocks(view: View, { levels }: Place): Block[] {
  const estimate = view.estimates.of(view.file);
  const level = levels.at(-1)!;
  const line = levels.at(-2)!;
  if (!estimate) return [];
  const leads = line.meant instanceof z.ZodObject && leadOf(line.meant) === level.pair?.key.text;
  const amounts = amountsAt(estimate, level.path);
  const shown = amounts.length === 0 && leads ? amountsAt(estimate, line.path) : amounts;
  const table = treeTable(shown, view.printer, view.whereIs);
  return table.length > 0 ? [...table, { is: 'rule' }] : [];
}

function markBlocks(view: View, mark: IdMark): Block[] {
  const meaning = meaningOf(view.book, mark);
  if (!meaning) return [];
  const { kind, id, home } = meaning;
  if (home) {
    const entries = localEntries(holderOf(home), kind);
    const value = entries.find(([one]) => one === id)?.[1];
    return entryBlocks(view, kind, id, value, home.file);
  }
  const definition = view.book.definition(kind, id);
  if (!definition) return [{ is: 'text', text: `There is no "${id}" in the book.` }];
  return entryBlocks(view, kind, id, view.book.valueOf(definition), definition.facts.file);
}

/** What a local id belongs to, as it was read: a whole file, or one entry of it. */
function holderOf({ file, prefix }: Home): unknown {
  if (prefix.length === 0) return file.value;
  const piece = file.entryAt(prefix)?.piece;
  const parts = piece && file.factsAt(piece)?.parts;
  return parts?.find((one) => one.section === prefix[0] && one.key === prefix[1])?.value;
}
