/** What one part would sell for, and how long an operation takes, outside any estimate. */
import type { Job } from '../../../schemas/kinds/job.ts';
import type { Jurisdiction } from '../../../schemas/kinds/jurisdiction.ts';
import type { Operation } from '../../../schemas/kinds/labor.ts';
import type { Problem } from '../../../schemas/problem.ts';
import type { IsoDate } from '../../../schemas/values/dates.ts';
import { type Decimal, sum } from '../../../schemas/values/decimal.ts';
import type { BookFile } from '../book/file.ts';
import type { Estimates } from '../estimate/estimates.ts';
import type { Amount } from '../pricing/amount.ts';
import { beginContext, type Context as PriceContext } from '../pricing/context.ts';
import type { Catalog, Policy } from '../pricing/model.ts';
import { partLine } from '../pricing/parts.ts';
import { type Access, accessOf, hoursFor } from '../pricing/steps.ts';

/** The day whose prices count for a file: a job's own, else the shop's today, else the latest. */
export function pricingDay(file: BookFile, today: IsoDate | undefined): IsoDate {
  const job = file.kind?.kind === 'job' ? (file.value as Partial<Job>) : {};
  return job['priced-on'] ?? job.opened ?? today ?? ('9999-12-31' as IsoDate);
}

export interface PartPrice {
  /** How the price of one came about, and its core. */
  readonly amounts: readonly Amount[];
  readonly each: Decimal | undefined;
  readonly core: Decimal | undefined;
  readonly problems: readonly Problem[];
}

export class Pricer {
  readonly catalog: Catalog;
  readonly policy: Policy;
  /** The unit family that hours and fluids are for. */
  readonly unit: string | undefined;
  #context: PriceContext | undefined;

  constructor(estimates: Estimates, file: BookFile, on: IsoDate, unit: string | undefined) {
    const { book } = estimates;
    const shop = book.shopOf(file.uri)?.shop ?? { kind: 'shop' };
    const law = shop.jurisdiction;
    this.catalog = estimates.catalogFor(file.uri);
    this.unit = unit;
    this.policy = {
      shop,
      jurisdiction:
        law === undefined ? undefined : (book.value('jurisdiction', law) as Jurisdiction | undefined),
      on,
      currency: shop.currency ?? 'USD',
    };
  }

  /** One of a part, sold by itself: kits and superseded numbers included. Its core is a charge of its own. */
  part(id: string): PartPrice {
    const context = this.#begin();
    const charges = partLine(context, { path: ['lines', 0], line: { part: id } }, 0);
    const own = charges.find((one) => one.kind === 'part');
    const core = charges.find((one) => one.kind === 'core');
    return {
      amounts: charges.map((one) => one.each ?? one.amount),
      each: context.complete ? own?.amount.value : own?.each?.value,
      core: core?.amount.value,
      problems: context.problems,
    };
  }

  /** Own hours of an operation for the family. */
  hours(operation: Operation): Decimal | undefined {
    return hoursFor(this.#labor(), operation);
  }

  access(operation: Operation): Access[] {
    return accessOf(this.#labor(), operation);
  }

  accessHours(operation: Operation): Decimal {
    return sum(this.access(operation).map((one) => one.hours));
  }

  #labor(): PriceContext {
    this.#context ??= this.#begin();
    return this.#context;
  }

  #begin(): PriceContext {
    return beginContext({ lines: [], unit: this.unit }, this.catalog, this.policy);
  }
}
