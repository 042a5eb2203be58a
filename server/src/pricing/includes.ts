/** Operations that others on the job cover. */
import type { Catalog } from './model.ts';

/** Everything that an operation includes, directly or through what it includes. */
export function includedBy(catalog: Catalog, id: string): Set<string> {
  const found = new Set<string>();
  const visit = (one: string): void => {
    for (const included of catalog.operation(one)?.includes ?? []) {
      if (found.has(included)) continue;
      found.add(included);
      visit(included);
    }
  };
  visit(id);
  return found;
}

/**
 * For each operation that is covered by another on the job: which one. Operations that include each other (a
 * mistake that the labor file is told of) cover nothing, or both would be free.
 */
export function inclusions(catalog: Catalog, onJob: readonly string[]): Map<string, string> {
  const ids = new Set(onJob);
  const covers = new Map<string, Set<string>>();
  for (const id of ids) {
    if (catalog.operation(id)?.includes?.length) covers.set(id, includedBy(catalog, id));
  }
  const found = new Map<string, string>();
  for (const [id, covered] of covers) {
    for (const other of covered) {
      if (other === id || !ids.has(other) || covers.get(other)?.has(id) || found.has(other)) continue;
      found.set(other, id);
    }
  }
  return found;
}
