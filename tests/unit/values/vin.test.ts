import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { checkVin, explainCheckDigit, modelYearOf } from '../../../schemas/values/vin.ts';

const findings = (...args: Parameters<typeof checkVin>) =>
  checkVin(...args).problems.map(({ code, severity }) => `${severity} ${code}`);

const CHARACTERS = 'ABCDEFGHJKLMNPRSTUVWXYZ0123456789';
const vins = fc
  .array(fc.constantFrom(...CHARACTERS), { minLength: 17, maxLength: 17 })
  .map((characters) => characters.join(''));

/** The VIN with the check digit its other characters give. */
function withCheckDigit(vin: string): string {
  return vin.slice(0, 8) + explainCheckDigit(vin)!.digit + vin.slice(9);
}

describe('the check digit', () => {
  test.each([
    // 49 CFR 565.15(c), sample calculation.
    ['VIN-01', '1G4AH59H45G118341', 411, 4, '4'],
    // NHTSA, "Outline for New Manufacturer Information", check-digit example.
    ['VIN-02', '1J9RP1A36A1644345', 314, 6, '6'],
    // Widely published example.
    ['VIN-03', '1M8GDM9AXKP042788', 351, 10, 'X'],
    // Encyclopedia: seventeen ones.
    ['VIN-04', '11111111111111111', 89, 1, '1'],
  ])('%s: %s adds up to %i, remainder %i, check digit %s', (_row, vin, sum, remainder, digit) => {
    expect(explainCheckDigit(vin)).toMatchObject({ sum, remainder, digit });
    expect(checkVin(vin).checkDigit).toEqual({ expected: digit, actual: digit });
    expect(findings(vin)).toEqual([]);
  });

  test.each([
    ['VIN-05', '1J9RP1A36A1644345', [8, 7, 54, 45, 28, 3, 2, 30, 0, 9, 8, 42, 24, 20, 12, 12, 10]],
    ['VIN-06', '1M8GDM9AXKP042788', [8, 28, 48, 35, 16, 12, 18, 10, 0, 18, 56, 0, 24, 10, 28, 24, 16]],
  ])('%s: the partial products of %s', (_row, vin, products) => {
    expect(explainCheckDigit(vin)?.products).toEqual(products);
  });

  test.each([
    // Public test suites.
    ['VIN-08', '1HGCM82633A004353', '3', '5'],
    // Remainder 10 is X, never 0.
    ['VIN-15', '1M8GDM9A0KP042788', '0', 'X'],
  ])('%s: %s has %s where %s belongs', (_row, vin, actual, expected) => {
    expect(checkVin(vin).checkDigit).toEqual({ expected, actual });
    expect(findings(vin)).toEqual(['error vin-check-digit']);
  });

  // Encyclopedia: these do not pass the North American check. That ISO 3779 leaves the position free: from memory.
  test.each([
    ['VIN-10', 'WP0ZZZ99ZTS392124', 'Z', '8'],
    ['VIN-11', 'KLATF08Y1VB363636', '1', '4'],
  ])('%s: %s fails it, which is only pointed out', (_row, vin, actual, expected) => {
    expect(checkVin(vin)).toMatchObject({ northAmerican: false, checkDigit: { expected, actual } });
    expect(findings(vin)).toEqual(['hint vin-check-digit']);
    expect(findings(vin, { region: 'north-america' })[0]).toBe('error vin-check-digit');
  });

  // VIN-21: NHTSA prints decimal remainders, 7/11 as .634 (it is .636). Only the whole remainder is used.
  test('VIN-21: each remainder from 0 to 10 has its digit', () => {
    const seen = new Map<number, string>();
    for (let serial = 0; serial < 200; serial += 1) {
      const steps = explainCheckDigit(`1G4AH59H45G${String(118341 + serial)}`)!;
      seen.set(steps.remainder, steps.digit);
    }
    expect([...seen].toSorted(([a], [b]) => a - b).map(([, digit]) => digit)).toEqual([...'0123456789X']);
  });

  test('the encyclopedia is wrong about one VIN: its S counts 2, so X belongs there', () => {
    expect(explainCheckDigit('SGZCZ43D13S812715')).toMatchObject({ sum: 384, digit: 'X' });
  });

  test('one digit misread is always noticed', () => {
    fc.assert(
      fc.property(vins, fc.nat(16), fc.integer({ min: 1, max: 9 }), (vin, position, step) => {
        const good = withCheckDigit(vin);
        const character = good[position]!;
        fc.pre(/\d/.test(character) && position !== 8);
        const misread =
          good.slice(0, position) + ((Number(character) + step) % 10) + good.slice(position + 1);
        const { expected, actual } = checkVin(misread).checkDigit!;
        expect(expected).not.toBe(actual);
      }),
    );
  });
});

