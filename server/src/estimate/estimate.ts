/** A job in its book: templates unfolded, every option priced and checked. */
import type { Job } from '../../../schemas/kinds/job.ts';
import type { Jurisdiction } from '../../../schemas/kinds/jurisdiction.ts';
import type { Line } from '../../../schemas/kinds/lines.ts';
import type { Customer, Shop } from '../../../schemas/kinds/shop.ts';
import type { Unit } from '../../../schemas/kinds/units.ts';
import type { Path, Problem } from '../../../schemas/problem.ts';
import { dateOf, type IsoDate } from '../../../schemas/values/dates.ts';
import type { BookFile } from '../book/file.ts';
import { originalPath } from '../book/judge.ts';
import type { Policy, Priced, Sale, SaleLine } from '../pricing/model.ts';
import { price } from '../pricing/price.ts';
import { priceTeardown } from '../pricing/teardown.ts';
import { check, heldFindings, workLine } from '../work/index.ts';
import type { EarlierJob, OptionKind, WorkInput, WorkLine, WorkResult } from '../work/model.ts';
import type { OwnFact } from '../work/own.ts';
import type { BookCatalog } from './catalog.ts';
import { unfoldingOf } from './conditions.ts';
import { ownFactsOf } from './own.ts';
import { paperProblems } from './papers.ts';
import { unfold } from './unfold.ts';
import { vehicleProblems } from './vehicle.ts';

export interface OptionEstimate {
  /** Undefined for a job without options. */
  readonly id: string | undefined;
  readonly name: string;
  readonly kind: OptionKind | undefined;
  /** Place in the job file; empty for a job without options. */
  readonly path: Path;
  readonly days: number | undefined;
  readonly warranty: string | undefined;
  readonly lines: readonly SaleLine[];
  readonly priced: Priced;
  readonly work: WorkResult;
  /** The lines as the check of required work sees them. */
  readonly works: readonly WorkLine[];
  /** What the job and the entries on it say in fields of the shop. */
  readonly own: readonly OwnFact[];
}

export interface JobEstimate {
  readonly job: Job;
  readonly policy: Policy;
  readonly unit: Unit | undefined;
  readonly customer: Customer | Exclude<Job['customer'], string | undefined> | undefined;
  /** At least one. */
  readonly options: readonly OptionEstimate[];
  /** The option the owner has chosen; the only one, when there is no choice. */
  readonly chosen: OptionEstimate | undefined;
  readonly teardown: { readonly teardown: Priced; readonly declined: Priced } | undefined;
  /** Places are paths of the job file. */
  readonly problems: readonly Problem[];
}

/** What a job with no readable shop is priced by: nothing added, nothing taxed. */
const NO_SHOP: Shop = { kind: 'shop' };

export function estimateJob(
  file: BookFile,
  catalog: BookCatalog,
  shop: Shop | undefined,
  law: Jurisdiction | undefined,
): JobEstimate {
  return estimate(file.value as Job, (key) => file.droppedOf(key), catalog, shop ?? NO_SHOP, law);
}

/**
 * `droppedOf`: what was taken out of a field while it was read, so that places can be told as they are in the text.
 * `sketch`: for cases: a job that was never on paper, with lines left out.
 */
