/** `redact JOB`: a job that can be shown to a stranger, with the book that prices it. */
import { randomInt } from 'node:crypto';
import { existsSync, mkdirSync, readdirSync, statSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import type { Command } from 'commander';
import type { Book } from '../book/book.ts';
import type { BookFile } from '../book/file.ts';
import { relative } from '../book/paths.ts';
import { Workspace } from '../book/workspace.ts';
import { Estimates } from '../estimate/estimates.ts';
import { problemsOf } from '../estimate/problems.ts';
import { type Redacted, redact } from '../upkeep/redact/redact.ts';
import { display, findJob, UsageError } from './open.ts';

interface Options {
  readonly book?: string;
  readonly out?: string;
  readonly prices: boolean;
}

export function addRedactCommand(program: Command, print: (text: string) => void): void {
  program
    .command('redact')
    .description('make a job shareable: stand-ins for persons, addresses, vehicles, texts and comments')
    .argument('<job>', 'a job file, or the id of a job')
    .option('--book <path>', 'the folder of the book, when the job is given by its id')
    .option('--out <folder>', 'a new folder for the job and the book that prices it, instead of the job here')
    .option('--no-prices', 'give amounts of money other digits, and leave price files out')
    .action((job: string, options: Options) => {
      const { file, estimates } = findJob(job, options.book);
      const { book } = estimates;
      const made = redact(book, file, randomInt, { hidePrices: !options.prices });
      const text = made.files.get(made.job) as string;
      if (options.out === undefined) process.stdout.write(text);
      else {
        writeNew(options.out, book, made);
        print(`${made.files.size} files are written into ${display(options.out)}.`);
      }
      process.stderr.write(`${summary(made, estimates, file, options.prices)}\n`);
    });
}

function writeNew(folder: string, book: Book, { files }: Redacted): void {
  if (existsSync(folder) && (!statSync(folder).isDirectory() || readdirSync(folder).length > 0))
    throw new UsageError(`"${folder}" is there already. Name a folder that is empty or not there yet.`);
  for (const [uri, made] of files) {
    const path = join(folder, relative(book.root, uri));
    mkdirSync(dirname(path), { recursive: true });
    writeFileSync(path, made);
  }
}

/** Says whether the stand-ins have changed what the job comes to, so that a report about it can be believed. */
function summary(made: Redacted, estimates: Estimates, file: BookFile, prices: boolean): string {
  const counted = `${made.replaced} values have stand-ins, and so have all comments.`;
  const read = 'Read it before you send it: only you know what else may tell of a person.';
  if (!prices) return `${counted} Amounts have other digits. ${read}`;
  const before = outcome(estimates, file);
  const after = outcomeOf(made, estimates.book.root);
  return before === after
    ? `${counted} The totals and the problems are the same as before. ${read}`
    : `${counted} But the totals or the problems are not the same as before: what is wrong may hang on a text that has a stand-in now. ${read}`;
}

function outcomeOf({ files, job }: Redacted, root: string): string {
  const bytes = (uri: string) => {
    const made = files.get(uri);
    return typeof made === 'string' ? new TextEncoder().encode(made) : made;
  };
  const workspace = new Workspace([root], { read: bytes, size: (uri) => bytes(uri)?.length });
  workspace.load(new Map([...files].filter((one): one is [string, string] => typeof one[1] === 'string')));
  const book = workspace.bookOf(job)!;
  return outcome(new Estimates(book), book.file(job)!);
}

/** Totals, and problems by code and place: stand-ins are as long as what they stand for. */
function outcome(estimates: Estimates, file: BookFile): string {
  const options = estimates.of(file)?.options ?? [];
  return JSON.stringify([
    options.map(({ id, priced }) => [id, priced.total.value.toString()]),
    problemsOf(estimates, file).map(({ problem, piece, start, end }) => {
      const at = file.source.rangeOf(piece, { start, end });
      return [problem.code, problem.severity, at];
    }),
  ]);
}
