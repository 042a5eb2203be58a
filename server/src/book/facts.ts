/** What one piece of a file says: values, ids it brings into being, ids it names, and what is wrong with it by itself. */
import type { z } from 'zod';
import { type KindDeclaration, metaOf, type RefKind } from '../../../schemas/declare.ts';
import type { Path } from '../../../schemas/problem.ts';
import { didYouMean } from '../../../schemas/values/words.ts';
import { bare, childOf, fieldsOf, keyOf } from '../../../schemas/walk.ts';
import type { Span } from '../syntax/node.ts';
import { type Entry, entriesOf, type Piece } from '../syntax/piece.ts';
import type { BookFile } from './file.ts';
import { judge, judgeValue, knownHere, type Located, problemsIn } from './judge.ts';
import { type Mark, markCollector, type Visitor } from './marks.ts';
import { valueAt } from './shape.ts';
import { quoted } from './words.ts';

export interface Definition {
  readonly kind: RefKind;
  readonly id: string;
  readonly facts: PieceFacts;
  /** The judged entry; undefined when it is too broken, and for ids that are only words (traits). */
  readonly value: unknown;
  /** For rows of a price file: the line in it. */
  readonly row?: number;
  readonly local: boolean;
  readonly shared: boolean;
}

/** An id that is named, in one or several places of the piece. */
export interface Use {
  readonly kinds: readonly RefKind[];
  readonly id: string;
}

/** The value of one name of the file, or of one entry of a catalog. */
export interface Part {
  readonly section: string | undefined;
  readonly key: string;
  /** The same object at each call. */
  readonly value: unknown;
  readonly dropped: readonly Path[];
}

export interface PieceFacts {
  readonly file: BookFile;
  readonly piece: Piece;
  readonly parts: readonly Part[];
  /** Spans in offsets of the piece. */
  readonly problems: readonly Located[];
  readonly definitions: readonly Definition[];
  readonly uses: readonly Use[];
  /** Names files, has fields of the shop, or ids that are known only in its file or its operation: those are looked up in the text. */
  readonly looksAround: boolean;
}

const NONE: readonly never[] = [];

export function factsOf(file: BookFile, kind: KindDeclaration, piece: Piece): PieceFacts {
  const reading = piece.read();
  const problems: Located[] = reading.problems.map((problem) => ({
    severity: 'error' as const,
    path: [],
    ...problem,
  }));
  const parts: Part[] = [];
  const definitions: Definition[] = [];
  const uses = new Set<Use>();
  const facts = {
    file,
    piece,
    parts: NONE as readonly Part[],
    problems: NONE as readonly Located[],
    definitions: NONE as readonly Definition[],
    uses: NONE as readonly Use[],
    looksAround: false,
  };
  const entries = entriesOf(piece, file.splitKeys, reading.node);

  for (const entry of entries) {
    const declared = declarationFor(kind, entry);
    if (!declared) {
      if (!entry.key.text.startsWith('x-')) problems.push(unknownName(kind, entry));
      continue;
    }
    // Of a catalog that is a single value the reader has told already.
    if (declared.catalog && (entry.value.type === 'empty' || entry.value.type === 'scalar')) continue;
    const marks: Mark[] = [];
    const collector = markCollector((mark) => marks.push(mark));
    const visitor: Pick<Visitor, 'value' | 'key'> = {
      key: collector.key,
      value: (node, schema, meta, path, templated) => {
        collector.value(node, schema, meta, path, templated);
        if (meta.file || meta.scalar === 'own') facts.looksAround = true;
      },
    };
    const judged = piece.kind === 'entry' ? undefined : judge(declared.schema, entry.value, visitor);
    const part = judged
      ? { section: entry.section, key: entry.key.text, value: judged.value, dropped: judged.dropped }
      : new EntryPart(facts);
    parts.push(part);
    const prefix = prefixOf(entry);
    for (const problem of judged?.problems ?? problemsIn(declared.schema, entry.value, visitor))
      problems.push({ ...problem, path: [...prefix, ...problem.path] });
    if (declared.key) {
      const wrong = idProblem(declared.key, entry.key.text);
      if (wrong) problems.push(wrongId(entry.key, prefix, wrong));
      else {
        const { defines } = metaOf(declared.key);
        if (defines) definitions.push(new PartDefinition(defines, part.key, facts, part));
      }
    }
    for (const mark of marks) {
      if (mark.is === 'definition')
        definitions.push(new PartDefinition(mark.kinds[0]!, mark.id, facts, part, mark));
      else if (mark.local) facts.looksAround = true;
      else uses.add(file.uses.get(mark.kinds, mark.id));
    }
  }
  if (problems.length > 0) facts.problems = problems;
  facts.parts = exact(parts);
  facts.definitions = exact(definitions);
  facts.uses = exact(uses.size > 0 ? [...uses] : NONE);
  return facts;
}

