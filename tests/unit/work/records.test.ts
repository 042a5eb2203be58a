/** Arithmetic of records, and records that pass, fail or are not finished. */
import { describe, expect, test } from 'vitest';
import { dec } from '../../../schemas/values/decimal.ts';
import { formatQuantity, quantity } from '../../../schemas/values/quantity.ts';
import { fillsFor, residual } from '../../../server/src/work/records/dilution.ts';
import { flushFigures, timeForTurnovers } from '../../../server/src/work/records/flush.ts';
import { checkJob, loud, openNeeds, the } from './fixture.ts';
import { shopBook } from './shop-book.ts';

const record = (fields: string, more = '') =>
  checkJob(shopBook, `unit: birch-6\n${more}\nrecords:\n  - {${fields}}`);

describe('drain and fill: (1 - drained/total)^fills', () => {
  const left = (fills: number) => residual(quantity('4', 'L'), quantity('10', 'L'), fills)?.toString();

  // FLU-01: a worked example of an owners' forum, and the exact figures behind "about 5 %" and "about 8 %".
  test('FLU-01: 4 of 10 liters', () => {
    expect(left(1)).toBe('0.6');
    expect(left(2)).toBe('0.36');
    expect(left(5)).toBe('0.07776');
    expect(left(6)).toBe('0.046656');
  });

  // FLU-03: a page claims "over 98 % of the old fluid out" after four fills and 12 quarts.
  test('FLU-03: four fills take 87 % out, and 98 % takes eight', () => {
    expect(left(4)).toBe('0.1296');
    expect(fillsFor(dec('0.02'), quantity('4', 'L'), quantity('10', 'L'))).toBe(8);
    expect(left(8)).toBe('0.01679616');
  });

  test('FLU-04: 5 % takes six fills; in mixed units as well', () => {
    expect(fillsFor(dec('0.05'), quantity('4', 'L'), quantity('10', 'L'))).toBe(6);
    expect(fillsFor(dec('0.05'), quantity('4', 'qt'), quantity('10', 'qt'))).toBe(6);
    expect(fillsFor(dec('0.36'), quantity('4', 'L'), quantity('10', 'L'))).toBe(2);
  });

  test('what cannot be counted has no figure', () => {
    expect(residual(quantity('11', 'L'), quantity('10', 'L'), 1)).toBeUndefined();
    expect(residual(quantity('1', 'L'), quantity('0', 'L'), 1)).toBeUndefined();
    expect(fillsFor(dec('0.5'), quantity('0', 'L'), quantity('10', 'L'))).toBeUndefined();
    expect(fillsFor(dec('0'), quantity('10', 'L'), quantity('10', 'L'))).toBe(1);
  });

  test('what is just enough passes', () => {
    expect(loud(record('record: fluid-exchange, drained: 9 qt, total: 10 qt, fills: 1'))).toEqual([]);
    expect(loud(record('record: road-test, distance: 8 mi'))).toEqual([]);
  });

  test('a record that leaves too much says how many fills it takes', () => {
    const result = record('record: fluid-exchange, drained: 4 qt, total: 10 qt, fills: 4');
    expect(the(result.problems, 'record-fails').message).toBe(
      'Drain and fill does not pass: residual of 12.96% ((1 - 4 qt / 10 qt)^4) is more than 10%: that takes 5 fills.',
    );
    expect(loud(record('record: fluid-exchange, drained: 4 qt, total: 10 qt, fills: 5'))).toEqual([]);
  });
});

