/** What one part would sell for, and how long an operation takes, outside any estimate. */
import type { Job } from '../../../schemas/kinds/job.ts';
import type { Jurisdiction } from '../../../schemas/kinds/jurisdiction.ts';
import type { Operation } from '../../../schemas/kinds/labor.ts';
import type { IsoDate } from '../../../schemas/values/dates.ts';
import { type Decimal, sum } from '../../../schemas/values/decimal.ts';
import type { BookFile } from '../book/file.ts';
import type { Estimates } from '../estimate/estimates.ts';
import { beginContext, type Context as PriceContext } from '../pricing/context.ts';
import type { Catalog, Policy, Priced } from '../pricing/model.ts';
import { price } from '../pricing/price.ts';
import { type Access, accessOf, hoursFor } from '../pricing/steps.ts';

/** The day whose prices count for a file: a job's own, else the shop's today, else the latest. */
export function pricingDay(file: BookFile, today: IsoDate | undefined): IsoDate {
  const job = file.kind?.kind === 'job' ? (file.value as Partial<Job>) : {};
  return job['priced-on'] ?? job.opened ?? today ?? ('9999-12-31' as IsoDate);
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

  /** One of a part, sold by itself: kits and superseded numbers included. */
  part(id: string): Priced {
    return price(
      { lines: [{ path: ['lines', 0], line: { part: id } }], unit: this.unit },
      this.catalog,
      this.policy,
    );
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
    this.#context ??= beginContext({ lines: [], unit: this.unit }, this.catalog, this.policy);
    return this.#context;
  }
}

/** The amount of one and its core, when there is a price. */
export function eachOf(priced: Priced): { each: Decimal | undefined; core: Decimal | undefined } {
  const own = priced.lines.find((line) => line.kind === 'part' && line.path.length > 0);
  const core = priced.lines.find((line) => line.kind === 'core' && line.path.length > 0);
  return { each: priced.complete ? own?.amount.value : own?.each?.value, core: core?.amount.value };
}
