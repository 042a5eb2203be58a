/** `prices FILE`: a supplier's price file held against the book, and taken over. */
import { existsSync, readFileSync } from 'node:fs';
import { basename, dirname, join, resolve } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { type Command, Option } from 'commander';
import { PART_KINDS, type PartKind } from '../../../schemas/kinds/shared.ts';
import { type IsoDate, parseDate } from '../../../schemas/values/dates.ts';
import { didYouMean } from '../../../schemas/values/words.ts';
import type { Book } from '../book/book.ts';
import type { BookFile } from '../book/file.ts';
import { canonical, nameOf } from '../book/paths.ts';
import type { Encoding } from '../book/price-table.ts';
import { today } from '../lsp/day.ts';
import { type LeftOut, priceEdits } from '../upkeep/prices/apply.ts';
import { compare } from '../upkeep/prices/compare.ts';
import { priceCsv, priceEntries } from '../upkeep/prices/entries.ts';
import { FIELDS, type Field, type Headings } from '../upkeep/prices/headings.ts';
import { readPriceFile } from '../upkeep/prices/intake.ts';
import { priceReport } from '../upkeep/prices/report.ts';
import { headingsIn, kindOfAll, scopeOf } from '../upkeep/prices/scope.ts';
import { changedTexts } from '../upkeep/prices/texts.ts';
import { plural } from '../upkeep/report/report.ts';
import { reportText } from '../upkeep/report/text.ts';
import { bookFolder, display, openBook, UsageError } from './open.ts';
import { replaceFiles } from './write-files.ts';

interface Options {
  readonly book?: string;
  readonly supplier?: string;
  readonly catalog?: readonly string[];
  readonly column?: readonly string[];
  readonly delimiter?: string;
  readonly encoding?: Encoding;
  readonly decimal?: 'point' | 'comma';
  readonly from?: string;
  readonly addNew?: string;
  readonly sort?: PartKind;
  readonly accept?: readonly string[];
  readonly acceptAll?: true;
  readonly apply?: true;
  readonly to: 'text' | 'json' | 'csv';
}

/** Rows of a table that a terminal shows; `--to csv` has all. */
const MOST = 40;
const HOW_TO_ACCEPT = 'Taken over only when it is meant: --accept NUMBER.';

export function addPricesCommand(program: Command, print: (text: string) => void): void {
  program
    .command('prices')
    .description("hold a supplier's price file against the book; nothing is written without --apply")
    .argument('<file>', 'the price file as the supplier sends it (CSV)')
    .option('--book <path>', 'the folder of the book; the one around the price file, or here, when left out')
    .option('--supplier <id>', 'only parts of this supplier')
    .option('--catalog <files...>', 'only parts of these files')
    .option('--column <field=heading...>', `where a column is headed otherwise: ${FIELDS.join(', ')}`)
    .option('--delimiter <sign>', 'between columns, or: tab (found by itself)')
    .addOption(
      new Option('--encoding <name>', 'of the file (found by itself)').choices([
        'utf-8',
        'utf-16le',
        'utf-16be',
        'windows-1252',
      ]),
    )
    .addOption(new Option('--decimal <mark>', 'of its amounts (found by itself)').choices(['point', 'comma']))
    .option('--from <day>', 'keep the old prices, and let the new ones hold from this day on')
    .option('--add-new <catalog>', 'add new parts to this file')
    .addOption(
      new Option('--sort <kind>', 'what sort of part the new ones are').choices(Object.keys(PART_KINDS)),
    )
    .option('--accept <numbers...>', 'take doubtful rows over: these numbers are meant')
    .option('--accept-all', 'take every doubtful row over')
    .option('--apply', 'write it into the catalogs')
    .addOption(new Option('--to <format>', 'how to tell it').choices(['text', 'json', 'csv']).default('text'))
    .action((path: string, options: Options) => prices(path, options, print));
}

function prices(path: string, options: Options, print: (text: string) => void): void {
  const bytes = bytesOf(path);
  const from = options.from === undefined ? undefined : dayOf(options.from);
  const { book, files } = scopeIn(path, options);
  const read = readPriceFile(bytes, {
    headings: stated(options.column ?? []),
    known: headingsIn(files ?? book.filesOf('parts')),
    delimiter: options.delimiter === 'tab' ? '\t' : options.delimiter,
    encoding: options.encoding,
    decimal: options.decimal && (options.decimal === 'comma' ? ',' : '.'),
  });
  if (typeof read === 'string')
    throw new UsageError(`${display(path)}: ${read.replace(/ Say it: (.*)$/, ' Say it: --column $1')}`);
  const meant = new Set(options.accept);
  for (const number of meant)
    if (!read.rows.some((row) => row.number === number))
      throw new UsageError(`The price file has no number "${number}" to accept.`);
  const accepts = (number: string) => options.acceptAll === true || meant.has(number);
  const found = run(compare(book, read, { files, on: from ?? today() }), read.rows.length);
  const newParts = options.addNew === undefined ? undefined : newPartsIn(book, options.addNew, options.sort);
  const made = run(priceEdits(book, found, { from, accepts, newParts }), found.changes.length);
  const texts = changedTexts(made.edits);
  const left = made.leftOut.filter(({ told }) => !told);

  if (options.to === 'text') {
    print(
      reportText(
        priceReport(book, found, {
          name: basename(path),
          read,
          accepts,
          howToAccept: HOW_TO_ACCEPT,
          most: MOST,
        }),
      ),
    );
    print('');
  } else {
    const entries = priceEntries(book, found, accepts, made.leftOut);
    const files = [...texts.keys()].map((uri) => display(uri));
    if (options.to === 'csv') process.stdout.write(priceCsv(entries));
    else print(JSON.stringify({ applied: options.apply === true, on: found.on, files, entries }, null, 2));
  }
  const tell = options.to === 'text' ? print : (text: string) => process.stderr.write(`${text}\n`);
  tellLeftOut(left, basename(path), tell);
  write(texts, made.written.size, options.apply === true, tell);
}

