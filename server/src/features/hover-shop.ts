/** What the shop file and the jurisdiction bring into being, on hover. */

import type { Job } from '../../../schemas/kinds/job.ts';
import type { Jurisdiction } from '../../../schemas/kinds/jurisdiction.ts';
import type {
  Band,
  Customer,
  Discount,
  Fee,
  Payer,
  Rate,
  Schedule,
  Shop,
  Warranty,
} from '../../../schemas/kinds/shop.ts';
import { formatPercent } from '../../../schemas/values/percent.ts';
import { formatQuantity } from '../../../schemas/values/quantity.ts';
import { termEnd } from '../../../schemas/values/term.ts';
import type { Block } from './hover-blocks.ts';
import { usedBy, type View } from './hover-view.ts';

export function rateBlocks(view: View, id: string, rate: Rate): Block[] {
  return [
    { is: 'title', text: rate.name, id },
    {
      is: 'facts',
      rows: [
        ['An hour', view.money(rate.hourly)],
        ['Minimum charge', view.money(rate.minimum)],
        ['Cost of an hour', view.money(rate.cost)],
      ],
    },
    ...usedBy(view, 'rate', id),
  ];
}

export function scheduleBlocks(view: View, id: string, schedule: Schedule): Block[] {
  return [
    { is: 'title', text: schedule.name ?? 'Price schedule', id },
    {
      is: 'facts',
      rows: [
        [
          'Bands apply',
          schedule.how === 'graduated' ? 'each to its slice of the cost' : 'one to the whole cost',
        ],
        ['Cost basis', schedule.basis],
        ['Banded per', schedule.on],
        ['List price', schedule.list],
        [
          'Ending',
          schedule.ending &&
            `${schedule.ending} on each ${schedule['ending-per'] === 'line' ? 'line' : 'one'}`,
        ],
        ['Least margin', schedule['least-margin'] && formatPercent(schedule['least-margin'])],
      ],
    },
    {
      is: 'table',
      head: ['Cost below', 'Price'],
      rows: schedule.bands.map((band) => [view.money(band.below) ?? 'the rest', bandText(band)]),
    },
    ...usedBy(view, 'schedule', id),
  ];
}

function bandText({ factor, markup, margin }: Band): string {
  if (factor) return `cost × ${factor}`;
  if (markup) return `cost + ${formatPercent(markup)}`;
  return margin ? `margin of ${formatPercent(margin)}` : '';
}

export function feeBlocks(view: View, id: string, fee: Fee): Block[] {
  return [
    { is: 'title', text: fee.name, id },
    {
      is: 'facts',
      rows: [
        ['Amount', view.money(fee.amount)],
        ['Share', fee.percent && `${formatPercent(fee.percent)} of ${fee.on?.join(', ') ?? ''}`],
        ['Maximum', view.money(fee.maximum)],
        ['Each', fee.each],
        [
          'Put on by itself',
          fee.automatic
            ? fee['with-role']
              ? `with ${view.name('role', fee['with-role'])}`
              : 'yes'
            : undefined,
        ],
        ['Cost', view.money(fee.cost)],
        ['Tax class', fee['tax-class']],
        ['Waste fee', fee.waste ? 'yes' : undefined],
      ],
    },
    ...usedBy(view, 'fee', id),
  ];
}

export function discountBlocks(view: View, id: string, discount: Discount): Block[] {
  return [
    { is: 'title', text: discount.name, id },
    {
      is: 'facts',
      rows: [
        ['Takes off', discount.percent ? formatPercent(discount.percent) : view.money(discount.amount)],
        ['On', discount.on.join(', ')],
        ['Funded by', discount['funded-by']],
        ['Last day', discount.expires && view.printer.date(discount.expires)],
      ],
    },
    ...usedBy(view, 'discount', id),
  ];
}

export function payerBlocks(view: View, id: string, payer: Payer): Block[] {
  return [
    { is: 'title', text: payer.name, id },
    {
      is: 'facts',
      rows: [
        ['Kind', payer.kind],
        ['Covers', payer.covers?.join(', ')],
        ['Allowed hours', payer.hours && `${payer.hours} h`],
        ['Allowed rate', payer.rate && `${view.money(payer.rate)} an hour`],
        ['Parts limit', view.money(payer['parts-limit'])],
        ['Parts discount', payer['parts-discount'] && formatPercent(payer['parts-discount'])],
        ['Limit', view.money(payer.limit)],
        ['Deductible', view.money(payer.deductible)],
        ['Gap is borne by', payer.gap],
        ['Ask first above', view.money(payer['approval-limit'])],
        ['Purchase order', payer['purchase-order'] ? 'needed' : undefined],
        ['Tax exemption', payer.exempt],
      ],
    },
    ...usedBy(view, 'payer', id),
  ];
}