describe('pulsed flush', () => {
  const flush = {
    duration: quantity('20', 'min'),
    forward: quantity('30', 's'),
    reverse: quantity('10', 's'),
    flow: quantity('1.3', 'gal/min'),
  };

  // By hand: 1200 s / 40 s = 30 cycles; 30 x 0.5 min x 1.3 gal/min = 19.5 gal = 78 qt; 78 / 1.6 = 48.75.
  test('cycles, forward volume and turnovers', () => {
    const figures = flushFigures(flush, quantity('1.6', 'qt'))!;
    expect(figures.cycles.amount.toString()).toBe('30');
    expect(formatQuantity(figures.forwardVolume)).toBe('78 qt');
    expect(figures.turnovers?.amount.toString()).toBe('48.75');
  });

  test('units do not matter', () => {
    const other = flushFigures(
      {
        duration: quantity('1200', 's'),
        forward: quantity('0.5', 'min'),
        reverse: quantity('10', 's'),
        flow: quantity('5.2', 'qt/min'),
      },
      quantity('0.4', 'gal'),
    )!;
    expect(other.turnovers?.amount.toString()).toBe('48.75');
    expect(formatQuantity(other.forwardVolume)).toBe('19.5 gal');
  });

  test('how long it takes: 48.75 turnovers are the 20 minutes again', () => {
    expect(timeForTurnovers(flush, quantity('1.6', 'qt'), dec('48.75'))?.amount.toString()).toBe('20');
  });

  test('a cycle without time has no figures; without a capacity there are no turnovers', () => {
    const none = quantity('0', 's');
    expect(flushFigures({ ...flush, forward: none, reverse: none }, undefined)).toBeUndefined();
    expect(flushFigures(flush, undefined)?.turnovers).toBeUndefined();
    expect(timeForTurnovers({ ...flush, forward: none }, quantity('1.6', 'qt'), dec('8'))).toBeUndefined();
  });

  const onJob = (fields: string, unit = 'birch-6') =>
    checkJob(shopBook, `unit: ${unit}\nrecords: [{record: cooler-flush, on: 2026-03-11, by: T, ${fields}}]`);

  test('the record shows its figures with their working', () => {
    const result = onJob(
      'duration: 20 min, forward: 30 s, reverse: 10 s, flow: 1.3 gal/min, fluid-temperature: 150 F',
    );
    expect(loud(result)).toEqual([]);
    expect(
      result.records[0]?.figures.map((one) => `${one.name} ${formatQuantity(one.quantity)} = ${one.working}`),
    ).toEqual([
      'cycles 30 = 20 min / (30 s + 10 s)',
      'forward-volume 78 qt = 30 cycles x 30 s x 1.3 gal/min',
      'turnovers 48.75 = 78 qt / 1.6 qt in cooler and lines',
    ]);
  });

  test('too short, too cold, too little: each is told where it stands', () => {
    const result = onJob(
      'duration: 14 min, forward: 5 s, reverse: 30 s, flow: 0.2 gal/min, fluid-temperature: 120 F',
    );
    const fails = result.problems.filter((one) => one.code === 'record-fails');
    // 840 s x 5 s x 0.8 qt/min / (35 s x 60 s/min) = 1.6 qt: one turnover; eight take 8 x 14 min.
    expect(fails.map((one) => `${one.path.at(-1)}: ${one.message}`)).toEqual([
      '0: Cooler flush does not pass: turnovers of 1 (1.6 qt / 1.6 qt in cooler and lines) is less than 8: at this flow it has to run 112 min.',
      'fluid-temperature: Cooler flush does not pass: fluid temperature of 120 °F is less than 140 °F.',
      'duration: Cooler flush does not pass: duration of 14 min is less than 15 min.',
    ]);
  });

  test('a family without the capacity is named', () => {
    const result = onJob(
      'duration: 20 min, forward: 30 s, reverse: 10 s, flow: 1.3 gal/min, fluid-temperature: 150 F',
      'alder-4',
    );
    expect(the(result.problems, 'record-unfinished').message).toContain(
      'turnovers cannot be counted: Alder-4 has no capacity of cooler and lines',
    );
  });
});

describe('level check', () => {
  const level = (temperature: string) =>
    checkJob(shopBook, `unit: cedar-8\nrecords: [{record: level-check, fluid-temperature: ${temperature}}]`);

  // Scenario 16: level set at 60 C, window of the unit 35 to 45 C.
  test('scenario 16: set at 60 C it is probably underfilled', () => {
    expect(the(level('60 C').problems, 'record-fails').message).toBe(
      'Fluid level does not pass: Fluid temperature at the level check of 60 °C: above the limit, at least 35 °C and at most 45 °C. Set too hot, the unit is probably underfilled: check the level again inside the window.',
    );
  });

  test('set cold it is probably overfilled, inside the window it passes', () => {
    expect(the(level('20 C').problems, 'record-fails').message).toContain('probably overfilled');
    for (const inside of ['35 C', '45 C', '104 F']) expect(loud(level(inside))).toEqual([]);
    expect(loud(level('114 F'))).toEqual(['record-fails records.0.fluid-temperature']); // 45.6 C
  });
});