function write(
  texts: ReadonlyMap<string, string>,
  rows: number,
  apply: boolean,
  tell: (text: string) => void,
): void {
  const files = [...texts.keys()].map((uri) => display(uri));
  const what = `${plural(rows, 'row')} in ${plural(files.length, 'file')}${files.length > 0 ? ` (${files.join(', ')})` : ''}`;
  if (texts.size === 0) tell('There is nothing to write.');
  else if (!apply) tell(`Nothing is written. To write ${what}, add: --apply`);
  else {
    if (texts.size > 1)
      tell(`Writing ${texts.size} files. Should this be cut off, run it again: it writes what is left.`);
    try {
      replaceFiles(new Map([...texts].map(([uri, text]) => [fileURLToPath(uri), text])));
    } catch (error) {
      const { code, message, path } = error as NodeJS.ErrnoException;
      throw new UsageError(
        `The files cannot be written (${code ?? message}${path ? `, ${display(path)}` : ''}). See to it and run this again: it writes what is left.`,
      );
    }
    tell(`Written: ${what}.`);
  }
}

export function tellLeftOut(left: readonly LeftOut[], name: string, tell: (text: string) => void): void {
  for (const { number, line, why } of left.slice(0, MOST)) tell(`${name}:${line}: ${number}: ${why}`);
  if (left.length > MOST) tell(`${left.length - MOST} more rows are not taken over; --to csv has them all.`);
}

export function bytesOf(path: string): Uint8Array {
  try {
    return readFileSync(path);
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException;
    throw new UsageError(
      code === 'ENOENT' ? `There is no file "${path}".` : `"${path}" cannot be read: ${code}.`,
    );
  }
}

function scopeIn(path: string, options: Options): { book: Book; files: ReadonlySet<BookFile> | undefined } {
  const around = bookFolder(dirname(resolve(path)));
  const { books, folder } = openBook(options.book ?? (existsSync(join(around, 'shop.yaml')) ? around : '.'));
  const catalogs = options.catalog?.map((path) => canonical(pathToFileURL(resolve(path)).href));
  const book = (
    books.find(({ book }) => catalogs === undefined || catalogs.some((uri) => book.file(uri))) ?? books[0]
  )?.book;
  if (!book || (books.length > 1 && catalogs === undefined))
    throw new UsageError(
      `There are several shop books in ${display(folder)}. Say which: --book FOLDER, or --catalog FILE.`,
    );
  const files = scopeOf(book, { catalogs, supplier: options.supplier });
  if (typeof files === 'string') throw new UsageError(files);
  return { book, files };
}

export function stated(columns: readonly string[]): Headings {
  const headings: { [F in Field]?: string } = {};
  for (const said of columns) {
    const [name = '', ...rest] = said.split('=');
    const field = FIELDS.find((one) => one === name.trim());
    const heading = rest.join('=').trim();
    if (!field || heading === '') {
      const near = didYouMean(name, FIELDS, 1)[0];
      throw new UsageError(
        `"${said}" does not say which column is which. Write one of ${FIELDS.join(', ')}, an equals sign and the heading, such as cost=Net.${near && near !== name ? ` Did you mean "${near}"?` : ''}`,
      );
    }
    headings[field] = heading;
  }
  return headings;
}

function newPartsIn(book: Book, path: string, sort: PartKind | undefined) {
  const uri = canonical(pathToFileURL(resolve(path)).href);
  const file = book.file(uri) ?? [...book.filesOf('parts')].find((one) => nameOf(one.uri) === path);
  if (file?.kind?.kind !== 'parts') throw new UsageError(`"${path}" is not a catalog of parts of this book.`);
  const kind = sort ?? kindOfAll(book, file);
  if (!kind)
    throw new UsageError(
      `Say what sort of part the new ones are: --sort and one of ${Object.keys(PART_KINDS).join(', ')}.`,
    );
  return { file, kind };
}

function dayOf(text: string): IsoDate {
  const day = parseDate(text);
  if (!day.ok) throw new UsageError(day.message);
  return day.value;
}

const PATIENCE = 1000;

/** Runs to the end; from a second on, a terminal is told how far it is. */
export function run<T>(steps: Generator<number, T>, all: number): T {
  const since = performance.now();
  let told = 0;
  for (;;) {
    const step = steps.next();
    if (step.done) {
      if (told > 0) process.stderr.write('\r\u001b[K');
      return step.value;
    }
    const now = performance.now();
    if (process.stderr.isTTY && now - since > PATIENCE && now - told > 100) {
      told = now;
      process.stderr.write(`\r${step.value} of ${all}`);
    }
  }
}
