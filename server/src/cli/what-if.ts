/** `what-if`: what a change of the book would do to its jobs, before anything is written. */
import { basename } from 'node:path';
import { type Command, Option } from 'commander';
import type { Book } from '../book/book.ts';
import { canonical, nameOf, relative, resolve } from '../book/paths.ts';
import { today } from '../lsp/day.ts';
import { Refused } from '../upkeep/changes.ts';
import { pricedTexts } from '../upkeep/prices/overlay.ts';
import {
  changedInWords,
  WHAT_IF_COLUMNS,
  WHAT_IF_FIGURES,
  whatIfJson,
  whatIfReport,
  whatIfRows,
} from '../upkeep/what-if/report.ts';
import { parseSetting, settled } from '../upkeep/what-if/settings.ts';
import { OVER, type Over, whatIf } from '../upkeep/what-if/what-if.ts';
import { display, openBook, UsageError } from './open.ts';
import { fileBytes, finished, type Shape, told, toOption } from './upkeep.ts';

interface Options {
  readonly set?: readonly string[];
  readonly with?: readonly string[];
  readonly prices?: readonly string[];
  readonly over: Over;
  readonly to: Shape;
}

export function addWhatIfCommand(program: Command, print: (text: string) => void): void {
  program
    .command('what-if')
    .description('what other rates, bands, taxes or price files would do to jobs; nothing is written')
    .argument('[path]', 'a folder of the book', '.')
    .option(
      '--set <place=value...>',
      'a figure of the book: rates.bench.hourly=165.00, rates.*.hourly=+4%, schedules.standard.bands.1.factor=2.40',
    )
    .option(
      '--with <file...>',
      'a changed copy of a file of the book, or of a price file; PLACE=FILE when its name does not say which',
    )
    .option(
      '--prices <file...>',
      "a supplier's price file, taken over as `prices` would, without what is doubtful",
    )
    .addOption(new Option('--over <which>', lines(OVER)).choices(Object.keys(OVER)).default('open'))
    .addOption(toOption('text', 'markdown', 'csv', 'json'))
    .action((path: string, options: Options) => {
      if (!options.set && !options.with && !options.prices)
        throw new UsageError(
          'Say what would change: --set rates.bench.hourly=165.00, --with FILE or --prices FILE',
        );
      const { books } = openBook(path);
      if (books.length > 1)
        throw new UsageError(`There are ${books.length} books in "${path}". Name the folder of one.`);
      const { book, estimates } = books[0]!;
      try {
        const about: string[] = [];
        const bytes = new Map<string, Uint8Array>();
        const copies = new Map<string, string>();
        for (const one of options.with ?? []) {
          const { uri, file } = placeOf(book, one);
          about.push(`${relative(book.root, uri)} replaced by ${display(file)}`);
          if (/\.ya?ml$/i.test(uri)) copies.set(uri, new TextDecoder().decode(fileBytes(file)));
          else bytes.set(uri, fileBytes(file));
        }
        for (const file of options.prices ?? []) {
          const made = pricedTexts(book, fileBytes(file), today());
          if (typeof made === 'string') throw new UsageError(`${display(file)}: ${made}`);
          for (const [uri, text] of made.texts) copies.set(uri, text);
          about.push(`${display(file)} taken over: ${made.written} rows, ${made.leftOut} left out`);
        }
        const { texts, changed } = settled(book, (options.set ?? []).map(parseSetting), copies);
        about.push(...changedInWords(book.root, changed));
        const found = finished(whatIf(estimates, { texts, bytes }, options.over));
        print(
          told(options.to, {
            report: () => whatIfReport(estimates, found, about),
            json: () => ({ changes: about, ...whatIfJson(found) }),
            csv: () => ({ columns: WHAT_IF_COLUMNS, rows: whatIfRows(found), figures: WHAT_IF_FIGURES }),
          }),
        );
      } catch (error) {
        throw error instanceof Refused ? new UsageError(error.message) : error;
      }
    });
}

function lines(words: Readonly<Record<string, string>>): string {
  return Object.entries(words)
    .map(([word, what]) => `${word}: ${what}`)
    .join('; ');
}

/** `FILE`, which has the name of one file of the book, or `PLACE=FILE`. */
function placeOf(book: Book, text: string): { uri: string; file: string } {
  const all = [
    ...new Set(
      [...book.files()].flatMap(({ uri, kind, value }) => {
        const from = kind?.kind === 'parts' ? (value.from as { file?: string } | undefined)?.file : undefined;
        const drawn = from === undefined ? undefined : resolve(uri, from);
        return drawn === undefined ? [uri] : [uri, drawn];
      }),
    ),
  ];
  const cut = text.indexOf('=');
  if (cut > 0) {
    const place = text.slice(0, cut).replaceAll('\\', '/');
    const uri = all.find((one) => relative(book.root, one) === place);
    if (uri) return { uri, file: text.slice(cut + 1) };
    throw new UsageError(`This book has no file "${place}", and no catalog that draws from it.`);
  }
  const found = all.filter((uri) => nameOf(uri) === basename(text));
  if (found.length === 1) return { uri: canonical(found[0]!), file: text };
  const places = found.map((uri) => `--with ${relative(book.root, uri)}=${text}`);
  throw new UsageError(
    found.length === 0
      ? `No file of this book is called "${basename(text)}". Say which one it would replace: --with PLACE=${text}`
      : `Several files of this book are called "${basename(text)}". Say which one: ${places.join(' or ')}`,
  );
}