export function estimate(
  job: Job,
  droppedOf: (key: string) => readonly Path[],
  catalog: BookCatalog,
  shop: Shop,
  law: Jurisdiction | undefined,
  sketch: { readonly keeps: (line: SaleLine) => boolean; readonly onPaper: boolean } | undefined = undefined,
): JobEstimate {
  const place = placer(droppedOf);
  const { policy, customer, common, unfolded, sale, problems } = begin(
    job,
    place,
    catalog,
    shop,
    law,
    sketch?.keeps,
  );
  const earlier = job.follows === undefined ? undefined : earlierJob(job.follows, catalog);

  const option = (
    id: string | undefined,
    given: NonNullable<Job['options']>[string] | undefined,
    lines: readonly SaleLine[],
  ): OptionEstimate => {
    const path: Path = id === undefined ? [] : ['options', id];
    const warranty = given?.warranty ?? job.warranty;
    const priced = price(sale(lines, warranty), catalog, policy);
    const workLines = lines.map((one) => workLine(one.path, one.line, catalog, facts(priced, one)));
    const own = ownFactsOf(job, workLines, catalog, shop);
    const input: WorkInput = {
      job,
      lines: workLines,
      option:
        id === undefined || !given
          ? undefined
          : { id, path, kind: given.kind, name: given.name, say: given.say },
      plan:
        warranty === undefined
          ? undefined
          : { id: warranty, path: given?.warranty ? [...path, 'warranty'] : ['warranty'] },
      earlier,
      law,
      labor: priced.subtotals.get('labor')?.value,
      own,
      currency: { code: policy.currency, locale: shop.locale ?? 'en-US' },
    };
    return {
      id,
      name: given?.name ?? 'Estimate',
      kind: given?.kind,
      path,
      days: given?.days,
      warranty,
      lines,
      priced,
      work: check(input, catalog.rules(), catalog),
      works: workLines,
      own,
    };
  };

  const given = Object.entries(job.options ?? {});
  const options =
    given.length === 0
      ? [option(undefined, undefined, common)]
      : given.map(([id, one]) =>
          option(id, one, [...common, ...unfolded(one.lines, ['options', id, 'lines'])]),
        );
  const chosen =
    options.length === 1 ? options[0] : options.find((one) => one.id !== undefined && one.id === job.chosen);
  const teardown = job.teardown && {
    ...priceTeardown(
      sale([], undefined),
      {
        lines: unfolded(job.teardown.lines, ['teardown', 'lines']),
        ifDeclined: unfolded(job.teardown['if-declined'], ['teardown', 'if-declined']),
        inBoxes: job.teardown['in-boxes'] ?? false,
      },
      catalog,
      policy,
    ),
  };

  const result = {
    job,
    policy,
    unit: catalog.unit(job.unit),
    customer,
    options,
    chosen,
    teardown,
    problems: [],
  };
  // Once an option is chosen the others are history, and so are all of them once the repair is declined.
  const looked = job.teardown?.declined !== undefined ? [] : chosen ? [chosen] : options;
  problems.push(...vehicleProblems(job, place));
  for (const one of looked)
    problems.push(...placed(one.priced.problems, place), ...placed(one.work.problems, place));
  if (teardown)
    problems.push(...placed(teardown.teardown.problems, place), ...placed(teardown.declined.problems, place));
  if (sketch?.onPaper !== false) problems.push(...placed(paperProblems(result, catalog), place));
  return { ...result, problems: distinct(problems) };
}

/** What a job comes to, without what it lacks and what its papers lack: for figures over many jobs. */
export interface PricedJob {
  readonly job: Job;
  readonly policy: Policy;
  /** At least one. */
  readonly options: readonly Pick<OptionEstimate, 'id' | 'name' | 'path' | 'priced'>[];
  /** The option that was chosen; the first, while there is a choice. */
  readonly counted: Pick<OptionEstimate, 'id' | 'name' | 'path' | 'priced'>;
}

/** `all`: every option, and not only the one that counts. */
export function priceJob(
  job: Job,
  droppedOf: (key: string) => readonly Path[],
  catalog: BookCatalog,
  shop: Shop | undefined,
  law: Jurisdiction | undefined,
  all = true,
): PricedJob {
  const { policy, common, unfolded, sale } = begin(job, placer(droppedOf), catalog, shop ?? NO_SHOP, law);
  const given = Object.entries(job.options ?? {});
  const chosen = given.findIndex(([id]) => id === job.chosen);
  const counted = Math.max(chosen, 0);
  const option = ([id, one]: (typeof given)[number]) => {
    const lines = [...common, ...unfolded(one.lines, ['options', id, 'lines'])];
    return {
      id,
      name: one.name,
      path: ['options', id],
      priced: price(sale(lines, one.warranty ?? job.warranty), catalog, policy),
    };
  };
  if (given.length === 0) {
    const priced = price(sale(common, job.warranty), catalog, policy);
    const only = { id: undefined, name: 'Estimate', path: [], priced };
    return { job, policy, options: [only], counted: only };
  }
  const options = (all ? given : [given[counted]!]).map(option);
  return { job, policy, options, counted: options[all ? counted : 0]! };
}

