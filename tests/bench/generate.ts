/**
 * A shop book of any size: the demo book, and beside it a catalog, rules and jobs made from a seed. The same size and
 * seed give the same book. All that is made is invented.
 */
import {
  cpSync,
  createWriteStream,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
} from 'node:fs';
import { writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import { load } from 'js-yaml';

export interface Size {
  readonly parts: number;
  readonly jobs: number;
  /** With those of the demo book. */
  readonly rules: number;
  readonly seed: number;
}

const SAMPLE = join(import.meta.dirname, '../../samples/quarrow-creek');
const UNITS = ['alder-4', 'birch-6', 'cedar-8', 'dogwood-v', 'elm-6h'];
const SOFT = ['gasket-set', 'seal-set', 'filter', 'pan-gasket', 'front-seal', 'friction-set', 'steel-set'];
const HARD = [
  'pump',
  'planet-carrier',
  'sun-gear',
  'drum',
  'case',
  'valve-body',
  'bushing-set',
  'bearing-set',
];
const OPERATIONS = [
  'rr-unit',
  'overhaul',
  'replace-valve-body',
  'fit-radiator',
  'fit-cooler-lines',
  'flush-cooler',
  'test-flow',
  'diagnose-full',
  'test-pressure',
  'test-glycol',
  'check-driveline',
  'fit-mount',
  'fit-connector',
  'drive-test',
  'align-wheels',
];
const FINDINGS = [
  'gear-slip',
  'coolant-in-fluid',
  'plates-worn',
  'bushing-worn',
  'pan-leaks',
  'external-leak',
];

/** The one large catalog of the book. */
export const CATALOG = 'parts/great.parts.yaml';
/** A part that every job names, and that some kits hold. */
export const COMMON_PART = 'GR-000010';

export function jobName(i: number): string {
  return `jobs/years/${2016 + (i % 10)}/K-${String(i).padStart(5, '0')}.job.yaml`;
}

/** Numbers from 0 up to the bound (Numerical Recipes' linear congruence, taken from its upper bits). */
function dice(seed: number): (bound: number) => number {
  let state = seed >>> 0;
  return (bound) => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return Math.floor((state / 0x1_0000_0000) * bound);
  };
}

function numberOf(i: number): string {
  return `GR-${String(i).padStart(6, '0')}`;
}

