/** The shop's own tests: what a job with given findings and lines must come to. */
import type { Case } from '../../../schemas/kinds/cases.ts';
import type { Job } from '../../../schemas/kinds/job.ts';
import type { Path, Problem } from '../../../schemas/problem.ts';
import type { IsoDate } from '../../../schemas/values/dates.ts';
import type { Decimal } from '../../../schemas/values/decimal.ts';
import type { BookFile } from '../book/file.ts';
import type { SaleLine } from '../pricing/model.ts';
import type { Requirement } from '../work/model.ts';
import { answers } from '../work/own.ts';
import type { BookCatalog } from './catalog.ts';
import { estimate, type JobEstimate, type OptionEstimate } from './estimate.ts';
import type { Estimates } from './estimates.ts';
import type { Watch } from './watch.ts';

export interface Mismatch {
  /** Inside the case: `['expect', 'missing']`. */
  readonly path: Path;
  readonly expected: string;
  readonly actual: string;
  readonly message: string;
}

export interface CaseResult {
  readonly id: string;
  readonly name: string;
  readonly file: BookFile;
  readonly mismatches: readonly Mismatch[];
  /** Rules that hold in it. */
  readonly rules: readonly string[];
}

/** A case without dates is priced by the newest prices. */
const LATEST = '9999-12-31' as IsoDate;

/** Every case of the book. */
export function* runAllCases(estimates: Estimates): IterableIterator<CaseResult> {
  for (const file of estimates.book.filesOf('cases')) yield* runCases(estimates, file);
}

export function* runCases(estimates: Estimates, file: BookFile): IterableIterator<CaseResult> {
  for (const facts of file.facts()) {
    for (const part of facts.parts) {
      if (part.section !== 'cases' || part.value === undefined) continue;
      const one = part.value as Case;
      yield { id: part.key, name: one.name ?? part.key, file, ...runCase(estimates, file, one) };
    }
  }
}

type Run = Pick<CaseResult, 'mismatches' | 'rules'>;

function runCase(estimates: Estimates, file: BookFile, one: Case): Run {
  return estimates.keep(one, (watch) => runAnew(estimates, file, one, watch));
}

function runAnew(estimates: Estimates, file: BookFile, one: Case, watch: Watch): Run {
  const { book } = estimates;
  const id = one.job;
  const base =
    id === undefined ? undefined : watch.note('job file', id, () => book.definition('job', id)?.facts.file);
  const uri = base?.uri ?? file.uri;
  const catalog = estimates.catalogFor(uri, watch);
  const shop = watch.note('shop', uri, () => book.shopOf(uri)?.shop);
  if (base) watch.note('value', uri, () => book.file(uri)?.value);
  const job = { opened: LATEST, ...base?.value, ...one.given } as Job;
  const gone = new Set(one['without-records']);
  const made = estimate(
    gone.size === 0 ? job : { ...job, records: job.records?.filter((record) => !gone.has(record.record)) },
    () => [],
    catalog,
    shop ?? { kind: 'shop' },
    estimates.lawOf(shop, watch),
    // A case that is not made from a job of the book has no papers to look at.
    { keeps: without(new Set(one.without), catalog), onPaper: base !== undefined },
  );
  const option =
    one.option === undefined
      ? (made.chosen ?? made.options[0]!)
      : made.options.find((o) => o.id === one.option);
  if (!option) {
    const known = made.options.flatMap((o) => o.id ?? []).join(', ');
    const message = `The job has no option "${one.option}"; it has ${known || 'none'}.`;
    return { mismatches: [mismatch('option', one.option ?? '', known, message, ['option'])], rules: [] };
  }
  return { mismatches: compare(one.expect, made, option), rules: option.work.rules.map((rule) => rule.id) };
}

/** Leaves out the lines of some roles. */
function without(roles: ReadonlySet<string>, catalog: BookCatalog): (line: SaleLine) => boolean {
  return ({ line }) => {
    if (roles.size === 0) return true;
    const role =
      'part' in line
        ? catalog.part(line.part)?.role
        : 'operation' in line
          ? catalog.operation(line.operation)?.role
          : 'role' in line
            ? line.role
            : undefined;
    return role === undefined || !roles.has(role);
  };
}

