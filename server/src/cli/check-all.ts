/** A whole book checked on all processors: each has the book, and tells what is wrong with its share of the files. */
import { availableParallelism } from 'node:os';
import { Worker } from 'node:worker_threads';
import { fileCount, ordered, type Report, reports, type Share } from './check.ts';
import { openBook } from './open.ts';

/** With fewer files one processor is done before another has read the book. */
const MANY = 500;
/** Each helper holds the book in its own memory. */
const MOST_HELPERS = 3;
/** Megabytes for what is made and forgotten at once, which is most of what a check makes. */
const YOUNG = 96;

export interface ToHelper extends Share {
  readonly path: string;
}

export interface Checked {
  readonly found: readonly Report[];
  readonly files: number;
}

/** `tell` hears what part is done, from 0 to 1; `many`: from how many files on helpers are called. */
export async function checkAll(
  path: string,
  tell: (part: number) => void = () => undefined,
  many = MANY,
): Promise<Checked> {
  const opened = openBook(path);
  const files = fileCount(opened);
  const helpers = files < many ? 0 : Math.min(availableParallelism() - 1, MOST_HELPERS);
  const of = helpers + 1;
  const others = Array.from({ length: helpers }, (_, i) => helper({ path, share: i + 1, of }));
  let done = 0;
  // The shares are alike: how far this one is says how far all are.
  const own = reports(opened, { share: 0, of }, () => tell(Math.min((++done * of) / files, 1)));
  const found = (await Promise.all(others)).flat();
  return { found: helpers === 0 ? own : ordered([...own, ...found]), files };
}

function helper(share: ToHelper): Promise<Report[]> {
  const worker = new Worker(new URL('./check-helper.ts', import.meta.url), {
    workerData: share,
    resourceLimits: { maxYoungGenerationSizeMb: YOUNG },
  });
  return new Promise((done, failed) => {
    worker.on('message', done);
    worker.on('error', failed);
    worker.on('exit', () => failed(new Error('A part of the check ended before it was done.')));
  });
}
