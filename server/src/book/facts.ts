/** What one piece of a file says: values, ids it brings into being, ids it names, and what is wrong with it by itself. */
import { z } from 'zod';
import type { KindDeclaration, RefKind } from '../../../schemas/declare.ts';
import type { Path } from '../../../schemas/problem.ts';
import { didYouMean } from '../../../schemas/values/words.ts';
import { childOf, fieldsOf, keyOf } from '../../../schemas/walk.ts';
import type { Span } from '../syntax/node.ts';
import { type Entry, entriesOf, type Piece } from '../syntax/piece.ts';
import type { BookFile } from './file.ts';
import { judge, type Located } from './judge.ts';
import { type Mark, marksOf } from './marks.ts';

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
  const uses = new Map<string, Use>();
  const facts = { file, piece, parts, problems, definitions, uses: NONE as readonly Use[] };

  for (const entry of entriesOf(piece, file.splitKeys, reading.node)) {
    const declared = declarationFor(kind, entry);
    if (!declared) {
      if (!entry.key.text.startsWith('x-')) problems.push(unknownName(kind, entry));
      continue;
    }
    if (declared.catalog && entry.value.type === 'empty') continue;
    const { value, problems: found, dropped } = judge(declared.schema, entry.value);
    const prefix: Path = entry.section === undefined ? [entry.key.text] : [entry.section, entry.key.text];
    for (const problem of found) problems.push({ ...problem, path: [...prefix, ...problem.path] });
    parts.push({ section: entry.section, key: entry.key.text, value, dropped });
    if (declared.key) collectKey(declared.key, entry, value);
    for (const mark of marksOf(declared.schema, entry.value)) collect(mark, value);
  }
  facts.uses = uses.size === 0 ? NONE : [...uses.values()];
  return facts;

  function collectKey(key: z.ZodType, entry: Entry, value: unknown): void {
    const judged = key.safeParse(entry.key.text);
    if (!judged.success) {
      problems.push(wrongId(entry.key, judged.error.issues[0]?.message ?? 'This cannot be an id.'));
      return;
    }
    const defines = (key.meta() as { defines?: RefKind } | undefined)?.defines;
    if (defines)
      definitions.push({ kind: defines, id: entry.key.text, facts, value, local: false, shared: false });
  }

  function collect(mark: Mark, value: unknown): void {
    if (mark.is === 'reference') {
      if (!mark.local) uses.set(`${mark.kinds.join()}\n${mark.id}`, { kinds: mark.kinds, id: mark.id });
      return;
    }
    definitions.push({
      kind: mark.kinds[0]!,
      id: mark.id,
      facts,
      value: mark.onKey ? valueIn(value, mark.path) : undefined,
      local: mark.local,
      shared: mark.shared,
    });
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
  const name = entry.section ?? entry.key.text;
  const field = fieldsOf(kind.schema).get(name);
  if (!field) return undefined;
  if (entry.section === undefined)
    return { schema: field.schema, key: undefined, catalog: field.meta.catalog === true };
  const record = field.schema instanceof z.ZodOptional ? (field.schema.unwrap() as z.ZodType) : field.schema;
  const schema = childOf(record, entry.key.text);
  return schema && { schema, key: keyOf(record), catalog: false };
}

function valueIn(value: unknown, path: Path): unknown {
  let at = value;
  for (const step of path)
    at = at === null || typeof at !== 'object' ? undefined : (at as Record<string, unknown>)[step];
  return at;
}

function wrongId(span: Span, message: string): Located {
  return {
    code: 'wrong-value',
    severity: 'error',
    message,
    path: [],
    onKey: true,
    start: span.start,
    end: span.end,
  };
}

function unknownName(kind: KindDeclaration, entry: Entry): Located {
  const known = [...fieldsOf(kind.schema).keys()];
  const near = didYouMean(entry.key.text, known, 1)[0];
  return {
    code: 'unknown-key',
    severity: 'error',
    message: `"${entry.key.text}" is not a field of a ${kind.kind} file. ${
      near
        ? `Did you mean "${near}"?`
        : `Known here: ${known.slice(0, 12).join(', ')}${known.length > 12 ? ', …' : ''}.`
    }`,
    path: [entry.key.text],
    onKey: true,
    start: entry.key.start,
    end: entry.key.end,
    data: near ? { replaceKey: near } : {},
  };
}