/** Without the room that a list keeps for growing: there are a hundred thousand of these. */
function exact<T>(list: readonly T[]): readonly T[] {
  return list.length === 0 ? NONE : list.slice();
}

/** So many different uses are kept to be shared; ids that are typed and gone again are not kept forever. */
const POOLED = 50_000;

/** One object for all uses of a file that are the same. */
export class UsePool {
  #uses = new Map<readonly RefKind[], Map<string, Use>>();
  #size = 0;

  get(kinds: readonly RefKind[], id: string): Use {
    if (this.#size > POOLED) {
      this.#uses = new Map();
      this.#size = 0;
    }
    let byId = this.#uses.get(kinds);
    if (!byId) {
      byId = new Map();
      this.#uses.set(kinds, byId);
    }
    let use = byId.get(id);
    if (!use) {
      use = { kinds, id };
      byId.set(id, use);
      this.#size++;
    }
    return use;
  }
}

/**
 * An entry of a catalog. Of a hundred thousand few are ever asked for their value, so the value is not kept from the
 * first reading but judged again when it is asked for, and kept from then on.
 */
class EntryPart implements Part {
  readonly #facts: PieceFacts;
  #judged: Pick<Part, 'value' | 'dropped'> | undefined;

  constructor(facts: PieceFacts) {
    this.#facts = facts;
  }

  get section(): string | undefined {
    return this.#facts.piece.section;
  }

  get key(): string {
    return this.#facts.piece.key;
  }

  get value(): unknown {
    return this.#judge().value;
  }

  get dropped(): readonly Path[] {
    return this.#judge().dropped;
  }

  #judge() {
    if (!this.#judged) {
      const { file, piece } = this.#facts;
      const [entry] = entriesOf(piece, file.splitKeys);
      const declared = entry && file.kind && declarationFor(file.kind, entry);
      const { value, dropped } = declared
        ? judgeValue(declared.schema, entry.value)
        : { value: undefined, dropped: NONE };
      this.#judged = { value, dropped };
    }
    return this.#judged;
  }
}

/** An id brought into being by the name of an entry, or by a mark inside it. */
class PartDefinition implements Definition {
  readonly kind: RefKind;
  readonly id: string;
  readonly facts: PieceFacts;
  readonly #part: Part;
  readonly #mark: Mark | undefined;

  constructor(kind: RefKind, id: string, facts: PieceFacts, part: Part, mark?: Mark) {
    this.kind = kind;
    this.id = id;
    this.facts = facts;
    this.#part = part;
    this.#mark = mark;
  }

  get value(): unknown {
    if (!this.#mark) return this.#part.value;
    return this.#mark.onKey ? valueAt(this.#part.value, this.#mark.path) : undefined;
  }

  get local(): boolean {
    return this.#mark?.local ?? false;
  }

  get shared(): boolean {
    return this.#mark?.shared ?? false;
  }
}

interface Declared {
  readonly schema: z.ZodType;
  readonly key: z.ZodType | undefined;
  readonly catalog: boolean;
}

/** The declaration of what an entry holds. */
export function declarationFor(
  kind: KindDeclaration,
  entry: { section: string | undefined; key: { text: string } },
): Declared | undefined {
  const field = fieldsOf(kind.schema).get(entry.section ?? entry.key.text);
  if (!field) return undefined;
  if (entry.section === undefined)
    return { schema: field.schema, key: undefined, catalog: field.meta.catalog === true };
  const record = bare(field.schema);
  const schema = childOf(record, entry.key.text);
  return schema && { schema, key: keyOf(record), catalog: false };
}

/** Path of an entry from the root of its file. */
export function prefixOf(entry: { section: string | undefined; key: { text: string } }): Path {
  return entry.section === undefined ? [entry.key.text] : [entry.section, entry.key.text];
}

/** What keeps a text from being the id of an entry. */
export function idProblem(key: z.ZodType, id: string): string | undefined {
  const judged = key.safeParse(id);
  return judged.error && (judged.error.issues[0]?.message ?? 'This cannot be an id.');
}

function wrongId(span: Span, path: Path, message: string): Located {
  const { start, end } = span;
  return { code: 'wrong-value', severity: 'error', message, path, onKey: true, start, end };
}

function unknownName(kind: KindDeclaration, entry: Entry): Located {
  const known = [...fieldsOf(kind.schema).keys()];
  const near = didYouMean(entry.key.text, known, 1)[0];
  return {
    code: 'unknown-key',
    severity: 'error',
    message: `${quoted(entry.key.text)} is not a field of a ${kind.kind} file. ${
      near ? `Did you mean "${near}"?` : knownHere(known)
    }`,
    path: [entry.key.text],
    onKey: true,
    start: entry.key.start,
    end: entry.key.end,
    data: near ? { replaceKey: near } : {},
  };
}
