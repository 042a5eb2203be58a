/** `lock`, `drift` and `reprice`: the prices that a customer was told, and how far the book has moved since. */
import { existsSync, statSync } from 'node:fs';
import type { Command } from 'commander';
import { textAfter } from '../upkeep/changes.ts';
import { isOpen, jobOf, nameOf } from '../upkeep/jobs.ts';
import { driftOf } from '../upkeep/lock/drift.ts';
import {
  bookDrift,
  bookDriftReport,
  DRIFT_COLUMNS,
  driftJson,
  driftRows,
  jobDriftReport,
} from '../upkeep/lock/report.ts';
import { locking, repricing } from '../upkeep/lock/reprice.ts';
import { display, findJob, openBook, UsageError } from './open.ts';
import { dayOf, finished, onOption, type Shape, told, toOption, writeTexts } from './upkeep.ts';

interface Options {
  readonly book?: string;
  readonly on?: string;
  readonly to: Shape;
  readonly apply?: true;
}

export function addLockCommands(program: Command, print: (text: string) => void): void {
  const job = (name: string, description: string) =>
    program
      .command(name)
      .description(description)
      .argument('<job>', 'a job file, or the id of a job')
      .option('--book <path>', 'the folder of the book, when the job is given by its id');

  job('lock', 'keep the prices of a job as they are today, whatever the book says later')
    .option('--on <date>', 'the day to write (today, when left out)')
    .action((id: string, options: Options) => {
      const { file, estimates } = findJob(id, options.book);
      if (jobOf(file).lock)
        throw new UsageError(
          `${nameOf(file)} is locked already. To give it other prices: reprice ${nameOf(file)}`,
        );
      const changes = locking(estimates, file, dayOf(options.on));
      if (!changes) throw cannotWrite(file.uri);
      writeTexts(new Map([[file.uri, textAfter(file, changes)]]));
      print(`${display(file.uri)}: the prices are locked.`);
    });

  onOption(program.command('drift'))
    .description('how far the book has moved away from locked estimates, line by line')
    .argument('[path]', 'a folder of the book, a job file, or the id of a job; the whole book, when left out')
    .option('--book <path>', 'the folder of the book, when a job is given by its id')
    .addOption(toOption('text', 'markdown', 'csv', 'json'))
    .action((path: string | undefined, options: Options) => {
      const on = dayOf(options.on);
      if (path === undefined || (options.book === undefined && isFolder(path))) {
        for (const { estimates } of openBook(path ?? options.book ?? '.').books) {
          const found = finished(bookDrift(estimates, on));
          print(tell(options.to, found, () => bookDriftReport(estimates, found)));
        }
        return;
      }
      const { file, estimates } = findJob(path, options.book);
      const drift = driftOf(estimates, file, on);
      if (!drift) throw notLocked(nameOf(file));
      print(tell(options.to, { on, jobs: [drift], unlocked: [] }, () => jobDriftReport(estimates, drift)));
    });

  onOption(job('reprice', 'give a locked job the prices of the book; nothing is written without --apply'))
    .option('--apply', 'write them')
    .addOption(toOption('text', 'markdown', 'csv', 'json'))
    .action((id: string, options: Options) => {
      const on = dayOf(options.on);
      const { file, estimates } = findJob(id, options.book);
      if (!isOpen(jobOf(file)))
        throw new UsageError(`${nameOf(file)} is done or declined; its prices are history.`);
      const found = repricing(estimates, file, on);
      if (!found) throw notLocked(nameOf(file));
      const { drift, changes } = found;
      print(tell(options.to, { on, jobs: [drift], unlocked: [] }, () => jobDriftReport(estimates, drift)));
      if (changes?.length === 0) return;
      if (!options.apply) {
        process.stderr.write(`Nothing is written. To write these prices: add --apply\n`);
        return;
      }
      if (!changes) throw cannotWrite(file.uri);
      writeTexts(new Map([[file.uri, textAfter(file, changes)]]));
      process.stderr.write(
        `${display(file.uri)} has the prices of ${on}. ${drift.consent ? 'Ask the customer before anything is done at these prices' : 'Hand the new estimate over'}, and write the day in \`presented\`.\n`,
      );
    });
}

function tell(
  shape: Shape,
  found: Parameters<typeof driftJson>[0],
  report: Parameters<typeof told>[1]['report'],
) {
  return told(shape, {
    report,
    json: () => driftJson(found),
    csv: () => ({ columns: DRIFT_COLUMNS, rows: driftRows(found), figures: ['was', 'now', 'difference'] }),
  });
}

function isFolder(path: string): boolean {
  return existsSync(path) && statSync(path).isDirectory();
}

function notLocked(job: string): UsageError {
  return new UsageError(
    `The prices of ${job} are not locked: they follow the book. To lock them: lock ${job}`,
  );
}

function cannotWrite(uri: string): UsageError {
  return new UsageError(
    `${display(uri)} cannot be changed by itself here. Mend what \`check\` finds in it first.`,
  );
}
