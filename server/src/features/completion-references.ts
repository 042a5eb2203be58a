/** Ids that can be named at a place, the likely ones first, each with the facts to choose it by. */
import { metaOf, type RefKind } from '../../../schemas/declare.ts';
import type { Part } from '../../../schemas/kinds/parts.ts';
import { shopKind } from '../../../schemas/kinds/shop.ts';
import type { Template } from '../../../schemas/kinds/template.ts';
import { alternativesOf, fieldsOf, keyOf } from '../../../schemas/walk.ts';
import { KIND_WORDS } from '../book/checks.ts';
import { STEP, writeKey } from '../syntax/write.ts';
import { type Context, leading, type Slot, unitFor } from './completion-context.ts';
import { detailsOf } from './completion-details.ts';
import { type Draft, type Drafts, ITEM, MOST, NO_MATCH, rankOf } from './completion-item.ts';
import { localEntries, localOwner } from './completion-local.ts';
import { partsFor } from './completion-parts.ts';
import { type SnippetWriter, written } from './completion-snippet.ts';
import { wantedBy } from './completion-wanted.ts';
import { Pricer, pricingDay } from './hover-price.ts';

interface Candidate {
  readonly kind: RefKind;
  readonly id: string;
  readonly value: unknown;
  /** Lower is offered earlier. */
  readonly tier: number;
}

export interface IdAsk {
  readonly kinds: readonly RefKind[];
  readonly local: boolean;
  /** Ids that are named there already. */
  readonly without: ReadonlySet<string>;
  /** Parts and operations of this role only. */
  readonly role?: string | undefined;
}

/** What is written for an id; the id alone, when left out. */
export type IdInsert = (kind: RefKind, id: string, value: unknown) => Draft['insert'] | undefined;

export function idDrafts(
  context: Context,
  slot: Slot,
  ask: IdAsk,
  insert: IdInsert = () => undefined,
): Drafts {
  const { estimates, today } = context.ask;
  const unit = unitFor(context);
  const wanted = wantedBy(context);
  const pricer = new Pricer(estimates, context.file, pricingDay(context.file, today), unit);
  const lists = ask.kinds.map((kind) => {
    if (kind === 'part') return partCandidates(context, ask, unit, wanted.role);
    return bounded(context, candidatesOf(context, kind, ask, unit, wanted));
  });
  const drafts = lists
    .flatMap((list) => list.candidates)
    .map(({ kind, id, value }): Draft => {
      const { name, facts, gone } = detailsOf(kind, id, value, pricer);
      return {
        slot,
        label: id,
        kind: ITEM.reference,
        insert: insert(kind, id, value) ?? { text: id },
        detail: [name === id ? undefined : name, gone].filter(Boolean).join('; '),
        description: facts ?? (ask.kinds.length > 1 ? KIND_WORDS[kind] : undefined),
        match: name === undefined ? [id] : [id, name],
        matches: kind === 'part',
        deprecated: gone !== undefined,
        ...(ask.local ? {} : { data: { kind, id, unit } }),
      };
    });
  return { drafts, cut: lists.some((list) => list.cut) };
}

function partCandidates(context: Context, ask: IdAsk, unit: string | undefined, wanted: ReadonlySet<string>) {
  const { typed } = context.typing;
  const { definitions, cut } = partsFor(context.book, {
    unit,
    wanted,
    role: ask.role,
    typed,
    without: ask.without,
  });
  return {
    cut,
    candidates: definitions.map(
      ({ id, value }): Candidate => ({ kind: 'part', id, value: value as Part, tier: 0 }),
    ),
  };
}

/** The best of a long list, so that facts are worked out only for what is shown. */
function bounded(context: Context, all: Candidate[]): { candidates: readonly Candidate[]; cut: boolean } {
  const sorted = all.sort((a, b) => a.tier - b.tier);
  if (sorted.length <= MOST) return { candidates: sorted, cut: false };
  const word = context.typing.typed.trim().toLowerCase();
  const ranked = sorted
    .map((candidate, order) => ({
      candidate,
      order,
      rank: word === '' ? 0 : rankOf(textsOf(candidate), word),
    }))
    .filter((one) => one.rank < NO_MATCH)
    .sort((a, b) => a.candidate.tier - b.candidate.tier || a.rank - b.rank || a.order - b.order);
  return { candidates: ranked.slice(0, MOST).map((one) => one.candidate), cut: true };
}

