/**
 * The parts of a book in the order in which they are offered: those made for the unit family, those that fit all,
 * those of other families, those no longer sold; in each, those that the job lacks, then the better match.
 */
import type { Book } from '../book/book.ts';
import type { Definition } from '../book/facts.ts';
import type { BookFile } from '../book/file.ts';
import type { SourceFile } from '../syntax/file.ts';
import { digestOf } from './completion-digest.ts';
import { MOST, NO_MATCH, rankIn } from './completion-item.ts';
import { type Ranked, type Row, Shelf } from './completion-shelf.ts';

export interface PartQuery {
  readonly unit: string | undefined;
  /** Roles that the job lacks. */
  readonly wanted: ReadonlySet<string>;
  /** Only parts of this role. */
  readonly role?: string | undefined;
  readonly typed: string;
  readonly without: ReadonlySet<string>;
}

/** What can be asked of a part's fit, best first. */
const FITS = ['made-for', 'fits-all', 'other', 'gone'] as const;
type Fit = (typeof FITS)[number];

/** Above this many changed parts everything is laid out anew. */
const MOST_CHANGED = 500;
/** Families whose parts are kept laid out: a shop works on one or two at a time. */
const MOST_FAMILIES = 4;

const stores = new WeakMap<Book, PartStore>();

export function partsFor(book: Book, query: PartQuery): { definitions: Definition[]; cut: boolean } {
  let store = stores.get(book);
  if (!store?.follow()) {
    store = new PartStore(book);
    stores.set(book, store);
  }
  return store.find(query);
}

/** All parts, laid out for searching. Parts that change later are kept beside; jobs being typed do not matter to it. */
class PartStore {
  readonly #book: Book;
  readonly #rows: readonly Row[];
  readonly #sources = new Map<BookFile, SourceFile>();
  /** One part of each price file: reading the file anew replaces them all. */
  readonly #drawn: readonly Definition[];
  /** Parts that have changed since; undefined for those that have gone. */
  readonly #changed = new Map<string, Row | undefined>();
  readonly #families = new Map<string | undefined, ReadonlyMap<Fit, Shelf>>();
  #version: number;

  constructor(book: Book) {
    this.#book = book;
    this.#version = book.catalogVersion;
    const rows: Row[] = [];
    const drawn = new Map<unknown, Definition>();
    for (const definition of book.registry.all('part')) {
      rows.push(digestOf(definition));
      if (definition.row !== undefined) drawn.set(definition.facts, definition);
    }
    this.#rows = rows.sort(byId);
    this.#drawn = [...drawn.values()];
    for (const file of book.filesOf('parts')) this.#sources.set(file, file.source);
  }

