/** The book as a tree for a side bar, one level at a time. */
import type { Location } from 'vscode-languageserver-types';
import type { RefKind } from '../../../../schemas/declare.ts';
import type { Job } from '../../../../schemas/kinds/job.ts';
import { type Operation, WORK } from '../../../../schemas/kinds/labor.ts';
import type { Part } from '../../../../schemas/kinds/parts.ts';
import type { Definition } from '../../book/facts.ts';
import type { Estimates } from '../../estimate/estimates.ts';
import { printerFor } from '../../print/locale.ts';
import { definitionLocation } from '../spot.ts';

export interface BookNode {
  /** Names the node in a question for what is below it. */
  readonly id: string;
  readonly icon: 'book' | 'group' | 'more' | RefKind;
  readonly label: string;
  readonly description: string | undefined;
  readonly expandable: boolean;
  readonly place: Location | undefined;
}

/** More than this many below one node are no help to anyone. */
const MOST = 250;
/** Open jobs whose estimates are made for the tree, the newest first. */
const MOST_JOBS = 200;

const GROUPS: readonly (readonly [group: string, label: string, kind: RefKind])[] = [
  ['jobs', 'Open jobs', 'job'],
  ['parts', 'Parts by role', 'part'],
  ['operations', 'Operations', 'operation'],
  ['units', 'Unit families', 'unit'],
  ['findings', 'Findings', 'finding'],
  ['rules', 'Rules', 'rule'],
  ['templates', 'Templates', 'template'],
];

/** `node`: what to look below; the top, when left out. An id is a list of words: book, group, part of the group. */
export function bookTree(books: readonly Estimates[], node?: string): BookNode[] {
  if (node === undefined) return books.length === 1 ? groups(books[0]!, 0) : books.map(bookNode);
  const [at, group, inner] = JSON.parse(node) as [number, string?, string?];
  const estimates = books[at];
  if (!estimates) return [];
  if (group === undefined) return groups(estimates, at);
  if (group === 'jobs') return inner === undefined ? jobGroups(estimates, at) : jobs(estimates, at, inner);
  if (group === 'parts') return inner === undefined ? roles(estimates, at) : parts(estimates, at, inner);
  if (group === 'operations')
    return inner === undefined ? works(estimates, at) : operations(estimates, at, inner);
  const kind = GROUPS.find(([name]) => name === group)?.[2];
  return kind ? entries(estimates, at, group, [...estimates.book.registry.all(kind)]) : [];
}

function idOf(...words: (number | string)[]): string {
  return JSON.stringify(words);
}

function bookNode(estimates: Estimates, at: number): BookNode {
  const { book } = estimates;
  const name = [...book.shops()].map((shop) => book.shopOf(shop.uri)?.shop.name).find(Boolean);
  const folder = decodeURIComponent(book.root.replace(/\/$/, '').split('/').at(-1) ?? '');
  return {
    id: idOf(at),
    icon: 'book',
    label: name ?? folder,
    description: name === undefined ? undefined : folder,
    expandable: true,
    place: undefined,
  };
}

function groups({ book }: Estimates, at: number): BookNode[] {
  return GROUPS.flatMap(([group, label, kind]) => {
    const count = book.registry.count(kind);
    if (count === 0) return [];
    return [groupNode(idOf(at, group), label, group === 'jobs' ? undefined : count)];
  });
}

function groupNode(id: string, label: string, count: number | undefined): BookNode {
  return {
    id,
    icon: 'group',
    label,
    description: count === undefined ? undefined : String(count),
    expandable: true,
    place: undefined,
  };
}

interface Row {
  readonly definition: Definition;
  readonly label: string;
  readonly description: string | undefined;
}

function rowsOf(at: number, group: string, rows: readonly Row[]): BookNode[] {
  const shown = rows.slice(0, MOST).map(
    ({ definition, label, description }): BookNode => ({
      id: idOf(at, group, definition.kind, definition.id),
      icon: definition.kind,
      label,
      description,
      expandable: false,
      place: definitionLocation(definition),
    }),
  );
  const left = rows.length - shown.length;
  if (left === 0) return shown;
  const more: BookNode = {
    id: idOf(at, group, 'more'),
    icon: 'more',
    label: `${left} more: go to them by name with workspace symbols`,
    description: undefined,
    expandable: false,
    place: undefined,
  };
  return [...shown, more];
}

function entries(estimates: Estimates, at: number, group: string, found: readonly Definition[]): BookNode[] {
  const rows = found.map((definition): Row => {
    const name = (estimates.book.valueOf(definition) as { name?: unknown } | undefined)?.name;
    return {
      definition,
      label: definition.id,
      description: typeof name === 'string' ? name : undefined,
    };
  });
  return rowsOf(at, group, byLabel(rows));
}

function byLabel(rows: readonly Row[]): Row[] {
  return rows.toSorted((a, b) => a.label.localeCompare(b.label, 'en', { numeric: true }));
}

