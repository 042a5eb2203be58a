import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { dec, ONE, round } from '../../../schemas/values/decimal.ts';
import {
  compareQuantity,
  convert,
  formatQuantity,
  parseQuantity,
  quantity,
} from '../../../schemas/values/quantity.ts';
import {
  type Dimension,
  findUnit,
  parseUnit,
  UNITS,
  unitById,
  unitsOf,
} from '../../../schemas/values/units.ts';
import { messageIn, valueIn } from './expect-parsed.ts';

const inUnit = (amount: string, from: string, to: string) =>
  convert(quantity(amount, from), unitById(to)).amount;

const amounts = fc.bigInt({ min: -(10n ** 9n), max: 10n ** 9n }).map((n) => dec(n).div(dec('1000')));
const units = fc.constantFrom(...UNITS);

/*
 * Factors: NIST SP 811 appendix B and NIST Handbook 44 appendix C (definitions, from memory), equal to what GNU units
 * 2.22 prints (computed).
 */
describe('conversion', () => {
  test.each([
    ['UNIT-01', '1', 'qt', 'L', '0.946352946'],
    ['UNIT-02', '1', 'gal', 'L', '3.785411784'],
    ['UNIT-03', '1', 'pt', 'L', '0.473176473'],
    ['UNIT-04', '1', 'fl oz', 'mL', '29.5735295625'],
    ['UNIT-04', '32', 'fl oz', 'mL', '946.352946'],
    ['UNIT-05', '1', 'tbsp', 'mL', '14.78676478125'],
    ['UNIT-09', '1', 'mi', 'km', '1.609344'],
    ['UNIT-10', '1', 'in', 'mm', '25.4'],
    ['UNIT-11', '1', 'lb', 'kg', '0.45359237'],
    ['UNIT-12', '212', 'F', 'C', '100'],
    ['UNIT-12', '185', 'F', 'C', '85'],
    ['UNIT-12', '-40', 'F', 'C', '-40'],
    ['UNIT-12', '100', 'C', 'F', '212'],
  ])('%s: %s %s is exactly, in %s, %s', (_row, amount, from, to, expected) => {
    expect(inUnit(amount, from, to).toString()).toBe(expected);
  });

  test.each([
    ['UNIT-06', '1', 'psi', 'kPa', 14, '6.89475729316836'],
    ['UNIT-06', '1', 'psi', 'kPa', 6, '6.894757'],
    ['UNIT-07', '1', 'lb-ft', 'N·m', 13, '1.3558179483314'],
    ['UNIT-07', '1', 'lb-ft', 'N·m', 6, '1.355818'],
    ['UNIT-12', '200', 'F', 'C', 6, '93.333333'],
    // Ford manuals, 2007 and 2010: 185-200 F printed as 85-93 C.
    ['UNIT-13', '185', 'F', 'C', 0, '85'],
    ['UNIT-13', '200', 'F', 'C', 0, '93'],
    // GM/Holden service manual: 345 kPa printed as 50 psi, 620 kPa as 90 psi.
    ['UNIT-14', '345', 'kPa', 'psi', 0, '50'],
    ['UNIT-14', '620', 'kPa', 'psi', 0, '90'],
    ['UNIT-14', '345', 'kPa', 'psi', 2, '50.04'],
    ['UNIT-14', '620', 'kPa', 'psi', 2, '89.92'],
    // 49 CFR 565: 4,536 kg given for 10,000 lb.
    ['UNIT-15', '10000', 'lb', 'kg', 0, '4536'],
    ['UNIT-15', '10000', 'lb', 'kg', 2, '4535.92'],
    // Mitsubishi TSB-99-23-011: a quart in 20 seconds. GM 2003 flow table: 0.6 and 1.8 gpm.
    ['FLOW-01', '3', 'qt/min', 'gal/min', 2, '0.75'],
    ['FLOW-01', '3', 'qt/min', 'L/min', 3, '2.839'],
    ['FLOW-05', '0.6', 'gal/min', 'L/min', 3, '2.271'],
    ['FLOW-05', '1.8', 'gal/min', 'L/min', 3, '6.814'],
  ])('%s: %s %s in %s, to %i decimals, is %s', (_row, amount, from, to, places, expected) => {
    expect(round(inUnit(amount, from, to), places).toFixed(places)).toBe(expected);
  });

  // A maker prints one fill as 5.4 L = 5.7 US qt = 4.7 imperial qt (it cuts 4.751 short instead of rounding it).
  test('a US quart is not an imperial quart', () => {
    expect(round(inUnit('5.4', 'L', 'qt'), 1).toString()).toBe('5.7');
    expect(round(inUnit('5.4', 'L', 'imp qt'), 1, 'down').toString()).toBe('4.7');
  });

  // Inch of mercury, conventional: 3.386389 kPa (NIST SP 811 appendix B, from memory).
  test('units defined by others follow from their definitions', () => {
    expect(round(inUnit('1', 'in-Hg', 'kPa'), 6).toString()).toBe('3.386389');
    expect(inUnit('12', 'in', 'ft').toString()).toBe('1');
    expect(inUnit('1000', 'thou', 'in').toString()).toBe('1');
    expect(inUnit('12', 'lb-in', 'lb-ft').toString()).toBe('1');
    expect(inUnit('1', 'imp gal', 'L').toString()).toBe('4.54609');
    expect(inUnit('1', 'imp gal', 'imp qt').toString()).toBe('4');
    expect(inUnit('1', 'imp gal', 'imp pt').toString()).toBe('8');
    expect(inUnit('1', 'gal', 'qt').toString()).toBe('4');
    expect(inUnit('1', 'qt', 'cc').toString()).toBe('946.352946');
    expect(inUnit('1', 'lb', 'oz').toString()).toBe('16');
    expect(inUnit('1', 'bar', 'MPa').toString()).toBe('0.1');
    expect(inUnit('10', 'kgf/cm²', 'bar').toString()).toBe('9.80665');
    expect(inUnit('1', 'kgf·m', 'N·m').toString()).toBe('9.80665');
    expect(inUnit('1', 'imp gal/min', 'mL/min').toString()).toBe('4546.09');
    expect(inUnit('1', 'imp gal', 'imp fl oz').toString()).toBe('160');
    expect(inUnit('1', 'gal', 'fl oz').toString()).toBe('128');
    expect(inUnit('60', 'qt/min', 'qt/s').toString()).toBe('1');
    expect(inUnit('1', 'd', 'min').toString()).toBe('1440');
    expect(inUnit('0.05', '%', 'ppm').toString()).toBe('500');
  });

  test('UNIT-16: there and back again is the same to 1e-12', () => {
    fc.assert(
      fc.property(amounts, units, fc.nat(), (amount, unit, pick) => {
        const others = unitsOf(unit.dimension);
        const there = convert({ amount, unit }, others[pick % others.length]!);
        const back = convert(there, unit);
        expect(back.amount.minus(amount).abs().lt(dec('0.000000000001'))).toBe(true);
      }),
    );
  });

  test('UNIT-16: every fill from 0.1 L to 20 L, in quarts and back', () => {
    for (let tenths = 1n; tenths <= 200n; tenths += 1n) {
      const liters = quantity(dec(tenths).div(dec('10')), 'L');
      const back = convert(convert(liters, unitById('qt')), liters.unit);
      expect(round(back.amount, 30).eq(liters.amount)).toBe(true);
    }
  });

  test('across dimensions it is a mistake in the code', () => {
    expect(() => convert(quantity('1', 'psi'), unitById('F'))).toThrow(RangeError);
    expect(() => compareQuantity(quantity('1', 'in'), quantity('1', 'mi'))).toThrow(RangeError);
  });
});

