/** Long work in slices, so that messages are heard between them. */
import type { CancellationToken } from 'vscode-languageserver';
import type { Book } from '../book/book.ts';
import { Refusal } from '../features/edit.ts';

/** Milliseconds of work at a stretch. */
const SLICE = 20;

export class Slices {
  #since = performance.now();

  /** True once a slice of time is used up; then a new one begins. */
  get over(): boolean {
    const now = performance.now();
    if (now - this.#since < SLICE) return false;
    this.#since = now;
    return true;
  }
}

/**
 * What work in steps on a book comes to; null once it is cancelled. A book that changes meanwhile ends it, and `again`
 * says what to do then. `tell` hears of steps, at most one a slice.
 */
export async function inSlices<S, T>(
  book: Book,
  steps: Generator<S, T>,
  token: CancellationToken,
  again: string,
  tell: (step: S) => void = () => undefined,
): Promise<T | null> {
  const { version } = book;
  const slices = new Slices();
  for (;;) {
    const step = steps.next();
    if (step.done) return step.value;
    if (!slices.over) continue;
    tell(step.value);
    await pause();
    if (token.isCancellationRequested) return null;
    if (book.version !== version) throw new Refusal(`The shop book has changed meanwhile. ${again}`);
  }
}

/** Lets everything that waits have its turn. */
export function pause(): Promise<void> {
  return new Promise((done) => setTimeout(done, 0));
}