export function* catalogText({ parts, seed }: Size): Generator<string> {
  const roll = dice(seed);
  const pick = <T>(from: readonly T[]) => from[roll(from.length)]!;
  yield '# Made for measuring; nothing in it is real.\nkind: parts\ndemo: yes\nsupplier: northfen\n\nparts:\n';
  for (let i = 0; i < parts; i++) {
    const soft = roll(3) > 0;
    const unit = pick(UNITS);
    const cost = `${1 + roll(soft ? 200 : 900)}.${String(roll(100)).padStart(2, '0')}`;
    const out: string[] = [];
    if (i % 50 === 0) out.push('', `  # ---- sheet ${i / 50}`);
    out.push(`  ${numberOf(i)}:${i % 20 === 0 ? `   # bin ${roll(90)}` : ''}`);
    const name = `${soft ? 'Soft' : 'Hard'} part ${i}, ${unit}`;
    out.push(
      `    name: ${i % 7 === 0 ? JSON.stringify(`${name}; "late"`) : i % 11 === 0 ? `'${name}'` : name}`,
    );
    const kit = i % 97 === 13 && i > 20;
    out.push(`    kind: ${kit ? 'kit' : soft ? 'soft' : 'hard'}`);
    // A few name a role that is not there, as lists from outside do.
    if (!kit) out.push(`    role: ${i % 5003 === 17 ? 'gasket-sett' : pick(soft ? SOFT : HARD)}`);
    out.push(roll(4) === 0 ? `    fits: [${unit}, birch-6]` : `    fits: [${unit}]`);
    out.push('    condition: new');
    if (i % 23 === 5)
      out.push(
        '    prices:',
        `      - { from: 2024-01-01, until: 2024-12-31, cost: ${cost} }`,
        `      - { from: 2025-01-01, cost: ${cost} }`,
      );
    else out.push(`    cost: ${i % 9001 === 29 ? 'twelve' : cost}`);
    if (roll(2) === 0) out.push(`    list: ${400 + roll(900)}.00`);
    if (i % 31 === 0 && i > 0 && i % 62 !== 0)
      out.push(`    superseded-by: { part: ${numberOf(i - 1)} }`, '    status: discontinued');
    if (kit)
      out.push(
        '    contents:',
        `      - { part: ${i % 2 === 0 ? COMMON_PART : numberOf(i - 3)}, quantity: 2 }`,
        `      - { part: ${numberOf(i - 1)} }`,
      );
    if (i % 13 === 0) out.push('    brand: Northfen', '    lead-days: 3');
    yield `${out.join('\n')}\n`;
  }
}

export function rulesText(count: number, seed: number): string {
  const roll = dice(seed + 1);
  const rules = Array.from({ length: Math.max(count, 0) }, (_, i) => {
    const [role, finding] = [[...SOFT, ...HARD][roll(15)]!, FINDINGS[roll(FINDINGS.length)]!];
    return [
      `  made-${i}:`,
      `    when: { all: [{ finding: ${finding} }, { unit: [${UNITS[i % UNITS.length]}] }, { role: overhaul }] }`,
      `    requires: [{ role: ${role} }]`,
      `    because: Practice ${i} of this shop.`,
      '    say: It is renewed while the unit is open.',
      '    basis: practice',
    ].join('\n');
  });
  return `kind: rules\ndemo: yes\n\nrules:\n${rules.join('\n\n')}\n`;
}

/** A job of 25 lines: 8 operations and 17 parts. */
export function jobText(i: number, { parts, seed }: Size): string {
  const roll = dice(seed + 1000 + i);
  const pick = <T>(from: readonly T[]) => from[roll(from.length)]!;
  const month = String(1 + roll(12)).padStart(2, '0');
  const day = String(1 + roll(28)).padStart(2, '0');
  const on = `${2016 + (i % 10)}-${month}-${day}`;
  const out = [
    `# Job ${i}; made for measuring.`,
    'kind: job',
    'demo: yes',
    `id: K-${String(i).padStart(5, '0')}`,
    `opened: ${on}`,
    'customer: oakes-w',
    `vehicle: { year: ${2008 + roll(8)}, make: Torvane, model: Drover, drive: ${pick(['rwd', '4wd'])}, odometer: ${40 + roll(99)}000 mi }`,
    'unit: birch-6',
    'complaint: It slips on the hill, and "takes a long time" to go into drive.',
    'findings:',
    `  ${pick(FINDINGS)}: yes`,
    '  pan-debris: paste',
    'lines:',
  ];
  const first = roll(OPERATIONS.length);
  for (let n = 0; n < 8; n++) out.push(`  - operation: ${OPERATIONS[(first + n) % OPERATIONS.length]}`);
  for (let n = 0; n < 17; n++) {
    const number = n === 0 ? COMMON_PART : numberOf(roll(parts));
    out.push(`  - part: ${number}${n % 6 === 5 ? '   # on the shelf' : ''}`);
    if (n % 5 === 0) out.push(`    quantity: ${1 + roll(3)}`);
    if (n % 8 === 3) out.push('    say: Worn, and renewed while the unit is open.');
  }
  return `${out.join('\n')}\n`;
}

/** Writes the book into a folder of its own below the system's temporary folder. */
export async function writeBook(size: Size): Promise<{ folder: string; remove: () => void }> {
  const folder = mkdtempSync(join(tmpdir(), 'gearquill-bench-'));
  cpSync(SAMPLE, folder, { recursive: true });
  await pipeline(Readable.from(catalogText(size)), createWriteStream(join(folder, CATALOG)));
  const there = rulesIn(folder);
  await writeFile(join(folder, 'rules/made.rules.yaml'), rulesText(size.rules - there, size.seed));
  for (let year = 2016; year < 2026; year++)
    mkdirSync(join(folder, `jobs/years/${year}`), { recursive: true });
  for (let i = 0; i < size.jobs; i++) await writeFile(join(folder, jobName(i)), jobText(i, size));
  return { folder, remove: () => rmSync(folder, { recursive: true, force: true }) };
}

function rulesIn(folder: string): number {
  return readdirSync(join(folder, 'rules')).reduce((sum, name) => {
    const file = load(readFileSync(join(folder, 'rules', name), 'utf8')) as { rules?: object };
    return sum + Object.keys(file.rules ?? {}).length;
  }, 0);
}
