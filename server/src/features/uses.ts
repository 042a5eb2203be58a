/** Who uses an entry, in a few words. */
import type { RefKind } from '../../../schemas/declare.ts';
import type { Book } from '../book/book.ts';
import type { BookFile } from '../book/file.ts';

/** `3 jobs, 1 template, 2 rules files`; empty when nothing else names the entry. */
export function usesText(book: Book, kind: RefKind, id: string): string {
  const files = new Map<string, Set<BookFile>>();
  for (const { file, piece } of book.registry.users(kind, id)) {
    if (piece.key === id) continue;
    const word = file.kind?.kind ?? '';
    files.set(word, (files.get(word) ?? new Set()).add(file));
  }
  return [...files]
    .map(([word, { size }]) => {
      const things = word === 'job' || word === 'template' ? word : `${word} file`;
      return `${size} ${things}${size === 1 ? '' : 's'}`;
    })
    .join(', ');
}
