import { execFileSync } from 'node:child_process';
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { type Decimal, dec, type Rounding, round } from '../../../schemas/values/decimal.ts';

/*
 * MON-03: the public General Decimal Arithmetic test cases (*.decTest), which come with the test suite of Python
 * (on Debian the package libpython3.11-testsuite). They are read where they are and not kept here.
 */
function vectorFolder(): string | undefined {
  try {
    const script = 'import os, test; print(os.path.join(os.path.dirname(test.__file__), "decimaltestdata"))';
    const folder = execFileSync('python3', ['-c', script], { encoding: 'utf8', stdio: 'pipe' }).trim();
    return existsSync(folder) ? folder : undefined;
  } catch {
    return undefined;
  }
}

const MODES: Readonly<Record<string, Rounding>> = { half_up: 'half-up', up: 'up', down: 'down' };
const OPERATIONS: Readonly<Record<string, (a: Decimal, b: Decimal) => Decimal>> = {
  add: (a, b) => a.plus(b),
  subtract: (a, b) => a.minus(b),
  multiply: (a, b) => a.times(b),
  divide: (a, b) => a.div(b),
};

interface Vector {
  readonly id: string;
  readonly operation: string;
  readonly operands: readonly [string, string];
  readonly result: string;
  readonly rounding: string;
}

function readVectors(text: string): Vector[] {
  const vectors: Vector[] = [];
  let rounding = '';
  for (const line of text.split('\n')) {
    const setting = /^rounding:\s*(\w+)/i.exec(line);
    if (setting) rounding = setting[1]!.toLowerCase();
    const vector = /^(\w+)\s+(\w+)\s+(\S+)\s+(\S+)\s+->\s+(\S+)/.exec(line);
    if (!vector) continue;
    const [, id = '', operation = '', ...rest] = vector;
    const [a = '', b = '', result = ''] = rest.map((word) => word.replaceAll("'", ''));
    vectors.push({ id, operation, operands: [a, b], result, rounding });
  }
  return vectors;
}

/** The power of ten of a number's last digit, or undefined for what is not a finite number. */
function exponentOf(text: string): number | undefined {
  const match = /^[-+]?(?:\d+\.?(\d*)|\.(\d+))(?:e([-+]?\d+))?$/i.exec(text);
  if (!match) return undefined;
  return Number(match[3] ?? 0) - (match[1] ?? match[2] ?? '').length;
}

function isUsable({ operation, operands, result, rounding }: Vector): boolean {
  const exponents = [...operands, result].map(exponentOf);
  if (!exponents.every((one) => one !== undefined && Math.abs(one) < 400)) return false;
  // A quotient carries 40 decimals, so only results that end well before them can be compared.
  const finest = operation === 'divide' ? -30 : -400;
  return rounding in MODES && exponents[2]! <= 0 && exponents[2]! >= finest;
}

const number = (text: string) => dec(text.replace(/^\+/, ''));
const folder = vectorFolder();

describe.skipIf(!folder)(
  'MON-03: General Decimal Arithmetic test cases (skipped without Python test data)',
  () => {
    test.each([
      ['quantize.decTest', 250],
      ['rounding.decTest', 150],
      ['add.decTest', 500],
      ['subtract.decTest', 200],
      ['multiply.decTest', 150],
      ['divide.decTest', 200],
    ])('%s', (file, fewest) => {
      const vectors = readVectors(readFileSync(join(folder!, file), 'utf8')).filter(isUsable);
      const wrong: string[] = [];
      let compared = 0;
      for (const { id, operation, operands, result, rounding } of vectors) {
        const [a, b] = [number(operands[0]), number(operands[1])];
        const exact = operation === 'quantize' ? a : OPERATIONS[operation]?.(a, b);
        if (!exact) continue;
        compared += 1;
        const ours = round(exact, -exponentOf(result)!, MODES[rounding]!);
        if (!ours.eq(number(result))) wrong.push(`${id}: ${ours}, not ${result}`);
      }
      expect(wrong).toEqual([]);
      expect(compared).toBeGreaterThan(fewest);
    });
  },
);
