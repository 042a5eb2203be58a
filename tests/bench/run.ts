/**
 * `npm run bench -- [--parts 1k|10k|100k] [--jobs N] [--json FILE]`: one run, one table. Our server and a
 * general-purpose YAML server with our JSON Schema of parts, driven by the same client over stdio, and beside them what
 * reading the same text costs at least. Times are wall clock from message to answer, `cpu` is the processor time of
 * the server for the same, which holds on a busy machine.
 */
import { spawnSync } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { loadavg } from 'node:os';
import { dirname, join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { parseArgs } from 'node:util';
import { load } from 'js-yaml';
import { parseDocument } from 'yaml';
import { BenchClient, type Place } from './client.ts';
import { CATALOG, COMMON_PART, jobName, writeBook } from './generate.ts';

const ROOT = join(import.meta.dirname, '../..');
const SERVER = [join(ROOT, 'server/src/main.ts'), '--stdio'];
const require = createRequire(import.meta.url);
const PEER = [
  join(dirname(require.resolve('yaml-language-server/package.json')), 'bin/yaml-language-server'),
  '--stdio',
];
/** The peer waits so long after a change before it looks at it; taken off its figures. */
const PEER_WAITS = 200;

const { values: options } = parseArgs({
  options: {
    parts: { type: 'string', default: '10k' },
    jobs: { type: 'string', default: '1000' },
    seed: { type: 'string', default: '7' },
    json: { type: 'string' },
    'no-peer': { type: 'boolean', default: false },
  },
});
const size = {
  parts: Number(options.parts.replace(/k$/, '000')),
  jobs: Number(options.jobs.replace(/k$/, '000')),
  rules: 200,
  seed: Number(options.seed),
};

interface Row {
  readonly what: string;
  readonly median: number;
  readonly p95?: number;
  readonly cpu?: number | undefined;
  readonly unit: 'ms' | 'MB';
}

const rows: Row[] = [];

function note(row: Row): Row {
  rows.push(row);
  const figure = (value: number | undefined, unit: string) =>
    value === undefined ? '' : `${value.toFixed(value < 10 ? 2 : 0)} ${unit}`;
  console.log(
    `${row.what.padEnd(58)}${figure(row.median, row.unit).padStart(11)}` +
      `${figure(row.p95, row.unit).padStart(11)}${figure(row.cpu, 'ms').padStart(11)}`,
  );
  return row;
}

const { folder, remove } = await writeBook(size);
try {
  console.log(
    `${size.parts} parts, ${size.jobs} jobs, ${size.rules} rules; load ${loadavg()[0]!.toFixed(1)}`,
  );
  console.log(`${''.padEnd(58)}${'median'.padStart(11)}${'p95'.padStart(11)}${'cpu'.padStart(11)}`);
  const floor = floors();
  const ours = await server();
  const peer = options['no-peer'] ? undefined : await general();
  ratio('parts read by js-yaml / book opened by ours (cpu)', floor.parts, ours.open.cpu);
  ratio('jobs parsed by yaml / diagnostics of the whole book by ours (cpu)', floor.jobs, ours.jobs.cpu);
  if (peer) {
    ratio('keystroke, the general server / ours', peer.stroke.median, ours.stroke.median);
    ratio('keystroke, the general server / ours (cpu)', peer.stroke.cpu, ours.stroke.cpu);
  }
  if (options.json)
    writeFileSync(
      options.json,
      `${JSON.stringify({ date: new Date().toISOString(), load: loadavg(), size, rows }, null, 2)}\n`,
    );
} finally {
  remove();
}

function ratio(what: string, theirs: number | undefined, own: number | undefined): void {
  if (theirs !== undefined && own !== undefined && own > 0)
    console.log(`${what.padEnd(68)}${(theirs / own).toFixed(1)}`);
}

function timed(what: string, work: () => unknown): number {
  const before = process.cpuUsage();
  const began = performance.now();
  work();
  const { user, system } = process.cpuUsage(before);
  return note({ what, median: performance.now() - began, cpu: (user + system) / 1000, unit: 'ms' }).cpu!;
}

/** What it costs at least to read the same text, to plain values or with places. */
function floors(): { parts: number; jobs: number } {
  const catalog = join(folder, CATALOG);
  let text = '';
  timed('floor: read the catalog', () => {
    text = readFileSync(catalog, 'utf8');
  });
  let plain: unknown;
  const parts = timed('floor: js-yaml loads the catalog', () => {
    plain = load(text);
  });
  const json = JSON.stringify(plain);
  timed('floor: JSON.parse of the same', () => JSON.parse(json));
  // All of a large catalog would take this parser minutes.
  const some = firstEntries(text, 1000);
  timed('floor: yaml parses 1,000 parts of it', () => parseDocument(some));
  const jobs = Array.from({ length: size.jobs }, (_, i) => readFileSync(join(folder, jobName(i)), 'utf8'));
  timed('floor: js-yaml loads the jobs', () => jobs.forEach((job) => void load(job)));
  return {
    parts,
    jobs: timed('floor: yaml parses the jobs', () => jobs.forEach((job) => void parseDocument(job))),
  };
}

function firstEntries(text: string, count: number): string {
  const lines = text.split('\n');
  let seen = 0;
  const end = lines.findIndex((line) => /^ {2}GR-/.test(line) && seen++ === count);
  return (end < 0 ? lines : lines.slice(0, end)).join('\n');
}

async function server() {
  const client = new BenchClient(SERVER);
  try {
    const began = performance.now();
    await client.start(folder, true);
    // Answers wait until all is read.
    const job = uriOf(jobName(0));
    await client.ask('textDocument/diagnostic', { textDocument: { uri: job } });
    const open = note({
      what: 'ours: start, read the whole book, diagnostics of a job',
      median: performance.now() - began,
      cpu: client.cpu(),
      unit: 'ms',
    });
    const jobs = await sweep(client, 'ours: diagnostics of the whole book');
    await memory(client, 'ours');
    const stroke = await inCatalog(client);
    await inJob(client, job);
    await sweep(client, 'ours: diagnostics of the whole book after an edit of a part');
    await rename(client, job);
    await memory(client, 'ours, after all that,');
    await afterEdits(client);
    return { open, jobs, stroke };
  } finally {
    await client.stop();
    check();
  }
}

async function sweep(client: BenchClient, what: string): Promise<Row> {
  const cpu = client.cpu();
  const began = performance.now();
  await client.ask('workspace/diagnostic', { previousResultIds: [] });
  return note({ what, median: performance.now() - began, cpu: since(client, cpu), unit: 'ms' });
}

async function memory(client: BenchClient, who: string): Promise<void> {
  note({ what: `${who} heap after a collection`, median: await client.heap(), unit: 'MB' });
  const rss = client.rss();
  if (rss !== undefined) note({ what: `${who} memory of the process`, median: rss, unit: 'MB' });
}

async function inCatalog(client: BenchClient): Promise<Row> {
  const { uri, text, cost } = catalogPlace();
  await client.open(uri, text);
  const diagnostics = { textDocument: { uri } };
  await client.ask('textDocument/diagnostic', diagnostics);
  return strokes(client, 'ours: keystroke in the catalog to its diagnostics', 300, uri, cost, () =>
    client.ask('textDocument/diagnostic', diagnostics),
  );
}

async function inJob(client: BenchClient, uri: string): Promise<void> {
  const text = readFileSync(new URL(uri), 'utf8');
  await client.open(uri, text);
  const lines = text.split('\n');
  const at = {
    line: lines.findIndex((line) => line.includes('quantity:')),
    character: '    quantity: '.length,
  };
  const textDocument = { uri };
  const range = { start: { line: 0, character: 0 }, end: { line: lines.length, character: 0 } };
  await client.ask('textDocument/diagnostic', { textDocument });
  await strokes(client, `ours: keystroke in a job of ${lines.length} lines: all of it`, 200, uri, at, () =>
    Promise.all([
      client.ask('textDocument/diagnostic', { textDocument }),
      client.ask('textDocument/inlayHint', { textDocument, range }),
    ]),
  );
  const part = {
    line: lines.findIndex((line) => line.includes('part: ')),
    character: '  - part: GR-00'.length,
  };
  await repeated(client, 'ours: completion of a part', 100, () =>
    client.ask('textDocument/completion', { textDocument, position: part }),
  );
  await repeated(client, 'ours: hover of a part', 100, () =>
    client.ask('textDocument/hover', { textDocument, position: part }),
  );
}

async function rename(client: BenchClient, uri: string): Promise<void> {
  const text = readFileSync(new URL(uri), 'utf8').split('\n');
  const line = text.findIndex((one) => one.includes(COMMON_PART));
  const position = { line, character: text[line]!.indexOf(COMMON_PART) + 2 };
  await repeated(client, `ours: rename of a part named in ${size.jobs} jobs`, 3, () =>
    client.ask('textDocument/rename', { textDocument: { uri }, position, newName: 'GR-RENAMED' }),
  );
}

/** Edits all over the catalog; each is taken back, so that the book is the same afterwards. */
async function afterEdits(client: BenchClient): Promise<void> {
  const { uri, text } = catalogPlace();
  const lines = text.split('\n');
  const before = await client.heap();
  for (let i = 0; i < 5000; i++) {
    const line = 7 + ((i * 7919) % (lines.length - 10));
    const start = { line, character: Math.min(6, lines[line]!.length) };
    await client.type(uri, start, start, 'x');
    await client.type(uri, start, { ...start, character: start.character + 1 }, '');
    if (i % 100 === 0) await client.ask('textDocument/diagnostic', { textDocument: { uri } });
  }
  await client.ask('textDocument/diagnostic', { textDocument: { uri } });
  note({
    what: 'ours: growth of the heap by 10,000 edits',
    median: (await client.heap()) - before,
    unit: 'MB',
  });
}

/** The command line's check, in a process of its own. */
function check(): void {
  const began = performance.now();
  const { status } = spawnSync(
    process.execPath,
    [join(ROOT, 'server/src/cli.ts'), 'check', folder, '--json'],
    {
      maxBuffer: 1e9,
    },
  );
  if (status === null || status > 1) throw new Error('The check did not end well.');
  note({
    what: 'ours: check of the whole book, command line',
    median: performance.now() - began,
    unit: 'ms',
  });
}

/** The general server knows one file at a time: it has the catalog alone. */
async function general() {
  const schema = pathToFileURL(join(ROOT, 'schemas/json/parts.schema.json')).href;
  const client = new BenchClient(PEER, {
    yaml: {
      validate: true,
      hover: true,
      completion: true,
      schemaStore: { enable: false },
      schemas: { [schema]: '*.parts.yaml' },
    },
  });
  try {
    await client.start(folder, false);
    const { uri, text, cost } = catalogPlace();
    const cpu = client.cpu();
    const began = performance.now();
    const first = client.told(uri);
    await client.open(uri, text);
    await first;
    note({
      what: 'general server: open the catalog to its diagnostics',
      median: performance.now() - began - PEER_WAITS,
      cpu: since(client, cpu),
      unit: 'ms',
    });
    const stroke = await strokes(
      client,
      'general server: keystroke in the catalog',
      size.parts > 10_000 ? 2 : 6,
      uri,
      cost,
      undefined,
      PEER_WAITS,
    );
    await memory(client, 'general server:');
    return { stroke };
  } finally {
    await client.stop();
  }
}

function catalogPlace(): { uri: string; text: string; cost: Place } {
  const path = join(folder, CATALOG);
  const text = readFileSync(path, 'utf8');
  const lines = text.split('\n');
  const line = lines.findIndex((one, i) => i > lines.length / 2 && one.startsWith('    cost: '));
  return { uri: uriOf(CATALOG), text, cost: { line, character: '    cost: '.length } };
}

/** Types a digit and takes it back, again and again. Without `ask` the server tells by itself. */
function strokes(
  client: BenchClient,
  what: string,
  times: number,
  uri: string,
  at: Place,
  ask?: () => Promise<unknown>,
  waits = 0,
): Promise<Row> {
  let typed = false;
  return repeated(
    client,
    what,
    times,
    async () => {
      const told = ask ? undefined : client.told(uri);
      await client.type(uri, at, typed ? { ...at, character: at.character + 1 } : at, typed ? '' : '7');
      typed = !typed;
      await (ask ? ask() : told);
    },
    waits,
  );
}

async function repeated(
  client: BenchClient,
  what: string,
  times: number,
  work: () => Promise<unknown>,
  waits = 0,
): Promise<Row> {
  const spent: number[] = [];
  for (let i = 0; i < Math.min(times / 10, 20); i++) await work();
  const cpu = client.cpu();
  for (let i = 0; i < times; i++) {
    const began = performance.now();
    await work();
    spent.push(performance.now() - began - waits);
  }
  const total = since(client, cpu);
  spent.sort((a, b) => a - b);
  return note({
    what,
    median: spent[Math.floor(times / 2)]!,
    p95: spent[Math.floor(times * 0.95)]!,
    cpu: total === undefined ? undefined : total / times,
    unit: 'ms',
  });
}

function since(client: BenchClient, before: number | undefined): number | undefined {
  const now = client.cpu();
  return now === undefined || before === undefined ? undefined : now - before;
}

function uriOf(name: string): string {
  return pathToFileURL(join(folder, name)).href;
}
