/**
 * Who calls for whom: rules, templates, jobs, kits and operations call for the parts and operations they name.
 * A part or an operation fills a role; what calls for the role calls for it.
 */
import type {
  CallHierarchyIncomingCall,
  CallHierarchyItem,
  CallHierarchyOutgoingCall,
} from 'vscode-languageserver-types';
import type { RefKind } from '../../../schemas/declare.ts';
import type { Book } from '../book/book.ts';
import type { BookFile } from '../book/file.ts';
import type { Position } from '../syntax/lines.ts';
import { holderOf, itemOf, type Thing, thingAt, thingOf } from './hierarchy-item.ts';
import { definingMarks, type IdMark, idsIn, meaningOf, namingMarks } from './ids.ts';
import { locationsOf } from './spot.ts';

/** What is done, sold, found or asked for; prices, suppliers and classes call for nothing. */
const SHOWN: ReadonlySet<RefKind> = new Set([
  'part',
  'operation',
  'step',
  'role',
  'finding',
  'rule',
  'record',
  'caution',
  'template',
  'job',
  'case',
]);

/** Fields in which naming a role means asking for it. */
const ASKING = new Set(['requires', 'advises', 'parts']);

interface Call {
  readonly thing: Thing;
  readonly marks: IdMark[];
}

export function prepareCallHierarchy(book: Book, file: BookFile, position: Position): CallHierarchyItem[] {
  const thing = thingAt(book, file, position);
  const item = thing && SHOWN.has(thing.kind) ? itemOf(book, thing) : undefined;
  return item ? [item] : [];
}

export function incomingCalls(book: Book, item: CallHierarchyItem): CallHierarchyIncomingCall[] {
  const thing = thingOf(item);
  const calls = new Map<string, Call>();
  for (const mark of namingMarks(book, { ...thing, home: undefined })) {
    const holder = holderOfMark(mark);
    if (holder && !(thing.kind === 'role' && isFilling(mark, holder))) note(calls, holder, mark);
  }
  const role = roleOf(book, thing);
  for (const mark of role === undefined
    ? []
    : namingMarks(book, { kind: 'role', id: role, home: undefined })) {
    const holder = holderOfMark(mark);
    if (holder && mark.path.slice(2).some((step) => ASKING.has(String(step)))) note(calls, holder, mark);
  }
  return shown(book, calls, thing).map(({ item: from, marks }) => ({ from, fromRanges: rangesOf(marks) }));
}

export function outgoingCalls(book: Book, item: CallHierarchyItem): CallHierarchyOutgoingCall[] {
  const thing = thingOf(item);
  if (thing.kind === 'role') return fillers(book, thing, item);
  const calls = new Map<string, Call>();
  for (const mark of marksInside(book, thing)) {
    const meaning = mark.is === 'reference' ? meaningOf(book, mark) : undefined;
    if (meaning && !meaning.home) note(calls, meaning, mark);
  }
  return shown(book, calls, thing).map(({ item: to, marks }) => ({ to, fromRanges: rangesOf(marks) }));
}

/** The parts and operations that fill a role. Nothing in the role's own text names them, so its id stands for the place. */
function fillers(book: Book, role: Thing, item: CallHierarchyItem): CallHierarchyOutgoingCall[] {
  const calls = new Map<string, Call>();
  for (const mark of namingMarks(book, { ...role, home: undefined })) {
    const holder = holderOfMark(mark);
    if (holder && isFilling(mark, holder)) note(calls, holder, mark);
  }
  return shown(book, calls, role).map(({ item: to }) => ({ to, fromRanges: [item.selectionRange] }));
}

function note(calls: Map<string, Call>, { kind, id }: Thing, mark: IdMark): void {
  const key = `${kind}\n${id}`;
  const call = calls.get(key);
  if (call) call.marks.push(mark);
  else calls.set(key, { thing: { kind, id }, marks: [mark] });
}

function shown(book: Book, calls: ReadonlyMap<string, Call>, self: Thing) {
  return [...calls.values()].flatMap(({ thing, marks }) => {
    if (!SHOWN.has(thing.kind) || (thing.kind === self.kind && thing.id === self.id)) return [];
    const item = itemOf(book, thing);
    return item ? [{ item, marks }] : [];
  });
}

function rangesOf(marks: readonly IdMark[]) {
  return locationsOf(marks).map(({ range }) => range);
}

function holderOfMark(mark: IdMark): Thing | undefined {
  return holderOf(mark.file, mark.path, idsIn(mark.file, mark.piece));
}

/** Whether an entry says here which role it fills itself. */
function isFilling(mark: IdMark, holder: Thing): boolean {
  return (
    (holder.kind === 'part' || holder.kind === 'operation') &&
    mark.path.length === 3 &&
    mark.path[2] === 'role'
  );
}

function roleOf(book: Book, { kind, id }: Thing): string | undefined {
  if (kind !== 'part' && kind !== 'operation') return undefined;
  return (book.value(kind, id) as { role?: string } | undefined)?.role;
}

/** Every id inside an entry, or inside the file that is one thing as a whole. */
function marksInside(book: Book, thing: Thing): IdMark[] {
  const [mark] = definingMarks(book, { ...thing, home: undefined });
  if (!mark) return [];
  const { file, piece } = mark;
  if (!mark.onKey) return [...file.source.pieces()].flatMap((one) => idsIn(file, one));
  return idsIn(file, piece).filter((one) => mark.path.every((step, i) => step === one.path[i]));
}
