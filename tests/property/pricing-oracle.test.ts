/**
 * Whole sales against an independent computation: decimal.js and whole cents, written from the trade's description
 * (steps once, bands, line discount, discounts spread by largest remainder, supplies on what is left, fee, tax by
 * invoice or line, a payer with hours, rate, parts limit and deductible) and not from the code under test.
 */
import { Decimal as Exact } from 'decimal.js';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { Jurisdiction } from '../../schemas/kinds/jurisdiction.ts';
import type { Shop } from '../../schemas/kinds/shop.ts';
import { isoDate } from '../../schemas/values/dates.ts';
import { dec } from '../../schemas/values/decimal.ts';
import type { Catalog, JobLine, Sale } from '../../server/src/pricing/model.ts';
import { price } from '../../server/src/pricing/price.ts';

const X = Exact.clone({ precision: 80, rounding: Exact.ROUND_HALF_UP });
type X = Exact;

/** Everything in whole cents, hundredths of an hour, basis points, thousandths of a percent. */
interface Plain {
  readonly rates: readonly [number, number];
  readonly steps: readonly number[];
  readonly operations: readonly { rate: 0 | 1; hours: number; steps: readonly number[] }[];
  readonly edges: readonly number[];
  readonly factors: readonly number[];
  readonly graduated: boolean;
  readonly parts: readonly { cost: number; core: number; fluid: boolean }[];
  readonly lines: readonly (
    | { readonly part: number; readonly quantity: number; readonly discount: number }
    | { readonly operation: number; readonly discount: number }
  )[];
  readonly discounts: readonly {
    percent?: number;
    amount?: number;
    on: readonly ('parts' | 'labor' | 'fluids')[];
  }[];
  readonly supplies: { rate: number; on: readonly ('parts' | 'labor' | 'fluids')[]; most: number };
  readonly fee: number;
  readonly taxes: readonly number[];
  readonly taxed: readonly ('parts' | 'labor' | 'fluids' | 'supplies' | 'fees' | 'cores')[];
  readonly byLine: boolean;
  readonly payer: { hours: number; rate: number; parts: number; deductible: number };
}

const categories = ['parts', 'labor', 'fluids'] as const;
const plain: fc.Arbitrary<Plain> = fc.record({
  rates: fc.tuple(fc.integer({ min: 1, max: 30_000 }), fc.integer({ min: 1, max: 30_000 })),
  steps: fc.array(fc.integer({ min: 0, max: 900 }), { minLength: 3, maxLength: 3 }),
  operations: fc.array(
    fc.record({
      rate: fc.constantFrom(0 as const, 1 as const),
      hours: fc.integer({ min: 1, max: 1500 }),
      steps: fc.subarray([0, 1, 2]),
    }),
    { minLength: 3, maxLength: 3 },
  ),
  edges: fc
    .uniqueArray(fc.integer({ min: 1, max: 100_000 }), { minLength: 2, maxLength: 2 })
    .map((all) => all.toSorted((a, b) => a - b)),
  factors: fc.array(fc.integer({ min: 100, max: 400 }), { minLength: 3, maxLength: 3 }),
  graduated: fc.boolean(),
  parts: fc.array(
    fc.record({
      cost: fc.integer({ min: 0, max: 150_000 }),
      core: fc.constantFrom(0, 0, 700, 12_000),
      fluid: fc.boolean(),
    }),
    { minLength: 3, maxLength: 3 },
  ),
  lines: fc.array(
    fc.oneof(
      fc.record({
        part: fc.integer({ min: 0, max: 2 }),
        quantity: fc.integer({ min: 1, max: 13 }),
        discount: fc.constantFrom(0, 0, 5, 12),
      }),
      fc.record({ operation: fc.integer({ min: 0, max: 2 }), discount: fc.constantFrom(0, 0, 5) }),
    ),
    { minLength: 1, maxLength: 10 },
  ),
  discounts: fc.array(
    fc.oneof(
      fc.record({
        percent: fc.integer({ min: 1, max: 40 }),
        on: fc.subarray([...categories], { minLength: 1 }),
      }),
      fc.record({
        amount: fc.integer({ min: 1, max: 50_000 }),
        on: fc.subarray([...categories], { minLength: 1 }),
      }),
    ),
    { maxLength: 2 },
  ),
  supplies: fc.record({
    rate: fc.integer({ min: 1, max: 15 }),
    on: fc.subarray([...categories], { minLength: 1 }),
    most: fc.integer({ min: 100, max: 20_000 }),
  }),
  fee: fc.integer({ min: 0, max: 5000 }),
  taxes: fc.array(fc.integer({ min: 1, max: 9999 }), { minLength: 1, maxLength: 2 }),
  taxed: fc.subarray(['parts', 'labor', 'fluids', 'supplies', 'fees', 'cores'] as const),
  byLine: fc.boolean(),
  payer: fc.record({
    hours: fc.integer({ min: 0, max: 3000 }),
    rate: fc.integer({ min: 1, max: 20_000 }),
    parts: fc.integer({ min: 0, max: 300_000 }),
    deductible: fc.integer({ min: 0, max: 30_000 }),
  }),
});

