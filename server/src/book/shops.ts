/** Which shop a file belongs to, and what a shop says once the file it extends is laid under it. */
import type { Shop } from '../../../schemas/kinds/shop.ts';
import type { BookFile } from './file.ts';
import { commonFolder, folderOf, isInside, resolve } from './paths.ts';

/** Fields that are maps by id: a location adds to them and replaces single entries. */
const MERGED = [
  'rates',
  'schedules',
  'fees',
  'discounts',
  'payers',
  'customers',
  'warranties',
  'suppliers',
  'fields',
] as const;

/** The file a shop extends, as it stands in the book. */
export function extendedUri(file: BookFile): string | undefined {
  const path = file.value.extends;
  return typeof path === 'string' ? resolve(file.uri, path) : undefined;
}

/** A shop with everything it extends; cycles end where they began. */
export function mergedShop(file: BookFile, find: (uri: string) => BookFile | undefined): Shop {
  const chain: BookFile[] = [];
  for (let at: BookFile | undefined = file; at && !chain.includes(at); ) {
    chain.unshift(at);
    const uri: string | undefined = extendedUri(at);
    at = uri === undefined ? undefined : find(uri);
  }
  return chain.map((one) => one.value as Shop).reduce(layShop, { kind: 'shop' });
}

function layShop(under: Shop, over: Shop): Shop {
  const shop: Record<string, unknown> = { ...under, ...over };
  for (const key of MERGED) {
    if (under[key] && over[key]) shop[key] = { ...under[key], ...over[key] };
  }
  return shop as Shop;
}

/** The shop file of a file: the one in the nearest folder at or above it, else any; of several the first by name. */
export function nearestShop(uri: string, shops: Iterable<BookFile>): BookFile | undefined {
  const depth = (shop: BookFile) => {
    const folder = folderOf(shop.uri);
    return isInside(folder, uri) ? folder.length : 0;
  };
  return [...shops].sort((a, b) => depth(b) - depth(a) || (a.uri < b.uri ? -1 : 1))[0];
}

/** The folders of the books that shop files make: those that extend one another share a book. */
export function bookRoots(shops: readonly BookFile[]): string[] {
  const group = new Map(shops.map((shop) => [shop.uri, shop.uri]));
  const head = (uri: string): string => {
    let at = uri;
    for (let up = group.get(at); up !== undefined && up !== at; up = group.get(at)) at = up;
    return at;
  };
  for (const shop of shops) {
    const under = extendedUri(shop);
    if (under && group.has(under)) group.set(head(shop.uri), head(under));
  }
  const members = new Map<string, BookFile[]>();
  for (const shop of shops) {
    const first = head(shop.uri);
    members.set(first, [...(members.get(first) ?? []), shop]);
  }
  const roots = [...members.values()].map((files) => commonFolder(files.map((file) => file.uri)));
  // A book inside another book's folder is a location of it.
  return roots.filter(
    (root, i) => !roots.some((other, j) => other !== root && isInside(other, root) && i !== j),
  );
}
