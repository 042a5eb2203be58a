/**
 * The same book with some of its files replaced, without reading the others again: what is not found in the replaced
 * files is looked up in the book as it is. It prices jobs; it is not checked.
 */
import type { RefKind } from '../../../../schemas/declare.ts';
import type { Jurisdiction } from '../../../../schemas/kinds/jurisdiction.ts';
import type { Part, PriceFile } from '../../../../schemas/kinds/parts.ts';
import type { Shop } from '../../../../schemas/kinds/shop.ts';
import { Book } from '../../book/book.ts';
import type { Definition } from '../../book/facts.ts';
import type { BookFile } from '../../book/file.ts';
import { resolve } from '../../book/paths.ts';
import { type BookCatalog, entryLookups } from '../../estimate/catalog.ts';
import { Estimates } from '../../estimate/estimates.ts';

/** By URI: YAML files as text, price files as bytes. */
export interface Replacements {
  readonly texts: ReadonlyMap<string, string>;
  readonly bytes: ReadonlyMap<string, Uint8Array>;
}

export interface Priceable {
  catalogFor(uri: string): BookCatalog;
  shopOf(uri: string): Shop | undefined;
  lawOf(shop: Shop | undefined): Jurisdiction | undefined;
}

/** The book as it is. */
export function asIs(estimates: Estimates): Priceable {
  const catalogs = new Map<BookFile | undefined, BookCatalog>();
  const { book } = estimates;
  return {
    // One for all jobs of a shop: what one job has looked up the next one finds.
    catalogFor: (uri) => kept(catalogs, book.shopOf(uri)?.file, () => estimates.catalogFor(uri)),
    shopOf: (uri) => book.shopOf(uri)?.shop,
    lawOf: (shop) => estimates.lawOf(shop),
  };
}

/** Kinds of file that are laid over one another as a whole. They are few and small. */
const POLICY: ReadonlySet<string> = new Set(['shop', 'jurisdiction', 'rules']);

export function overlaid(estimates: Estimates, { texts, bytes }: Replacements): Priceable {
  const { book } = estimates;
  const { host } = book;
  const over = new Book(book.root, {
    read: (uri, within) => bytes.get(uri) ?? host.read(uri, within),
    size: (uri, within) => bytes.get(uri)?.length ?? host.size(uri, within),
  });
  const replaced = new Set<string>();
  for (const file of book.files()) {
    if (!POLICY.has(file.kind?.kind ?? '') && !texts.has(file.uri) && !drawsFrom(file, bytes)) continue;
    replaced.add(file.uri);
    over.put(file.uri, texts.get(file.uri) ?? file.source.text());
  }
  for (const [uri, text] of texts) if (!replaced.has(uri)) over.put(uri, text);

  const changed = new Estimates(over);
  const define = (kind: RefKind, id: string): [Estimates, Definition] | undefined => {
    const found = over.definition(kind, id);
    if (found) return [changed, found];
    const still = book.registry.definitions(kind, id).find(({ facts }) => !replaced.has(facts.file.uri));
    return still && [estimates, still];
  };
  const entry = <T>(kind: RefKind) =>
    memo((id): T | undefined => {
      const found = define(kind, id);
      return found && (found[0].book.valueOf(found[1]) as T | undefined);
    });
  const base: Omit<BookCatalog, 'warranty'> = {
    part: memo((id): Part | undefined => {
      const found = define('part', id);
      return found?.[0].shared.part(found[1]);
    }),
    ...entryLookups(entry),
    job: (id) => book.definition('job', id)?.facts.file,
    fillers: (role, unit) => estimates.shared.fillers(role, unit),
    rules: () => changed.shared.rules(),
  };
  const catalogs = new Map<BookFile | undefined, BookCatalog>();
  return {
    catalogFor: (uri) => {
      const found = over.shopOf(uri);
      return kept(catalogs, found?.file, () => ({
        ...base,
        warranty: (id) => found?.shop.warranties?.[id],
      }));
    },
    shopOf: (uri) => over.shopOf(uri)?.shop,
    lawOf: (shop) => changed.lawOf(shop),
  };
}

function drawsFrom({ uri, kind, value }: BookFile, bytes: ReadonlyMap<string, Uint8Array>): boolean {
  if (kind?.kind !== 'parts') return false;
  const path = (value.from as Partial<PriceFile> | undefined)?.file;
  const at = path === undefined ? undefined : resolve(uri, path);
  return at !== undefined && bytes.has(at);
}

function memo<T>(find: (id: string) => T): (id: string) => T {
  const known = new Map<string, T>();
  return (id) => kept(known, id, () => find(id));
}

function kept<K, V>(known: Map<K, V>, key: K, make: () => V): V {
  let value = known.get(key);
  if (value === undefined) {
    value = make();
    known.set(key, value);
  }
  return value;
}
