import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Discount } from '../../schemas/kinds/shop.ts';
import { minorDigits } from '../../schemas/values/currency.ts';
import { type Decimal, dec, round, sum, ZERO } from '../../schemas/values/decimal.ts';
import { type Amount, explain, given, lineOf } from '../../server/src/pricing/amount.ts';
import { bandPrice } from '../../server/src/pricing/bands.ts';
import type { Priced } from '../../server/src/pricing/model.ts';
import { price } from '../../server/src/pricing/price.ts';
import { catalogOf, type Scene, scene, schedule } from './pricing-scenes.ts';

const RUNS = { numRuns: 250 };
const priceOf = (of: Scene): Priced => price(of.sale, catalogOf(of), of.policy);
const same = (a: Decimal, b: Decimal) => expect(a.toString()).toBe(b.toString());

function check(holds: (priced: Priced, of: Scene) => void): void {
  fc.assert(
    fc.property(scene, (of) => holds(priceOf(of), of)),
    RUNS,
  );
}

describe('whatever is sold', () => {
  test('lines and tax add up to the total, and the tax to its rates and lines', () => {
    check(({ lines, subtotal, tax, total }) => {
      same(subtotal.value, sum(lines.map(({ net }) => net.value)));
      same(tax.amount.value, sum(lines.map((line) => line.tax)));
      if (tax.rows.length > 0) same(tax.amount.value, sum(tax.rows.map(({ amount }) => amount.value)));
      same(total.value, tax.included ? subtotal.value : subtotal.value.plus(tax.amount.value));
      same(tax.taxable.value, sum(lines.map(({ taxable }) => taxable)));
    });
  });

  test('every cent of every line has one owner, and shares add up to the total and the balance', () => {
    check(({ lines, shares, total, balance, paid }) => {
      for (const line of lines) {
        same(line.net.value, sum(line.owners.map(({ net }) => net)));
        same(line.tax, sum(line.owners.map(({ tax }) => tax)));
        expect(new Set(line.owners.map(({ payer }) => payer)).size).toBe(line.owners.length);
      }
      same(total.value, sum(shares.map((share) => share.total.value)));
      same(paid.value, sum(shares.map((share) => share.paid.value)));
      same(balance.value, sum(shares.map((share) => share.balance.value)));
    });
  });

  test('discounts are spread to the cent, and subtotals less what is taken off are the subtotal', () => {
    check(({ lines, discounts, subtotals, subtotal }) => {
      const reductions = lines.flatMap((line) => line.reductions);
      for (const discount of discounts) same(discount.amount.value, sum(discount.spread.values()));
      const off = (kind: string) =>
        sum(reductions.filter((one) => one.kind === kind).map(({ amount }) => amount.value));
      same(off('job-discount'), sum(discounts.map(({ amount }) => amount.value)));
      const before = sum([...subtotals.values()].map(({ value }) => value));
      same(
        subtotal.value,
        before.minus(off('job-discount')).minus(off('payer-terms')).minus(off('tax-not-due')),
      );
    });
  });

  test('nothing is below zero, and money is whole cents', () => {
    check((priced, { policy }) => {
      const places = minorDigits(policy.currency)!;
      for (const line of priced.lines) {
        for (const value of [line.amount.value, line.net.value, line.tax, line.taxable]) {
          expect(value.gte(ZERO), `${line.name} ${value}`).toBe(true);
          same(value, round(value, places));
        }
        expect(line.hours.value.gte(ZERO)).toBe(true);
        expect(line.hoursSold.lte(line.hours.value)).toBe(true);
      }
      for (const share of priced.shares) expect(share.total.value.gte(ZERO)).toBe(true);
      for (const entry of [...priced.cores.customer, ...priced.cores.supplier]) {
        expect(entry.open.gte(ZERO)).toBe(true);
        expect(entry.credit.value.lte(entry.deposit.value)).toBe(true);
        expect(entry.taxBack.value.lte(entry.tax)).toBe(true);
      }
    });
  });

  test('access steps are counted once: no step is carried by two lines', () => {
    check(({ lines }) => {
      const steps = lines.flatMap((line) => line.steps);
      expect(new Set(steps).size).toBe(steps.length);
    });
  });

  test('a discount that the shop bears takes no part below its cost', () => {
    fc.assert(
      fc.property(scene, (of) => {
        const { lines } = priceOf(guarded(of));
        for (const { category, cost, net, reductions } of lines) {
          const discounted = reductions.some(({ kind }) => kind === 'job-discount');
          if ((category !== 'parts' && category !== 'fluids') || !cost || !discounted) continue;
          const others = reductions.filter(({ kind }) => kind === 'payer-terms' || kind === 'tax-not-due');
          const brings = net.value.plus(sum(others.map(({ amount }) => amount.value)));
          expect(brings.gte(cost.value)).toBe(true);
        }
      }),
      RUNS,
    );
  });
});

/** The scene with discounts that the shop bears and that may not go below cost. */
function guarded(of: Scene): Scene {
  const guard = (one: Discount): Discount => ({ ...one, 'funded-by': 'shop', 'below-cost': false });
  const { shop } = of.policy;
  const discounts = Object.fromEntries(Object.entries(shop.discounts!).map(([id, one]) => [id, guard(one)]));
  const onJob = of.sale.discounts?.map((one) => (typeof one === 'object' && 'on' in one ? guard(one) : one));
  return {
    ...of,
    sale: { ...of.sale, discounts: onJob },
    policy: { ...of.policy, shop: { ...shop, discounts } },
  };
}

