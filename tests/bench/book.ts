/**
 * What a catalog of 100,000 parts costs: opening it to all its problems, and a keystroke in it, beside js-yaml reading
 * the same text to plain values. Run: node --expose-gc tests/bench/book.ts [parts]
 */
import { load } from 'js-yaml';
import { Book } from '../../server/src/book/book.ts';
import { NO_HOST } from '../../server/src/book/host.ts';

const ROOT = 'file:///book/';
const URI = `${ROOT}big.parts.yaml`;
const COUNT = Number(process.argv[2] ?? 100_000);

const ROLES = Array.from({ length: 40 }, (_, i) => `role-${i}`);
const rules = [
  'kind: rules',
  'roles:',
  ...ROLES.map((role) => `  ${role}: { name: Role, of: part }`),
  '',
].join('\n');
const units = [
  'kind: units',
  'units:',
  ...['birch-6', 'alder-4'].map((id) => `  ${id}: { name: Unit, layout: rear, fluid-class: B }`),
  '',
].join('\n');

function catalog(count: number): string {
  const out = ['kind: parts', 'parts:'];
  for (let i = 0; i < count; i++) {
    const cents = String(i % 100).padStart(2, '0');
    out.push(
      `  NP-${String(i).padStart(6, '0')}:`,
      `    name: Part number ${i}`,
      `    kind: ${['soft', 'hard', 'filter'][i % 3]}`,
      `    role: ${ROLES[i % ROLES.length]}`,
      '    fits: [birch-6, alder-4]',
      '    condition: new',
      `    cost: ${(i * 37) % 5000}.${cents}`,
      `    list: ${(i * 53) % 7000}.${cents}`,
    );
  }
  return `${out.join('\n')}\n`;
}

/** Wall-clock time, and processor time of this thread and its collector, in milliseconds. */
function timed<T>(name: string, work: () => T): T {
  const wall = performance.now();
  const cpu = process.cpuUsage();
  const result = work();
  const { user, system } = process.cpuUsage(cpu);
  const spent = (performance.now() - wall).toFixed(0);
  console.log(
    `${name.padEnd(44)}${spent.padStart(7)} ms${((user + system) / 1000).toFixed(0).padStart(8)} ms cpu`,
  );
  return result;
}

function heap(): number {
  globalThis.gc?.();
  return process.memoryUsage().heapUsed / 1e6;
}

const text = catalog(COUNT);
console.log(`${COUNT} parts, ${(text.length / 1e6).toFixed(1)} MB`);
for (let i = 0; i < 2; i++) timed('js-yaml load', () => load(text));

const before = heap();
const book = new Book(ROOT, NO_HOST);
book.put(`${ROOT}roles.rules.yaml`, rules);
book.put(`${ROOT}units.units.yaml`, units);
const { file } = timed('open: text to facts and registry', () => book.put(URI, text));
const told = timed('first problems of the file', () => book.problemsOf(file));
console.log(`${told.length} problems, heap ${(heap() - before).toFixed(0)} MB`);

const middle = file.source.lineOf(file.source.find('parts', `NP-${String(COUNT >> 1).padStart(6, '0')}`)[0]!);
keystrokes('keystroke in a cost', (i) => ({ line: middle + 6, character: 10, text: String(i % 10) }));
keystrokes('keystroke in a role', (i) => ({ line: middle + 3, character: 10, text: 'abc'[i % 3]! }));
keystrokes('keystroke in an id', (i) => ({ line: middle, character: 9, text: String(i % 10) }));
keystrokes('keystroke in a name that is then wrong', (i) => ({
  line: middle + 1,
  character: 4,
  text: 'abc'[i % 3]!,
}));

/** Types a letter and takes it back, again and again, asking for the file's problems each time. */
function keystrokes(
  name: string,
  at: (i: number) => { line: number; character: number; text: string },
): void {
  const times: number[] = [];
  for (let i = 0; i < 400; i++) {
    const { line, character, text: typed } = at(i >> 1);
    const start = { line, character };
    const end = i % 2 === 0 ? start : { line, character: character + 1 };
    const began = performance.now();
    book.edit(URI, [{ range: { start, end }, text: i % 2 === 0 ? typed : '' }]);
    book.problemsOf(file);
    times.push(performance.now() - began);
  }
  times.sort((a, b) => a - b);
  const share = (part: number) => times[Math.floor(times.length * part)]!.toFixed(2);
  console.log(`${name.padEnd(44)} p50 ${share(0.5)} ms, p95 ${share(0.95)} ms, p99 ${share(0.99)} ms`);
}
