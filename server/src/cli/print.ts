/** `print JOB` and `answer JOB`: a job on paper, and what its owner said to it. */
import { readFileSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { Argument, type Command, Option } from 'commander';
import { type ExchangedEstimate, exchangedEstimate } from '../../../schemas/exchange/estimate.ts';
import { parseDateTime } from '../../../schemas/values/dates.ts';
import { didYouMean } from '../../../schemas/values/words.ts';
import { now } from '../lsp/day.ts';
import { holdAnswer, readAnswer } from '../print/answer/answer.ts';
import { recordedAnswer } from '../print/answer/record.ts';
import { FORMATS, type Format, formatsOf, printJob, SHEETS, type SheetName } from '../print/print.ts';
import { fileName, sourceOf } from '../print/source.ts';
import { SUPPLIED, strangers, wordsFor } from '../print/words/index.ts';
import { writePair } from '../syntax/write.ts';
import { display, findJob, UsageError } from './open.ts';

interface PrintOptions {
  readonly book?: string;
  readonly as: string;
  readonly to: string;
  readonly option?: string;
  readonly paper: 'letter' | 'a4';
  readonly against?: string;
  readonly out?: string;
}

interface AnswerOptions {
  readonly book?: string;
  readonly how: 'signature' | 'in-person' | 'telephone' | 'email' | 'text';
  readonly by?: string;
  readonly on?: string;
  readonly takenBy?: string;
  readonly contact?: string;
  readonly dryRun?: true;
}

export function addPrintCommands(program: Command, print: (text: string) => void): void {
  program
    .command('print')
    .description('put a job on paper: for its owner, the bench, the parts counter or the shop')
    .argument('<job>', 'a job file, or the id of a job')
    .option('--book <path>', 'the folder of the book, when the job is given by its id')
    .option('--as <sheet>', `one of:${listed(SHEETS)}`, 'customer')
    .option('--to <format>', `one of:${listed(FORMATS)}`, 'html')
    .option('--option <id>', 'for sheets about one option: another than the chosen one')
    .addOption(new Option('--paper <size>', 'of a PDF').choices(['letter', 'a4']).default('letter'))
    .option('--against <file>', 'for an invoice: the estimate that was handed over, as printed --to json')
    .option('--out <file>', 'write it to this file instead of printing it here')
    .action(async (job: string, options: PrintOptions) => {
      const sheet = wordOf(options.as, Object.keys(SHEETS) as SheetName[], 'sheet');
      const format = wordOf(options.to, Object.keys(FORMATS) as Format[], 'format');
      const forms = formatsOf(sheet);
      if (!forms.includes(format))
        throw new UsageError(`The ${sheet} sheet is not printed as ${format}, but as ${forms.join(', ')}.`);
      if (format === 'pdf' && !options.out && process.stdout.isTTY)
        throw new UsageError('A PDF is no text to show here. Write it to a file: --out FILE.');
      const { file, estimates } = findJob(job, options.book);
      const source = sourceOf(estimates, file)!;
      const known = source.estimate.options.flatMap((one) => (one.id === undefined ? [] : [one.id]));
      if (options.option !== undefined && !known.includes(options.option))
        throw new UsageError(
          `This job has no option "${options.option}". It has: ${known.join(', ') || 'none'}.`,
        );
      const made = await printJob(source, sheet, format, {
        option: options.option,
        paper: options.paper,
        against: options.against === undefined ? undefined : keptEstimate(options.against),
      });
      if (options.out === undefined) process.stdout.write(made);
      else {
        writeFileSync(options.out, made);
        print(`${display(options.out)} is written.`);
        const { video } = source.estimate.job;
        if (video !== undefined && source.hasVideo && sheet === 'customer' && format === 'html')
          print(`It plays ${fileName(video)} where that lies beside it.`);
      }
      for (const name of strangers(source.estimate.policy.shop.words))
        process.stderr.write(`The shop file gives words to "${name}", which no paper uses.\n`);
    });

  program
    .command('words')
    .description(
      'the words of the papers, to translate: put the ones you change into shop.yaml, or into a shop file that yours extends',
    )
    .addArgument(new Argument('[language]', 'which to begin from').choices(SUPPLIED).default('en'))
    .action((language: string) => print(wordsText(language).trimEnd()));

  program
    .command('answer')
    .description("record an owner's answer in the job, once its total and its code are right")
    .argument('<job>', 'a job file, or the id of a job')
    .argument('<text>', 'the line that the customer page gives')
    .option('--book <path>', 'the folder of the book, when the job is given by its id')
    .addOption(
      new Option('--how <way>', 'in what way it came')
        .choices(['signature', 'in-person', 'telephone', 'email', 'text'])
        .default('email'),
    )
    .option('--by <name>', 'who gave it, when the line does not say')
    .option('--on <time>', 'when it came, such as 2026-03-05T10:20 (now, when left out)')
    .option('--taken-by <name>', 'who of the shop took it')
    .option('--contact <where>', 'the number or address it came from')
    .option('--dry-run', 'only check it')
    .action(async (job: string, text: string, options: AnswerOptions) => {
      const { file, estimates } = findJob(job, options.book);
      const source = sourceOf(estimates, file)!;
      const answer = readAnswer(text);
      if ('message' in answer) throw new UsageError(answer.message);
      const held = await holdAnswer(source, answer);
      if ('message' in held) throw new UsageError(held.message);
      const by = options.by ?? answer.by;
      if (by === undefined) throw new UsageError('The answer does not say who gave it. Say it: --by NAME.');
      const on = parseDateTime(options.on ?? now());
      if (!on.ok) throw new UsageError(on.message);
      const recorded = recordedAnswer(source, file, held, { ...options, by, on: on.value });
      if (recorded === undefined)
        throw new UsageError(
          `The answer is right, but ${display(file.uri)} is written in a way that cannot be changed from here. Write the authorization by hand.`,
        );
      if (!options.dryRun) writeFileSync(fileURLToPath(file.uri), recorded.text);
      print(
        `${options.dryRun ? 'The answer is right. It would be recorded' : 'Recorded'}: ${recorded.summary}`,
      );
    });
}

/** The words of the papers as the part of a shop file that translates them. */
function wordsText(language: string): string {
  return `${writePair('words', Object.fromEntries(wordsFor(language)), { column: 0, eol: '\n', flow: false })}\n`;
}

function listed(words: Readonly<Record<string, string>>): string {
  return Object.entries(words)
    .map(([word, meaning]) => `\n${word}: ${meaning}`)
    .join('');
}

function wordOf<W extends string>(typed: string, words: readonly W[], what: string): W {
  const found = words.find((word) => word === typed);
  if (found) return found;
  const near = didYouMean(typed, words);
  throw new UsageError(
    `There is no ${what} "${typed}". There are: ${words.join(', ')}.${near.length > 0 ? ` Did you mean ${near[0]}?` : ''}`,
  );
}

function keptEstimate(path: string): ExchangedEstimate {
  let json: unknown;
  try {
    json = JSON.parse(readFileSync(path, 'utf8'));
  } catch {
    throw new UsageError(
      `"${path}" cannot be read as JSON. It is made with: print JOB --to json --out FILE.`,
    );
  }
  const read = exchangedEstimate.safeParse(json);
  if (read.success) return read.data;
  const first = read.error.issues[0];
  throw new UsageError(
    `"${path}" is not an estimate of ours (at ${first?.path.join('.') || 'the top'}). It is made with: print JOB --to json --out FILE.`,
  );
}
