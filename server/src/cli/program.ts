/** Every command of the command line, with its arguments and options. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { Command } from 'commander';
import { estimateJson } from '../print/json.ts';
import { estimateText } from '../print/text.ts';
import { reportText } from './check.ts';
import { checkAll } from './check-all.ts';
import { addCompareCommand } from './compare.ts';
import { addLockCommands } from './drift.ts';
import { explainText } from './explain.ts';
import { addHealthCommand } from './health.ts';
import { addNewBookCommand } from './new-book.ts';
import { findJob, openBook, UsageError } from './open.ts';
import { percentOn } from './percent.ts';
import { addPricesCommand } from './prices.ts';
import { addPrintCommands } from './print.ts';
import { addRedactCommand } from './redact.ts';
import { addRenumberCommands } from './renumber.ts';
import { ROOT } from './root.ts';
import { sarifLog } from './sarif.ts';
import { start } from './start.ts';
import { caseJUnit, caseResults, caseText } from './test.ts';
import { addWhatIfCommand } from './what-if.ts';

const VERSION = (JSON.parse(readFileSync(join(ROOT, 'package.json'), 'utf8')) as { version: string }).version;

export const program = new Command('gearquill')
  .description('Checks and prices the jobs of a transmission repair shop, written as text.')
  .showHelpAfterError();

program
  .command('check')
  .description('check a whole shop book; the exit status is 1 when there is an error')
  .argument('[path]', 'a folder or a file of the book', '.')
  .option('--json', 'print JSON instead of text')
  .option('--sarif', 'print SARIF 2.1.0, which review tools show beside the lines of a change')
  .action(async (path: string, options: { json?: true; sarif?: true }) => {
    const { found, files } = await checkAll(path, percentOn(process.stderr));
    if (options.sarif) print(JSON.stringify(sarifLog(found, VERSION), null, 2));
    else print(options.json ? JSON.stringify({ files, problems: found }, null, 2) : reportText(found, files));
    if (found.some((one) => one.severity === 'error')) process.exitCode = 1;
  });

program
  .command('price')
  .description('price a job: every option, to the cent')
  .argument('<job>', 'a job file, or the id of a job')
  .option('--book <path>', 'the folder of the book, when the job is given by its id')
  .option('--option <id>', 'only this option')
  .option('--explain', 'show how each total came about')
  .option('--json', 'print JSON instead of text')
  .action((job: string, options: { book?: string; option?: string; explain?: true; json?: true }) => {
    const { file, estimates } = findJob(job, options.book);
    const estimate = estimates.of(file)!;
    if (options.option !== undefined && !estimate.options.some((one) => one.id === options.option)) {
      const known = estimate.options.map((one) => one.id).filter(Boolean);
      throw new UsageError(
        `This job has no option "${options.option}".${known.length > 0 ? ` It has: ${known.join(', ')}.` : ''}`,
      );
    }
    print(options.json ? JSON.stringify(estimateJson(estimate), null, 2) : estimateText(estimate, options));
  });

addNewBookCommand(program, print);
addPrintCommands(program, print);
addPricesCommand(program, print);
addRedactCommand(program, print);
addLockCommands(program, print);
addWhatIfCommand(program, print);
addRenumberCommands(program, print);
addHealthCommand(program, print);
addCompareCommand(program, print);

program
  .command('test')
  .description("run the shop's own cases; the exit status is 1 when one does not come out")
  .argument('[path]', 'a folder or a file of the book', '.')
  .option('--junit', 'print JUnit XML instead of text')
  .action((path: string, options: { junit?: true }) => {
    const results = caseResults(openBook(path));
    print(options.junit ? caseJUnit(results) : caseText(results));
    if (results.some((one) => one.mismatches.length > 0)) process.exitCode = 1;
  });

program
  .command('explain')
  .description('what a diagnostic code means and how to mend it')
  .argument('<code>')
  .action((code: string) => print(explainText(code)));

program
  .command('start')
  .description('price and check the sample job')
  .action(() => start());

function print(text: string): void {
  process.stdout.write(`${text}\n`);
}

// Whoever reads may have had enough: `| head`.
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  if (error.code !== 'EPIPE') throw error;
});
