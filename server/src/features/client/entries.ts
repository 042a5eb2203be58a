/** Entries of the book to pick from. */
import type { RefKind } from '../../../../schemas/declare.ts';
import type { Book } from '../../book/book.ts';

export interface EntryView {
  readonly id: string;
  readonly name: string | undefined;
  /** The file it is in. */
  readonly uri: string;
}

const MOST = 200;

/** Entries of a kind whose id or name holds the query, by id. */
export function entriesView(book: Book, kind: RefKind, query = '', most = MOST): EntryView[] {
  const wanted = query.toLowerCase();
  const found: EntryView[] = [];
  for (const definition of book.registry.all(kind)) {
    const said = (book.valueOf(definition) as { name?: unknown } | undefined)?.name;
    const name = typeof said === 'string' ? said : undefined;
    if (`${definition.id} ${name ?? ''}`.toLowerCase().includes(wanted))
      found.push({ id: definition.id, name, uri: definition.facts.file.uri });
  }
  return found.sort((a, b) => a.id.localeCompare(b.id, 'en', { numeric: true })).slice(0, most);
}
