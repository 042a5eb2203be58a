/** Files of the book's folder that can be named at a place: pictures, price files, shop files. */
import type { FieldMeta } from '../../../schemas/declare.ts';
import { folderOf, isInside, nameOf, resolve } from '../book/paths.ts';
import type { Context, Slot } from './completion-context.ts';
import { type Draft, ITEM } from './completion-item.ts';

const ENDINGS: Record<NonNullable<FieldMeta['file']>, RegExp> = {
  picture: /\.(png|jpe?g|gif|webp|svg|avif)$/i,
  video: /\.(mp4|webm|mov|m4v)$/i,
  'price-file': /\.(csv|tsv|txt)$/i,
  shop: /\.ya?ml$/i,
};

/** One folder at a time, as it is typed: `../pictures/`. */
export function fileDrafts(context: Context, slot: Slot, sort: NonNullable<FieldMeta['file']>): Draft[] {
  const { book, file, typing } = context;
  if (sort === 'shop') return shopDrafts(context, slot);
  const typed = typing.typed.slice(0, typing.typed.lastIndexOf('/') + 1);
  const folder = typed === '' ? folderOf(file.uri) : `${resolve(file.uri, typed)}/`;
  if (!isInside(book.root, folder) || !book.host.list) return [];
  const names = [...book.host.list(folder, book.root)].filter((name) => !name.startsWith('.'));
  const up = folder !== book.root && isInside(book.root, folder) ? ['../'] : [];
  const shown = names.filter((name) => name.endsWith('/') || ENDINGS[sort].test(name)).sort();
  return [
    ...shown.filter((name) => !name.endsWith('/')),
    ...shown.filter((name) => name.endsWith('/')),
    ...up,
  ].map((name) => ({
    slot,
    label: name,
    kind: name.endsWith('/') ? ITEM.folder : ITEM.file,
    insert: { text: typed + name },
    match: [typed + name],
    again: name.endsWith('/'),
  }));
}

function shopDrafts({ book, file }: Context, slot: Slot): Draft[] {
  return [...book.shops()]
    .filter((shop) => shop !== file)
    .map((shop) => {
      const path = pathBetween(file.uri, shop.uri);
      const name = shop.value.name;
      return {
        slot,
        label: path,
        kind: ITEM.file,
        insert: { text: path },
        description: typeof name === 'string' ? name : undefined,
      };
    });
}

/** A file as it is named from another: `../common/shop.yaml`. */
function pathBetween(from: string, to: string): string {
  const own = folderOf(from).split('/');
  const other = to.split('/');
  let shared = 0;
  while (shared < own.length - 1 && own[shared] === other[shared]) shared++;
  const up = own.length - 1 - shared;
  return [
    ...Array.from({ length: up }, () => '..'),
    ...other.slice(shared).map((step) => nameOf(`/${step}`)),
  ].join('/');
}