// --- the computation from outside, in whole cents ---

const cent = (value: X): bigint => BigInt(value.toDecimalPlaces(0, Exact.ROUND_HALF_UP).toFixed(0));
const big = (value: bigint | number): X => new X(value.toString());

const lesser = (a: bigint, b: bigint): bigint => (a < b ? a : b);

function largestRemainder(total: bigint, weights: readonly bigint[]): bigint[] {
  const whole = weights.reduce((a, b) => a + b, 0n);
  if (whole === 0n) return weights.map(() => 0n);
  const parts = weights.map((weight, at) => ({
    at,
    units: (total * weight) / whole,
    rest: (total * weight) % whole,
  }));
  let left = total - parts.reduce((all, one) => all + one.units, 0n);
  for (const one of [...parts].sort((a, b) => (a.rest === b.rest ? a.at - b.at : a.rest > b.rest ? -1 : 1))) {
    if (left === 0n) break;
    one.units += 1n;
    left -= 1n;
  }
  return parts.map(({ units }) => units);
}

function banded({ edges, factors, graduated }: Plain, cost: number): bigint {
  const bounds = [0, ...edges, Number.POSITIVE_INFINITY];
  let exact = new X(0);
  for (let at = 0; at < factors.length; at += 1) {
    const [low, high] = [bounds[at]!, bounds[at + 1]!];
    const factor = new X(factors[at]!).div(100);
    if (graduated && cost > low) exact = exact.plus(new X(Math.min(cost, high) - low).times(factor));
    if (!graduated && cost >= low && cost < high) exact = new X(cost).times(factor);
  }
  return cent(exact);
}

interface Row {
  category: 'parts' | 'labor' | 'fluids' | 'supplies' | 'fees' | 'cores';
  net: bigint;
  hours: number;
}