describe('the form', () => {
  test('VIN-12: the letters I, O and Q are not used (49 CFR 565.15)', () => {
    const { problems, checkDigit } = checkVin('1M8GDM9AIKP042788');
    expect(problems).toEqual([
      {
        code: 'vin-character',
        severity: 'error',
        message: 'A VIN has no letter I (position 9). Is it the digit 1?',
      },
    ]);
    expect(checkDigit).toBeUndefined();
    expect(findings('1M8GDM9AXKPO42788')).toEqual(['error vin-character']);
    expect(findings('1M8GDM9AXKPQ42788')).toEqual(['error vin-character']);
  });

  test('VIN-13: 17 characters, no fewer and no more (49 CFR 565)', () => {
    expect(findings('1M8GDM9AXKP04278')).toEqual(['error vin-length']);
    expect(findings('1M8GDM9AXKP0427888')).toEqual(['error vin-length']);
    expect(checkVin('1M8GDM9AXKP04278').problems[0]?.message).toContain('has 16 characters; a VIN has 17');
  });

  test('a vehicle older than 1981 has another number', () => {
    expect(findings('2L47O9Y123456', { statedYear: 1969 })).toEqual([
      'hint vin-length',
      'hint vin-character',
    ]);
  });

  test('VIN-14: small letters are read as capitals, with a hint', () => {
    expect(findings('1m8gdm9axkp042788')).toEqual(['hint vin-lower-case']);
    expect(checkVin(' 1m8gdm9axkp042788 ').normalized).toBe('1M8GDM9AXKP042788');
  });

  test('anything else is named once, with its place', () => {
    expect(checkVin('1M8-GDM9A-KP04278').problems.map(({ message }) => message)).toEqual([
      '"-" cannot stand in a VIN (position 4): it has only capitals and digits.',
    ]);
    expect(findings('')).toEqual(['error vin-length']);
  });
});

describe('the model year', () => {
  // Codes of position 10: autocalculator.org/VIN/VIN-Year-CODE.aspx and two other tables alike.
  test('its code runs from A for 1980 to 9 for 2009 and over again', () => {
    const codes = [...'ABCDEFGHJKLMNPRSTVWXY123456789'];
    const years = codes.map(
      (code) => checkVin(`11111111${code}${code}1111111`, { lightVehicle: false }).modelYears,
    );
    expect(years).toEqual(codes.map((_, index) => [1980 + index, 2010 + index]));
  });

  test.each(['U', 'Z', '0'])('VIN-19: %s in position 10 stands for no year', (code) => {
    const vin = withCheckDigit(`1M8GDM9AX${code}P042788`);
    expect(findings(vin)).toEqual(['error vin-year-code']);
    expect(checkVin(vin).modelYears).toEqual([]);
    expect(findings(`W${vin.slice(1)}`)).toContain('hint vin-year-code');
  });

  // VIN-20: 49 CFR 565.15(b) has position 7 of light vehicles alphabetic, where 565.25(b) had it numeric.
  test.each([
    ['VIN-01', '1G4AH59H45G118341', 2005],
    ['VIN-02', '1J9RP1A36A1644345', 2010],
    ['VIN-17', '5UXWX7C57F0K32463', 2015],
    ['VIN-20', 'KM8K2CAB4PU001140', 2023],
  ])('%s, VIN-20: position 7 settles the year of %s, %i', (_row, vin, year) => {
    expect(modelYearOf(vin)).toBe(year);
    expect(checkVin(vin, { region: 'north-america' })).toMatchObject({ modelYears: [year], problems: [] });
    expect(modelYearOf(vin, false)).toBeUndefined();
  });

  test('a stated year that differs is a warning, and both years are named', () => {
    const report = checkVin('5UXWX7C57F0K32463', { statedYear: 2014 });
    expect(report.problems).toEqual([
      {
        code: 'vin-year-differs',
        severity: 'warning',
        message:
          'The VIN says model year 2015 (position 10 is F), but 2014 is written here. Check both against the vehicle.',
      },
    ]);
    expect(findings('5UXWX7C57F0K32463', { statedYear: 2015 })).toEqual([]);
    expect(findings('5UXWX7C57F0K32463', { statedYear: 1985 })).toEqual(['warning vin-year-differs']);
  });

  test('a heavy truck, or one from elsewhere, may be of either year', () => {
    expect(findings('5UXWX7C57F0K32463', { statedYear: 1985, lightVehicle: false })).toEqual([]);
    expect(findings('KM8K2CAB4PU001140', { statedYear: 1993 })).toEqual([]);
    expect(findings('KM8K2CAB4PU001140', { statedYear: 2020 })).toEqual(['hint vin-year-differs']);
  });
});

test('any 17 characters of the alphabet are judged without failing', () => {
  fc.assert(
    fc.property(fc.string({ maxLength: 40 }), vins, (anything, vin) => {
      checkVin(anything);
      const codes = checkVin(withCheckDigit(vin)).problems.map(({ code }) => code);
      expect(codes).not.toContain('vin-check-digit');
    }),
  );
});