function compare(expect: Case['expect'], made: JobEstimate, option: OptionEstimate): Mismatch[] {
  const out: Mismatch[] = [];
  const { requirements, withheld } = option.work;
  const problems = problemsFor(made, option);
  const asked = (kinds: readonly Requirement['kind'][], state: Requirement['state']) =>
    requirements.filter((one) => kinds.includes(one.kind) && one.state === state);

  const lists: [keyof Case['expect'], string, readonly (readonly string[])[]][] = [
    ['missing', 'missing work', asked(['requires'], 'missing').map((one) => one.roles)],
    ['forbidden', 'forbidden work', asked(['forbids', 'reuse'], 'broken').map((one) => one.roles)],
    ['advised', 'advised work', asked(['advises'], 'missing').map((one) => one.roles)],
    [
      'records',
      'records asked for',
      requirements
        .filter((one) => one.kind === 'record' && (one.state === 'missing' || one.state === 'broken'))
        .map((one) => [one.record ?? '']),
    ],
    ['withheld', 'withheld warranty plans', withheld.map((one) => [one.plan])],
  ];
  for (const [field, what, actual] of lists) {
    const wanted = expect[field] as string[] | undefined;
    if (wanted && !sameSets(wanted, actual)) {
      out.push(
        mismatch(field, listed(wanted), listed(actual.map((one) => one.join(' or '))), `The ${what} differ.`),
      );
    }
  }
  if (expect.codes) {
    const given = [...new Set(problems.map((one) => one.code))];
    const lacking = expect.codes.filter((code) => !given.includes(code));
    if (lacking.length > 0)
      out.push(mismatch('codes', listed(expect.codes), listed(given), `Not given: ${lacking.join(', ')}.`));
  }
  const loud = problems.filter((one) => one.severity === 'error' || one.severity === 'warning');
  if (expect.verdict === 'clean' && loud.length > 0) {
    out.push(mismatch('verdict', 'clean', told(loud), 'There are warnings or errors.'));
  }
  if (expect.verdict === 'warned' && loud.length === 0)
    out.push(mismatch('verdict', 'warned', 'clean', 'There is no warning.'));
  if (expect['nothing-else']) {
    const others = loud.filter((one) => !isNamed(one, expect));
    if (others.length > 0)
      out.push(mismatch('nothing-else', 'nothing else', told(others), 'There is more than was named.'));
  }
  for (const [field, wanted] of Object.entries(expect.own ?? {})) {
    const facts = option.own.filter((one) => one.field === field);
    if (facts.some((one) => answers(one, wanted))) continue;
    const actual = facts.map((one) => one.typed).join(', ') || 'none';
    out.push(mismatch('own', wanted, actual, `The field ${field} differs.`, ['expect', 'own', field]));
  }
  const figures: [keyof Case['expect'], string, Decimal | undefined][] = [
    ['total', 'total', option.priced.total.value],
    ['tax', 'tax', option.priced.tax.amount.value],
    ['customer', "customer's share", option.priced.shares[0]?.total.value],
  ];
  for (const [field, what, actual] of figures) {
    const wanted = expect[field] as Decimal | undefined;
    if (wanted && !(actual && wanted.eq(actual))) {
      out.push(mismatch(field, wanted.toFixed(2), actual?.toFixed(2) ?? 'none', `The ${what} differs.`));
    }
  }
  return out;
}

/** Problems of the option that is looked at, and of the job as such. */
function problemsFor(made: JobEstimate, option: OptionEstimate): readonly Problem[] {
  return made.problems.filter(
    ({ path }) => path[0] !== 'options' || path[1] === option.id || path.length < 2,
  );
}

function isNamed(problem: Problem, expect: Case['expect']): boolean {
  if (expect.codes?.includes(problem.code)) return true;
  const named = new Set([
    ...(expect.missing ?? []),
    ...(expect.forbidden ?? []),
    ...(expect.advised ?? []),
    ...(expect.records ?? []),
    ...(expect.withheld ?? []),
  ]);
  const { roles, record, plan } = (problem.data ?? {}) as {
    roles?: string[];
    record?: string;
    plan?: string;
  };
  return [...(roles ?? []), record, plan].some((one) => one !== undefined && named.has(one));
}

/** Each wanted id is one of the alternatives of one actual, and nothing is left over. */
function sameSets(wanted: readonly string[], actual: readonly (readonly string[])[]): boolean {
  return (
    wanted.every((id) => actual.some((alternatives) => alternatives.includes(id))) &&
    actual.every((alternatives) => alternatives.some((id) => wanted.includes(id)))
  );
}

function listed(ids: readonly string[]): string {
  return ids.length === 0 ? 'none' : [...ids].sort().join(', ');
}

function told(problems: readonly Problem[]): string {
  return problems.map((one) => `${one.code}: ${one.message}`).join('\n');
}

function mismatch(
  field: string,
  expected: string,
  actual: string,
  message: string,
  path: Path = ['expect', field],
): Mismatch {
  return { path, expected, actual, message };
}
