/** What the book has that fills a role for a unit family, the best first. */
import type { RefKind } from '../../../schemas/declare.ts';
import type { Operation } from '../../../schemas/kinds/labor.ts';
import type { Part } from '../../../schemas/kinds/parts.ts';
import type { Book } from '../book/book.ts';
import type { Definition } from '../book/facts.ts';
import type { Filler } from '../work/model.ts';

/** More than this many are no help to anyone. */
const MOST = 50;

interface Ranked extends Filler {
  readonly rank: number;
}

/** The thing itself before a kit that holds it, before work that includes it; made for the family before fits-all. */
export function fillersOf(book: Book, role: string, unit: string): Filler[] {
  const found = new Map<string, Ranked>();
  const add = (kind: Filler['kind'], id: string, rank: number) => {
    const key = `${kind} ${id}`;
    const before = found.get(key);
    if (!before || rank < before.rank) found.set(key, { kind, id, rank });
  };
  for (const definition of usersOf(book, 'role', role)) {
    const fit = fitRank(definition.value as Part | Operation | undefined, unit);
    if (fit === undefined) continue;
    if (definition.kind === 'part') {
      const part = definition.value as Part;
      const itself = part.role === role;
      add('part', definition.id, fit + statusRank(part) + (itself ? 0 : 20));
      if (itself) addKits(definition.id);
    } else if (definition.kind === 'operation' && (definition.value as Operation).role === role) {
      add('operation', definition.id, fit);
      addIncluding(definition.id);
    }
  }
  return [...found.values()]
    .sort((a, b) => a.rank - b.rank || a.id.localeCompare(b.id))
    .slice(0, MOST)
    .map(({ kind, id }) => ({ kind, id }));

  function addKits(part: string): void {
    for (const kit of usersOf(book, 'part', part)) {
      const value = kit.value as Part | undefined;
      const fit = fitRank(value, unit);
      if (kit.kind !== 'part' || fit === undefined || !value?.contents?.some((one) => one.part === part))
        continue;
      add('part', kit.id, fit + statusRank(value) + 20);
    }
  }

  function addIncluding(operation: string): void {
    for (const outer of usersOf(book, 'operation', operation)) {
      const value = outer.value as Operation | undefined;
      const fit = fitRank(value, unit);
      if (outer.kind !== 'operation' || fit === undefined || !value?.includes?.includes(operation)) continue;
      add('operation', outer.id, fit + 40);
    }
  }
}

function* usersOf(book: Book, kind: RefKind, id: string): IterableIterator<Definition> {
  for (const facts of book.registry.users(kind, id)) {
    for (const definition of facts.definitions) {
      if (definition.value !== undefined && !definition.local) yield definition;
    }
  }
}

function fitRank(entry: { fits?: string[] | undefined } | undefined, unit: string): number | undefined {
  if (!entry) return undefined;
  if (!entry.fits) return 2;
  return entry.fits.includes(unit) ? 0 : undefined;
}

function statusRank(part: Part): number {
  if (part['superseded-by']) return 10;
  return part.status === 'discontinued' ? 8 : part.status === 'to-order' ? 1 : 0;
}
