/** The book as the engines see it: entries by id, each look-up noted. */
import type { RefKind } from '../../../schemas/declare.ts';
import type { Caution, Operation, Step } from '../../../schemas/kinds/labor.ts';
import type { Part } from '../../../schemas/kinds/parts.ts';
import type { Finding, RecordKind, Replacement, Role, Rule } from '../../../schemas/kinds/rules.ts';
import type { Warranty } from '../../../schemas/kinds/shop.ts';
import type { Template } from '../../../schemas/kinds/template.ts';
import type { Unit } from '../../../schemas/kinds/units.ts';
import type { Book } from '../book/book.ts';
import type { Definition } from '../book/facts.ts';
import type { BookFile } from '../book/file.ts';
import type { Catalog as PriceCatalog } from '../pricing/model.ts';
import { compile, type RuleSet } from '../work/index.ts';
import type { Filler, RuleBook, Catalog as WorkCatalog } from '../work/model.ts';
import { fillersOf } from './fillers.ts';
import type { Watch } from './watch.ts';

/** What is worked out once for all jobs of a book and kept until what it comes from changes. */
export class Shared {
  readonly #book: Book;
  #rules: { version: number; set: RuleSet } | undefined;
  #fillers: { version: number; lists: Map<string, readonly Filler[]> } | undefined;
  #stale: ReadonlyMap<string, readonly Filler[]> = new Map();
  readonly #supplied = new WeakMap<Part, Part>();

  constructor(book: Book) {
    this.#book = book;
  }

  rules(): RuleSet {
    const version = this.#book.policyVersion;
    if (this.#rules?.version !== version) this.#rules = { version, set: compile(ruleBook(this.#book)) };
    return this.#rules.set;
  }

  fillers(role: string, unit: string): readonly Filler[] {
    const version = this.#book.catalogVersion;
    if (this.#fillers?.version !== version) {
      // Lists that come out the same stay the same objects, so that what was made from them still holds.
      this.#stale = this.#fillers?.lists ?? new Map();
      this.#fillers = { version, lists: new Map() };
    }
    const key = `${role}\n${unit}`;
    let list = this.#fillers.lists.get(key);
    if (!list) {
      const fresh = fillersOf(this.#book, role, unit);
      const old = this.#stale.get(key);
      list = old && sameFillers(old, fresh) ? old : fresh;
      this.#fillers.lists.set(key, list);
    }
    return list;
  }
  /** A part with the supplier that its file names for all. */
  part(definition: Definition): Part | undefined {
    const part = definition.value as Part | undefined;
    const supplier = definition.facts.file.value.supplier;
    if (!part || part.supplier || typeof supplier !== 'string') return part;
    let supplied = this.#supplied.get(part);
    if (supplied?.supplier !== supplier) {
      supplied = { ...part, supplier };
      this.#supplied.set(part, supplied);
    }
    return supplied;
  }
}

export interface BookCatalog extends PriceCatalog, WorkCatalog {
  template(id: string): Template | undefined;
  job(id: string): BookFile | undefined;
  rules(): RuleSet;
}

/** Look-ups of the kinds whose entries are read as they are; `entry` finds those of a kind. */
export function entryLookups(entry: <T>(kind: RefKind) => (id: string) => T | undefined) {
  return {
    operation: entry<Operation>('operation'),
    step: entry<Step>('step'),
    unit: entry<Unit>('unit'),
    role: entry<Role>('role'),
    finding: entry<Finding>('finding'),
    record: entry<RecordKind>('record'),
    caution: entry<Caution>('caution'),
    template: entry<Template>('template'),
  };
}

/** `uri`: the file that asks; its nearest shop says which warranty plans there are. */
export function bookCatalog(book: Book, shared: Shared, uri: string, watch: Watch): BookCatalog {
  const entry =
    <T>(kind: RefKind) =>
    (id: string): T | undefined =>
      watch.note(kind, id, () => book.value(kind, id)) as T | undefined;
  const seen = entry<unknown>('job');
  return {
    part: (id) =>
      watch.note('sold part', id, () => {
        const definition = book.definition('part', id);
        return definition && shared.part(definition);
      }),
    ...entryLookups(entry),
    job: (id) => (seen(id) ? book.definition('job', id)?.facts.file : undefined),
    warranty: (id): Warranty | undefined =>
      watch.note('shop', uri, () => book.shopOf(uri)?.shop)?.warranties?.[id],
    fillers: (role, unit) => watch.note('fillers', `${role}\n${unit}`, () => shared.fillers(role, unit)),
    rules: () => watch.note('rules', '', () => shared.rules()),
  };
}

export function ruleBook(book: Book): RuleBook {
  const entries = <T>(kind: RefKind): Map<string, T> => {
    const map = new Map<string, T>();
    for (const { id, value } of book.registry.all(kind)) if (value !== undefined) map.set(id, value as T);
    return map;
  };
  const replacements = new Map<string, Replacement>();
  for (const file of book.filesOf('rules')) {
    for (const facts of file.facts()) {
      for (const one of facts.parts) {
        if (one.section === 'replacements' && one.value !== undefined)
          replacements.set(one.key, one.value as Replacement);
      }
    }
  }
  return { rules: entries<Rule>('rule'), findings: entries<Finding>('finding'), replacements };
}

function sameFillers(a: readonly Filler[], b: readonly Filler[]): boolean {
  return a.length === b.length && a.every((one, i) => one.id === b[i]?.id && one.kind === b[i]?.kind);
}
