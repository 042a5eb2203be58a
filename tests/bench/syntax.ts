/**
 * What reading a large catalog costs, beside js-yaml reading the same text to plain values in the same run.
 * Run: node --expose-gc tests/bench/syntax.ts [entries]
 * Times are wall clock and processor time (the latter holds on a busy machine), each the least of three rounds after
 * one to warm up; memory is what stays after a collection.
 */
import { load } from 'js-yaml';
import { readFast } from '../../server/src/syntax/fast.ts';
import { SourceFile } from '../../server/src/syntax/file.ts';
import { readPiece } from '../../server/src/syntax/read.ts';

const KEYS = new Set(['parts']);
const LARGE = Number(process.argv[2] ?? 100_000);

function catalog(entries: number): string {
  const lines = ['kind: parts', 'parts:'];
  for (let i = 0; i < entries; i++)
    lines.push(
      `  GQ-${String(i).padStart(6, '0')}:`,
      `    name: Gasket ${i}, pan side, with bolts`,
      '    kind: soft',
      '    role: pan-gasket',
      '    fits: [birch-6, alder-4]',
      `    cost: ${i % 900}.10`,
      `    list: ${i % 900}.50`,
      `    supplier: north-${i % 7}`,
      `    note: "Torque in order, see sheet ${i}; keep dry and clean"`,
    );
  // Through bytes, so that the text is one flat string as it is when read from a file.
  return Buffer.from(`${lines.join('\n')}\n`).toString();
}

interface Cost {
  readonly wall: number;
  readonly cpu: number;
}

function cost(work: () => unknown): Cost {
  const start = process.cpuUsage();
  const wall = performance.now();
  work();
  const spent = process.cpuUsage(start);
  return { wall: performance.now() - wall, cpu: (spent.user + spent.system) / 1000 };
}

function least(work: () => unknown): Cost {
  cost(work);
  const rounds = [cost(work), cost(work), cost(work)];
  return { wall: Math.min(...rounds.map((r) => r.wall)), cpu: Math.min(...rounds.map((r) => r.cpu)) };
}

function show(what: string, { wall, cpu }: Cost): void {
  console.log(`${what.padEnd(44)}${wall.toFixed(0).padStart(8)} ms${cpu.toFixed(0).padStart(8)} ms cpu`);
}

/** Megabytes in use, texts outside the heap included. */
async function memory(): Promise<number> {
  await new Promise((resolve) => setTimeout(resolve));
  globalThis.gc?.();
  const { heapUsed, external } = process.memoryUsage();
  return (heapUsed + external) / 1e6;
}

function readAll(file: SourceFile): number {
  let read = 0;
  for (const piece of file.pieces()) if (readPiece(piece.text).problems.length === 0) read++;
  return read;
}

function keystrokes(file: SourceFile, entries: number): void {
  const spent: Record<string, number[]> = { edit: [], 'edit, read the piece, problems of the file': [] };
  let seed = 1;
  for (let i = 0; i < 4000; i++) {
    seed = (Math.imul(seed, 1_103_515_245) + 12_345) & 0x7fffffff;
    const line = 2 + 9 * (seed % entries) + 5;
    const at = { line, character: '    cost: '.length };
    const start = performance.now();
    file = file.edit([{ range: { start: at, end: at }, text: '7' }]);
    const edited = performance.now();
    const place = file.offsetOf(at);
    if (place.piece.read().problems.length + file.problems.length > 0) throw new Error('not sound');
    const done = performance.now();
    if (i < 500) continue;
    spent.edit!.push(edited - start);
    spent['edit, read the piece, problems of the file']!.push(done - start);
  }
  for (const [what, times] of Object.entries(spent)) {
    times.sort((a, b) => a - b);
    const at = (part: number) => `${(times[Math.floor(times.length * part)]! * 1000).toFixed(0)} µs`;
    console.log(`${String(entries).padStart(8)} entries: ${what.padEnd(44)} p50 ${at(0.5)}, p95 ${at(0.95)}`);
  }
}

const open = (source: string) => SourceFile.open('file:///bench.yaml', source, KEYS);
{
  const before = await memory();
  const kept = open(catalog(LARGE));
  console.log(
    `memory kept by an open file: ${((await memory()) - before).toFixed(0)} MB (${kept.size} pieces)`,
  );
}
const text = catalog(LARGE);
console.log(`${LARGE} entries, ${(text.length / 1e6).toFixed(1)} MB`);
const file = open(text);
if ([...file.pieces()].some((piece) => !readFast(piece.text))) throw new Error('not all read fast');

const split = least(() => open(text));
const read = least(() => readAll(file));
const peer = least(() => load(text));
show('open and split', split);
show('read all pieces', read);
show('js-yaml load', peer);
console.log(
  `open, split and read all / js-yaml: ${((split.cpu + read.cpu) / peer.cpu).toFixed(2)} of its processor time`,
);

keystrokes(open(catalog(1000)), 1000);
keystrokes(file, LARGE);
