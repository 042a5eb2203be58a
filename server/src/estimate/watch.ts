/**
 * What an answer was made from. Each look-up is noted with what it gave; the answer holds as long as every
 * look-up would give the same again, which is quicker to ask than to answer anew.
 */

/** So many look-ups of a kind are kept to be shared; ids that are typed and gone again are not kept forever. */
const SHARED = 250_000;

/** One look-up. However many answers come from it, it is made once for each version of the book. */
class Lookup {
  readonly #get: () => unknown;
  #version: number;
  #value: unknown;
  /** The watch that noted it last. */
  notedBy: Watch | undefined;

  constructor(get: () => unknown, version: number) {
    this.#get = get;
    this.#version = version;
    this.#value = get();
  }

  at(version: number): unknown {
    if (this.#version !== version) {
      this.#value = this.#get();
      this.#version = version;
    }
    return this.#value;
  }
}

/** The look-ups that all answers from a book share. */
export class Lookups {
  readonly #version: () => number;
  readonly #known = new Map<string, Map<string, Lookup>>();

  /** `version`: tells another number whenever a look-up may give something else. */
  constructor(version: () => number) {
    this.#version = version;
  }

  get version(): number {
    return this.#version();
  }

  of(kind: string, id: string, get: () => unknown): Lookup {
    let byId = this.#known.get(kind);
    if (!byId || byId.size >= SHARED) {
      byId = new Map();
      this.#known.set(kind, byId);
    }
    let known = byId.get(id);
    if (!known) {
      known = new Lookup(get, this.version);
      byId.set(id, known);
    }
    return known;
  }
}

export class Watch {
  readonly #lookups: Lookups;
  readonly #seen: Lookup[] = [];
  readonly #values: unknown[] = [];

  constructor(lookups: Lookups) {
    this.#lookups = lookups;
  }

  /**
   * Looks something up and notes it. Kind and id say all that it depends on besides the book. `get` has to give the
   * same object as long as nothing has changed.
   */
  note<T>(kind: string, id: string, get: () => T): T {
    const lookup = this.#lookups.of(kind, id, get);
    const value = lookup.at(this.#lookups.version);
    if (lookup.notedBy !== this) {
      lookup.notedBy = this;
      this.#seen.push(lookup);
      this.#values.push(value);
    }
    return value as T;
  }

  holds(): boolean {
    const { version } = this.#lookups;
    return this.#seen.every((lookup, i) => lookup.at(version) === this.#values[i]);
  }
}
