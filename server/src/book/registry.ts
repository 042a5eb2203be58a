/** Which ids exist, who brings them into being, and which pieces name them. */
import type { RefKind } from '../../../schemas/declare.ts';
import type { Definition, PieceFacts, Use } from './facts.ts';

const NONE: readonly never[] = [];

/** An id of a kind, as one key. */
export type Key = string;
export const keyFor = (kind: RefKind, id: string): Key => `${kind}\n${id}`;

export class Registry {
  readonly #definitions = new Map<RefKind, Map<string, Definition[]>>();
  readonly #users = new Map<RefKind, Map<string, Set<PieceFacts>>>();
  /** Ids that are brought into being more than once and should not be. */
  readonly #repeated = new Map<Key, readonly Definition[]>();

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
    return (this.#definitions.get(kind) ?? new Map<string, Definition[]>()).keys();
  }

  *all(kind: RefKind): IterableIterator<Definition> {
    for (const [first] of (this.#definitions.get(kind) ?? new Map<string, Definition[]>()).values())
      if (first) yield first;
  }

  count(kind: RefKind): number {
    return this.#definitions.get(kind)?.size ?? 0;
  }

  /** The pieces that name an id. */
  users(kind: RefKind, id: string): ReadonlySet<PieceFacts> {
    return this.#users.get(kind)?.get(id) ?? new Set();
  }

  get repeated(): ReadonlyMap<Key, readonly Definition[]> {
    return this.#repeated;
  }

  /** Takes pieces out and puts pieces in; answers with the ids whose definitions have changed. */
  replace(removed: readonly PieceFacts[], added: readonly PieceFacts[]): Set<Key> {
    const touched = new Set<Key>();
    for (const facts of removed) {
      for (const definition of facts.definitions) this.#undefine(definition, touched);
      for (const use of facts.uses)
        for (const kind of use.kinds) this.#users.get(kind)?.get(use.id)?.delete(facts);
    }
    for (const facts of added) {
      for (const definition of facts.definitions) this.#define(definition, touched);
      for (const use of facts.uses) {
        for (const kind of use.kinds) setIn(mapIn(this.#users, kind), use.id).add(facts);
      }
    }
    return touched;
  }

  #define(definition: Definition, touched: Set<Key>): void {
    if (definition.local) return;
    const byId = mapIn(this.#definitions, definition.kind);
    const list = byId.get(definition.id);
    if (list) list.push(definition);
    else byId.set(definition.id, [definition]);
    this.#noteRepeats(definition, list);
    touched.add(keyFor(definition.kind, definition.id));
  }

  #undefine(definition: Definition, touched: Set<Key>): void {
    if (definition.local) return;
    const byId = this.#definitions.get(definition.kind);
    const list = byId?.get(definition.id);
    if (!byId || !list) return;
    const left = list.filter((other) => other !== definition);
    if (left.length > 0) byId.set(definition.id, left);
    else byId.delete(definition.id);
    this.#noteRepeats(definition, left);
    touched.add(keyFor(definition.kind, definition.id));
  }

  #noteRepeats(definition: Definition, list: readonly Definition[] | undefined): void {
    if (definition.shared || definition.facts.file.kind?.layered) return;
    const key = keyFor(definition.kind, definition.id);
    if (list && list.length > 1) this.#repeated.set(key, list);
    else this.#repeated.delete(key);
  }
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
