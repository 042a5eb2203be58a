/**
 * What is wrong between the entries of a book, kept from one change to the next: only pieces whose text has changed,
 * or that have to do with an id that came, went or changed, are checked again, and not before they are asked for.
 */
import type { RefKind } from '../../../schemas/declare.ts';
import type { Book } from './book.ts';
import { crossProblems, isSuperseded } from './checks.ts';
import type { PieceFacts } from './facts.ts';
import type { BookFile, Change } from './file.ts';
import type { Located } from './judge.ts';
import { isNear } from './near.ts';
import type { Effect } from './registry.ts';

const NOTHING: readonly never[] = [];
/** Above this many comparisons it is quicker to check again than to find out whether a suggestion could have changed. */
const COMPARED = 100_000;

/** Add-ons and parameters are looked up in what is named, values held against the field that the shop declares. */
const LOOKED_INTO: ReadonlySet<RefKind> = new Set(['operation', 'template', 'field']);

export class CrossChecks {
  readonly #book: Book;
  readonly #stale = new Map<BookFile, Set<PieceFacts>>();
  readonly #found = new Map<BookFile, Map<PieceFacts, readonly Located[]>>();
  /** Ids that are named and not defined, as of the last check. */
  readonly #lost = new Map<RefKind, Set<string>>();
  #touched = new Set<BookFile>();

  constructor(book: Book) {
    this.#book = book;
  }

  /** The pieces of a file that are wrong with regard to the rest of the book. */
  of(file: BookFile): ReadonlyMap<PieceFacts, readonly Located[]> {
    let found = this.#found.get(file);
    if (!found) {
      found = new Map();
      this.#found.set(file, found);
    }
    const stale = this.#stale.get(file);
    this.#stale.delete(file);
    for (const facts of stale ?? NOTHING) {
      const problems = [...crossProblems(this.#book, facts), ...this.#entryProblems(facts)];
      if (problems.length === 0) found.delete(facts);
      else {
        found.set(facts, problems);
        this.#noteLost(facts);
      }
    }
    return found;
  }

  /** What layers above have to say of the entries of a piece. */
  #entryProblems(facts: PieceFacts): Located[] {
    const check = this.#book.entryCheck;
    if (!check) return [];
    return facts.definitions.flatMap((definition) => {
      if (definition.row !== undefined || definition.value === undefined) return [];
      return check(definition).flatMap((problem) => {
        const section = facts.parts.find((one) => one.key === definition.id)?.section;
        if (section === undefined) return [];
        const path = [section, definition.id, ...problem.path];
        const spot = facts.file.spotOf(path, problem.onKey);
        return spot ? [{ ...problem, path, start: spot.start, end: spot.end }] : [];
      });
    });
  }

  /** Everything is checked again. */
  reset(): void {
    for (const file of this.#book.files()) for (const facts of file.facts()) this.#mark(facts);
  }

  ofPiece(facts: PieceFacts): readonly Located[] {
    return this.of(facts.file).get(facts) ?? NOTHING;
  }

  /**
   * Takes note of a change; answers with the files of which something else may be told now. `shops`: a shop file has
   * changed, or a file has come, gone or turned to another kind.
   */
  changed(file: BookFile, change: Change, effects: readonly Effect[], shops: boolean): ReadonlySet<BookFile> {
    this.#touched = new Set([file]);
    for (const facts of change.removed) {
      this.#stale.get(file)?.delete(facts);
      this.#found.get(file)?.delete(facts);
    }
    for (const facts of change.added) this.#mark(facts);
    if ([...change.removed, ...change.added].some(bringsLocals))
      for (const facts of file.lookingAround) this.#mark(facts);
    this.#note(effects);
    if (shops) this.#markExtending();
    if (this.#book.file(file.uri) !== file) {
      this.#stale.delete(file);
      this.#found.delete(file);
    }
    return this.#touched;
  }

  #markExtending(): void {
    for (const shop of this.#book.shops()) {
      for (const facts of shop.facts()) {
        if (facts.parts.some((part) => part.section === undefined && part.key === 'extends'))
          this.#mark(facts);
      }
    }
  }

  #mark(facts: PieceFacts): void {
    // Rows of a price file are checked with the piece that draws them.
    const at = facts.file.factsAt(facts.piece);
    if (!at) return;
    let stale = this.#stale.get(facts.file);
    if (!stale) {
      stale = new Set();
      this.#stale.set(facts.file, stale);
    }
    stale.add(at);
    this.#touched.add(facts.file);
  }

  /** Marks what could be told otherwise now that these ids are others. */
  #note(effects: readonly Effect[]): void {
    for (const { kind, id, what, rivals } of effects) {
      for (const { facts } of rivals) this.#mark(facts);
      // What a use means changes when the id comes or goes; of some, what they say is looked up as well.
      if (what !== 'changed' || LOOKED_INTO.has(kind)) this.#markUsers(kind, id);
      if (kind === 'part') {
        this.#markChain(id);
        this.#markKits(id);
      }
    }
    this.#markSuggestions(effects.filter(({ what }) => what !== 'changed'));
  }

  #markUsers(kind: RefKind, id: string): void {
    for (const facts of this.#book.registry.users(kind, id)) this.#mark(facts);
  }

  /** The kits that hold a part. */
  #markKits(id: string): void {
    for (const facts of this.#book.registry.users('part', id)) {
      if (facts.file.kind?.kind === 'parts') this.#mark(facts);
    }
  }

  /** The parts from which superseded numbers lead to a part, near and far. */
  #markChain(last: string): void {
    const seen = new Set<string>();
    const above = (id: string) => this.#book.registry.users('part', id);
    if (above(last).size === 0) return;
    const left = [last];
    for (let id = left.pop(); id !== undefined; id = left.pop()) {
      if (seen.has(id)) continue;
      seen.add(id);
      for (const facts of above(id)) {
        if (!isSuperseded(facts)) continue;
        this.#mark(facts);
        for (const one of facts.definitions) if (one.kind === 'part') left.push(one.id);
      }
    }
  }

  /** An id that comes or goes may be one that is suggested for a lost one. */
  #markSuggestions(effects: readonly Effect[]): void {
    for (const { kind, id } of effects) {
      const lost = this.#lost.get(kind);
      if (!lost) continue;
      const all = lost.size * effects.length > COMPARED;
      for (const word of lost) {
        if (this.#book.registry.users(kind, word).size === 0) lost.delete(word);
        else if (all || isNear(word, id)) this.#markUsers(kind, word);
      }
    }
  }

  #noteLost(facts: PieceFacts): void {
    for (const use of facts.uses) {
      if (this.#book.registry.resolve(use)) continue;
      for (const kind of use.kinds) {
        const lost = this.#lost.get(kind);
        if (lost) lost.add(use.id);
        else this.#lost.set(kind, new Set([use.id]));
      }
    }
  }
}

/** Ids that only the file knows: what names them is looked at again. */
function bringsLocals(facts: PieceFacts): boolean {
  return facts.definitions.some((one) => one.local);
}
