/** `renumber` and `supersede`: a part number changed wherever the book names it. */
import type { Command } from 'commander';
import { relative } from '../book/paths.ts';
import { type BookEdit, Refusal } from '../features/edit.ts';
import { renameMeaning } from '../features/rename.ts';
import { type Supersession, supersede } from '../features/upkeep/supersede.ts';
import { supersessionReport } from '../features/upkeep/supersede-report.ts';
import { textsOf } from '../features/upkeep/texts.ts';
import { plural } from '../upkeep/report/report.ts';
import { type Opened, openBook, UsageError } from './open.ts';
import { dayOf, onOption, type Shape, told, toOption, writeTexts } from './upkeep.ts';

interface Options {
  readonly book: string;
  readonly on?: string;
  readonly apply?: true;
  readonly to: Shape;
}

export function addRenumberCommands(program: Command, print: (text: string) => void): void {
  program
    .command('renumber')
    .description('give a part another number everywhere; nothing is written without --apply')
    .argument('<old>', 'the number it has')
    .argument('<new>', 'the number it gets')
    .option('--book <path>', 'the folder of the book', '.')
    .option('--apply', 'write it')
    .action((old: string, name: string, options: Options) => {
      const { book } = bookWith(openBook(options.book), old);
      const edit = refusable(() => renameMeaning(book, { kind: 'part', id: old, home: undefined }, name));
      const places = edit.reduce((count, { edits }) => count + edits.length, 0);
      for (const { file, edits } of edit)
        print(`${relative(book.root, file.uri)}: ${plural(edits.length, 'place')}`);
      finish(edit, options, `${old} is ${name} now, in ${plural(places, 'place')}.`);
    });

  onOption(program.command('supersede'))
    .description(
      'write successors for replaced numbers in open jobs, templates and kits; nothing is written without --apply',
    )
    .argument('[number]', 'only this number; all that have been replaced, when left out')
    .option('--book <path>', 'the folder of the book', '.')
    .option('--apply', 'write it')
    .addOption(toOption('text', 'markdown'))
    .action((number: string | undefined, options: Options) => {
      const opened = openBook(options.book);
      const on = dayOf(options.on);
      for (const { book } of number === undefined ? opened.books : [bookWith(opened, number)]) {
        const found: Supersession = refusable(() => supersede(book, on, number));
        print(told(options.to, { report: () => supersessionReport(found) }));
        finish(found.edit, options, 'The successors are written.');
      }
    });
}

function finish(edit: BookEdit, { apply }: Options, done: string): void {
  if (edit.length === 0) return;
  if (apply) writeTexts(textsOf(edit));
  process.stderr.write(`${apply ? done : 'Nothing is written. To write it: add --apply'}\n`);
}

function bookWith({ books, folder }: Opened, part: string) {
  const found = books.find(({ book }) => book.definition('part', part));
  if (!found) {
    const near = books.flatMap(({ book }) => book.registry.near('part', part));
    throw new UsageError(
      `There is no part "${part}" in ${folder}.${near.length > 0 ? ` Did you mean ${near.join(' or ')}?` : ''}`,
    );
  }
  return found;
}

function refusable<T>(work: () => T): T {
  try {
    return work();
  } catch (error) {
    throw error instanceof Refusal ? new UsageError(error.message) : error;
  }
}
