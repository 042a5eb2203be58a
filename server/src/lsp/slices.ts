/** Long work in slices, so that messages are heard between them. */

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

/** Lets everything that waits have its turn. */
export function pause(): Promise<void> {
  return new Promise((done) => setTimeout(done, 0));
}
