/** Figures of records and limits of consent, whatever the numbers. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { dec, ONE } from '../../schemas/values/decimal.ts';
import { quantity } from '../../schemas/values/quantity.ts';
import { limitOver, needsConsent } from '../../server/src/work/index.ts';
import { fillsFor, residual } from '../../server/src/work/records/dilution.ts';
import { flushFigures, timeForTurnovers } from '../../server/src/work/records/flush.ts';

const tenths = (min: number, max: number) =>
  fc.integer({ min, max }).map((n) => dec(BigInt(n)).div(dec('10')));
const cents = (max: number) => fc.integer({ min: 0, max }).map((n) => dec(BigInt(n)).div(dec('100')));

describe('drain and fill', () => {
  const share = fc.tuple(fc.integer({ min: 1, max: 99 }), fc.integer({ min: 100, max: 200 }));

  test('each fill leaves less, and the number of fills is the least that does', () => {
    fc.assert(
      fc.property(share, fc.integer({ min: 1, max: 99 }), ([drained, total], percent) => {
        const [v, whole] = [quantity(`${drained}`, 'qt'), quantity(`${total}`, 'qt')];
        const wanted = dec(BigInt(percent)).div(dec('100'));
        const fills = fillsFor(wanted, v, whole);
        if (fills === undefined) return;
        expect(residual(v, whole, fills)!.lte(wanted)).toBe(true);
        if (fills > 0) expect(residual(v, whole, fills - 1)!.gt(wanted)).toBe(true);
        expect(residual(v, whole, fills + 1)!.lt(residual(v, whole, fills)!)).toBe(true);
      }),
      { numRuns: 200 },
    );
  });
});

describe('pulsed flush', () => {
  test('the time for so many turnovers gives so many turnovers', () => {
    fc.assert(
      fc.property(
        tenths(1, 600),
        tenths(0, 600),
        tenths(1, 100),
        tenths(1, 100),
        tenths(1, 500),
        (forward, reverse, flow, circuit, wanted) => {
          const flush = {
            duration: quantity('1', 'min'),
            forward: quantity(forward, 's'),
            reverse: quantity(reverse, 's'),
            flow: quantity(flow, 'gal/min'),
          };
          const capacity = quantity(circuit, 'qt');
          const duration = timeForTurnovers(flush, capacity, wanted)!;
          const { turnovers } = flushFigures({ ...flush, duration }, capacity)!;
          expect(turnovers!.amount.minus(wanted).abs().lt(dec('0.000000000000000000000001'))).toBe(true);
        },
      ),
      { numRuns: 200 },
    );
  });
});

describe('limit over an estimate', () => {
  const rule = fc.record(
    {
      percent: fc.integer({ min: 0, max: 30 }).map((n) => dec(BigInt(n)).div(dec('100'))),
      amount: cents(10_000),
      cap: cents(10_000),
      pick: fc.constantFrom('larger' as const, 'smaller' as const),
    },
    { requiredKeys: [] },
  );

  test('never below the estimate, never beyond the cap, and sharp to the cent', () => {
    fc.assert(
      fc.property(rule, cents(1_000_000), (law, estimate) => {
        const { most, excess } = limitOver(law, estimate, true);
        expect(most!.gte(estimate)).toBe(true);
        if (law.cap) expect(excess.lte(law.cap)).toBe(true);
        expect(needsConsent(law, estimate, most!)).toBe(false);
        expect(needsConsent(law, estimate, most!.plus(ONE.div(dec('100'))))).toBe(true);
      }),
    );
  });

  test('the larger of two is never less than the smaller', () => {
    fc.assert(
      fc.property(rule, cents(1_000_000), (law, estimate) => {
        const larger = limitOver({ ...law, pick: 'larger' }, estimate, true).excess;
        const smaller = limitOver({ ...law, pick: 'smaller' }, estimate, true).excess;
        expect(larger.gte(smaller)).toBe(true);
      }),
    );
  });
});
