/** Books in memory for tests, and what they tell, with places as a reader counts them. */
import { Book } from '../../../server/src/book/book.ts';
import type { BookFile } from '../../../server/src/book/file.ts';
import { type Host, NO_HOST } from '../../../server/src/book/host.ts';

export const ROOT = 'file:///book/';

export type Files = Readonly<Record<string, string>>;

export function bookOf(files: Files, host: Host = NO_HOST): Book {
  const book = new Book(ROOT, host);
  for (const [name, text] of Object.entries(files)) book.put(ROOT + name, text);
  return book;
}

/** A disk that holds these files; bytes or text. */
export function hostOf(files: Readonly<Record<string, string | Uint8Array>>): Host {
  const read = (uri: string) => {
    const file = files[uri.slice(ROOT.length)];
    return typeof file === 'string' ? new TextEncoder().encode(file) : file;
  };
  return { read, size: (uri) => read(uri)?.length };
}

export function fileIn(book: Book, name: string): BookFile {
  return book.file(ROOT + name)!;
}

/** `line:column-column code: message`, counted from 1, as `problemsOf` gives them. */
export function told(book: Book, name: string): string[] {
  const file = fileIn(book, name);
  return book.problemsOf(file).map(({ piece, problem }) => {
    const { start, end } = file.source.rangeOf(piece, problem);
    const to = end.line === start.line ? `${end.character + 1}` : `${end.line + 1}:${end.character + 1}`;
    return `${start.line + 1}:${start.character + 1}-${to} ${problem.code}: ${problem.message}`;
  });
}

export function messages(book: Book, name: string): string[] {
  return book.problemsOf(fileIn(book, name)).map(({ problem }) => problem.message);
}

/** Everything a book answers, as plain data: two books in the same state give the same. */
export function stateOf(book: Book) {
  const files = [...book.files()].sort((a, b) => (a.uri < b.uri ? -1 : 1));
  return files.map((file) => ({
    uri: file.uri,
    kind: file.kind?.kind,
    problems: told(book, file.uri.slice(ROOT.length)).sort(),
    value: plain(file.value),
    shop: plain(book.shopOf(file.uri)?.shop),
    facts: [...file.facts()].map(({ piece, parts, definitions, uses }) => ({
      text: piece.text,
      values: parts.map((part) => [part.section, part.key, plain(part.value), part.dropped]),
      definitions: definitions.map(({ kind, id, local }) => ({
        kind,
        id,
        value: plain(book.value(kind, id)),
        all: local ? [] : book.registry.definitions(kind, id).map((one) => [one.facts.file.uri, one.row]),
      })),
      uses: uses.map(({ kinds, id }) => ({
        kinds,
        id,
        near: book.registry.near(kinds, id),
        users: kinds.map((kind) =>
          [...book.registry.users(kind, id)].map((user) => user.file.uri + user.piece.text).sort(),
        ),
      })),
    })),
  }));
}

function plain(value: unknown): unknown {
  return value === undefined ? undefined : JSON.parse(JSON.stringify(value));
}
