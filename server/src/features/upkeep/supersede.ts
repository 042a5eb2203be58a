/**
 * Numbers that were replaced, written as their successors wherever the book still names them: jobs that are open and
 * not presented, templates, kits. What a customer holds on paper stays as it is.
 */
import type { Job } from '../../../../schemas/kinds/job.ts';
import type { Part } from '../../../../schemas/kinds/parts.ts';
import type { Path } from '../../../../schemas/problem.ts';
import type { IsoDate } from '../../../../schemas/values/dates.ts';
import { type Decimal, ONE, parseDecimal } from '../../../../schemas/values/decimal.ts';
import type { Book } from '../../book/book.ts';
import type { BookFile } from '../../book/file.ts';
import { type Chain, chainOf } from '../../pricing/supersession.ts';
import { type Edits, insertPair, setValue } from '../../syntax/edit.ts';
import { nodeAt, pairOf } from '../../syntax/node.ts';
import { isOpen, isPresented, nameOf } from '../../upkeep/jobs.ts';
import type { Place } from '../../upkeep/report/report.ts';
import { type BookEdit, EditCollector, Refusal } from '../edit.ts';
import { type IdMark, namingMarks } from '../ids.ts';

export interface Left {
  readonly at: Place;
  readonly where: string;
  readonly why: string;
}

export interface Succession {
  readonly from: string;
  readonly to: string;
  /** How many as sold for one as written. */
  readonly factor: Decimal;
  /** What else changes with it; somebody has to see to it. */
  readonly needs: readonly string[];
  /** The successor holds other parts, which must not be billed beside it. */
  readonly kit: boolean;
  /** Names of jobs, templates and files, once each. */
  readonly replaced: readonly string[];
  readonly left: readonly Left[];
}

export interface Supersession {
  readonly successions: readonly Succession[];
  readonly edit: BookEdit;
}

/** One number, or every one that was replaced by then. Throws a Refusal for a number that was not. */
export function supersede(book: Book, on: IsoDate, only?: string): Supersession {
  const catalog = { part: (id: string) => book.value('part', id) as Part | undefined };
  const collector = new EditCollector();
  const successions: Succession[] = [];
  for (const id of only === undefined ? replacedNumbers(book) : [only]) {
    const chain = chainOf(catalog, id, on);
    const why = chain ? whyNot(chain, id, catalog.part(id), on) : `There is no part "${id}" in this book.`;
    if (!chain || why) {
      if (only !== undefined) throw new Refusal(why!);
      continue;
    }
    const one = succession(book, id, chain, collector);
    if (only !== undefined || one.replaced.length > 0 || one.left.length > 0) successions.push(one);
  }
  return { successions, edit: collector.edit };
}

/** The text is asked first: a hundred thousand entries need not be judged to find the few. */
function replacedNumbers(book: Book): string[] {
  const ids: string[] = [];
  for (const { id, facts, row } of book.registry.all('part'))
    if (row === undefined && facts.piece.text.includes('superseded-by')) ids.push(id);
  return ids;
}

function whyNot(chain: Chain, id: string, part: Part | undefined, on: IsoDate): string | undefined {
  if (chain.cycle)
    return `These numbers replace one another in a circle: ${chain.numbers.join(' → ')}. Take one of the replacements out.`;
  if (chain.broken) return `A number that replaces ${chain.id} is not in this book. Add it first.`;
  if (chain.id !== id) return undefined;
  const from = part?.['superseded-by']?.from;
  return from && from > on
    ? `${id} is replaced from ${from} on, which is not yet.`
    : `${id} has not been replaced: it has no \`superseded-by\`.`;
}

