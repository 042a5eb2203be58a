/** What changed between two states of a book, in the shop's words, prices first. */
import { type KindDeclaration, metaOf } from '../../../../schemas/declare.ts';
import type { Part } from '../../../../schemas/kinds/parts.ts';
import { bare, childOf, keyOf } from '../../../../schemas/walk.ts';
import type { Book } from '../../book/book.ts';
import type { Definition } from '../../book/facts.ts';
import type { BookFile } from '../../book/file.ts';
import { relative } from '../../book/paths.ts';
import { KIND_WORDS } from '../../book/words.ts';
import type { Estimates } from '../../estimate/estimates.ts';
import { isOpen, jobFiles, jobOf, nameOf } from '../jobs.ts';
import { type Asked, type Figures, figuresOf } from '../what-if/figures.ts';
import { asIs } from '../what-if/overlay.ts';
import { differingEntries, type Noted, plainOf } from './entries.ts';
import { differingLeaves, type Leaf } from './leaves.ts';
import { isPriceField, type PriceChange, priceChanges } from './part-prices.ts';

/** A catalog entry or a whole file that came or went. */
export interface Arrival {
  readonly kind: string;
  readonly id: string;
  readonly name: string;
}

/** A field that says something else now. */
export interface FieldChange extends Leaf {
  readonly kind: string;
  /** The entry or the file that it belongs to. */
  readonly owner: string;
}

export interface MovedJob {
  readonly job: string;
  readonly file: BookFile;
  readonly option: string | undefined;
  readonly before: Figures;
  readonly after: Figures;
  /** The job's own file says something else, beside what the book says. */
  readonly itself: boolean;
}

export interface Comparison {
  readonly prices: readonly PriceChange[];
  readonly came: readonly Arrival[];
  readonly went: readonly Arrival[];
  readonly fields: readonly FieldChange[];
  /** Jobs of both states whose own files say something else. */
  readonly changedJobs: readonly string[];
  /** Open in both states, with another total. */
  readonly jobs: readonly MovedJob[];
}

export function* compareBooks(before: Estimates, after: Estimates): Generator<void, Comparison> {
  const [old, fresh] = [before.book, after.book];
  const prices: PriceChange[] = [];
  const fields: FieldChange[] = [];
  const came = new Map<string, Arrival>();
  const went = new Map<string, Arrival>();
  const changedJobs = new Set<string>();
  const owners = { old: ownersOf(old), fresh: ownersOf(fresh) };
  for (const { before: was, after: now } of differingEntries(old, fresh)) {
    const one = (now ?? was)!;
    const inBoth = owners.old.has(ownerOf(one)) && owners.fresh.has(ownerOf(one));
    if (one.section === 'parts' && old.definition('part', one.key) && fresh.definition('part', one.key))
      prices.push(...pricesOf(old, fresh, one.key));
    if (was && now) fields.push(...changesIn(was, now));
    else if (one.section === undefined && inBoth) fields.push(...changesIn(was, now));
    else if (!(one.section === 'parts' && (now ? old : fresh).definition('part', one.key)))
      arrive(now ? came : went, one);
    if (one.kind.kind === 'job' && inBoth) changedJobs.add(one.owner);
    yield;
  }
  compareRows(old, fresh, { prices, came, went });
  return {
    prices,
    came: [...came.values()],
    went: [...went.values()],
    // Jobs change every day; what matters of them is what they come to.
    fields: fields.filter(({ kind }) => kind !== 'job'),
    changedJobs: [...changedJobs],
    jobs: yield* movedJobs(before, after),
  };
}

