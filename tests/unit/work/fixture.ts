/** Reads a small shop book from YAML text and checks jobs against it. */
import { parse } from 'yaml';
import type { z } from 'zod';
import { type Job, jobSchema } from '../../../schemas/kinds/job.ts';
import type { Jurisdiction } from '../../../schemas/kinds/jurisdiction.ts';
import { laborSchema } from '../../../schemas/kinds/labor.ts';
import type { Line, TemplateLine } from '../../../schemas/kinds/lines.ts';
import { partsSchema } from '../../../schemas/kinds/parts.ts';
import { rulesSchema } from '../../../schemas/kinds/rules.ts';
import { shopSchema } from '../../../schemas/kinds/shop.ts';
import { unitsSchema } from '../../../schemas/kinds/units.ts';
import type { Problem } from '../../../schemas/problem.ts';
import { dec, ONE } from '../../../schemas/values/decimal.ts';
import {
  type AnalysisCatalog,
  analyse,
  type Catalog,
  check,
  compile,
  type EarlierJob,
  type EntryProblem,
  type Filler,
  fillsOfOperation,
  fillsOfPart,
  type Priced,
  type RuleBook,
  type RuleSet,
  type WorkInput,
  type WorkResult,
  workLine,
} from '../../../server/src/work/index.ts';

export function read<S extends z.ZodType>(schema: S, kind: string, text: string): z.output<S> {
  const parsed = schema.safeParse({ kind, ...(parse(text, { schema: 'failsafe' }) ?? {}) });
  if (parsed.success) return parsed.data;
  throw new Error(parsed.error.issues.map((one) => `${one.path.join('.')}: ${one.message}`).join('\n'));
}

export interface Texts {
  readonly rules?: string;
  readonly units?: string;
  readonly parts?: string;
  readonly labor?: string;
  readonly shop?: string;
}

export interface TestBook {
  readonly book: RuleBook;
  readonly rules: RuleSet;
  readonly catalog: Catalog & AnalysisCatalog;
}

export function bookOf(texts: Texts): TestBook {
  const rules = read(rulesSchema, 'rules', texts.rules ?? '');
  const { units = {} } = read(unitsSchema, 'units', texts.units ?? '');
  const { parts = {} } = read(partsSchema, 'parts', texts.parts ?? '');
  const { operations = {}, cautions = {} } = read(laborSchema, 'labor', texts.labor ?? '');
  const { warranties = {} } = read(shopSchema, 'shop', texts.shop ?? '');
  const entries = { part: (id: string) => parts[id], operation: (id: string) => operations[id] };
  const fits = (entry: { fits?: string[] | undefined }, unit: string) =>
    !entry.fits || entry.fits.includes(unit);
  const fillers = (role: string, unit: string): Filler[] => {
    const found: (Filler & { rank: number })[] = [];
    const add = (kind: Filler['kind'], id: string, fills: ReturnType<typeof fillsOfPart>) => {
      const fill = fills.find((one) => one.role === role);
      if (fill) found.push({ kind, id, rank: fill.how === 'itself' ? 0 : 1 });
    };
    for (const [id, part] of Object.entries(parts))
      if (fits(part, unit)) add('part', id, fillsOfPart(entries, id, ONE));
    for (const [id, operation] of Object.entries(operations)) {
      if (fits(operation, unit)) add('operation', id, fillsOfOperation(entries, id));
    }
    return found.toSorted((a, b) => a.rank - b.rank).map(({ kind, id }) => ({ kind, id }));
  };
  const catalog: TestBook['catalog'] = {
    ...entries,
    unit: (id) => units[id],
    role: (id) => rules.roles?.[id],
    finding: (id) => rules.findings?.[id],
    record: (id) => rules.records?.[id],
    caution: (id) => cautions[id],
    warranty: (id) => warranties[id],
    fillers,
    units: () => Object.entries(units),
    records: () => Object.entries(rules.records ?? {}),
    warranties: () => Object.entries(warranties),
  };
  const book: RuleBook = {
    rules: new Map(Object.entries(rules.rules ?? {})),
    findings: new Map(Object.entries(rules.findings ?? {})),
    replacements: new Map(Object.entries(rules.replacements ?? {})),
  };
  return { book, rules: compile(book), catalog };
}

export interface CheckExtra {
  readonly option?: string;
  readonly law?: Jurisdiction;
  readonly earlier?: EarlierJob;
  readonly labor?: string;
  /** Money by line index: price of one, and core charge. */
  readonly priced?: Readonly<Record<number, Priced>>;
}

/** A job from text; `id` and `opened` are filled in. */
export function jobOf(text: string): Job {
  return read(jobSchema, 'job', `id: J-1\nopened: 2026-03-02\n${text}`);
}

export function checkJob({ rules, catalog }: TestBook, text: string, extra: CheckExtra = {}): WorkResult {
  const job = jobOf(text);
  const id = extra.option ?? Object.keys(job.options ?? {})[0];
  const given = id === undefined ? undefined : job.options?.[id];
  const all = [
    ...(job.lines ?? []).map((line, index) => ({ line, path: ['lines', index] })),
    ...(given?.lines ?? []).map((line, index) => ({ line, path: ['options', id!, 'lines', index] })),
  ];
  const plan = given?.warranty ?? job.warranty;
  const input: WorkInput = {
    job,
    lines: all.map(({ line, path }, index) =>
      workLine(path, line as Exclude<Line, TemplateLine>, catalog, extra.priced?.[index]),
    ),
    option: given && { id: id!, path: ['options', id!], kind: given.kind, name: given.name, say: given.say },
    plan:
      plan === undefined
        ? undefined
        : { id: plan, path: given?.warranty ? ['options', id!, 'warranty'] : ['warranty'] },
    earlier: extra.earlier,
    law: extra.law,
    labor: extra.labor === undefined ? undefined : dec(extra.labor),
    currency: { code: 'USD', locale: 'en-US' },
  };
  return check(input, rules, catalog);
}

/** Roles that are required, recommended or forbidden and not as they must be; records and findings asked for. */
export function openNeeds(result: WorkResult, kind: WorkResult['requirements'][number]['kind']): string[] {
  return result.requirements
    .filter((one) => one.kind === kind && (one.state === 'missing' || one.state === 'broken'))
    .map((one) => one.record ?? one.finding ?? one.roles.join('|'))
    .toSorted();
}

export function codesOf(problems: readonly Problem[]): string[] {
  return problems.map((one) => one.code).toSorted();
}

/** Errors and warnings: what keeps a job from being clean. */
export function loud(result: WorkResult): string[] {
  return result.problems
    .filter((one) => one.severity === 'error' || one.severity === 'warning')
    .map((one) => `${one.code} ${one.path.join('.')}`)
    .toSorted();
}

export function the(problems: readonly Problem[], code: string): Problem {
  const found = problems.filter((one) => one.code === code);
  if (found.length !== 1) {
    throw new Error(
      `${found.length} problems of ${code}, of ${problems.map((one) => `${one.code}: ${one.message}`).join('\n')}`,
    );
  }
  return found[0]!;
}

/** `rule-id code path`. */
export function analysed(texts: Texts): EntryProblem[] {
  const { book, catalog } = bookOf(texts);
  return analyse(book, catalog);
}
