/**
 * A job that can be shown to a stranger: everything that tells of a person has a stand-in of the same length, and what
 * prices and checks the job is as it was.
 *
 * What stays is what is declared: names of fields, and values that read as their field wants them and that are not
 * `personal` in `schemas/`. Comments, fields that nobody knows, and text that cannot be read all get stand-ins; what the
 * declarations do not know cannot be known to be harmless.
 */
import type { FieldMeta } from '../../../../schemas/declare.ts';
import type { Book } from '../../book/book.ts';
import type { BookFile } from '../../book/file.ts';
import { folderOf, resolve } from '../../book/paths.ts';
import type { Piece } from '../../syntax/piece.ts';
import { type Place, placesIn, type Words, wordsOf } from './places.ts';
import { type Pick, StandIns } from './stand-ins.ts';

export interface Redacted {
  /** The URI of the job among `files`. */
  readonly job: string;
  /** The job, the jobs it follows, and everything of the book that they are priced and checked by; by URI. */
  readonly files: ReadonlyMap<string, string | Uint8Array>;
  /** Values that have a stand-in, without comments. */
  readonly replaced: number;
}

export interface RedactOptions {
  /** Amounts of money get other digits as well, and price files are left out. */
  readonly hidePrices?: boolean;
}

/** A personal value that is looked for in the rest of the text: several words, or a long number. One word is found everywhere. */
const TELLING = /^(?=.{5})(?:.*[\p{L}\p{N}][^\p{L}\p{N}]+[\p{L}\p{N}]|.*\d{4})/su;

/** A picture of one grey dot, in the place of one that is not shown to strangers. */
const DOT = Uint8Array.from(
  atob('iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAAAAAA6fptVAAAACklEQVR42mNoAAAAggCB2kUIOwAAAABJRU5ErkJggg=='),
  (byte) => byte.charCodeAt(0),
);

/** `pick` has to draw at random; it is all that keeps the stand-ins from being undone. */
export function redact(book: Book, job: BookFile, pick: Pick, options: RedactOptions = {}): Redacted {
  const redaction = new Redaction(book, pick, options);
  const jobs = chainOf(book, job);
  for (const file of book.files()) {
    const { kind } = file;
    if (!kind || kind.kind === 'cases' || (kind.kind === 'job' && !jobs.includes(file))) continue;
    redaction.add(file, kind.kind === 'job' ? uriOf(file) : file.uri);
  }
  return redaction.done(job);
}

/** The job and those it is a comeback of, as far as the book has them. */
function chainOf(book: Book, job: BookFile): BookFile[] {
  const chain: BookFile[] = [];
  for (let at: BookFile | undefined = job; at && !chain.includes(at); ) {
    chain.push(at);
    const { follows }: { follows?: unknown } = at.value;
    at = typeof follows === 'string' ? book.definition('job', follows)?.facts.file : undefined;
  }
  return chain;
}

/** A job's file is named by its id, not by its owner. */
function uriOf({ uri, value }: BookFile): string {
  const id = typeof value.id === 'string' && /^[\w.-]+$/.test(value.id) ? value.id : 'job';
  return `${folderOf(uri)}${id}.job.yaml`;
}

class Redaction {
  readonly #book: Book;
  readonly #standIns: StandIns;
  readonly #hidePrices: boolean;
  readonly #words: Words;
  readonly #files = new Map<string, string | Uint8Array>();
  readonly #uris = new Map<BookFile, string>();
  /** Values that are personal by declaration; they are looked for everywhere. */
  readonly #personal = new Set<string>();
  #replaced = 0;

  constructor(book: Book, pick: Pick, { hidePrices = false }: RedactOptions) {
    this.#book = book;
    this.#standIns = new StandIns(pick);
    this.#hidePrices = hidePrices;
    this.#words = wordsOf(book);
  }

  add(file: BookFile, uri: string): void {
    this.#uris.set(file, uri);
    this.#files.set(uri, [...file.source.pieces()].map((piece) => this.#piece(file, uri, piece)).join(''));
  }