/** A node's value follows from its children in the way it says. */
function verify(node: Amount, places: number): void {
  const values = node.of.map(({ value }) => value);
  const [first = ZERO, second = ZERO, ...more] = values;
  const where = lineOf(node);
  const is = (value: Decimal) => expect(node.value.toString(), where).toBe(value.toString());
  switch (node.how) {
    case 'sum':
      is(sum(values));
      break;
    case 'difference':
      is([second, ...more].reduce((left, value) => left.minus(value), first));
      break;
    case 'product':
      is(values.reduce((all, value) => all.times(value), dec('1')));
      break;
    case 'quotient':
      is(first.div(second));
      break;
    case 'rounded':
      expect(
        node.value
          .minus(first)
          .abs()
          .times(dec('2'))
          .lte(dec('0.1').pow(Math.min(places, 4))),
        where,
      ).toBe(true);
      break;
    case 'rounded-up':
    case 'ending':
      expect(node.value.gte(first), where).toBe(true);
      break;
    case 'at-least':
      is(second);
      expect(first.lt(second), where).toBe(true);
      break;
    case 'at-most':
      is(second);
      expect(first.gt(second), where).toBe(true);
      break;
    case 'portion':
      expect(node.value.lte(first), where).toBe(true);
      break;
    default:
      break;
  }
  for (const child of node.of) verify(child, places);
}

test('every amount follows from what its tree says, down to the last figure', () => {
  check((priced, { policy }) => {
    const places = minorDigits(policy.currency)!;
    const { inside } = priced;
    const amounts = [
      priced.total,
      priced.balance,
      priced.hoursSold,
      inside.profit,
      inside.profitShare,
      inside.effectiveRate,
      ...priced.lines.flatMap((line) => [line.amount, line.net, line.hours, line.quantity, line.cost]),
      ...priced.shares.map((share) => share.balance),
      ...priced.subtotals.values(),
      ...priced.cores.customer.flatMap((entry) => [entry.credit, entry.taxBack]),
      ...priced.sharedSteps.map(({ saved }) => saved),
    ];
    for (const one of amounts) if (one) verify(one, places);
    expect(explain(priced.total).length).toBeGreaterThan(0);
  });
});

/** The same maps with their keys the other way round; lists keep their order. */
function reversed<T>(value: T): T {
  if (Array.isArray(value)) return value.map(reversed) as T;
  if (typeof value !== 'object' || value === null || Object.getPrototypeOf(value) !== Object.prototype)
    return value;
  return Object.fromEntries(
    Object.entries(value)
      .toReversed()
      .map(([key, inner]) => [key, reversed(inner)]),
  ) as T;
}

function figures(priced: Priced) {
  return {
    lines: priced.lines.map((line) => [line.name, line.net.value.toString(), line.tax.toString()]),
    shares: priced.shares.map((share) => [share.name, share.total.value.toString()]),
    problems: priced.problems.map(({ code, path }) => `${code} ${path.join('.')}`),
    complete: priced.complete,
  };
}

test('the order of keys in maps changes nothing', () => {
  check((priced, of) => {
    expect(figures(priceOf(reversed(of)))).toEqual(figures(priced));
  });
});

test('negative figures, wherever they stand, are never a reason to throw or to go below zero', () => {
  fc.assert(
    fc.property(scene, fc.array(fc.boolean(), { minLength: 7, maxLength: 31 }), (of, signs) => {
      const priced = priceOf(signed(of, signs));
      for (const line of priced.lines) expect(line.net.value.gte(ZERO)).toBe(true);
      for (const share of priced.shares) expect(share.total.value.gte(ZERO)).toBe(true);
      same(priced.total.value, sum(priced.shares.map((share) => share.total.value)));
    }),
    RUNS,
  );
});

/** The scene with some of its decimals negated, as the signs go round; hours and counts are never negative in a file. */
function signed(of: Scene, signs: readonly boolean[]): Scene {
  let at = 0;
  const visit = (value: unknown, key: string): unknown => {
    if (Array.isArray(value)) return value.map((one) => visit(one, key));
    if (typeof value !== 'object' || value === null || key === 'units') return value;
    if ('toFixed' in value) {
      at += 1;
      const count = key === 'hours' || key === 'quantity' || key === 'below' || key === 's1' || key === 's2';
      return signs[at % signs.length] && !count ? dec('-1').times(value as Decimal) : value;
    }
    if (Object.getPrototypeOf(value) !== Object.prototype) return value;
    return Object.fromEntries(Object.entries(value).map(([inner, one]) => [inner, visit(one, inner)]));
  };
  return visit(of, '') as Scene;
}

test('pricing the same sale twice gives the same answer', () => {
  check((priced, of) => {
    expect(figures(priceOf(of))).toEqual(figures(priced));
  });
});

describe('schedules', () => {
  const cost = fc.integer({ min: 0, max: 200_000 }).map((value) => dec(BigInt(value)).div(dec('100')));
  test('graduated: a dearer part never sells for less', () => {
    fc.assert(
      fc.property(schedule, cost, cost, (rule, a, b) => {
        const at = (value: Decimal) => bandPrice({ ...rule, how: 'graduated' }, given('Cost', value))!.value;
        const [low, high] = a.lte(b) ? [a, b] : [b, a];
        expect(at(low).lte(at(high))).toBe(true);
      }),
      RUNS,
    );
  });
  test('whole: inside one band a dearer part never sells for less', () => {
    fc.assert(
      fc.property(schedule, cost, cost, (rule, a, b) => {
        const bandOf = (value: Decimal) => rule.bands.findIndex(({ below }) => !below || value.lt(below));
        fc.pre(bandOf(a) === bandOf(b));
        const at = (value: Decimal) => bandPrice({ ...rule, how: 'whole' }, given('Cost', value))!.value;
        const [low, high] = a.lte(b) ? [a, b] : [b, a];
        expect(at(low).lte(at(high))).toBe(true);
      }),
      RUNS,
    );
  });
});
