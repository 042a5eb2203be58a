/**
 * What an answer was made from. Each look-up is noted with what it gave; the answer holds as long as every
 * look-up would give the same again, which is quicker to ask than to answer anew.
 */
export class Watch {
  readonly #seen = new Map<string, { get: () => unknown; value: unknown }>();

  /** Looks something up and notes it. `get` has to give the same object as long as nothing has changed. */
  note<T>(key: string, get: () => T): T {
    const known = this.#seen.get(key);
    if (known) return known.value as T;
    const value = get();
    this.#seen.set(key, { get, value });
    return value;
  }

  holds(): boolean {
    for (const { get, value } of this.#seen.values()) if (get() !== value) return false;
    return true;
  }
}