function fromOutside(sale: Plain): { total: bigint; tax: bigint; payer: bigint; customer: bigint } {
  const rows: Row[] = [];
  const done = new Set<number>();
  for (const line of sale.lines) {
    if ('part' in line) {
      const { cost, core, fluid } = sale.parts[line.part]!;
      const gross = banded(sale, cost) * BigInt(line.quantity);
      const off = cent(big(gross).times(line.discount).div(100));
      rows.push({ category: fluid ? 'fluids' : 'parts', net: gross - off, hours: 0 });
      if (core > 0) rows.push({ category: 'cores', net: BigInt(core * line.quantity), hours: 0 });
      continue;
    }
    const operation = sale.operations[line.operation]!;
    let hours = operation.hours;
    for (const step of operation.steps) {
      if (done.has(step)) continue;
      done.add(step);
      hours += sale.steps[step]!;
    }
    const gross = cent(new X(hours).div(100).times(sale.rates[operation.rate]));
    rows.push({ category: 'labor', net: gross - cent(big(gross).times(line.discount).div(100)), hours });
  }

  for (const { percent, amount, on } of sale.discounts) {
    const hit = rows.filter((row) => (on as readonly string[]).includes(row.category) && row.net > 0n);
    const base = hit.reduce((all, row) => all + row.net, 0n);
    const wanted = percent === undefined ? BigInt(amount!) : cent(big(base).times(percent).div(100));
    const given = lesser(wanted, base);
    largestRemainder(
      given,
      hit.map((row) => row.net),
    ).forEach((share, at) => {
      hit[at]!.net -= share;
    });
  }

  const base = rows.filter((row) => (sale.supplies.on as readonly string[]).includes(row.category));
  const exact = big(base.reduce((all, row) => all + row.net, 0n))
    .times(sale.supplies.rate)
    .div(100);
  const supplies = cent(X.min(exact.toDecimalPlaces(0), sale.supplies.most));
  rows.push(
    { category: 'supplies', net: supplies, hours: 0 },
    { category: 'fees', net: BigInt(sale.fee), hours: 0 },
  );

  // The payer: labor by hours and rate, parts up to a limit.
  const labor = rows.filter((row) => row.category === 'labor' && row.net > 0n);
  const parts = rows.filter((row) => row.category === 'parts' && row.net > 0n);
  const laborNet = labor.reduce((all, row) => all + row.net, 0n);
  const partsNet = parts.reduce((all, row) => all + row.net, 0n);
  const hours = labor.reduce((all, row) => all + row.hours, 0);
  const allowed = cent(new X(Math.min(hours, sale.payer.hours)).div(100).times(sale.payer.rate));
  const paidLabor = lesser(allowed, laborNet);
  const paidParts = lesser(BigInt(sale.payer.parts), partsNet);
  const paid = new Map<Row, bigint>();
  const split = (of: readonly Row[], sum: bigint) =>
    largestRemainder(
      sum,
      of.map((row) => row.net),
    ).forEach((share, at) => {
      paid.set(of[at]!, share);
    });
  split(labor, paidLabor);
  split(parts, paidParts);

  const isTaxed = (row: Row) => (sale.taxed as readonly string[]).includes(row.category);
  const rate = sale.taxes.reduce((all, one) => all.plus(new X(one).div(100_000)), new X(0));
  const taxable = rows.filter(isTaxed);
  let tax = 0n;
  let payerTax = 0n;
  if (sale.byLine) {
    for (const row of taxable) {
      const one = cent(big(row.net).times(rate));
      const share = paid.get(row) ?? 0n;
      tax += one;
      payerTax += largestRemainder(one, [row.net - share, share])[1]!;
    }
  } else {
    const payers = taxable.reduce((all, row) => all + (paid.get(row) ?? 0n), 0n);
    const all = taxable.reduce((sum, row) => sum + row.net, 0n);
    tax = cent(big(all).times(rate));
    payerTax = largestRemainder(tax, [all - payers, payers])[1]!;
  }
  const gross = paidLabor + paidParts + payerTax;
  const deductible = lesser(BigInt(sale.payer.deductible), gross);
  const total = rows.reduce((all, row) => all + row.net, 0n) + tax;
  return { total, tax, payer: gross - deductible, customer: total - gross + deductible };
}

// --- the same sale for the code under test ---

const hundredth = (value: number) => dec(BigInt(value)).div(dec('100'));

