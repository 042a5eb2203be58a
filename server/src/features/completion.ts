/** Completion, inside files that are only half written. */
import type { CompletionItem, CompletionList } from 'vscode-languageserver-types';
import type { RefKind } from '../../../schemas/declare.ts';
import type { IsoDate } from '../../../schemas/values/dates.ts';
import type { BookFile } from '../book/file.ts';
import type { Estimates } from '../estimate/estimates.ts';
import { type CompletionAsk, contextAt, slotsOf } from './completion-context.ts';
import { type Drafts, listOf, NOTHING } from './completion-item.ts';
import { keyDrafts } from './completion-keys.ts';
import { skeletonDrafts } from './completion-skeleton.ts';
import { valueDrafts } from './completion-values.ts';
import { shown } from './hover-blocks.ts';
import { entryBlocks } from './hover-entry.ts';
import { View } from './hover-view.ts';

export type { CompletionAsk, CompletionClient } from './completion-context.ts';

export function complete(ask: CompletionAsk): CompletionList {
  const context = contextAt(ask);
  if (!context) return NOTHING;
  const lists: Drafts[] = [{ drafts: skeletonDrafts(context), cut: false }];
  for (const slot of slotsOf(context)) {
    if (slot.name) lists.push(keyDrafts(context, slot));
    if (slot.value) lists.push(valueDrafts(context, slot));
  }
  return listOf(context, {
    drafts: lists.flatMap((list) => list.drafts),
    cut: lists.some((list) => list.cut),
  });
}

export interface ResolveAsk {
  readonly estimates: Estimates;
  /** The file that was completed in; its URI stands in the item's data. */
  readonly file: BookFile;
  readonly today?: IsoDate | undefined;
  readonly markdown: boolean;
}

/** Adds what a hover would tell of the id that is offered. */
export function resolveCompletion(ask: ResolveAsk, item: CompletionItem): CompletionItem {
  const data = item.data as { kind?: RefKind; id?: string; unit?: string } | undefined;
  if (!data?.kind || data.id === undefined) return item;
  const { book } = ask.estimates;
  const definition = book.definition(data.kind, data.id);
  if (!definition) return item;
  const view = new View(ask.estimates, ask.file, data.unit, ask.today);
  const blocks = entryBlocks(view, data.kind, data.id, book.valueOf(definition), definition.facts.file);
  return { ...item, documentation: shown(blocks, ask.markdown) };
}
