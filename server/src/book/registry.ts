/** Which ids exist, who brings them into being, and which pieces name them. */
import type { RefKind } from '../../../schemas/declare.ts';
import type { Definition, PieceFacts, Use } from './facts.ts';
import { byNearness, NearIds } from './near.ts';

const NONE: readonly never[] = [];
const NOBODY: ReadonlySet<PieceFacts> = new Set();

/** An id of a kind, as one key. */
export type Key = string;
export const keyFor = (kind: RefKind, id: string): Key => `${kind}\n${id}`;

/** What replacing pieces has done to an id. */
export interface Effect {
  readonly kind: RefKind;
  readonly id: string;
  /** `came`: nobody defined it before. `went`: nobody defines it now. `changed`: its definitions are other ones. */
  readonly what: 'came' | 'went' | 'changed';
  /** Those who define it now and those who did, when it is or was defined more than once and should not be. */
  readonly rivals: readonly Definition[];
}

interface Touch {
  readonly was: readonly Definition[];
  readonly gone: Set<Definition>;
}

export class Registry {
  readonly #definitions = new Map<RefKind, Map<string, Definition[]>>();
  readonly #users = new Map<RefKind, Map<string, Set<PieceFacts>>>();
  /** Ids that are brought into being more than once and should not be. */
  readonly #repeated = new Map<Key, readonly Definition[]>();
  /** Made when first asked for; most kinds never are. */
  readonly #near = new Map<RefKind, NearIds>();

  /** By the URI of their file, then by their place in it. */
  definitions(kind: RefKind, id: string): readonly Definition[] {
    return this.#definitions.get(kind)?.get(id) ?? NONE;
  }

  /** The first definition counts; the others are reported. */
  definition(kind: RefKind, id: string): Definition | undefined {
    return this.#definitions.get(kind)?.get(id)?.[0];
  }

  /** The definition that a use means: the first of its kinds that knows the id. */
  resolve(use: Use): Definition | undefined {
    for (const kind of use.kinds) {
      const found = this.definition(kind, use.id);
      if (found) return found;
    }
    return undefined;
  }

  ids(kind: RefKind): IterableIterator<string> {
    return (this.#definitions.get(kind) ?? new Map<string, never>()).keys();
  }

  *all(kind: RefKind): IterableIterator<Definition> {
    for (const [first] of (this.#definitions.get(kind) ?? new Map<string, never>()).values())
      if (first) yield first;
  }

  count(kind: RefKind): number {
    return this.#definitions.get(kind)?.size ?? 0;
  }

  /** The pieces that name an id. */
  users(kind: RefKind, id: string): ReadonlySet<PieceFacts> {
    return this.#users.get(kind)?.get(id) ?? NOBODY;
  }

  get repeated(): ReadonlyMap<Key, readonly Definition[]> {
    return this.#repeated;
  }

  /** Ids that a word may have been meant to be, best first. */
  near(kinds: RefKind | readonly RefKind[], word: string, most = 3): string[] {
    const found = [kinds].flat().flatMap((kind) => this.#nearIds(kind).nearest(word, most));
    return [...new Set(found.sort(byNearness).map(({ id }) => id))].slice(0, most);
  }

  /** Takes pieces out and puts pieces in; tells each id whose definitions are others now. */
  replace(removed: readonly PieceFacts[], added: readonly PieceFacts[]): Effect[] {
    const touched = new Map<RefKind, Map<string, Touch>>();
    const effects: Effect[] = [];
    // In before out: what stays defined then keeps its place, and nothing comes and goes at each keystroke.
    for (const facts of added) {
      for (const definition of facts.definitions) {
        if (definition.local) continue;
        const { kind, id } = definition;
        const byId = mapIn(this.#definitions, kind);
        const list = byId.get(id);
        if (list) {
          this.#touch(touched, definition);
          list.push(definition);
        } else {
          byId.set(id, [definition]);
          this.#near.get(kind)?.add(id);
          effects.push({ kind, id, what: 'came', rivals: NONE });
        }
      }
      for (const use of facts.uses)
        for (const kind of use.kinds) setIn(mapIn(this.#users, kind), use.id).add(facts);
    }
    for (const facts of removed) {
      for (const definition of facts.definitions) {
        if (!definition.local) this.#touch(touched, definition).gone.add(definition);
      }
      for (const use of facts.uses) for (const kind of use.kinds) this.#forget(kind, use.id, facts);
    }
    for (const [kind, ids] of touched)
      for (const [id, touch] of ids) effects.push(this.#settle(kind, id, touch));
    return effects;
  }

  #touch(touched: Map<RefKind, Map<string, Touch>>, { kind, id }: Definition): Touch {
    const ids = mapIn(touched, kind);
    let touch = ids.get(id);
    if (!touch) {
      touch = { was: [...this.definitions(kind, id)], gone: new Set() };
      ids.set(id, touch);
    }
    return touch;
  }

  #settle(kind: RefKind, id: string, { was, gone }: Touch): Effect {
    const byId = this.#definitions.get(kind)!;
    const now = byId.get(id)!.filter((one) => !gone.has(one));
    if (now.length > 1) now.sort(byPlace);
    if (now.length > 0) byId.set(id, now);
    else {
      byId.delete(id);
      this.#near.get(kind)?.delete(id);
    }
    const key = keyFor(kind, id);
    const clashing = now.length > 1 ? now.filter(mayClash) : NONE;
    const rivals = clashing.length > 1 || this.#repeated.has(key) ? [...was, ...now] : NONE;
    if (clashing.length > 1) this.#repeated.set(key, clashing);
    else this.#repeated.delete(key);
    return { kind, id, what: now.length > 0 ? 'changed' : 'went', rivals };
  }

  #forget(kind: RefKind, id: string, facts: PieceFacts): void {
    const byId = this.#users.get(kind);
    const users = byId?.get(id);
    if (!users) return;
    users.delete(facts);
    if (users.size === 0) byId?.delete(id);
  }

  #nearIds(kind: RefKind): NearIds {
    let near = this.#near.get(kind);
    if (!near) {
      near = new NearIds();
      for (const id of this.ids(kind)) near.add(id);
      this.#near.set(kind, near);
    }
    return near;
  }
}

function mayClash({ shared, facts }: Definition): boolean {
  return !shared && !facts.file.kind?.layered;
}

function byPlace(a: Definition, b: Definition): number {
  const [one, other] = [a.facts.file, b.facts.file];
  if (one !== other) return one.uri < other.uri ? -1 : 1;
  return one.source.indexOf(a.facts.piece) - one.source.indexOf(b.facts.piece);
}

function mapIn<K, L, V>(map: Map<K, Map<L, V>>, key: K): Map<L, V> {
  let inner = map.get(key);
  if (!inner) {
    inner = new Map();
    map.set(key, inner);
  }
  return inner;
}

function setIn<V>(map: Map<string, Set<V>>, key: string): Set<V> {
  let inner = map.get(key);
  if (!inner) {
    inner = new Set();
    map.set(key, inner);
  }
  return inner;
}