/** In groups by a word of each entry; the entries without one last. */
function grouped(
  found: Iterable<Definition>,
  word: (value: unknown) => string | undefined,
): Map<string, Definition[]> {
  const groups = new Map<string, Definition[]>();
  for (const definition of found) {
    const key = word(definition.value) ?? '';
    const list = groups.get(key);
    if (list) list.push(definition);
    else groups.set(key, [definition]);
  }
  return groups;
}

const roleOf = (value: unknown) => (value as Part | undefined)?.role;
const workOf = (value: unknown) => (value as Operation | undefined)?.work;

function roles({ book }: Estimates, at: number): BookNode[] {
  const nodes = [...grouped(book.registry.all('part'), roleOf)].map(([role, list]) => {
    const name = (book.value('role', role) as { name?: string } | undefined)?.name;
    const label = role === '' ? 'Without a role' : (name ?? role);
    return { role, node: groupNode(idOf(at, 'parts', role), label, list.length) };
  });
  return nodes
    .sort((a, b) => Number(a.role === '') - Number(b.role === '') || a.node.label.localeCompare(b.node.label))
    .map(({ node }) => node);
}

function parts(estimates: Estimates, at: number, role: string): BookNode[] {
  const list = grouped(estimates.book.registry.all('part'), roleOf).get(role) ?? [];
  return entries(estimates, at, `parts ${role}`, list);
}

function works({ book }: Estimates, at: number): BookNode[] {
  const found = grouped(book.registry.all('operation'), workOf);
  return [...Object.keys(WORK), ''].flatMap((work) => {
    const list = found.get(work);
    if (!list) return [];
    const label =
      work === '' ? 'Other work' : `${work[0]!.toUpperCase()}${work.slice(1).replaceAll('-', ' ')}`;
    return [groupNode(idOf(at, 'operations', work), label, list.length)];
  });
}

function operations(estimates: Estimates, at: number, work: string): BookNode[] {
  const list = grouped(estimates.book.registry.all('operation'), workOf).get(work) ?? [];
  return entries(estimates, at, `operations ${work}`, list);
}

/** The first of these that a job lacks is its group. */
const LACKS = [
  ['errors', 'To be mended'],
  ['work', 'Lack required work or answers'],
  ['records', 'Lack records'],
  ['warnings', 'With warnings'],
  ['nothing', 'Lack nothing'],
] as const;
type Lack = (typeof LACKS)[number][0];

function openJobs({ book }: Estimates): { looked: Definition[]; more: number } {
  const open = [...book.registry.all('job')].filter((one) => {
    const job = book.valueOf(one) as Partial<Job> | undefined;
    return job?.completed === undefined;
  });
  const opened = (one: Definition) => String((book.valueOf(one) as Partial<Job> | undefined)?.opened ?? '');
  const newest = open.sort((a, b) => opened(b).localeCompare(opened(a)) || b.id.localeCompare(a.id));
  return { looked: newest.slice(0, MOST_JOBS), more: Math.max(0, newest.length - MOST_JOBS) };
}

function jobGroups(estimates: Estimates, at: number): BookNode[] {
  const { looked, more } = openJobs(estimates);
  const count = new Map<Lack, number>();
  for (const one of looked) {
    const lack = lackOf(estimates, one);
    count.set(lack, (count.get(lack) ?? 0) + 1);
  }
  const nodes = LACKS.flatMap(([lack, label]) =>
    count.has(lack) ? [groupNode(idOf(at, 'jobs', lack), label, count.get(lack))] : [],
  );
  if (more === 0) return nodes;
  return [
    ...nodes,
    {
      ...groupNode(idOf(at, 'jobs', 'more'), `${more} older open jobs, not looked at`, undefined),
      icon: 'more',
      expandable: false,
    },
  ];
}

function lackOf(estimates: Estimates, definition: Definition): Lack {
  const problems = estimates.of(definition.facts.file)?.problems ?? [];
  const missing = problems.filter((one) => one.data?.requirement !== undefined);
  const loud = problems.filter((one) => one.data?.requirement === undefined);
  if (loud.some((one) => one.severity === 'error')) return 'errors';
  if (missing.some((one) => one.severity === 'error')) return 'work';
  if (missing.some((one) => one.data?.record !== undefined)) return 'records';
  return [...missing, ...loud].some((one) => one.severity === 'warning') ? 'warnings' : 'nothing';
}

function jobs(estimates: Estimates, at: number, lack: string): BookNode[] {
  const rows = openJobs(estimates)
    .looked.filter((one) => lackOf(estimates, one) === lack)
    .map((definition): Row => {
      const estimate = estimates.of(definition.facts.file);
      const shown = estimate?.chosen ?? estimate?.options[0];
      const total = estimate && shown && printerFor(estimate).money(shown.priced.total.value);
      const who = [estimate?.customer?.name, total].filter(Boolean).join(', ');
      return { definition, label: definition.id, description: who || undefined };
    });
  return rowsOf(at, `jobs ${lack}`, rows);
}
