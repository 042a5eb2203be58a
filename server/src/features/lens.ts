/** A line of facts above an entry: an option's total and what it lacks, who uses a part, which cases cover a rule. */
import type { CodeLens } from 'vscode-languageserver-types';
import type { RefKind } from '../../../schemas/declare.ts';
import type { Path } from '../../../schemas/problem.ts';
import type { BookFile } from '../book/file.ts';
import type { Estimates } from '../estimate/estimates.ts';
import { printerFor } from '../print/locale.ts';

/** Above this many entries a file has lenses only on entries that something uses. */
const MOST = 2000;

/** The command of the client that shows references; the facts are text, so other clients may leave it out. */
export const SHOW_USES = 'gearquill.showUses';

const COUNTED: readonly RefKind[] = [
  'part',
  'operation',
  'step',
  'unit',
  'role',
  'finding',
  'rule',
  'record',
  'template',
];

export function codeLenses(estimates: Estimates, file: BookFile): CodeLens[] {
  return file.kind?.kind === 'job' ? jobLenses(estimates, file) : entryLenses(estimates, file);
}

function jobLenses(estimates: Estimates, file: BookFile): CodeLens[] {
  const estimate = estimates.of(file);
  if (!estimate) return [];
  const { money } = printerFor(estimate);
  return estimate.options.flatMap((option) => {
    const missing = option.work.requirements.filter(
      (one) => one.kind !== 'advises' && one.state === 'missing',
    ).length;
    const facts = [
      option.id === undefined
        ? `Total ${money(option.priced.total.value)}`
        : `${option.name}: ${money(option.priced.total.value)}`,
      missing === 0 ? 'nothing missing' : `${missing} missing`,
      ...(option === estimate.chosen && option.id !== undefined ? ['chosen'] : []),
    ];
    const lens = at(file, option.id === undefined ? ['unit'] : option.path, facts.join(' · '));
    return lens ? [lens] : [];
  });
}

function entryLenses({ book }: Estimates, file: BookFile): CodeLens[] {
  const lenses: CodeLens[] = [];
  for (const facts of file.facts()) {
    for (const definition of facts.definitions) {
      if (lenses.length >= MOST) return lenses;
      if (definition.local || definition.shared || definition.row !== undefined) continue;
      if (!COUNTED.includes(definition.kind)) continue;
      const users = book.registry.users(definition.kind, definition.id);
      if (users.size === 0) continue;
      const files = new Map<string, Set<BookFile>>();
      for (const user of users) {
        if (user === facts) continue;
        const kind = user.file.kind?.kind ?? '';
        files.set(kind, (files.get(kind) ?? new Set()).add(user.file));
      }
      const text = usedBy(files);
      const part = facts.parts.find((one) => one.key === definition.id);
      const path: Path = part?.section !== undefined ? [part.section, definition.id] : ['id'];
      const lens = text && at(file, path, text, { kind: definition.kind, id: definition.id });
      if (lens) lenses.push(lens);
    }
  }
  return lenses;
}

function usedBy(files: ReadonlyMap<string, ReadonlySet<BookFile>>): string {
  const count = (kind: string, word: string) => {
    const number = files.get(kind)?.size ?? 0;
    return number === 0 ? [] : [`${number} ${word}${number === 1 ? '' : 's'}`];
  };
  const covered = files.get('cases')?.size ?? 0;
  const users = [
    ...count('job', 'job'),
    ...count('template', 'template'),
    ...count('rules', 'rule file'),
    ...count('parts', 'parts file'),
    ...count('labor', 'labor file'),
  ];
  return [
    ...(users.length > 0 ? [`used by ${users.join(', ')}`] : []),
    ...(covered > 0 ? [`in ${covered} cases file${covered === 1 ? '' : 's'}`] : []),
  ].join(' · ');
}

function at(
  file: BookFile,
  path: Path,
  title: string,
  uses?: { kind: RefKind; id: string },
): CodeLens | undefined {
  const spot = file.spotOf(path, true);
  if (!spot) return undefined;
  const range = file.source.rangeOf(spot.piece, spot);
  return {
    range,
    command: uses
      ? { title, command: SHOW_USES, arguments: [file.uri, range.start, uses] }
      : { title, command: '' },
  };
}