  done(job: BookFile): Redacted {
    const mend = this.#everywhere();
    const { root } = this.#book;
    const mendUri = (uri: string) => root + mend(uri.slice(root.length));
    const files = new Map<string, string | Uint8Array>();
    for (const [uri, made] of this.#files)
      files.set(mendUri(uri), typeof made === 'string' ? mend(made) : made);
    return { job: mendUri(this.#uris.get(job)!), files, replaced: this.#replaced };
  }

  /** Personal values that stand where nothing personal was expected, as in an id: `dana-holloway` for Dana Holloway. */
  #everywhere(): (text: string) => string {
    const words = (text: string) => text.match(/[\p{L}\p{N}]+/gu) ?? [];
    const known = new Map<string, string[]>();
    for (const value of this.#personal)
      if (TELLING.test(value))
        known.set(words(value).join(' ').toLowerCase(), words(this.#standIns.all.get(value)!));
    if (known.size === 0) return (text) => text;
    const longestFirst = [...known.keys()].sort((a, b) => b.length - a.length);
    const between = '[^\\p{L}\\p{N}\\r\\n]{1,3}';
    const some = longestFirst.map((value) => value.replaceAll(' ', between)).join('|');
    const found = new RegExp(`(?<![\\p{L}\\p{N}])(?:${some})(?![\\p{L}\\p{N}])`, 'giu');
    return (text) =>
      text.replace(found, (value) => {
        const others = known.get(words(value).join(' ').toLowerCase()) ?? [];
        let at = 0;
        return value.replace(/[\p{L}\p{N}]+/gu, (word) => {
          const other = others[at++] ?? word;
          return word === word.toLowerCase() ? other.toLowerCase() : other;
        });
      });
  }

  #piece(file: BookFile, uri: string, piece: Piece): string {
    let out = '';
    let end = 0;
    for (const place of placesIn(piece, file.kind!, this.#words, this.#hidePrices)) {
      if (place.start < end) continue;
      const source = piece.text.slice(place.start, place.end);
      out += this.#between(piece.text.slice(end, place.start));
      out += place.keep ? source : this.#value(source, place);
      end = place.end;
      if (place.node && place.meta?.file) this.#beside(file, uri, place.node.text, place.meta);
    }
    return out + this.#between(piece.text.slice(end));
  }

  /** Comments, marks, and what cannot be read. An anchor and its repeats keep finding each other. */
  #between(text: string): string {
    return text.replace(
      /(?<=^|[\s[{,])([&*])([^\s,[\]{}]+)|[\p{L}\p{N}]+/gmu,
      (words, mark?: string, name?: string) =>
        mark ? mark + this.#standIns.of(name!) : this.#standIns.mask(words),
    );
  }

  #value(source: string, { node, meta, personal }: Place): string {
    if (!node) return this.#standIns.mask(source);
    this.#replaced++;
    const { text } = node;
    const standIn =
      meta?.scalar === 'vin'
        ? this.#standIns.ofVin(text)
        : meta?.scalar === 'file'
          ? this.#standIns.ofPath(text)
          : this.#standIns.of(text);
    if (personal && meta?.scalar !== 'file') this.#personal.add(text);
    const at = source.indexOf(text);
    // As it is written, but for quotes around it.
    if (at !== -1 && at + text.length >= source.length - 1 && at <= 1)
      return source.slice(0, at) + standIn + source.slice(at + text.length);
    if (node.style === 'double') return source.replace(/\\(?:x..|u.{4}|U.{8}|[\s\S])|[^\\]+/g, this.#escaped);
    const head = /^[|>][-+\d]*/.exec(source)?.[0] ?? '';
    return head + this.#standIns.mask(source.slice(head.length));
  }

  #escaped = (part: string): string => {
    if (!part.startsWith('\\')) return this.#standIns.mask(part);
    // Written by its number: another small letter, in as many digits.
    return part.length > 2 ? `${part.slice(0, -2)}6${1 + (part.charCodeAt(3) % 9)}` : part;
  };

  /** What a file names travels with it: a price file as it is, of a picture only that it is there. */
  #beside(file: BookFile, uri: string, path: string, meta: FieldMeta): void {
    const { host, root } = this.#book;
    const at = resolve(file.uri, path);
    if (at === undefined || host.size(at, root) === undefined) return;
    if (meta.file === 'price-file') {
      const bytes = this.#hidePrices ? undefined : host.read(at, root);
      if (bytes) this.#files.set(at, bytes);
    } else if (meta.file !== 'shop') {
      const now = resolve(uri, this.#standIns.ofPath(path));
      if (now !== undefined) this.#files.set(now, DOT);
    }
  }
}
