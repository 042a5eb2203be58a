/** An estimate as plain text, for the shop's own eyes. */
import type { Category } from '../../../schemas/kinds/shared.ts';
import { dec, ZERO } from '../../../schemas/values/decimal.ts';
import { formatPercent } from '../../../schemas/values/percent.ts';
import { formatQuantity } from '../../../schemas/values/quantity.ts';
import type { JobEstimate, OptionEstimate } from '../estimate/estimate.ts';
import { explain } from '../pricing/amount.ts';
import type { Priced, PricedLine } from '../pricing/model.ts';
import { columns, rule, wrapped } from './columns.ts';
import { type Printer, printerFor } from './locale.ts';

const WIDTH = 78;

const CATEGORY_WORDS: Record<Category, string> = {
  parts: 'Parts',
  fluids: 'Fluids',
  labor: 'Labor',
  sublet: 'Sublet',
  cores: 'Cores',
  supplies: 'Shop supplies',
  fees: 'Fees',
};

export interface TextChoice {
  /** Only this option; all of them, when left out. */
  readonly option?: string | undefined;
  /** Shows how each total came about. */
  readonly explain?: boolean | undefined;
}

export function estimateText(estimate: JobEstimate, choice: TextChoice = {}): string {
  const printer = printerFor(estimate);
  const options = estimate.options.filter((one) => choice.option === undefined || one.id === choice.option);
  return [
    ...head(estimate),
    ...(estimate.options.length > 1 ? sideBySide(estimate, printer) : []),
    ...options.flatMap((option) => optionText(estimate, option, printer, choice)),
    ...teardownText(estimate, printer),
    '',
  ].join('\n');
}

function head({ job, customer, unit }: JobEstimate): string[] {
  const { vehicle } = job;
  const car = [vehicle?.year, vehicle?.make, vehicle?.model, vehicle?.engine, vehicle?.drive?.toUpperCase()]
    .filter(Boolean)
    .join(' ');
  const odometer = vehicle?.odometer && formatQuantity(vehicle.odometer);
  return [
    `${job.id ?? 'Job'}${customer ? `  ${customer.name}` : ''}`,
    [car, vehicle?.vin && `VIN ${vehicle.vin}`, odometer, unit && `unit ${unit.name}`]
      .filter(Boolean)
      .join(', '),
    ...(job.complaint ? wrapped(`Complaint: ${job.complaint}`, WIDTH) : []),
  ].filter((line) => line !== '');
}

function sideBySide(estimate: JobEstimate, printer: Printer): string[] {
  const rows = estimate.options.map((option) => [
    option.id ?? '',
    option.name,
    printer.money(option.priced.total.value),
    option.days === undefined ? '' : `${option.days} days`,
    (option.warranty && estimate.policy.shop.warranties?.[option.warranty]?.name) ?? 'no warranty',
    option === estimate.chosen ? 'chosen' : '',
  ]);
  return [
    '',
    'Options',
    ...columns(
      rows,
      [
        { align: 'left' },
        { align: 'left', most: 34 },
        { align: 'right' },
        { align: 'right' },
        { align: 'left' },
        { align: 'left' },
      ],
      '  ',
    ),
  ];
}

function optionText(
  estimate: JobEstimate,
  option: OptionEstimate,
  printer: Printer,
  choice: TextChoice,
): string[] {
  const title = `${option.name}${option === estimate.chosen && option.id ? ' (chosen)' : ''}`;
  return ['', title, rule(WIDTH), ...pricedText(option.priced, printer), ...explained(option.priced, choice)];
}

function explained(priced: Priced, choice: TextChoice): string[] {
  return choice.explain
    ? ['', 'How the total came about', ...explain(priced.total).map((line) => `  ${line}`)]
    : [];
}

/** What opening the unit costs, as long as that is open: before the choice, or because the repair was declined. */
function teardownText({ job, chosen, teardown }: JobEstimate, printer: Printer): string[] {
  const declined = job.teardown?.declined !== undefined;
  if (!teardown || (chosen?.id !== undefined && !declined)) return [];
  const opened = ['', 'Teardown', rule(WIDTH), ...pricedText(teardown.teardown, printer)];
  const closed = [
    '',
    'Teardown, and the repair declined',
    rule(WIDTH),
    ...pricedText(teardown.declined, printer),
  ];
  return declined ? closed : [...opened, ...closed];
}

function pricedText(priced: Priced, printer: Printer): string[] {
  const sections = [...priced.subtotals.keys()].flatMap((category) =>
    categoryText(priced, category, printer),
  );
  return [
    ...columns(sections, [
      { align: 'left', most: 46 },
      { align: 'right' },
      { align: 'right' },
      { align: 'right' },
    ]),
    ...totals(priced, printer),
  ];
}

function categoryText(priced: Priced, category: Category, printer: Printer): string[][] {
  const lines = priced.lines.filter((line) => line.category === category);
  if (lines.length === 0) return [];
  const rows = lines.map((line) => lineRow(line, printer));
  return [[CATEGORY_WORDS[category], '', '', ''], ...rows.map(([name, ...rest]) => [`  ${name}`, ...rest])];
}

/** Charges that are never more than one, and have no number of their own to show. */
const UNCOUNTED: ReadonlySet<PricedLine['kind']> = new Set(['supplies', 'minimum', 'warranty']);

function lineRow(line: PricedLine, printer: Printer): [string, string, string, string] {
  const name = [
    line.id && `${line.id} `,
    line.name,
    line.condition && line.kind !== 'core' ? ` (${line.condition})` : '',
  ]
    .filter(Boolean)
    .join('');
  const labor = line.kind === 'labor';
  const bare = UNCOUNTED.has(line.kind);
  const counted = labor
    ? `${line.hoursSold.toString()} h`
    : bare
      ? ''
      : `${line.quantity.value.toString()} ${line.unit}`;
  const net = line.net.value;
  return [
    name,
    counted,
    line.each && !labor && !bare ? printer.money(line.each.value) : '',
    printer.money(net),
  ];
}

function totals(priced: Priced, printer: Printer): string[] {
  const rows: string[][] = [];
  for (const discount of priced.discounts)
    rows.push([discount.name, printer.money(ZERO.minus(discount.amount.value))]);
  rows.push(['Before tax', printer.money(priced.subtotal.value)]);
  for (const row of priced.tax.rows) {
    rows.push([
      `${row.name} ${formatPercent(row.rate)} on ${printer.money(priced.tax.taxable.value)}`,
      printer.money(row.amount.value),
    ]);
  }
  rows.push([
    priced.complete ? 'Total' : 'Total so far (something has no price)',
    printer.money(priced.total.value),
  ]);
  if (priced.shares.length > 1)
    for (const share of priced.shares)
      rows.push([`  of which ${share.name}`, printer.money(share.total.value)]);
  if (!priced.paid.value.eq(dec('0'))) {
    rows.push(
      ['Paid', printer.money(ZERO.minus(priced.paid.value))],
      ['Balance', printer.money(priced.balance.value)],
    );
  }
  const width = Math.max(...rows.map((row) => row[1]!.length));
  return [
    '',
    ...rows.map(([label, amount]) => `${label!.padStart(WIDTH - width - 2)}  ${amount!.padStart(width)}`),
  ];
}
