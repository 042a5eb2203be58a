/** `health`: what a shop admin would want to put in order. */
import type { Command } from 'commander';
import { health } from '../upkeep/health/health.ts';
import { HEALTH_COLUMNS, healthReport, healthRows } from '../upkeep/health/report.ts';
import { openBook, UsageError } from './open.ts';
import { dayOf, finished, onOption, type Shape, told, toOption } from './upkeep.ts';

interface Options {
  readonly on?: string;
  readonly olderThan: string;
  readonly to: Shape;
}

export function addHealthCommand(program: Command, print: (text: string) => void): void {
  onOption(program.command('health'))
    .description('unused, never priced, old, replaced and doubled entries, broken templates, thin margins')
    .argument('[path]', 'a folder of the book', '.')
    .option('--older-than <months>', 'a price is old after so many months', '12')
    .addOption(toOption('text', 'markdown', 'csv', 'json'))
    .action((path: string, options: Options) => {
      const months = /^\d{1,4}$/.test(options.olderThan) ? Number(options.olderThan) : undefined;
      if (months === undefined)
        throw new UsageError(
          `--older-than takes a number of months, such as 12; not "${options.olderThan}".`,
        );
      for (const { book, estimates } of openBook(path).books) {
        const found = finished(health(estimates, { on: dayOf(options.on), months }));
        print(
          told(options.to, {
            report: () => healthReport(book, found, months),
            json: () => ({ undated: found.undated, findings: healthRows(book, found) }),
            csv: () => ({ columns: HEALTH_COLUMNS, rows: healthRows(book, found), figures: ['line'] }),
          }),
        );
      }
    });
}