describe('measurements', () => {
  test('outside its limit after assembly a record fails', () => {
    const result = record('record: assembly-measures, measurements: {end-play: 0.030 in}');
    expect(loud(result)).toEqual(['record-fails records.0.measurements.end-play']);
  });

  test('as found it is a finding, and the record passes', () => {
    const result = record('record: teardown-measures, measurements: {end-play: 0.030 in}');
    expect(loud(result)).toEqual([]);
    expect(result.findings.find((one) => one.id === 'end-play')?.verdict.judged).toBe('beyond');
  });

  test('a measurement that is not there is asked for', () => {
    const result = record('record: assembly-measures, on: 2026-03-11', 'completed: 2026-03-12');
    expect(the(result.problems, 'record-unfinished').message).toBe(
      'Measured after assembly is not finished: Input end play is not filled in.',
    );
  });

  test('one that cannot be read is told in place', () => {
    const result = record('record: assembly-measures, measurements: {end-play: wide}');
    expect(loud(result)).toEqual(['record-fails records.0.measurements.end-play']);
  });
});

describe('programming and road test', () => {
  // Scenario 10 asks for the identity number of unit or part.
  test('the unit number is asked for, and may stand at the job', () => {
    const missing = record('record: programming, calibration-after: A2');
    expect(the(missing.problems, 'record-unfinished').message).toContain('unit number is not filled in');
    expect(record('record: programming, calibration-after: A2', 'unit-number: B6-1').problems).toEqual([]);
  });

  test('a number of another unit is refused', () => {
    const result = record(
      'record: programming, calibration-after: A2, unit-number: B6-2',
      'unit-number: B6-1',
    );
    expect(loud(result)).toEqual(['record-fails records.0.unit-number']);
  });

  test('codes that come back on the road fail it; codes as found do not', () => {
    expect(loud(record('record: road-test, distance: 9 mi, codes: [P0741]'))).toEqual([
      'record-fails records.0.codes',
    ]);
    expect(loud(record('record: road-test, distance: 9 mi, codes: []'))).toEqual([]);
    expect(loud(record('record: road-test, distance: 12 km'))).toEqual(['record-fails records.0.distance']);
    expect(loud(record('record: code-readout, on: 2026-03-02, codes: [P0741]'))).toEqual([]);
  });

  test('what says itself that it failed has failed', () => {
    expect(loud(record('record: external-check, on: 2026-03-02, by: T, result: fail'))).toEqual([
      'record-fails records.0.result',
    ]);
  });
});

describe('when a record is missing', () => {
  const installing = (more: string) =>
    checkJob(shopBook, `unit: birch-6\nlines: [{operation: install-unit}]\n${more}`);
  const severity = (more: string) => the(installing(more).problems, 'missing-record').severity;

  test('on an estimate that nobody agreed to it is a hint', () => {
    expect(openNeeds(installing(''), 'record')).toEqual(['install-check']);
    expect(severity('')).toBe('hint');
  });

  test('what comes before installation presses once the work is authorized', () => {
    expect(severity('authorizations: [{on: 2026-03-03T10:00, by: O, how: signature, amount: 900.00}]')).toBe(
      'warning',
    );
    expect(
      severity(
        'authorizations: [{on: 2026-03-03T10:00, by: O, how: signature, amount: 90.00, for: diagnosis}]',
      ),
    ).toBe('hint');
  });

  test('when the work is done it is a warning, unless it is there', () => {
    const result = installing('completed: 2026-03-12');
    expect(the(result.problems, 'missing-record').path).toEqual(['completed']);
    expect(severity('completed: 2026-03-12')).toBe('warning');
    const there = installing(
      'completed: 2026-03-12\nrecords: [{record: install-check, measurements: {converter-seating: 0.95 in}}]',
    );
    expect(loud(there)).toEqual([]);
  });

  test('a record that does not pass does not count as there', () => {
    const result = installing(
      'records: [{record: install-check, measurements: {converter-seating: 0.85 in}}]',
    );
    expect(openNeeds(result, 'record')).toEqual(['install-check']);
    expect(loud(result)).toEqual(['record-fails records.0.measurements.converter-seating']);
  });
});
