/** The operations of a job, and the way each is priced. */
import type { Operation } from '../../../schemas/kinds/labor.ts';
import type { OperationLine } from '../../../schemas/kinds/lines.ts';
import { ZERO } from '../../../schemas/values/decimal.ts';
import type { Context } from './context.ts';
import { inclusions } from './includes.ts';
import type { SaleLine } from './model.ts';
import type { Taker } from './steps.ts';

/** An operation on the job, with the way it is priced. */
export interface Work extends Taker {
  readonly from: SaleLine & { readonly line: OperationLine };
  readonly id: string;
  readonly way: 'fixed' | 'hours' | 'given-away' | 'included' | 'sublet';
  /** The operation on the job that covers it. */
  readonly includedIn: string | undefined;
}

/** A fixed price covers its steps whoever else needs them; what is given away carries only what nobody pays for. */
const RANK: Record<Work['way'], number> = { fixed: 0, hours: 1, sublet: 1, 'given-away': 2, included: 3 };

export function worksOf(context: Context): Work[] {
  const known: { order: number; from: Work['from']; operation: Operation; id: string }[] = [];
  context.sale.lines.forEach((from, order) => {
    if (!('operation' in from.line) || from.line.quantity?.eq(ZERO)) return;
    const operation = context.catalog.operation(from.line.operation);
    if (operation) known.push({ order, from: from as Work['from'], operation, id: from.line.operation });
    else context.complete = false;
  });
  const includedIn = inclusions(
    context.catalog,
    known.map((one) => one.id),
  );
  return known.map((one) => {
    const way = wayOf(one.from.line, one.operation, includedIn.has(one.id));
    return { ...one, way, rank: RANK[way], includedIn: includedIn.get(one.id) };
  });
}

function wayOf(line: OperationLine, operation: Operation, included: boolean): Work['way'] {
  if (included) return 'included';
  if (line['no-charge']) return 'given-away';
  if (operation.sublet) return 'sublet';
  return line.price !== undefined || (operation.price !== undefined && line.hours === undefined)
    ? 'fixed'
    : 'hours';
}
