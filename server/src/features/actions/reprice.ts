/** Prices of a job kept as they are, or given up for those of today. Each says what it does to the total. */
import type { CodeAction, TextEdit } from 'vscode-languageserver-types';
import type { TextChange } from '../../syntax/file.ts';
import { isOpen, jobOf, placeIn } from '../../upkeep/jobs.ts';
import { moneyOf, signed } from '../../upkeep/lock/report.ts';
import { locking, repricing } from '../../upkeep/lock/reprice.ts';
import { type ActionContext, action } from './context.ts';

const REWRITE = 'refactor.rewrite';

export function priceActions(context: ActionContext): CodeAction[] {
  const { file, estimates, today, range } = context;
  if (file.kind?.kind !== 'job' || !isOpen(jobOf(file))) return [];
  if (!jobOf(file).lock) {
    const title = 'Lock the prices of this estimate';
    return offered(context, title, locking(estimates, file, today));
  }
  // Re-pricing is weighed at the lock, not offered wherever the cursor is.
  const lock = file.entryAt(['lock']);
  const { line } = placeIn(file, ['lock']);
  const lines = lock?.piece.lines ?? 0;
  if (range.start.line < line || range.start.line > line + lines) return [];
  const found = repricing(estimates, file, today);
  if (!found) return [];
  const { counted, consent } = found.drift;
  const difference = counted.today.minus(counted.presented);
  const money = moneyOf(estimates.book.shopOf(file.uri)?.shop);
  const title = `Re-price at today's prices: ${money(counted.today)} (${signed(money, difference)})${consent ? '; new consent is needed' : ''}`;
  return offered(context, title, found.changes);
}

function offered(context: ActionContext, title: string, changes: TextChange[] | undefined): CodeAction[] {
  if (!changes || changes.length === 0) return [];
  const edits = changes.map(({ range, text }): TextEdit => ({ range, newText: text }));
  return [action(context, title, REWRITE, edits)];
}
