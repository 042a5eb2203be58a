/** The files of a book as they were at a revision of git. Nothing is written, and no shell is asked. */
import { execFileSync } from 'node:child_process';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { canonical } from '../book/paths.ts';
import { UsageError } from './open.ts';

/** Everything of a large book, and room besides. */
const MOST_BYTES = 1_000_000_000;

/** What belongs to a book: YAML and price files, in folders that are looked into. */
const OF_BOOK = /\.(?:ya?ml|csv|tsv|txt)$/i;
const PASSED_OVER = /(?:^|\/)(?:\.[^/]*|node_modules|dist)(?:\/|$)/;

export interface Past {
  /** YAML files by URI. */
  readonly texts: Map<string, string>;
  /** Price files by URI. */
  readonly bytes: Map<string, Uint8Array>;
}

export class History {
  readonly folder: string;

  constructor(folder: string) {
    this.folder = folder;
    if (this.#git(['rev-parse', '--is-inside-work-tree'])?.toString().trim() !== 'true')
      throw new UsageError(`${folder} is not kept in git, so there are no revisions to compare.`);
  }

  at(rev: string): Past {
    const commit = this.#git(['rev-parse', '--verify', '--quiet', '--end-of-options', `${rev}^{commit}`]);
    if (!commit) throw new UsageError(`There is no revision "${rev}" in the history of this book.`);
    const files = this.#files(commit.toString().trim());
    const contents = this.#contents(files.map(({ object }) => object));
    const past: Past = { texts: new Map(), bytes: new Map() };
    for (const [i, { path }] of files.entries()) {
      const uri = canonical(pathToFileURL(join(this.folder, path)).href);
      const bytes = contents[i]!;
      if (/\.ya?ml$/i.test(path))
        past.texts.set(uri, new TextDecoder('utf-8', { ignoreBOM: true }).decode(bytes));
      else past.bytes.set(uri, bytes);
    }
    return past;
  }

  /** Paths count from the folder of the book. Links are left out, as they are when a folder is read. */
  #files(commit: string): { path: string; object: string }[] {
    const listed = this.#git(['ls-tree', '-r', '-z', commit, '--', '.'])?.toString() ?? '';
    return listed.split('\0').flatMap((line) => {
      const [, mode, object, path] = /^(\d+) blob ([0-9a-f]+)\t(.*)$/s.exec(line) ?? [];
      const wanted = mode?.startsWith('100') && OF_BOOK.test(path!) && !PASSED_OVER.test(path!);
      return wanted ? [{ path: path!, object: object! }] : [];
    });
  }

  /** All at once: a process for each of ten thousand jobs would take minutes. */
  #contents(objects: readonly string[]): Uint8Array[] {
    if (objects.length === 0) return [];
    const out = this.#git(['cat-file', '--batch'], `${objects.join('\n')}\n`);
    if (!out) throw new UsageError('git could not read the files of this revision.');
    const contents: Uint8Array[] = [];
    for (let at = 0; contents.length < objects.length; ) {
      const end = out.indexOf(10, at);
      const size = Number(out.subarray(at, end).toString().split(' ')[2]);
      contents.push(out.subarray(end + 1, end + 1 + size));
      at = end + 1 + size + 1;
    }
    return contents;
  }

  /** Undefined where git says no. */
  #git(args: readonly string[], input?: string): Buffer | undefined {
    try {
      return execFileSync('git', ['-C', this.folder, ...args], {
        maxBuffer: MOST_BYTES,
        stdio: ['pipe', 'pipe', 'ignore'],
        ...(input === undefined ? {} : { input }),
      });
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code === 'ENOENT')
        throw new UsageError('git is not installed here; `compare` asks it for the older files.');
      return undefined;
    }
  }
}