export function customerBlocks(view: View, id: string, customer: Customer): Block[] {
  return [
    { is: 'title', text: customer.name, id },
    {
      is: 'facts',
      rows: [
        ['Telephone', customer.phone],
        ['E-mail', customer.email],
        ['Address', customer.address?.join(', ')],
        ['Tax exemption', customer.exempt?.certificate],
        ['Standing discount', customer.discount && view.name('discount', customer.discount)],
      ],
    },
    ...usedBy(view, 'customer', id),
  ];
}

export function warrantyBlocks(view: View, id: string, plan: Warranty): Block[] {
  const ends = endOf(view, plan);
  return [
    { is: 'title', text: plan.name, id },
    {
      is: 'facts',
      rows: [
        [
          'Lasts',
          [`${plan.months} months`, plan.distance && formatQuantity(plan.distance)]
            .filter(Boolean)
            .join(' or '),
        ],
        ...(ends ? [ends] : []),
        ['Covers', plan.covers ?? 'parts-and-labor'],
        ['Includes', plan.includes?.join('; ')],
        ['Excludes', plan.excludes?.join('; ')],
        ['Requires', view.list('record', plan.requires)],
        [
          'Price',
          plan.percent ? `${formatPercent(plan.percent)} of parts and labor` : view.money(plan.amount),
        ],
        ['Called', `${plan.designation ?? 'limited'} warranty; check your local rules`],
      ],
    },
    ...usedBy(view, 'warranty', id),
  ];
}

/** Counted from the day the job was done, else as if it were done today. */
function endOf(
  { file, today, printer }: View,
  { months, distance }: Warranty,
): readonly [string, string] | undefined {
  const job = file.kind?.kind === 'job' ? (file.value as Partial<Job>) : {};
  const start = job.completed ?? today;
  if (start === undefined) return undefined;
  const odometer = job.vehicle?.['odometer-out'] ?? job.vehicle?.odometer;
  const term = { start, months, ...(odometer ? { odometer } : {}), ...(distance ? { distance } : {}) };
  const end = termEnd(term);
  const both = [
    end.date && printer.date(end.date),
    end.odometer && `at ${formatQuantity(end.odometer)}`,
  ].filter(Boolean);
  return [job.completed ? 'Ends' : 'Ends, were it done today', `${both.join(' or ')}, whichever comes first`];
}

export function supplierBlocks(
  view: View,
  id: string,
  supplier: NonNullable<Shop['suppliers']>[string],
): Block[] {
  return [
    { is: 'title', text: supplier.name, id },
    {
      is: 'facts',
      rows: [
        ['Telephone', supplier.phone],
        ['Account', supplier.account],
        [
          'Cores back within',
          supplier['core-days'] === undefined ? undefined : `${supplier['core-days']} days`,
        ],
        ['Core terms', supplier.terms],
      ],
    },
    ...usedBy(view, 'supplier', id),
  ];
}

export function jurisdictionBlocks(view: View, id: string, law: Jurisdiction): Block[] {
  const { authorization, supplies, waste } = law;
  const over =
    authorization &&
    [
      authorization.percent && formatPercent(authorization.percent),
      authorization.amount && view.money(authorization.amount),
    ].filter(Boolean);
  return [
    { is: 'title', text: law.name, id },
    { is: 'table', head: ['Tax', 'Rate'], rows: law.taxes.map((tax) => [tax.name, formatPercent(tax.rate)]) },
    {
      is: 'facts',
      rows: [
        ['Taxed', classes(law, 'yes')],
        ['Not taxed', classes(law, 'no')],
        ['In part', classes(law, 'prorated')],
        [
          'Core charges',
          law.cores &&
            Object.entries(law.cores)
              .map(
                ([condition, tax]) =>
                  `${condition}: ${tax.charge}, tax ${tax['refund-tax'] ? 'goes back' : 'stays'}`,
              )
              .join('; '),
        ],
        [
          'Bill over the estimate',
          over && over.length > 0
            ? `at most ${over.join(` or ${authorization?.pick ?? ''} `)}${authorization?.cap ? `, never more than ${view.money(authorization.cap)}` : ''}`
            : undefined,
        ],
        ['Written estimate above', view.money(authorization?.['written-above'])],
        ['Shop supplies line', supplies?.line],
        [
          'Waste fees',
          waste &&
            [waste['at-cost'] && 'at cost', waste['needs-epa-id'] && 'with the EPA number']
              .filter(Boolean)
              .join(', '),
        ],
        ['Estimates must hold', law.estimate?.must.join(', ')],
        ['Invoices must hold', law.invoice?.must.join(', ')],
        ['Read on', view.printer.date(law['as-of'])],
        ['Source', law.source],
      ],
    },
    {
      is: 'text',
      text: 'Check your local rules: this is what the shop has written down, not legal advice.',
      ours: true,
    },
  ];
}

function classes({ taxable }: Jurisdiction, answer: string): string | undefined {
  const found = Object.entries(taxable).filter(([, taxed]) => taxed === answer);
  return found.length === 0 ? undefined : found.map(([name]) => name).join(', ');
}
