/** The figures of one job that a change of the book can move. */
import type { Job } from '../../../../schemas/kinds/job.ts';
import type { Path } from '../../../../schemas/problem.ts';
import { type Decimal, round, sum, ZERO } from '../../../../schemas/values/decimal.ts';
import { priceJob } from '../../estimate/estimate.ts';
import { overAuthorized } from '../../estimate/papers.ts';
import { isOpen } from '../jobs.ts';
import type { Priceable } from './overlay.ts';

export interface Figures {
  readonly total: Decimal;
  readonly profit: Decimal;
  /** A share of the sale; undefined when nothing is sold. */
  readonly profitShare: Decimal | undefined;
  readonly laborSale: Decimal;
  readonly hoursSold: Decimal;
  /** Labor sale for each hour sold; undefined without hours. */
  readonly rate: Decimal | undefined;
  readonly overAuthorized: boolean;
  readonly belowProfitFloor: boolean;
  readonly belowRateFloor: boolean;
  /** False when something on the job has no price. */
  readonly complete: boolean;
}

export interface Asked {
  readonly job: Job;
  readonly uri: string;
  readonly droppedOf: (key: string) => readonly Path[];
}

export function figuresOf(
  { job, uri, droppedOf }: Asked,
  by: Priceable,
): { readonly option: string | undefined; readonly name: string; readonly figures: Figures } {
  const shop = by.shopOf(uri);
  const { counted, policy } = priceJob(job, droppedOf, by.catalogFor(uri), shop, by.lawOf(shop), false);
  const { inside, total, problems, complete } = counted.priced;
  const has = (code: string) => problems.some((one) => one.code === code);
  return {
    option: counted.id,
    name: counted.name,
    figures: {
      total: total.value,
      profit: inside.profit.value,
      profitShare: inside.profitShare?.value,
      laborSale: inside.laborSale.value,
      hoursSold: inside.hoursSold.value,
      rate: inside.effectiveRate?.value,
      // What a done job comes to is history.
      overAuthorized: isOpen(job) && overAuthorized(job, policy, counted.priced) !== undefined,
      belowProfitFloor: has('profit-below-floor'),
      belowRateFloor: has('rate-below-floor'),
      complete,
    },
  };
}

export interface Sums {
  readonly total: Decimal;
  readonly profit: Decimal;
  /** Labor sale of all for each of their hours. */
  readonly rate: Decimal | undefined;
}

const RATE_PLACES = 2;

export function sumsOf(all: readonly Figures[]): Sums {
  const hours = sum(all.map(({ hoursSold }) => hoursSold));
  return {
    total: sum(all.map(({ total }) => total)),
    profit: sum(all.map(({ profit }) => profit)),
    rate: hours.gt(ZERO)
      ? round(sum(all.map(({ laborSale }) => laborSale)).div(hours), RATE_PLACES)
      : undefined,
  };
}
