/** `new-book`: a small shop book that works, and the parts of a price list in it. */
import { existsSync, mkdirSync, readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';
import { type Command, Option } from 'commander';
import { PART_KINDS, type PartKind } from '../../../schemas/kinds/shared.ts';
import { NO_HOST } from '../book/host.ts';
import { Workspace } from '../book/workspace.ts';
import { today } from '../lsp/day.ts';
import { priceEdits } from '../upkeep/prices/apply.ts';
import { compare } from '../upkeep/prices/compare.ts';
import { FIELDS } from '../upkeep/prices/headings.ts';
import { readPriceFile } from '../upkeep/prices/intake.ts';
import { changedTexts } from '../upkeep/prices/texts.ts';
import { display, UsageError } from './open.ts';
import { bytesOf, run, stated, tellLeftOut } from './prices.ts';
import { ROOT } from './root.ts';

/** The same files as the editor's walkthrough writes. */
const STARTER = join(ROOT, 'client/starter');
const BOOK = 'file:///book/';

interface Options {
  readonly fromPrices?: string;
  readonly sort: PartKind;
  readonly column?: string[];
}

export function addNewBookCommand(program: Command, print: (text: string) => void): void {
  program
    .command('new-book')
    .description('write a small shop book that works, to start from')
    .argument('<folder>', 'where to; a folder that has no such files yet')
    .option('--from-prices <file>', 'with the parts of this price list (CSV)')
    .addOption(
      new Option('--sort <kind>', 'what sort of parts these are')
        .choices(Object.keys(PART_KINDS))
        .default('soft'),
    )
    .option('--column <field=heading...>', `where a column is headed otherwise: ${FIELDS.join(', ')}`)
    .action((folder: string, options: Options) => {
      const files = starter();
      if (options.fromPrices !== undefined) addPrices(files, options.fromPrices, options, print);
      write(folder, files);
      print(`Written: ${files.size} files in ${display(folder)}. All figures but your own are made up.`);
      print(`Next: gearquill price J-1 --book ${display(folder)}`);
    });
}

function starter(): Map<string, string> {
  const paths = readdirSync(STARTER, { recursive: true, encoding: 'utf8' }).map((path) =>
    path.replaceAll('\\', '/'),
  );
  const files = paths.filter((path) => statSync(join(STARTER, path)).isFile());
  return new Map(files.map((path) => [path, readFileSync(join(STARTER, path), 'utf8')]));
}

/** A catalog of the rows that can be read without doubt; the others are told. */
function addPrices(
  files: Map<string, string>,
  path: string,
  options: Options,
  print: (text: string) => void,
): void {
  const read = readPriceFile(bytesOf(path), { headings: stated(options.column ?? []) });
  if (typeof read === 'string')
    throw new UsageError(`${display(path)}: ${read.replace(/ Say it: (.*)$/, ' Say it: --column $1')}`);
  const name = catalogName(path, files);
  files.set(name, `# From ${basename(path).replace(/[\r\n]/g, ' ')}.\nkind: parts\n\nparts:\n`);
  const workspace = new Workspace([BOOK], NO_HOST);
  workspace.load(new Map([...files].map(([file, text]) => [BOOK + file, text])));
  const book = workspace.books[0]!;
  const file = book.file(BOOK + name)!;
  const found = run(compare(book, read, { files: new Set([file]), on: today() }), read.rows.length);
  const made = run(
    priceEdits(book, found, {
      from: undefined,
      accepts: () => false,
      newParts: { file, kind: options.sort },
    }),
    found.changes.length,
  );
  const text = changedTexts(made.edits).get(file.uri);
  if (text === undefined) throw new UsageError(`${display(path)}: no row of it can be taken over.`);
  files.set(name, text);
  tellLeftOut(made.leftOut, basename(path), print);
  print(
    `${made.written.size} of ${read.rows.length + read.unread.length} rows taken over into ${name}, as parts of the sort ${options.sort}.`,
  );
}

function catalogName(path: string, files: ReadonlyMap<string, string>): string {
  const plain = basename(path)
    .replace(/\.\w+$/, '')
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^-+|-+$/g, '');
  const name = `${plain || 'prices'}.parts.yaml`;
  return files.has(name) ? `prices-${name}` : name;
}

function write(folder: string, files: ReadonlyMap<string, string>): void {
  const there = [...files.keys()].filter((path) => existsSync(join(folder, path)));
  if (there.length > 0)
    throw new UsageError(`Nothing is written: ${display(folder)} has ${there.join(', ')} already.`);
  for (const [path, text] of files) {
    mkdirSync(dirname(join(folder, path)), { recursive: true });
    writeFileSync(join(folder, path), text, { flag: 'wx' });
  }
}
