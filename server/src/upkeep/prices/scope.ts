/** Which catalogs a price file is held against, and what they say about such files. */
import type { Part } from '../../../../schemas/kinds/parts.ts';
import type { PartKind } from '../../../../schemas/kinds/shared.ts';
import { suggestion } from '../../../../schemas/values/words.ts';
import type { Book } from '../../book/book.ts';
import type { BookFile } from '../../book/file.ts';
import { relative } from '../../book/paths.ts';
import type { Headings } from './headings.ts';

/** The files of a supplier, or those named; undefined for all, and a text when there are none such. */
export function scopeOf(
  book: Book,
  {
    catalogs,
    supplier,
  }: { readonly catalogs?: readonly string[] | undefined; readonly supplier?: string | undefined },
): ReadonlySet<BookFile> | string | undefined {
  const all = [...book.filesOf('parts')];
  if (catalogs !== undefined) {
    const files = catalogs.map((uri) => all.find((file) => file.uri === uri));
    const missing = files.indexOf(undefined);
    if (missing >= 0)
      return `There is no catalog ${relative(book.root, catalogs[missing]!)} in the book. It has: ${all.map((file) => relative(book.root, file.uri)).join(', ')}.`;
    return new Set(files as BookFile[]);
  }
  if (supplier === undefined) return undefined;
  const files = all.filter((file) => file.value.supplier === supplier);
  if (files.length > 0) return new Set(files);
  const known = [...new Set(all.flatMap((file) => (file.value.supplier as string | undefined) ?? []))];
  return `No catalog says that its supplier is "${supplier}".${suggestion(supplier, known) || ` They say: ${known.join(', ')}.`}`;
}

/** How the suppliers of these catalogs head the columns of their price files, as far as the catalogs say so. */
export function headingsIn(files: Iterable<BookFile>): Headings[] {
  return [...files].flatMap((file) => {
    const { headings, from } = file.value as { headings?: Headings; from?: { columns?: Headings } };
    return headings ?? from?.columns ?? [];
  });
}

/** The kind of part that all parts of a catalog are; undefined when they are of several. */
export function kindOfAll(book: Book, file: BookFile): PartKind | undefined {
  const kinds = new Set<PartKind>();
  for (const { id, facts } of book.registry.all('part')) {
    const kind = facts.file === file ? (book.value('part', id) as Part | undefined)?.kind : undefined;
    if (kind) kinds.add(kind);
    if (kinds.size > 1) return undefined;
  }
  return [...kinds][0];
}
