/**
 * Vehicle identification numbers: 17 characters, a check digit in position 9 and the model year in position 10,
 * as 49 CFR 565.15 sets them for vehicles sold in the United States (Canada asks for the same check digit).
 * Elsewhere ISO 3779 leaves both positions to the maker, so what fails there is only pointed out.
 */

/** Where the vehicle was made to be sold. */
export type VinRegion = 'north-america' | 'elsewhere';

export interface VinProblem {
  readonly code:
    | 'vin-length'
    | 'vin-character'
    | 'vin-lower-case'
    | 'vin-check-digit'
    | 'vin-year-code'
    | 'vin-year-differs';
  readonly severity: 'error' | 'warning' | 'hint';
  readonly message: string;
}

export interface VinReport {
  /** Upper-cased, without surrounding blanks. */
  readonly normalized: string;
  readonly problems: readonly VinProblem[];
  /** Undefined when the characters do not allow it to be worked out. */
  readonly checkDigit: { readonly expected: string; readonly actual: string } | undefined;
  /** The model years position 10 can mean: one, two 30 years apart, or none. */
  readonly modelYears: readonly number[];
  readonly northAmerican: boolean;
}

export interface VinContext {
  /** Left out: told by the first characters. */
  readonly region?: VinRegion | undefined;
  /** The model year written beside the VIN. */
  readonly statedYear?: number | undefined;
  /** A passenger car, or another vehicle up to 10,000 lb (4,536 kg): position 7 then tells the 30 years apart. */
  readonly lightVehicle?: boolean | undefined;
}

const LENGTH = 17;
const WEIGHTS = [8, 7, 6, 5, 4, 3, 2, 10, 0, 9, 8, 7, 6, 5, 4, 3, 2];
const LETTERS = 'ABCDEFGHJKLMNPRSTUVWXYZ';
const LETTER_VALUES = '12345678123457923456789';
const YEAR_CODES = 'ABCDEFGHJKLMNPRSTVWXY123456789';
const FIRST_YEAR = 1980;
/** Model year from which a VIN has 17 characters (49 CFR 565; from memory). */
const FIRST_YEAR_OF_17 = 1981;
const LOOKALIKES: Readonly<Record<string, string>> = {
  I: 'the digit 1',
  O: 'the digit 0',
  Q: 'the digit 0 or 9',
};

const PERMITTED = /^[A-HJ-NPR-Z\d]$/;

/** How a check digit comes about: the value of each character times its weight, summed, modulo 11 (10 is `X`). */
export interface CheckDigitSteps {
  readonly products: readonly number[];
  readonly sum: number;
  readonly remainder: number;
  readonly digit: string;
}

/** The steps for a VIN of 17 permitted capitals and digits, or undefined for anything else. */
export function explainCheckDigit(vin: string): CheckDigitSteps | undefined {
  const characters = [...vin];
  if (characters.length !== LENGTH || !characters.every((one) => PERMITTED.test(one))) return undefined;
  const products = characters.map((one, index) => characterValue(one) * WEIGHTS[index]!);
  const sum = products.reduce((total, product) => total + product, 0);
  const remainder = sum % 11;
  return { products, sum, remainder, digit: remainder === 10 ? 'X' : String(remainder) };
}

function characterValue(character: string): number {
  const letter = LETTERS.indexOf(character);
  return Number(letter < 0 ? character : LETTER_VALUES[letter]);
}

/** Model years position 10 can mean, the earlier first. With `lightVehicle`, position 7 decides: a digit before 2010, a letter from then on. */
function yearsOf(vin: string, lightVehicle: boolean): number[] {
  const index = YEAR_CODES.indexOf(vin[9] ?? ' ');
  if (index < 0) return [];
  const years = [FIRST_YEAR + index, FIRST_YEAR + YEAR_CODES.length + index];
  if (!lightVehicle) return years;
  return /\d/.test(vin[6]!) ? years.slice(0, 1) : years.slice(1);
}

/** The model year of a vehicle made for North America, when the VIN settles it. */
export function modelYearOf(vin: string, lightVehicle = true): number | undefined {
  const years = yearsOf(vin.trim().toUpperCase(), lightVehicle);
  return years.length === 1 ? years[0] : undefined;
}

