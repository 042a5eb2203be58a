/**
 * Scripted editing of a book over a real connection, with kills and restarts: `node tests/trust/long-run.ts MINUTES SEED`.
 * Says by quarters how long answers took, what the server's memory was, and how many questions had no answer.
 */
import { once } from 'node:events';
import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { positionIn } from '../../server/src/syntax/lines.ts';
import { BOOK, JOB } from '../protocol/book.ts';
import { Client } from '../protocol/client.ts';

const [minutes = 20, seed = 1] = process.argv.slice(2).map(Number);
const FILES = Object.keys(BOOK).filter((name) => name.endsWith('.yaml'));
const SNIPPETS = [
  '',
  '',
  'x',
  '\n',
  '  ',
  '- ',
  ': ',
  '"',
  '🔧',
  '\r\n',
  'part: TC-1\n',
  '  X-1: { name: x, kind: soft }\n',
];
/** Rounds before the server is killed. */
const LIFE = 2000;

const [start, end] = [Date.now(), Date.now() + minutes * 60_000];
const quarters = Array.from({ length: 4 }, () => ({ times: [] as number[], memory: [] as number[] }));
let [asked, answered, edits, kills] = [0, 0, 0, 0];
let round = 0;
const draw = fc.sample(
  fc.tuple(
    fc.nat(FILES.length - 1),
    fc.double({ min: 0, max: 1, noNaN: true }),
    fc.nat(6),
    fc.nat(SNIPPETS.length - 1),
  ),
  { numRuns: 50_000, seed },
);

let client = await begin();
let texts: Record<string, string> = { ...BOOK };
while (Date.now() < end) {
  const [file, from, length, snippet] = draw[round % draw.length]!;
  round++;
  const name = FILES[file]!;
  const before = texts[name]!;
  // A file that has drifted far is typed anew.
  const whole = before.length > 4000 || round % 97 === 0;
  const at = Math.floor(from * before.length);
  const to = Math.min(before.length, at + length);
  if (whole) {
    texts[name] = BOOK[name]!;
    await client.change(name, { text: texts[name] });
  } else if (!/\r$/.test(before.slice(0, at)) && !/\r$/.test(before.slice(0, to))) {
    texts[name] = before.slice(0, at) + SNIPPETS[snippet] + before.slice(to);
    const range = { start: positionIn(before, at), end: positionIn(before, to) };
    await client.change(name, { range, text: SNIPPETS[snippet]! });
  }
  edits++;
  const quarter = quarters[Math.min(3, Math.floor((4 * (Date.now() - start)) / (end - start)))]!;
  const since = performance.now();
  const questions = [
    client.about('textDocument/diagnostic', name),
    client.at('textDocument/hover', JOB, { line: 6, character: 10 }),
    client.at('textDocument/completion', name, { line: 3, character: 2 }),
    client.about('textDocument/documentSymbol', name),
  ];
  asked += questions.length;
  const settled = await Promise.race([
    Promise.allSettled(questions),
    new Promise<[]>((done) => setTimeout(() => done([]), 30_000).unref()),
  ]);
  answered += settled.filter(({ status }) => status === 'fulfilled').length;
  quarter.times.push(performance.now() - since);
  if (round % 50 === 0) quarter.memory.push(memoryOf(client));
  if (round % LIFE === 0) {
    kills++;
    client.process!.kill('SIGKILL');
    await once(client.process!, 'exit');
    client.connection.dispose();
    client = await begin();
    texts = { ...BOOK };
  }
}
await client.stop();

process.stdout.write(
  `seed ${seed}, ${minutes} min: ${edits} edits, ${asked} questions, ${asked - answered} without an answer, ${kills} kills\n`,
);
for (const [i, { times, memory }] of quarters.entries())
  process.stdout.write(
    `quarter ${i + 1}: median ${share(times, 0.5).toFixed(1)} ms, p95 ${share(times, 0.95).toFixed(1)} ms, memory ${share(memory, 0.5).toFixed(0)} MB, at most ${Math.max(0, ...memory).toFixed(0)} MB\n`,
  );

async function begin(): Promise<Client> {
  const fresh = await Client.start(BOOK, { transport: 'stdio' });
  for (const name of FILES) await fresh.open(name, BOOK[name]!);
  return fresh;
}

/** Resident, in MB; where the system tells (Linux). */
function memoryOf({ process: child }: Client): number {
  const status = readFileSync(`/proc/${child!.pid}/status`, 'utf8');
  return Number(/VmRSS:\s+(\d+)/.exec(status)?.[1] ?? 0) / 1024;
}

function share(values: readonly number[], at: number): number {
  return values.toSorted((a, b) => a - b)[Math.floor(values.length * at)] ?? 0;
}
