/** `compare REV [REV]`: what changed in a book between two revisions of its history, in the shop's words. */
import type { Command } from 'commander';
import type { Book } from '../book/book.ts';
import { DISK, folderUri } from '../book/disk.ts';
import { Workspace } from '../book/workspace.ts';
import { Estimates } from '../estimate/estimates.ts';
import { compareBooks } from '../upkeep/compare/compare.ts';
import { comparisonJson, comparisonReport } from '../upkeep/compare/report.ts';
import { History } from './history.ts';
import { openBook } from './open.ts';
import { finished, type Shape, told, toOption } from './upkeep.ts';

interface Options {
  readonly book: string;
  readonly to: Shape;
}

export function addCompareCommand(program: Command, print: (text: string) => void): void {
  program
    .command('compare')
    .description('what changed between two revisions of a book kept in git, prices first')
    .argument('<rev>', 'a revision: a commit, a branch, a tag, HEAD~3')
    .argument('[rev2]', 'another; the files as they are now, when left out')
    .option('--book <path>', 'the folder of the book', '.')
    .addOption(toOption('text', 'markdown', 'json'))
    .action((rev: string, rev2: string | undefined, options: Options) => {
      const now = openBook(options.book);
      const history = new History(now.folder);
      const before = booksAt(history, rev);
      const after = rev2 === undefined ? now.books.map(({ book }) => book) : booksAt(history, rev2);
      const title = `What changed in the book from ${rev} to ${rev2 ?? 'now'}`;
      for (const [was, is] of paired(before, after, now.folder)) {
        const found = finished(compareBooks(new Estimates(was), new Estimates(is)));
        print(
          told(options.to, {
            report: () => comparisonReport(is, found, title),
            json: () => comparisonJson(found),
          }),
        );
      }
    });
}

function booksAt(history: History, rev: string): readonly Book[] {
  const { texts, bytes } = history.at(rev);
  const workspace = new Workspace([folderUri(history.folder)], {
    read: (uri) => bytes.get(uri),
    // Pictures are not looked for in the past.
    size: (uri, within) => bytes.get(uri)?.length ?? DISK.size(uri, within),
  });
  workspace.load(texts);
  return workspace.books;
}

/** By the folder that they lie in; a book that is only on one side is held against an empty one. */
function paired(before: readonly Book[], after: readonly Book[], folder: string): [Book, Book][] {
  if (before.length <= 1 && after.length <= 1)
    return [[before[0] ?? empty(folder), after[0] ?? empty(folder)]];
  const roots = new Set([...before, ...after].map(({ root }) => root));
  const at = (books: readonly Book[], root: string) =>
    books.find((one) => one.root === root) ?? empty(folder);
  return [...roots].sort().map((root) => [at(before, root), at(after, root)]);
}

function empty(folder: string): Book {
  return new Workspace([folderUri(folder)], DISK).bookFor(folderUri(folder));
}