  /** Takes in what has changed in the book; false when it is too much. */
  follow(): boolean {
    const { registry, catalogVersion } = this.#book;
    if (catalogVersion === this.#version) return true;
    this.#version = catalogVersion;
    let files = 0;
    for (const file of this.#book.filesOf('parts')) {
      const before = this.#sources.get(file);
      if (!before) return false;
      files++;
      if (before === file.source) continue;
      const { removed, added } = file.source.changedFrom(before);
      for (const piece of [...removed, ...added]) {
        if (piece.kind === 'whole' || piece.section === undefined) return false;
        const definition = registry.definition('part', piece.key);
        this.#changed.set(piece.key, definition && digestOf(definition));
      }
      this.#sources.set(file, file.source);
    }
    if (files !== this.#sources.size || this.#changed.size > MOST_CHANGED) return false;
    return this.#drawn.every(
      (one) => registry.definition('part', one.id) === one || this.#changed.has(one.id),
    );
  }

  find(query: PartQuery): { definitions: Definition[]; cut: boolean } {
    const word = query.typed.trim().toLowerCase();
    const shelves = this.#family(query.unit);
    const found = new Set<Row>();
    for (const fit of FITS) {
      if (found.size > MOST) break;
      for (const row of this.#best(shelves.get(fit)!, fit, query, word, MOST + 1 - found.size))
        found.add(row);
    }
    // Only when nothing better is left: numbers as typed come before what happens to have the same letters.
    for (const fit of word.length < 2 ? [] : FITS) {
      if (found.size > MOST) break;
      const passes = (row: Row) => !found.has(row) && this.#stands(row, query);
      const more = shelves.get(fit)!.searchLetters(word, MOST + 1 - found.size, passes);
      for (const { row } of more) found.add(row);
    }
    return { definitions: [...found].slice(0, MOST).map((row) => row.definition), cut: found.size > MOST };
  }

  /** Of one fit: what the job lacks, then the rest, each by how well it matches. */
  #best(shelf: Shelf, fit: Fit, query: PartQuery, word: string, most: number): Row[] {
    const { role, wanted, unit } = query;
    const fresh = [...this.#changed.values()].filter(
      (row) => row !== undefined && passes(row, query) && fitOf(row, unit) === fit,
    ) as Row[];
    const roles = role === undefined ? [...wanted] : [role];
    const lacking = new Set([
      ...roles.flatMap((one) => shelf.ofRole(one)).filter((row) => this.#stands(row, query)),
      ...fresh.filter((row) => row.roles.some((one) => roles.includes(one))),
    ]);
    const found = inOrder(rankAll([...lacking], word), most);
    if (role !== undefined || found.length >= most) return found;
    const left = most - found.length;
    const rest = shelf.search(word, left, (row) => !lacking.has(row) && this.#stands(row, query));
    const beside = rankAll(
      fresh.filter((row) => !lacking.has(row)),
      word,
    );
    return [...found, ...inOrder([...rest, ...beside], left)];
  }

  /** Whether a row that was laid out still is as it was, and is asked for. */
  #stands(row: Row, query: PartQuery): boolean {
    return !this.#changed.has(row.id) && passes(row, query);
  }

  #family(unit: string | undefined): ReadonlyMap<Fit, Shelf> {
    let shelves = this.#families.get(unit);
    if (!shelves) {
      const byFit = new Map<Fit, Row[]>(FITS.map((fit) => [fit, []]));
      for (const row of this.#rows) byFit.get(fitOf(row, unit))!.push(row);
      shelves = new Map([...byFit].map(([fit, rows]) => [fit, new Shelf(rows)]));
    }
    // The family asked for last stands last; the first is the one to let go.
    this.#families.delete(unit);
    this.#families.set(unit, shelves);
    if (this.#families.size > MOST_FAMILIES) this.#families.delete(this.#families.keys().next().value);
    return shelves;
  }
}

function fitOf({ gone, fits }: Row, unit: string | undefined): Fit {
  if (gone) return 'gone';
  if (fits.length === 0) return 'fits-all';
  return unit === undefined || fits.includes(unit) ? 'made-for' : 'other';
}

function passes(row: Row, { without, role }: PartQuery): boolean {
  return !without.has(row.id) && (role === undefined || row.roles.includes(role));
}

function rankAll(rows: readonly Row[], word: string): Ranked[] {
  return rows
    .map((row) => ({ row, rank: word === '' ? 0 : rankOfRow(row, word) }))
    .filter((one) => one.rank < NO_MATCH);
}

/** The start of the number, the start of the name, the start of a word, anywhere, its letters in order. */
function rankOfRow({ id, name: text }: Row, word: string): number {
  const name = rankIn(text.toLowerCase(), word);
  const number = rankIn(id.toLowerCase(), word);
  return Math.min(number === 0 ? 0 : number + 1, name + 1, NO_MATCH);
}

function inOrder(ranked: readonly Ranked[], most: number): Row[] {
  return [...ranked]
    .sort((a, b) => a.rank - b.rank || byId(a.row, b.row))
    .slice(0, most)
    .map((one) => one.row);
}

function byId(a: { id: string }, b: { id: string }): number {
  return a.id < b.id ? -1 : a.id > b.id ? 1 : 0;
}
