/** An estimate as plain data for a screen: what the preview, the status bar and the list of missing work show. */
import type { Range } from 'vscode-languageserver-types';
import type { Category } from '../../../../schemas/kinds/shared.ts';
import type { Path, Problem, Severity } from '../../../../schemas/problem.ts';
import { type Decimal, ZERO } from '../../../../schemas/values/decimal.ts';
import { formatPercent } from '../../../../schemas/values/percent.ts';
import { formatQuantity } from '../../../../schemas/values/quantity.ts';
import type { BookFile } from '../../book/file.ts';
import type { JobEstimate, OptionEstimate } from '../../estimate/estimate.ts';
import type { Estimates } from '../../estimate/estimates.ts';
import type { Priced, PricedLine } from '../../pricing/model.ts';
import { type Printer, printerFor } from '../../print/locale.ts';
import { missingIn } from '../missing-count.ts';
import { rangeOf } from '../spot.ts';
import type { FigureKey } from './figures.ts';

/** A number on the screen. Its tree is asked for by its sale and key. */
export interface Figure {
  readonly key: FigureKey;
  /** As the shop's locale writes it. */
  readonly text: string;
}

export interface LineView {
  /** Part number, operation or fee. */
  readonly id: string | undefined;
  readonly name: string;
  readonly kind: PricedLine['kind'];
  readonly condition: string | undefined;
  readonly quantity: string;
  readonly each: string | undefined;
  readonly amount: Figure;
  readonly optional: boolean;
  /** Where the job says so; undefined for what is put on by itself. */
  readonly range: Range | undefined;
}

export interface CategoryView {
  readonly category: Category;
  readonly amount: Figure;
  readonly lines: readonly LineView[];
}

/** A share of the total for the chart. Negative amounts (discounts) are no share. */
export interface Slice {
  readonly of: Category | 'tax';
  readonly text: string;
  /** From 0 to 1. */
  readonly share: number;
}

export interface SaleView {
  /** Names the sale in questions about its figures. */
  readonly sale: string;
  readonly id: string | undefined;
  readonly name: string;
  readonly kind: string | undefined;
  readonly say: string | undefined;
  readonly days: number | undefined;
  /** The plan's name. */
  readonly warranty: string | undefined;
  /** The plan is promised and cannot be given as the job stands. */
  readonly warrantyWithheld: boolean;
  readonly chosen: boolean;
  /** False when something has no price: the total is then too low. */
  readonly complete: boolean;
  readonly total: Figure;
  readonly subtotal: Figure;
  readonly discounts: readonly { readonly name: string; readonly amount: Figure }[];
  readonly taxes: readonly { readonly name: string; readonly rate: string; readonly amount: Figure }[];
  /** Only when somebody else pays a part. */
  readonly shares: readonly { readonly name: string; readonly amount: Figure }[];
  readonly paid: Figure | undefined;
  readonly balance: Figure | undefined;
  readonly hours: Figure;
  readonly categories: readonly CategoryView[];
  readonly slices: readonly Slice[];
  /** The slices together, for lengths on a screen only: money never goes through a number. */
  readonly size: number;
  /** As `missingIn` counts. */
  readonly missing: number;
  readonly range: Range | undefined;
}

export interface MissingView {
  readonly id: string;
  readonly code: string;
  readonly severity: Severity;
  readonly message: string;
  /** Names of the options that lack it; empty when the job has no options, or all of them do. */
  readonly options: readonly string[];
  readonly range: Range;
}

export interface EstimateView {
  readonly uri: string;
  readonly job: string;
  readonly customer: string | undefined;
  readonly vehicle: string;
  readonly unit: string | undefined;
  readonly complaint: string | undefined;
  readonly shop: string | undefined;
  /** The chosen option when there is one. */
  readonly options: readonly SaleView[];
  /** Opening the unit; and opening it when the repair is then declined. */
  readonly teardown: readonly SaleView[];
  /** Of the chosen option, else of all. The most pressing first. */
  readonly missing: readonly MissingView[];
  /** Errors and warnings of the estimate beside what is missing. */
  readonly otherProblems: number;
}

const PRESSING: Record<Severity, number> = { error: 0, warning: 1, information: 2, hint: 3 };

export function estimateView(estimates: Estimates, file: BookFile): EstimateView | undefined {
  const estimate = estimates.of(file);
  if (!estimate) return undefined;
  const { job, customer, unit, policy, options, teardown } = estimate;
  const printer = printerFor(estimate);
  const sale = (key: string, priced: Priced, about: About) => saleView(file, key, priced, about, printer);
  const missing = missingView(file, estimate);
  return {
    uri: file.uri,
    job: job.id ?? '',
    customer: customer?.name,
    vehicle: vehicleText(estimate),
    unit: unit?.name ?? job.unit,
    complaint: job.complaint?.trim(),
    shop: policy.shop.name,
    options: options.map((option, i) => sale(`option ${i}`, option.priced, aboutOption(option, estimate))),
    teardown: teardown
      ? [
          sale('teardown', teardown.teardown, { name: 'teardown', path: ['teardown'] }),
          sale('declined', teardown.declined, { name: 'declined', path: ['teardown', 'if-declined'] }),
        ]
      : [],
    missing,
    otherProblems: estimate.problems.filter(
      (one) => !isMissing(one) && (one.severity === 'error' || one.severity === 'warning'),
    ).length,
  };
}

interface About {
  readonly id?: string | undefined;
  readonly name: string;
  readonly kind?: string | undefined;
  readonly say?: string | undefined;
  readonly days?: number | undefined;
  readonly warranty?: string | undefined;
  readonly warrantyWithheld?: boolean;
  readonly chosen?: boolean;
  readonly missing?: number;
  readonly path: Path;
}

