/** `price JOB` as JSON: the figures of every option, as text so that nothing is lost on the way. */
import type { JobEstimate, OptionEstimate } from '../estimate/estimate.ts';
import type { Amount } from '../pricing/amount.ts';
import type { Priced, PricedLine } from '../pricing/model.ts';

export function estimateJson(estimate: JobEstimate): unknown {
  const { job, policy, chosen } = estimate;
  return {
    format: 'gearquill-estimate',
    version: 1,
    job: job.id,
    currency: policy.currency,
    pricedOn: policy.on,
    chosen: chosen?.id ?? null,
    options: estimate.options.map(optionJson),
    teardown: estimate.teardown && {
      teardown: pricedJson(estimate.teardown.teardown),
      declined: pricedJson(estimate.teardown.declined),
    },
  };
}

function optionJson(option: OptionEstimate): unknown {
  return {
    id: option.id ?? null,
    name: option.name,
    kind: option.kind ?? null,
    days: option.days ?? null,
    warranty: option.warranty ?? null,
    ...pricedJson(option.priced),
    requirements: option.work.requirements.map(({ id, kind, roles, record, finding, state }) => ({
      id,
      kind,
      roles,
      record,
      finding,
      state,
    })),
  };
}

function pricedJson(priced: Priced) {
  return {
    complete: priced.complete,
    lines: priced.lines.map(lineJson),
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
    total: text(priced.total),
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

function lineJson(line: PricedLine) {
  return {
    kind: line.kind,
    path: line.path,
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
  };
}

function text(amount: Amount): string {
  return amount.value.toString();
}
