/** An estimate as JSON; the shape is declared in `schemas/exchange/estimate.ts`. Amounts are text, so that none is lost. */
import type {
  ExchangedEstimate,
  ExchangedLine,
  ExchangedOption,
  ExchangedSale,
} from '../../../schemas/exchange/estimate.ts';
import type { JobEstimate, OptionEstimate } from '../estimate/estimate.ts';
import type { Amount } from '../pricing/amount.ts';
import type { Priced, PricedLine } from '../pricing/model.ts';
import type { OwnFact } from '../work/own.ts';
import { type Printer, printerFor } from './locale.ts';
import { beforeTax } from './sheets/lines.ts';
import { ownOf } from './sheets/own.ts';

export function estimateJson(estimate: JobEstimate): ExchangedEstimate {
  const { job, policy, chosen, teardown } = estimate;
  const printer = printerFor(estimate);
  return {
    format: 'gearquill-estimate',
    version: 1,
    job: job.id ?? null,
    currency: policy.currency,
    locale: printer.lang,
    pricedOn: policy.on,
    presented: job.presented ?? null,
    chosen: chosen?.id ?? null,
    ...ownJson(estimate.options[0]!.own, 'customer', 'unit', 'job'),
    options: estimate.options.map((option) => optionJson(option, printer)),
    teardown: teardown
      ? { teardown: saleJson(teardown.teardown, printer), declined: saleJson(teardown.declined, printer) }
      : null,
  };
}

function optionJson(option: OptionEstimate, printer: Printer): ExchangedOption {
  return {
    id: option.id ?? null,
    name: option.name,
    kind: option.kind ?? null,
    days: option.days ?? null,
    warranty: option.warranty ?? null,
    ...saleJson(option.priced, printer, option.own),
    requirements: option.work.requirements.map(({ id, kind, roles, record, finding, state }) => ({
      id,
      kind,
      roles: [...roles],
      record,
      finding,
      state,
    })),
  };
}

export function saleJson(priced: Priced, { money }: Printer, own: readonly OwnFact[] = []): ExchangedSale {
  return {
    complete: priced.complete,
    lines: priced.lines.map((line) => lineJson(line, own)),
    subtotals: Object.fromEntries(
      [...priced.subtotals].map(([category, amount]) => [category, text(amount)]),
    ),
    discounts: priced.discounts.map((discount) => ({
      name: discount.name,
      amount: text(discount.amount),
      fundedBy: discount.fundedBy,
      spread: Object.fromEntries(
        [...discount.spread].map(([category, share]) => [category, share.toString()]),
      ),
    })),
    subtotal: text(priced.subtotal),
    taxable: text(priced.tax.taxable),
    taxes: priced.tax.rows.map((row) => ({
      name: row.name,
      rate: row.rate.toString(),
      amount: text(row.amount),
    })),
    tax: text(priced.tax.amount),
    taxIncluded: priced.tax.included,
    total: text(priced.total),
    printed: {
      beforeTax: money(beforeTax(priced)),
      tax: money(priced.tax.amount.value),
      total: money(priced.total.value),
      balance: money(priced.balance.value),
    },
    shares: priced.shares.map((share) => ({
      payer: share.payer ?? null,
      name: share.name,
      total: text(share.total),
    })),
    paid: text(priced.paid),
    balance: text(priced.balance),
    hoursSold: text(priced.hoursSold),
  };
}

function lineJson(line: PricedLine, own: readonly OwnFact[]): ExchangedLine {
  return {
    kind: line.kind,
    path: [...line.path],
    id: line.id ?? null,
    name: line.name,
    category: line.category,
    role: line.role ?? null,
    condition: line.condition ?? null,
    quantity: text(line.quantity),
    unit: line.unit,
    each: line.each ? text(line.each) : null,
    amount: text(line.amount),
    net: text(line.net),
    tax: line.tax.toString(),
    hours: line.hoursSold.toString(),
    optional: line.optional,
    ...ownJson(ownOf(own, line)),
  };
}

function text(amount: Amount): string {
  return amount.value.toString();
}

/** Fields of the shop that are for other systems; of several entries with the same field the last counts. */
function ownJson(own: readonly OwnFact[], ...kinds: readonly OwnFact['kind'][]) {
  const given = kinds.length === 0 ? own : kinds.flatMap((kind) => own.filter((one) => one.kind === kind));
  const shown = given.filter((one) => one.declared.print?.includes('data'));
  return shown.length === 0 ? {} : { own: Object.fromEntries(shown.map((one) => [one.field, one.typed])) };
}
