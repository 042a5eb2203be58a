/** What a price lock holds: every price that an estimate was presented with, and what each option came to. */
import type { IsoDate } from '../../../../schemas/values/dates.ts';
import { type Decimal, round } from '../../../../schemas/values/decimal.ts';
import type { JobEstimate } from '../../estimate/estimate.ts';
import { type Amount, figure } from '../../pricing/amount.ts';
import type { Policy, Priced, PricedLine } from '../../pricing/model.ts';

/** Figures as they are written in a job. */
export interface LockFigures {
  readonly on: IsoDate;
  readonly rates: Readonly<Record<string, string>>;
  readonly operations: Readonly<Record<string, string>>;
  readonly fees: Readonly<Record<string, string>>;
  /** Price, cost, core and ending of each number. */
  readonly parts: Readonly<Record<string, { [figure: string]: string }>>;
  readonly totals: Readonly<Record<string, string>>;
}

/** The total of a job without options is kept under this name. */
export const WHOLE_JOB = 'job';

/** Decimals of a unit cost that a job can hold; a case at 81.00 for 12 has no end of them. */
const COST_PLACES = 6;

type Sales = Pick<JobEstimate, 'policy' | 'teardown'> & {
  readonly options: readonly { readonly id: string | undefined; readonly priced: Priced }[];
};

export function lockFigures({ policy, options, teardown }: Sales, on: IsoDate): LockFigures {
  const sales = [...options.map(({ priced }) => priced), ...(teardown ? [teardown.declined] : [])];
  const lines = sales.flatMap(({ lines }) => lines);
  const rates = Object.entries(policy.shop.rates ?? {});
  return {
    on,
    rates: Object.fromEntries(rates.map(([id, { hourly }]) => [id, figure(hourly)])),
    operations: Object.fromEntries(lines.flatMap(flatPrice)),
    fees: Object.fromEntries(lines.flatMap((line) => feeAmount(line, policy))),
    parts: partFigures(lines, policy),
    totals: Object.fromEntries(
      options.map(({ id, priced }) => [id ?? WHOLE_JOB, figure(priced.total.value)]),
    ),
  };
}

/** What one sale of a part tells; several lines of one part tell the same, unless one has a price of its own. */
function partFigures(lines: readonly PricedLine[], policy: Policy): LockFigures['parts'] {
  const parts: Record<string, { [figure: string]: string }> = {};
  const cores = new Map(lines.filter(({ kind }) => kind === 'core').map((line) => [line.id, line.each]));
  const sold = lines.filter(({ kind }) => kind === 'part' || kind === 'fill');
  // Those with a price of their own first, so that the price of the book is what stays.
  for (const line of [...sold.filter(isTyped), ...sold.filter((one) => !isTyped(one))]) {
    const { id, each, cost } = line;
    if (id === undefined || !each || line.suppliedByCustomer) continue;
    const costEach = cost?.how === 'product' ? cost.of[1]?.value : undefined;
    const core = cores.get(id);
    const ending = endingOf(each, policy) ?? keptEnding(line);
    parts[id] = {
      price: figure(each.value),
      ...(costEach ? { cost: figure(round(costEach, COST_PLACES)) } : {}),
      ...(core ? { core: figure(core.value) } : {}),
      ...(ending ? { ending: figure(ending) } : {}),
    };
  }
  return parts;
}

function isTyped({ line }: PricedLine): boolean {
  return line !== undefined && 'price' in line && line.price !== undefined;
}

/** An ending that is taken once, on the amount of the line. */
function endingOf({ source }: Amount, { shop }: Policy): Decimal | undefined {
  if (!source || !('kind' in source) || source.kind !== 'schedule') return undefined;
  const schedule = shop.schedules?.[source.id];
  return schedule?.['ending-per'] === 'line' ? schedule.ending : undefined;
}

function keptEnding({ amount }: PricedLine): Decimal | undefined {
  return amount.how === 'ending' ? amount.of[1]?.value : undefined;
}

function flatPrice({ kind, id, each }: PricedLine): [string, string][] {
  const source = each?.source;
  if (kind !== 'labor' || id === undefined || !each || !source) return [];
  const flat = 'kind' in source ? source.field === 'price' : source.path[1] === 'operations';
  return flat ? [[id, figure(each.value)]] : [];
}

function feeAmount({ kind, id, each }: PricedLine, { shop }: Policy): [string, string][] {
  const fee = id === undefined ? undefined : shop.fees?.[id];
  return kind === 'fee' && each && fee?.amount !== undefined && fee.percent === undefined
    ? [[id!, figure(each.value)]]
    : [];
}