function asSale(raw: Plain): { sale: Sale; catalog: Catalog; shop: Shop; jurisdiction: Jurisdiction } {
  const lines = raw.lines.map((line): JobLine => {
    const discount = hundredth(line.discount);
    if ('part' in line) return { part: `p${line.part}`, quantity: dec(BigInt(line.quantity)), discount };
    return { operation: `o${line.operation}`, discount };
  });
  const shop: Shop = {
    kind: 'shop',
    jurisdiction: 'j',
    rates: {
      r0: { name: 'R0', hourly: hundredth(raw.rates[0]) },
      r1: { name: 'R1', hourly: hundredth(raw.rates[1]) },
    },
    schedules: {
      std: {
        how: raw.graduated ? 'graduated' : 'whole',
        bands: raw.factors.map((factor, at) => ({
          factor: hundredth(factor),
          ...(raw.edges[at] === undefined ? {} : { below: hundredth(raw.edges[at]) }),
        })),
      },
    },
    pricing: { parts: 'std' },
    supplies: {
      rate: hundredth(raw.supplies.rate),
      on: [...raw.supplies.on],
      maximum: hundredth(raw.supplies.most),
    },
    fees: { f: { name: 'Fee', amount: hundredth(raw.fee), automatic: true } },
    tax: { rounding: raw.byLine ? 'line' : 'invoice' },
    payers: {
      p: {
        name: 'Payer',
        kind: 'contract',
        covers: ['labor', 'parts'],
        hours: hundredth(raw.payer.hours),
        rate: hundredth(raw.payer.rate),
        'parts-limit': hundredth(raw.payer.parts),
        deductible: hundredth(raw.payer.deductible),
      },
    },
  };
  const jurisdiction: Jurisdiction = {
    kind: 'jurisdiction',
    id: 'j',
    name: 'J',
    'as-of': isoDate('2026-01-01'),
    taxes: raw.taxes.map((rate, at) => ({ name: `T${at}`, rate: dec(BigInt(rate)).div(dec('100000')) })),
    taxable: Object.fromEntries(
      ['parts', 'labor', 'fluids', 'supplies', 'fees', 'cores'].map((one) => [
        one,
        (raw.taxed as readonly string[]).includes(one) ? ('yes' as const) : ('no' as const),
      ]),
    ),
  };
  const sale: Sale = {
    lines: lines.map((line, at) => ({ path: ['lines', at], line })),
    payers: [{ payer: 'p' }],
    discounts: raw.discounts.map(({ percent, amount, on }) => ({
      name: 'Discount',
      on: [...on],
      'below-cost': true,
      ...(percent === undefined ? {} : { percent: hundredth(percent) }),
      ...(amount === undefined ? {} : { amount: hundredth(amount) }),
    })),
  };
  const catalog: Catalog = {
    part: (id) => {
      const found = raw.parts[Number(id.slice(1))];
      return (
        found && {
          name: id,
          kind: found.fluid ? 'fluid' : 'hard',
          cost: hundredth(found.cost),
          ...(found.core > 0 ? { core: hundredth(found.core) } : {}),
        }
      );
    },
    operation: (id) => {
      const found = raw.operations[Number(id.slice(1))];
      return (
        found && {
          name: id,
          work: 'bench',
          rate: `r${found.rate}`,
          hours: hundredth(found.hours),
          steps: found.steps.map((step) => `s${step}`),
        }
      );
    },
    step: (id) => ({ name: id, hours: hundredth(raw.steps[Number(id.slice(1))]!) }),
    unit: () => undefined,
  };
  return { sale, catalog, shop, jurisdiction };
}

test('total, tax and shares are those of an independent computation', () => {
  fc.assert(
    fc.property(plain, (raw) => {
      const { sale, catalog, shop, jurisdiction } = asSale(raw);
      const priced = price(sale, catalog, { shop, jurisdiction, on: isoDate('2026-03-02'), currency: 'USD' });
      const outside = fromOutside(raw);
      const inCents = (value: { times(by: ReturnType<typeof dec>): { toString(): string } }) =>
        BigInt(value.times(dec('100')).toString());
      expect({
        total: inCents(priced.total.value),
        tax: inCents(priced.tax.amount.value),
        customer: inCents(priced.shares[0]!.total.value),
        payer: inCents(priced.shares[1]!.total.value),
      }).toEqual(outside);
      expect(priced.complete).toBe(true);
    }),
    { numRuns: 1500 },
  );
});