function textsOf({ id, value }: Candidate): string[] {
  const name = (value as { name?: unknown } | undefined)?.name;
  return typeof name === 'string' ? [id, name] : [id];
}

function candidatesOf(
  context: Context,
  kind: RefKind,
  { local, without, role }: IdAsk,
  unit: string | undefined,
  wanted: ReturnType<typeof wantedBy>,
): Candidate[] {
  const lacking: ReadonlySet<string> | undefined = wanted[kind as keyof typeof wanted];
  const found: Candidate[] = [];
  for (const [id, value] of local ? entriesAround(context, kind) : entriesOfKind(context, kind)) {
    if (without.has(id)) continue;
    const { fits, role: own } = (value ?? {}) as { fits?: unknown; role?: unknown };
    if (role !== undefined && own !== role) continue;
    const other = Array.isArray(fits) && unit !== undefined && !fits.includes(unit);
    const needed = lacking?.has(id) || (kind === 'operation' && wanted.role.has(String(own)));
    found.push({ kind, id, value, tier: (other ? 2 : 0) + (needed ? 0 : 1) });
  }
  return found;
}

/** Shop file fields whose keys bring ids into being: `rates`, `fees`. */
const SHOP_FIELDS: ReadonlyMap<RefKind, string> = new Map(
  [...fieldsOf(shopKind.schema).values()].flatMap((field) => {
    const keys = keyOf(alternativesOf(field.schema)[0]!);
    const { defines } = keys ? metaOf(keys) : {};
    return defines ? [[defines, field.key] as const] : [];
  }),
);

function* entriesOfKind({ book, file }: Context, kind: RefKind): IterableIterator<[string, unknown]> {
  const field = SHOP_FIELDS.get(kind);
  const shop = field === undefined ? undefined : book.shopOf(file.uri)?.shop;
  if (field !== undefined && shop) {
    yield* Object.entries((shop as unknown as Record<string, object | undefined>)[field] ?? {});
    return;
  }
  for (const definition of book.registry.all(kind)) yield [definition.id, book.valueOf(definition)];
}

/** Ids that are known only within a file or an entry: options of the job, parameters and add-ons of what the line names. */
function entriesAround(context: Context, kind: RefKind): [string, unknown][] {
  const owner = localOwner(kind);
  const named = owner && leading(context, owner);
  return localEntries(named === undefined ? context.file.value : context.book.value(owner!, named), kind);
}

/** Parameters of the template that is being written, as `$name`; those that stand for one of the kinds first. */
export function parameterDrafts(context: Context, slot: Slot, kinds: readonly RefKind[]): Draft[] {
  const parameters = (context.file.value.parameters ?? {}) as NonNullable<Template['parameters']>;
  const stands = (parameter: { type: string }) => Number(kinds.includes(parameter.type as RefKind));
  const entries = Object.entries(parameters).sort(([, a], [, b]) => stands(b) - stands(a));
  return entries.map(([id, parameter]) => ({
    slot,
    label: `$${id}`,
    kind: ITEM.variable,
    insert: { text: `$${id}` },
    detail: parameter.say?.trim().split('\n')[0],
    description: parameter.type,
  }));
}

/** A template by its id, with the parameters that a job has to give as tab stops. */
export function templateInsert(
  context: Context,
  slot: Slot,
  withKey: string,
  write: () => SnippetWriter,
): IdInsert {
  return (kind, id, value) => {
    if (kind !== 'template' || slot.flow || context.typing.quote) return undefined;
    const wanted = Object.entries((value as Template | undefined)?.parameters ?? {}).filter(
      ([, parameter]) => parameter.default === undefined,
    );
    if (wanted.length === 0) return undefined;
    const writer = write();
    const rows = wanted.map(([name, parameter]) => {
      const stop = parameter.choices ? writer.choice(parameter.choices) : writer.stop();
      return `${writer.line(slot.column + STEP)}${writer.text(writeKey(name))}: ${stop}`;
    });
    const named = writer.text(written(id, undefined, false));
    const source = `${named}${writer.line(slot.column)}${withKey}:${rows.join('')}`;
    return { source, snippet: writer.snippet };
  };
}