function succession(book: Book, from: string, chain: Chain, collector: EditCollector): Succession {
  const replaced = new Set<string>();
  const left: Left[] = [];
  for (const mark of namingMarks(book, { kind: 'part', id: from, home: undefined })) {
    const { file, piece } = mark;
    const place = placeKind(mark);
    if (place === undefined) continue;
    const where = whereIs(file, mark);
    const why = stays(file, mark, place, chain.factor);
    const edits = why === undefined ? editsFor(mark, place, chain) : undefined;
    if (edits) {
      collector.add(
        file,
        piece,
        edits,
        `${from} → ${chain.id}${chain.factor.eq(ONE) ? '' : `, ${chain.factor} for one`}`,
      );
      replaced.add(where);
    } else {
      const { line } = file.source.positionOf(piece, mark.start);
      left.push({ at: { uri: file.uri, line }, where, why: why ?? 'this place cannot be changed by itself' });
    }
  }
  return {
    from,
    to: chain.id,
    factor: chain.factor,
    needs: chain.needs,
    kit: (chain.part.contents ?? []).length > 0,
    replaced: [...replaced],
    left,
  };
}

/** `counted`: a line or a kit's content, which has a quantity. `named`: only the number stands there. */
type PlaceKind = 'counted' | 'filled' | 'named';

/** Undefined for places that tell of the number itself: its chain, its lock, its core, the shop's own cases. */
function placeKind({ file, path, onKey, piece }: IdMark): PlaceKind | undefined {
  const kind = file.kind?.kind;
  const last = path.at(-1);
  if (onKey) return undefined;
  if (kind === 'parts') return path.includes('contents') && last === 'part' ? 'counted' : undefined;
  if (kind !== 'job' && kind !== 'template') return undefined;
  if (path.includes('cores') || path.includes('lock')) return undefined;
  if (last !== 'part') return 'named';
  const line = nodeAt(piece.read().node, pathInPiece(piece, path.slice(0, -1)));
  return pairOf(line, 'fill') ? 'filled' : 'counted';
}

function stays(
  file: BookFile,
  { path, piece }: IdMark,
  place: PlaceKind,
  factor: Decimal,
): string | undefined {
  if (file.kind?.kind === 'job') {
    const job = file.value as Job;
    if (!isOpen(job)) return 'the job is done';
    if (isPresented(job)) return 'its owner holds a paper with this number';
  }
  if (factor.eq(ONE)) return undefined;
  if (place === 'filled') return `${factor} for one: a fill has no number to change`;
  if (place === 'named') return `${factor} for one: no quantity stands there`;
  const line = nodeAt(piece.read().node, pathInPiece(piece, path.slice(0, -1)));
  if (pairOf(line, 'price')) return `${factor} for one: the line has a price of its own`;
  const quantity = pairOf(line, 'quantity')?.value;
  if (quantity?.type === 'scalar' && !parseDecimal(quantity.text).ok)
    return `${factor} for one: its quantity is ${quantity.text}`;
  return undefined;
}

function editsFor(mark: IdMark, place: PlaceKind, { id, factor }: Chain): Edits {
  const { piece, path } = mark;
  const root = piece.read().node;
  const at = pathInPiece(piece, path);
  const number = setValue(piece.text, root, at, id);
  if (!number || factor.eq(ONE) || place !== 'counted') return number;
  const line = at.slice(0, -1);
  const quantity = pairOf(nodeAt(root, line), 'quantity')?.value;
  const typed = quantity?.type === 'scalar' ? parseDecimal(quantity.text) : undefined;
  const count = typed?.ok ? typed.value.times(factor) : factor;
  const counted = quantity
    ? setValue(piece.text, root, [...line, 'quantity'], count.toString())
    : insertPair(piece.text, root, line, 'quantity', count.toString(), 1);
  return counted && [...number, ...counted];
}

function pathInPiece(piece: IdMark['piece'], path: Path): Path {
  return piece.kind === 'entry' ? path.slice(1) : path;
}

function whereIs(file: BookFile, { piece }: IdMark): string {
  switch (file.kind?.kind) {
    case 'job':
      return `job ${nameOf(file)}`;
    case 'template':
      return `template ${String(file.value.id ?? '')}`;
    default:
      return `kit ${piece.key}`;
  }
}
