/** Paths in the text that open what they lead to. The target is looked up only when a link is followed. */
import type { DocumentLink } from 'vscode-languageserver-types';
import type { Book } from '../book/book.ts';
import type { BookFile } from '../book/file.ts';
import { isInside } from '../book/paths.ts';
import { contentSpan } from './content.ts';
import { filesNamedIn } from './files.ts';

export function links(book: Book, file: BookFile): DocumentLink[] {
  const found: DocumentLink[] = [];
  for (const { piece, node, meta, target } of filesNamedIn(file)) {
    if (target === undefined || !isInside(book.root, target)) continue;
    const range = file.source.rangeOf(piece, contentSpan(piece, node));
    found.push({ range, data: { target, title: meta.title ?? '' } });
  }
  return found;
}

export function resolveLink(link: DocumentLink): DocumentLink {
  const { target, title } = link.data as { target: string; title: string };
  return { ...link, target, tooltip: title ? `Open: ${title}` : 'Open' };
}
