/** Completion, inside files that are only half written. */
import type { CompletionList } from 'vscode-languageserver-types';
import { type CompletionAsk, contextAt, slotsOf } from './completion-context.ts';
import { type Drafts, listOf, NOTHING } from './completion-item.ts';
import { keyDrafts } from './completion-keys.ts';
import { skeletonDrafts } from './completion-skeleton.ts';
import { valueDrafts } from './completion-values.ts';

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
