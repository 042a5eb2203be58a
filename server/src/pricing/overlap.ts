/** Work that is billed twice: shared access typed into own hours, an operation on the job twice. */
import { type Decimal, sum, ZERO } from '../../../schemas/values/decimal.ts';
import { type Context, money, report } from './context.ts';
import { rateOf } from './hours.ts';
import type { Carried } from './steps.ts';
import type { Work } from './works.ts';

/** Typed hours that look like the operation's time on its own, access included, while another line bills the access. */
export function warnOfOverlap(
  context: Context,
  work: Work,
  book: Decimal,
  typed: Decimal,
  steps: readonly Carried<Work>[],
): void {
  const twice = steps.filter((one) => one.by !== work && one.others.includes(work));
  const hours = sum(twice.map((one) => one.access.hours));
  if (hours.eq(ZERO) || typed.lt(book.plus(hours))) return;
  const rate = rateOf(context, work.operation.rate)?.value ?? ZERO;
  const names = twice.map((one) => one.access.step.name).join(', ');
  report(
    context,
    'warning',
    'labor-overlap',
    [...work.from.path, 'hours'],
    `${typed} h looks like the time of ${work.operation.name} on its own: ${hours} h of it (${names}) is billed with ${twice[0]!.by.operation.name} already, so ${money(context, hours.times(rate))} is billed twice. Leave the hours out, or write ${typed.minus(hours)}.`,
    { data: { hours: typed.minus(hours).toString() } },
  );
}

export function warnOfRepeats(context: Context, works: readonly Work[]): void {
  const seen = new Map<string, Work>();
  for (const work of works) {
    if (work.way === 'included' || work.way === 'given-away' || work.from.line.reason !== undefined) continue;
    const first = seen.get(work.id);
    if (!first) {
      seen.set(work.id, work);
      continue;
    }
    report(
      context,
      'warning',
      'operation-twice',
      work.from.path,
      `${work.operation.name} is on the job twice, and its own time is billed twice. Take one of the lines out, write how often it is done as its quantity, or say in \`reason\` why it is done again.`,
      { data: { operation: work.id, first: [...first.from.path] } },
    );
  }
}
