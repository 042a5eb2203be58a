/** What every step of pricing works with, for the length of one `price` call. */
import type { Jurisdiction } from '../../../schemas/kinds/jurisdiction.ts';
import type { Shop } from '../../../schemas/kinds/shop.ts';
import type { Unit } from '../../../schemas/kinds/units.ts';
import type { Path, Problem, Severity } from '../../../schemas/problem.ts';
import { minorDigits } from '../../../schemas/values/currency.ts';
import { type Decimal, dec, round, ZERO } from '../../../schemas/values/decimal.ts';
import { figure } from './amount.ts';
import type { Catalog, Policy, Sale } from './model.ts';

export interface Context {
  readonly sale: Sale;
  readonly catalog: Catalog;
  readonly shop: Shop;
  readonly jurisdiction: Jurisdiction | undefined;
  readonly on: Policy['on'];
  readonly unit: Unit | undefined;
  /** Decimals of the currency: what money is rounded to. */
  readonly places: number;
  readonly problems: Problem[];
  /** Turned off by the first thing that has no price. */
  complete: boolean;
}

export function beginContext(sale: Sale, catalog: Catalog, policy: Policy): Context {
  return {
    sale,
    catalog,
    shop: policy.shop,
    jurisdiction: policy.jurisdiction,
    on: policy.on,
    unit: sale.unit === undefined ? undefined : catalog.unit(sale.unit),
    places: minorDigits(policy.currency) ?? 2,
    problems: [],
    complete: true,
  };
}

type More = Pick<Problem, 'related' | 'tags' | 'data'>;

/** Reports a problem at a place of the job; `[]` means the job as a whole. */
export function report(
  context: Context,
  severity: Severity,
  code: string,
  path: Path,
  message: string,
  more: More = {},
): void {
  context.problems.push({ code, severity, message, path, ...more });
}

/** Money in a message, to the currency's smallest unit. */
export function money(context: Context, value: Decimal): string {
  return figure(round(value, context.places), context.places);
}

/**
 * An amount that somebody typed, as money to be split or charged: to the currency's smallest unit.
 * What is below zero is reported where it is typed in the job, and counts as nothing.
 */
export function typedMoney(context: Context, value: Decimal, path: Path, what: string): Decimal {
  return round(notBelowZero(context, value, path, what), context.places);
}

/** A figure that may not be negative: reported (when it is the job's own) and taken as zero. */
export function notBelowZero(context: Context, value: Decimal, path: Path, what: string): Decimal {
  if (value.gte(ZERO)) return value;
  if (path.length > 0) {
    report(
      context,
      'error',
      'figure-below-zero',
      path,
      `${what} is ${value}; it cannot be below zero and is counted as 0. To take something off, give a discount.`,
    );
  }
  return ZERO;
}

export const HUNDRED = dec('100');

/** An entry of a map by its id; an id that JavaScript knows of itself (`constructor`) is not taken for one. */
export function entry<T>(map: Readonly<Record<string, T>> | undefined, id: string): T | undefined {
  return map && Object.hasOwn(map, id) ? map[id] : undefined;
}