describe('comparison', () => {
  test('is exact across units', () => {
    expect(compareQuantity(quantity('1', 'in'), quantity('25.4', 'mm'))).toBe(0);
    expect(compareQuantity(quantity('32', 'F'), quantity('0', 'C'))).toBe(0);
    expect(compareQuantity(quantity('200', 'F'), quantity('93.3333333333333333', 'C'))).toBe(1);
    expect(compareQuantity(quantity('5', 'qt'), quantity('5', 'L'))).toBe(-1);
  });

  test('agrees with comparing after conversion', () => {
    fc.assert(
      fc.property(amounts, amounts, units, fc.nat(), (a, b, unit, pick) => {
        const others = unitsOf(unit.dimension);
        const [x, y] = [
          { amount: a, unit },
          { amount: b, unit: others[pick % others.length]! },
        ];
        const gap = round(a.minus(convert(y, unit).amount), 20);
        expect(compareQuantity(x, y)).toBe(gap.cmp(dec('0')));
      }),
    );
  });
});

describe('reading a quantity', () => {
  test.each<[string, Dimension, string]>([
    ['3 qt', 'volume', '3 qt'],
    ['3qt', 'volume', '3 qt'],
    ['5 1/2 quarts', 'volume', '5.5 qt'],
    ['4.7 imp. qt', 'volume', '4.7 imp qt'],
    ['32 fl. oz.', 'volume', '32 fl oz'],
    ['500 ml', 'volume', '500 mL'],
    ['190 F', 'temperature', '190 °F'],
    ['190°F', 'temperature', '190 °F'],
    ['-10 deg C', 'temperature', '-10 °C'],
    ['0.018 in', 'length', '0.018 in'],
    ['.018"', 'length', '0.018 in'],
    ['1/2 in', 'length', '0.5 in'],
    ['18 thou', 'length', '18 thou'],
    ['60 psi', 'pressure', '60 psi'],
    ['20 in-Hg', 'pressure', '20 inHg'],
    ['20 inHg', 'pressure', '20 inHg'],
    ['5 gal/min', 'flow', '5 gal/min'],
    ['5 gpm', 'flow', '5 gal/min'],
    ['3 h', 'time', '3 h'],
    ['45 min', 'time', '45 min'],
    ['90 ft-lb', 'torque', '90 lb·ft'],
    ['90 lb ft', 'torque', '90 lb·ft'],
    ['30 N·m', 'torque', '30 N·m'],
    ['30 N m', 'torque', '30 N·m'],
    ['84,310 mi', 'distance', '84310 mi'],
    ['500 mg/kg', 'concentration', '500 mg/kg'],
    ['3%', 'concentration', '3%'],
    ['650 RPM', 'rotation', '650 rpm'],
    ['90 deg', 'angle', '90°'],
    ['15 ohms', 'resistance', '15 Ω'],
    ['4', 'count', '4'],
    ['4 cycles', 'count', '4'],
  ])('%s as %s prints %s', (typed, dimension, printed) => {
    expect(formatQuantity(valueIn(parseQuantity(typed, dimension)))).toBe(printed);
  });

  test.each<[string, Dimension, string]>([
    ['190 psi', 'temperature', '190 psi is a pressure; a temperature is needed, such as 190 F.'],
    ['32 oz', 'volume', '32 oz is a mass; a volume is needed, such as 32 fl oz.'],
    ['90 lb', 'torque', '90 lb is a mass; a torque is needed, such as 90 lb-ft.'],
    ['20 in', 'pressure', '20 in is a length; a pressure is needed, such as 20 in-Hg.'],
    ['5 in', 'distance', '5 in is a length; a distance is needed, such as 5 mi.'],
    ['4 psi', 'count', '4 psi is a pressure; a count is needed, such as 4.'],
    ['3', 'volume', '3 of what? Write the unit too: qt, L, gal or pt, such as 3 qt.'],
    ['qt', 'volume', 'The amount is missing before qt. Write 3 qt, for example.'],
    ['3 quats', 'volume', '"quats" is not a unit known here. Did you mean "quarts"?'],
    ['3 blorb', 'volume', '"blorb" is not a unit of volume. Write qt, L, gal or pt.'],
    ['fast', 'time', '"fast" is not a time. Write an amount with its unit, such as 45 min.'],
    ['', 'time', '"" is not a time. Write an amount with its unit, such as 45 min.'],
  ])('%j as %s: %s', (typed, dimension, message) => {
    expect(messageIn(parseQuantity(typed, dimension))).toBe(message);
  });

  test.each<[string, Dimension, string]>([
    ['5,5 qt', 'volume', 'write 5.5'],
    ['1e3 psi', 'pressure', 'all its digits'],
    ['−10 C', 'temperature', '-10'],
    ['1/3 in', 'length', 'as a decimal'],
    ['1/0 in', 'length', 'as a decimal'],
  ])('%s as %s is refused for its number', (typed, dimension, part) => {
    expect(messageIn(parseQuantity(typed, dimension))).toContain(part);
  });

  test('what it prints it reads back', () => {
    fc.assert(
      fc.property(amounts, units, (amount, unit) => {
        const back = valueIn(parseQuantity(formatQuantity({ amount, unit }), unit.dimension));
        expect([back.unit.id, back.amount.toString()]).toEqual([unit.id, amount.toString()]);
      }),
    );
  });

  test('printing rounds half-up to the decimals asked for, and pads', () => {
    expect(formatQuantity(quantity('93.35', 'C'), 1)).toBe('93.4 °C');
    expect(formatQuantity(quantity('5', 'qt'), 2)).toBe('5.00 qt');
    expect(formatQuantity(quantity('-0.3', 'C'), 0)).toBe('0 °C');
  });
});