/** A job up to where its sales are priced: lines unfolded, what holds for all of them. */
function begin(
  job: Job,
  place: (path: Path) => Path,
  catalog: BookCatalog,
  shop: Shop,
  law: Jurisdiction | undefined,
  keeps?: (line: SaleLine) => boolean,
) {
  const policy: Policy = {
    shop,
    jurisdiction: law,
    on: job['priced-on'] ?? job.opened ?? ('1900-01-01' as IsoDate),
    currency: shop.currency ?? 'USD',
  };
  const problems: Problem[] = [];
  const held = heldFindings(job, catalog.rules(), catalog);
  const lookup = unfoldingOf(job, catalog, held);
  const unfolded = (lines: readonly Line[] | undefined, path: Path): SaleLine[] => {
    const result = unfold(lines ?? [], (i) => place([...path, i]), lookup);
    problems.push(...result.problems);
    return keeps ? result.lines.filter(keeps) : [...result.lines];
  };
  const common = unfolded(job.lines, ['lines']);
  const customer = typeof job.customer === 'string' ? shop.customers?.[job.customer] : job.customer;
  const sale = (lines: readonly SaleLine[], warranty: string | undefined): Sale => ({
    lines,
    unit: job.unit,
    vehicle: { drive: job.vehicle?.drive, features: job.vehicle?.features },
    findings: held,
    payers: job.payers,
    discounts: job.discounts,
    deposits: job.deposits,
    cores: job.cores,
    lock: job.lock,
    customer: typeof job.customer === 'string' ? (customer as Customer | undefined) : undefined,
    warranty,
    authorized: authorizedOn(job),
    completed: job.completed,
  });
  return { policy, customer, common, unfolded, sale, problems };
}

function facts(priced: Priced, one: SaleLine) {
  const own = priced.lines.filter((line) => line.line === one.line && line.path === one.path);
  const main = own.find((line) => line.kind !== 'core');
  return (
    main && {
      // Labor is counted in hours there; how often it is done stands on the line.
      quantity: main.kind === 'labor' ? undefined : main.quantity.value,
      each: main.each?.value,
      amount: main.amount.value,
      hours: main.hours.value,
      core: own.find((line) => line.kind === 'core')?.amount.value,
    }
  );
}

function authorizedOn(job: Job): IsoDate | undefined {
  const work = job.authorizations?.filter((one) => (one.for ?? 'work') === 'work') ?? [];
  return work[0] && dateOf(work[0].on);
}

function earlierJob(id: string, catalog: BookCatalog): EarlierJob | undefined {
  const file = catalog.job(id);
  if (!file) return undefined;
  const job = file.value as Job;
  const plan = (job.chosen && job.options?.[job.chosen]?.warranty) ?? job.warranty;
  return {
    id,
    completed: job.completed,
    odometer: job.vehicle?.['odometer-out'] ?? job.vehicle?.odometer,
    plan,
    findings: [...heldFindings(job, catalog.rules(), catalog)],
    cause: job.cause,
  };
}

/** Lines already carry the places they have in the text; other lists have to be counted as they are there. */
function placer(droppedOf: (key: string) => readonly Path[]): (path: Path) => Path {
  return (path) => {
    const [key, ...rest] = path;
    if (typeof key !== 'string') return path;
    const dropped = droppedOf(key);
    return dropped.length === 0 ? path : [key, ...originalPath(rest, dropped)];
  };
}

function placed(problems: readonly Problem[], place: (path: Path) => Path): Problem[] {
  return problems.map((problem) =>
    problem.path.includes('lines') ? problem : { ...problem, path: place(problem.path) },
  );
}

function distinct(problems: readonly Problem[]): Problem[] {
  const seen = new Set<string>();
  return problems.filter((problem) => {
    const key = JSON.stringify([problem.code, problem.path, problem.message]);
    return !seen.has(key) && seen.add(key);
  });
}
