/** Finding an entry anywhere by a part of its id or name. */
import type { WorkspaceSymbol } from 'vscode-languageserver-types';
import { REF_KINDS } from '../../../schemas/declare.ts';
import type { Book } from '../book/book.ts';
import type { Definition } from '../book/facts.ts';
import { relative } from '../book/paths.ts';
import { definitionLocation } from './spot.ts';
import { isOutdated, nameOfDefinition, SYMBOL_OF } from './symbol-kinds.ts';

const MOST = 256;
const DEPRECATED = 1;

interface Hit {
  readonly book: Book;
  readonly definition: Definition;
  readonly name: string;
  readonly score: number;
}

export function workspaceSymbols(books: readonly Book[], query: string, most = MOST): WorkspaceSymbol[] {
  const hits: Hit[] = [];
  const wanted = query.trim().toLowerCase();
  for (const book of books) {
    for (const kind of REF_KINDS) {
      for (const definition of book.registry.all(kind)) {
        const name = nameOfDefinition(book, definition);
        const score = scoreOf(wanted, definition.id, name);
        if (score > 0) hits.push({ book, definition, name, score });
      }
    }
  }
  hits.sort((a, b) => b.score - a.score || compare(a.definition.id, b.definition.id));
  return hits.slice(0, most).flatMap(({ book, definition, name }) => {
    const location = definitionLocation(definition);
    if (!location) return [];
    const symbol: WorkspaceSymbol = {
      // Editors search in the name once more, so what was found has to be in it.
      name: name ? `${definition.id} ${name}` : definition.id,
      kind: SYMBOL_OF[definition.kind],
      location,
      containerName: relative(book.root, definition.facts.file.uri),
    };
    if (isOutdated(definition.value)) symbol.tags = [DEPRECATED];
    return [symbol];
  });
}

/** More is better, 0 is no match: the id whole, at its start, at the start of a word, inside, letters in order; then the name. */
export function scoreOf(wanted: string, id: string, name: string): number {
  if (wanted === '') return 1;
  return Math.max(matched(wanted, id.toLowerCase()), matched(wanted, name.toLowerCase()) / 2);
}

function matched(wanted: string, text: string): number {
  if (text === wanted) return 1000;
  const at = text.indexOf(wanted);
  // Among equals the shorter text is nearer to what was typed.
  const short = 50 / (1 + text.length);
  if (at === 0) return 800 + short;
  if (at > 0) return (/[\s\-_./]/.test(text[at - 1]!) ? 600 : 400) + short;
  return inOrder(wanted, text) ? 100 + short : 0;
}

function inOrder(wanted: string, text: string): boolean {
  let at = 0;
  for (const letter of wanted) {
    if (letter === ' ') continue;
    at = text.indexOf(letter, at) + 1;
    if (at === 0) return false;
  }
  return true;
}

function compare(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}