describe('the table of units', () => {
  test('no two units answer to one name', () => {
    for (const unit of UNITS) {
      for (const name of [unit.id, unit.symbol, ...unit.aliases]) {
        if (name !== '') expect(findUnit(name)?.id, name).toBe(unit.id);
      }
    }
  });

  test('ids and codes are not given twice', () => {
    const codes = UNITS.flatMap((unit) => unit.code ?? []);
    expect(new Set(codes).size).toBe(codes.length);
    expect(new Set(UNITS.map((unit) => unit.id)).size).toBe(UNITS.length);
  });

  test('each dimension has a base unit', () => {
    for (const { dimension } of UNITS) {
      expect(unitsOf(dimension).some((unit) => unit.times.eq(ONE) && unit.over.eq(ONE))).toBe(true);
    }
  });

  test('reading a unit alone', () => {
    expect(valueIn(parseUnit('quarts')).id).toBe('qt');
    expect(valueIn(parseUnit('gpm', 'flow')).id).toBe('gal/min');
    expect(messageIn(parseUnit('psi', 'temperature'))).toBe(
      '"psi" measures a pressure; a unit of temperature is needed, such as F.',
    );
    expect(messageIn(parseUnit('blorb', 'flow'))).toContain('Write gal/min, qt/min, L/min');
    expect(messageIn(parseUnit('blorb'))).toBe('"blorb" is not a unit known here.');
  });
});
