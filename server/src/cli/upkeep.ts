/** What the commands that keep a book right have in common. */
import { existsSync, readFileSync, statSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { type Command, Option } from 'commander';
import { type IsoDate, parseDate } from '../../../schemas/values/dates.ts';
import { today } from '../lsp/day.ts';
import { tableCsv } from '../upkeep/report/csv.ts';
import { reportMarkdown } from '../upkeep/report/markdown.ts';
import type { Report } from '../upkeep/report/report.ts';
import { reportText } from '../upkeep/report/text.ts';
import { UsageError } from './open.ts';
import { replaceFiles } from './write-files.ts';

export type Shape = 'text' | 'markdown' | 'csv' | 'json';

export function toOption(...shapes: readonly Shape[]): Option {
  return new Option('--to <form>', 'how it is told').choices([...shapes]).default('text');
}

export function onOption(command: Command): Command {
  return command.option('--on <date>', 'the day whose prices count (today, when left out)');
}

export function dayOf(text: string | undefined): IsoDate {
  if (text === undefined) return today();
  const read = parseDate(text);
  if (!read.ok) throw new UsageError(`--on ${text}: ${read.message}`);
  return read.value;
}

export interface Told {
  readonly report: () => Report;
  readonly json?: () => unknown;
  readonly csv?: () => {
    columns: readonly string[];
    rows: Record<string, string>[];
    figures: readonly string[];
  };
}

export function told(shape: Shape, { report, json, csv }: Told): string {
  if (shape === 'json' && json) return JSON.stringify(json(), null, 2);
  if (shape === 'csv' && csv) {
    const { columns, rows, figures } = csv();
    return tableCsv(columns, rows, figures).trimEnd();
  }
  return shape === 'markdown' ? reportMarkdown(report()).trimEnd() : reportText(report());
}

/** Milliseconds without a sign of life, and between two. */
const QUIET = 1000;
const BETWEEN = 200;

/** What work in steps comes to. Who waits at a terminal for more than a second sees how far it is. */
export function finished<T>(work: Generator<void, T>): T {
  let told = performance.now() + QUIET - BETWEEN;
  let shown = false;
  for (let steps = 1; ; steps++) {
    const step = work.next();
    if (step.done) {
      if (shown) process.stderr.write('\r\u001b[K');
      return step.value;
    }
    if (!process.stderr.isTTY || performance.now() - told < BETWEEN) continue;
    process.stderr.write(`\r${steps} looked at …`);
    told = performance.now();
    shown = true;
  }
}

/** Texts by URI, each file old or new whenever this is cut off. */
export function writeTexts(texts: ReadonlyMap<string, string>): void {
  replaceFiles(new Map([...texts].map(([uri, text]) => [fileURLToPath(uri), text])));
}

export function fileBytes(path: string): Uint8Array {
  if (!existsSync(path) || !statSync(path).isFile()) throw new UsageError(`There is no file "${path}".`);
  return readFileSync(path);
}