/** First characters given out in North America: 1 to 5 (ISO 3779), and 7 with a letter from F on (both from memory). */
function isNorthAmerican(vin: string): boolean {
  return /^(?:[1-5]|7[F-Z\d])/.test(vin);
}

/** Everything there is to say about a VIN as typed. */
export function checkVin(text: string, context: VinContext = {}): VinReport {
  const typed = text.trim();
  const vin = typed.toUpperCase();
  const { region, statedYear, lightVehicle = true } = context;
  const northAmerican = region ? region === 'north-america' : isNorthAmerican(vin);
  const problems = formProblems(typed, vin, statedYear);

  const steps = explainCheckDigit(vin);
  if (!steps) return { normalized: vin, problems, checkDigit: undefined, modelYears: [], northAmerican };

  const checkDigit = { expected: steps.digit, actual: vin[8]! };
  const modelYears = yearsOf(vin, northAmerican && lightVehicle);
  if (checkDigit.actual !== checkDigit.expected) problems.push(wrongCheckDigit(checkDigit, northAmerican));
  if (modelYears.length === 0) problems.push(unusedYearCode(vin, northAmerican));
  else if (statedYear !== undefined && !modelYears.includes(statedYear)) {
    problems.push(differentYear(vin, modelYears, statedYear, northAmerican));
  }
  return { normalized: vin, problems, checkDigit, modelYears, northAmerican };
}

function formProblems(typed: string, vin: string, statedYear: number | undefined): VinProblem[] {
  const problems: VinProblem[] = [];
  if (typed !== vin) {
    problems.push({
      code: 'vin-lower-case',
      severity: 'hint',
      message: `A VIN is written in capitals: ${vin}.`,
    });
  }
  const old = statedYear !== undefined && statedYear < FIRST_YEAR_OF_17;
  const severity = old ? 'hint' : 'error';
  const characters = [...vin];
  if (characters.length !== LENGTH) {
    const count = `${characters.length} ${characters.length === 1 ? 'character' : 'characters'}`;
    const message = old
      ? `This number has ${count}. VINs of 17 came with model year ${FIRST_YEAR_OF_17}; check it against the vehicle.`
      : `This VIN has ${count}; a VIN has 17. Read it again from the vehicle.`;
    problems.push({ code: 'vin-length', severity, message });
  }
  for (const character of new Set(characters)) {
    if (PERMITTED.test(character)) continue;
    const message = badCharacter(character, characters.indexOf(character) + 1);
    problems.push({ code: 'vin-character', severity, message });
  }
  return problems;
}

function badCharacter(character: string, position: number): string {
  const meant = LOOKALIKES[character];
  if (meant) return `A VIN has no letter ${character} (position ${position}). Is it ${meant}?`;
  const shown = character === ' ' ? 'A blank' : `"${character}"`;
  return `${shown} cannot stand in a VIN (position ${position}): it has only capitals and digits.`;
}

function wrongCheckDigit(digit: { expected: string; actual: string }, northAmerican: boolean): VinProblem {
  const found = `The check digit (position 9) is ${digit.actual}, but the other characters give ${digit.expected}`;
  return northAmerican
    ? {
        code: 'vin-check-digit',
        severity: 'error',
        message: `${found}: at least one character is wrong. Read the VIN again from the vehicle.`,
      }
    : {
        code: 'vin-check-digit',
        severity: 'hint',
        message: `${found}. Only vehicles made for North America must agree; check that this one was not.`,
      };
}

function unusedYearCode(vin: string, northAmerican: boolean): VinProblem {
  const found = `${vin[9]} in position 10 stands for no model year`;
  return northAmerican
    ? {
        code: 'vin-year-code',
        severity: 'error',
        message: `${found}: I, O, Q, U, Z and 0 are not used there. Read the VIN again from the vehicle.`,
      }
    : {
        code: 'vin-year-code',
        severity: 'hint',
        message: `${found}; makers outside North America may use the position otherwise.`,
      };
}

function differentYear(
  vin: string,
  modelYears: readonly number[],
  statedYear: number,
  northAmerican: boolean,
): VinProblem {
  return {
    code: 'vin-year-differs',
    severity: northAmerican ? 'warning' : 'hint',
    message: `The VIN says model year ${modelYears.join(' or ')} (position 10 is ${vin[9]}), but ${statedYear} is written here. Check both against the vehicle.`,
  };
}