function aboutOption(option: OptionEstimate, { job, policy, chosen }: JobEstimate): About {
  const { withheld } = option.work;
  return {
    id: option.id,
    name: option.name,
    kind: option.kind,
    say: option.id === undefined ? undefined : job.options?.[option.id]?.say?.trim(),
    days: option.days,
    warranty:
      option.warranty === undefined
        ? undefined
        : (policy.shop.warranties?.[option.warranty]?.name ?? option.warranty),
    warrantyWithheld: withheld.some((one) => one.promised),
    chosen: option === chosen,
    missing: missingIn(option),
    path: option.path,
  };
}

function saleView(file: BookFile, key: string, priced: Priced, about: About, { money }: Printer): SaleView {
  const figure = (figureKey: FigureKey, value: Decimal): Figure => ({ key: figureKey, text: money(value) });
  const minus = (value: Decimal) => ZERO.minus(value);
  const paid = !priced.paid.value.eq(ZERO);
  const categories = [...priced.subtotals.keys()].flatMap((category): CategoryView[] => {
    const lines = priced.lines.flatMap((line, i) =>
      line.category === category ? [lineView(file, line, figure(`line ${i}`, line.net.value), money)] : [],
    );
    const amount = figure(`category ${category}`, priced.subtotals.get(category)!.value);
    return lines.length === 0 ? [] : [{ category, amount, lines }];
  });
  return {
    sale: key,
    id: about.id,
    name: about.name,
    kind: about.kind,
    say: about.say,
    days: about.days,
    warranty: about.warranty,
    warrantyWithheld: about.warrantyWithheld ?? false,
    chosen: about.chosen ?? false,
    complete: priced.complete,
    total: figure('total', priced.total.value),
    subtotal: figure('subtotal', priced.subtotal.value),
    discounts: priced.discounts.map((one, i) => ({
      name: one.name,
      amount: figure(`discount ${i}`, minus(one.amount.value)),
    })),
    taxes: priced.tax.rows.map((row, i) => ({
      name: row.name,
      rate: formatPercent(row.rate),
      amount: figure(`tax ${i}`, row.amount.value),
    })),
    shares:
      priced.shares.length > 1
        ? priced.shares.map((one, i) => ({ name: one.name, amount: figure(`share ${i}`, one.total.value) }))
        : [],
    paid: paid ? figure('paid', minus(priced.paid.value)) : undefined,
    balance: paid ? figure('balance', priced.balance.value) : undefined,
    hours: { key: 'hours', text: `${priced.hoursSold.value} h` },
    categories,
    ...slices(priced, money),
    missing: about.missing ?? 0,
    range: rangeOf(file, about.path, true),
  };
}

function lineView(
  file: BookFile,
  line: PricedLine,
  amount: Figure,
  money: (value: Decimal) => string,
): LineView {
  const labor = line.kind === 'labor';
  return {
    id: line.id,
    name: line.name,
    kind: line.kind,
    condition: line.kind === 'core' ? undefined : line.condition,
    quantity: labor ? `${line.hoursSold} h` : `${line.quantity.value} ${line.unit}`,
    each: line.each && !labor ? money(line.each.value) : undefined,
    amount,
    optional: line.optional,
    range: line.path.length === 0 ? undefined : rangeOf(file, line.path),
  };
}

/** What the total is made of. Subtotals are before job discounts, so shares are of their own sum. */
function slices(
  priced: Priced,
  money: (value: Decimal) => string,
): { readonly slices: readonly Slice[]; readonly size: number } {
  const parts: [Slice['of'], Decimal][] = [
    ...[...priced.subtotals].map(([category, amount]): [Category, Decimal] => [category, amount.value]),
    ['tax', priced.tax.included ? ZERO : priced.tax.amount.value],
  ];
  const shown = parts.filter(([, value]) => value.gt(ZERO));
  const whole = shown.reduce((sum, [, value]) => sum.plus(value), ZERO);
  return {
    slices: shown.map(([of, value]) => ({
      of,
      text: money(value),
      share: Number(value.div(whole).toString()),
    })),
    size: Number(whole.toString()),
  };
}

function vehicleText({ job: { vehicle } }: JobEstimate): string {
  const car = [vehicle?.year, vehicle?.make, vehicle?.model, vehicle?.engine, vehicle?.drive?.toUpperCase()];
  const odometer = vehicle?.odometer && formatQuantity(vehicle.odometer);
  return [car.filter(Boolean).join(' '), odometer].filter(Boolean).join(', ');
}

function isMissing(problem: Problem): boolean {
  return problem.data?.requirement !== undefined;
}

function isUnmet(state: string): boolean {
  return state === 'missing' || state === 'broken';
}

function missingView(file: BookFile, { problems, options, chosen }: JobEstimate): MissingView[] {
  const looked = chosen ? [chosen] : options;
  return problems
    .filter(isMissing)
    .sort((a, b) => PRESSING[a.severity] - PRESSING[b.severity])
    .flatMap((problem): MissingView[] => {
      const range = rangeOf(file, problem.path, problem.onKey);
      if (!range) return [];
      const id = String(problem.data?.requirement);
      const lacking = looked.filter((option) =>
        option.work.requirements.some((one) => one.id === id && isUnmet(one.state)),
      );
      const { code, severity, message } = problem;
      const own = looked.filter((option) => option.id !== undefined && isAt(problem.path, option.path));
      const meant = own.length > 0 ? own : lacking;
      const everywhere = meant.length === looked.length;
      return [
        { id, code, severity, message, options: everywhere ? [] : meant.map((one) => one.name), range },
      ];
    });
}

function isAt(path: Path, start: Path): boolean {
  return start.every((step, i) => step === path[i]);
}
