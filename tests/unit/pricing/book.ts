/** A book, a shop and a sale from text as a shop writes it, read by the real declarations. */
import { parse } from 'yaml';
import { z } from 'zod';
import { jobSchema } from '../../../schemas/kinds/job.ts';
import type { Jurisdiction } from '../../../schemas/kinds/jurisdiction.ts';
import { operation, step } from '../../../schemas/kinds/labor.ts';
import { part } from '../../../schemas/kinds/parts.ts';
import { type Customer, type Shop, shopSchema } from '../../../schemas/kinds/shop.ts';
import { unit } from '../../../schemas/kinds/units.ts';
import { isoDate } from '../../../schemas/values/dates.ts';
import type { Decimal } from '../../../schemas/values/decimal.ts';
import { CODES } from '../../../server/src/pricing/codes.ts';
import type { Catalog, Policy, Priced, PricedLine, Sale } from '../../../server/src/pricing/model.ts';
import { price } from '../../../server/src/pricing/price.ts';

const asTyped = (text: string) => parse(text, { schema: 'failsafe' }) ?? {};

const bookSchema = z.object({
  parts: z.record(z.string(), part).optional(),
  operations: z.record(z.string(), operation).optional(),
  steps: z.record(z.string(), step).optional(),
  units: z.record(z.string(), unit).optional(),
});

export type Book = z.output<typeof bookSchema>;

export function bookOf(text: string): Book {
  return bookSchema.parse(asTyped(text));
}

export function catalogOf(book: Book): Catalog {
  return {
    part: (id) => book.parts?.[id],
    operation: (id) => book.operations?.[id],
    step: (id) => book.steps?.[id],
    unit: (id) => book.units?.[id],
  };
}

export function shopOf(text: string): Shop {
  return shopSchema.parse({ kind: 'shop', ...asTyped(text) });
}

/** A sale from a job's text: its lines, payers, discounts and so on. */
export function saleOf(text: string, more: Partial<Sale> = {}): Sale {
  const { warranty, findings, ...job } = jobSchema.parse({
    kind: 'job',
    id: 'J-1',
    opened: '2026-03-02',
    unit: 'birch-6',
    ...asTyped(text),
  });
  return {
    lines: (job.lines ?? []).flatMap((line, at) =>
      'template' in line ? [] : [{ path: ['lines', at], line }],
    ),
    unit: job.unit,
    vehicle: job.vehicle ?? {},
    findings: new Set(Object.keys(findings ?? {})),
    payers: job.payers,
    discounts: job.discounts,
    deposits: job.deposits,
    cores: job.cores,
    lock: job.lock,
    completed: job.completed,
    warranty,
    ...more,
  };
}

const PAGES = new Set(CODES.map(({ code }) => code));

export interface Scene {
  readonly book?: string;
  readonly shop?: string;
  readonly job: string;
  readonly in?: Jurisdiction;
  readonly on?: string;
  readonly currency?: string;
  /** Id of the shop's customer. */
  readonly customer?: string;
}

export function priced(scene: Scene): Priced {
  const shop = shopOf(scene.shop ?? '');
  const customer: Customer | undefined =
    scene.customer === undefined ? undefined : shop.customers?.[scene.customer];
  const answer = price(
    saleOf(scene.job, { customer }),
    catalogOf(bookOf(scene.book ?? '')),
    policyOf(scene, shop),
  );
  for (const { code } of answer.problems) if (!PAGES.has(code)) throw new Error(`${code} has no page`);
  return answer;
}

export function policyOf(scene: Pick<Scene, 'in' | 'on' | 'currency'>, shop: Shop): Policy {
  return {
    shop,
    jurisdiction: scene.in,
    on: isoDate(scene.on ?? '2026-03-02'),
    currency: scene.currency ?? 'USD',
  };
}

/** Digits with two decimals, to compare with a printed value. */
export const cents = (value: Decimal): string => value.toFixed(2);

export const total = (of: Priced): string => cents(of.total.value);

/** The line of the job at an index, and of a kind when it gives several. */
export function lineAt(of: Priced, index: number, kind?: PricedLine['kind']): PricedLine {
  const found = of.lines.find(
    ({ path, kind: its }) => path[1] === index && (kind === undefined || its === kind),
  );
  if (!found) throw new Error(`No line ${index}`);
  return found;
}

export function lineNamed(of: Priced, name: string): PricedLine {
  const found = of.lines.find((one) => one.name === name);
  if (!found) throw new Error(`No line named ${name}: ${of.lines.map((one) => one.name).join(', ')}`);
  return found;
}

export const codes = (of: Priced): string[] => of.problems.map(({ code }) => code);

/** The message of the only problem with a code. */
export function message(of: Priced, code: string): string {
  const found = of.problems.filter((one) => one.code === code);
  if (found.length !== 1)
    throw new Error(`${found.length} problems ${code}; there are ${codes(of).join(', ') || 'none'}`);
  return found[0]!.message;
}
