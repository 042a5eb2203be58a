/** Money, quantities and dates as a shop prints them. */
import type { Decimal } from '../../../schemas/values/decimal.ts';
import { formatMoney } from '../../../schemas/values/money.ts';
import type { JobEstimate } from '../estimate/estimate.ts';

export interface Printer {
  money(value: Decimal): string;
}

export function printerFor(estimate: JobEstimate): Printer {
  const { currency, shop } = estimate.policy;
  const locale = shop.locale ?? 'en-US';
  return { money: (value) => formatMoney(value, currency, locale) };
}
