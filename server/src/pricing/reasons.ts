/** Whoever departs from the book says why. */
import type { Path } from '../../../schemas/problem.ts';
import { type Context, report } from './context.ts';

export function needReason(
  context: Context,
  reason: string | undefined,
  path: Path,
  field: 'price' | 'hours',
): void {
  if (reason !== undefined) return;
  report(
    context,
    'warning',
    'override-without-reason',
    [...path, field],
    `This ${field === 'price' ? 'price' : 'time'} replaces the one of the book. Say why in \`reason\`, so that the next reader knows.`,
  );
}