function* movedJobs(before: Estimates, after: Estimates): Generator<void, MovedJob[]> {
  const jobs: MovedJob[] = [];
  const [then, today] = [asIs(before), asIs(after)];
  const ask = (file: BookFile): Asked => ({
    job: jobOf(file),
    uri: file.uri,
    droppedOf: (key) => file.droppedOf(key),
  });
  for (const file of jobFiles(after.book, isOpen)) {
    const id = nameOf(file);
    const old = before.book.definition('job', id)?.facts.file;
    if (!old || !isOpen(jobOf(old))) continue;
    const was = figuresOf(ask(old), then).figures;
    const { figures: now, option } = figuresOf(ask(file), today);
    yield;
    const itself = old.source.text() !== file.source.text();
    if (!was.total.eq(now.total)) jobs.push({ job: id, file, option, before: was, after: now, itself });
  }
  return jobs;
}

function ownerOf({ kind, owner }: Pick<Noted, 'kind' | 'owner'>): string {
  return `${kind.kind}\n${owner}`;
}

function ownersOf(book: Book): Set<string> {
  const found = new Set<string>();
  for (const { kind, value, uri } of book.files()) {
    const owner = typeof value.id === 'string' ? value.id : relative(book.root, uri);
    if (kind) found.add(ownerOf({ kind, owner }));
  }
  return found;
}

function pricesOf(old: Book, fresh: Book, id: string): PriceChange[] {
  const [was, now] = [old.value('part', id), fresh.value('part', id)] as (Part | undefined)[];
  return was && now ? priceChanges(id, was, now) : [];
}

function changesIn(was: Noted | undefined, now: Noted | undefined): FieldChange[] {
  const { kind, section, key, owner } = (now ?? was)!;
  const top = childOf(kind.schema, section ?? key);
  const declared = section === undefined ? top : top && childOf(bare(top), key);
  const title = section === undefined && top ? [metaOf(top).title ?? key] : [];
  const leaves = differingLeaves(declared, was && plainOf(was), now && plainOf(now));
  return leaves
    .filter(({ path }) => section !== 'parts' || !isPriceField(path))
    .map((leaf) => ({
      ...leaf,
      path: section === undefined ? [key, ...leaf.path] : leaf.path,
      words: [...title, ...leaf.words],
      kind: kindWord(kind, section),
      owner: section === undefined ? owner : key,
    }));
}

function arrive(list: Map<string, Arrival>, noted: Noted): void {
  const { kind, section, key, owner } = noted;
  const id = section === undefined ? owner : key;
  const word = kindWord(kind, section);
  const value = section === undefined && key !== 'name' ? undefined : plainOf(noted);
  const name = typeof value === 'string' ? value : (value as { name?: unknown } | undefined | null)?.name;
  const known = list.get(`${word}\n${id}`);
  list.set(`${word}\n${id}`, { kind: word, id, name: typeof name === 'string' ? name : (known?.name ?? '') });
}

/** What an entry is called: `part`, `labor rate`, `shop`. */
function kindWord(kind: KindDeclaration, section: string | undefined): string {
  if (section === undefined) return kind.kind === 'job' ? 'job' : kind.title.toLowerCase();
  const top = childOf(kind.schema, section);
  const id = top && keyOf(bare(top));
  const defines = id && metaOf(id).defines;
  return defines ? KIND_WORDS[defines] : section;
}

/** Parts that are rows of a price file on one side at least. */
function compareRows(
  old: Book,
  fresh: Book,
  told: { prices: PriceChange[]; came: Map<string, Arrival>; went: Map<string, Arrival> },
): void {
  const arrival = ({ id, value }: Definition): Arrival => ({ kind: 'part', id, name: (value as Part).name });
  for (const was of old.registry.all('part')) {
    if (was.row === undefined) continue;
    const now = fresh.definition('part', was.id);
    if (!now) told.went.set(`part\n${was.id}`, arrival(was));
    else if (now.row !== undefined) told.prices.push(...pricesOf(old, fresh, was.id));
  }
  for (const now of fresh.registry.all('part'))
    if (now.row !== undefined && !old.definition('part', now.id))
      told.came.set(`part\n${now.id}`, arrival(now));
}
