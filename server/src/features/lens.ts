/** A line of facts above an entry: an option's total and what it lacks, who uses a part, which cases cover a rule. */
import type { CodeLens, Command, Range } from 'vscode-languageserver-types';
import type { RefKind } from '../../../schemas/declare.ts';
import type { Path } from '../../../schemas/problem.ts';
import type { BookFile } from '../book/file.ts';
import type { Estimates } from '../estimate/estimates.ts';
import { printerFor } from '../print/locale.ts';
import { rangeOf } from './spot.ts';
import { usesText } from './uses.ts';

/** Above this many entries a file has lenses only on entries that something uses. */
const MOST = 2000;

/** The command of the client that shows references; the facts are text, so other clients may leave it out. */
export const SHOW_USES = 'gearquill.showUses';

interface Uses {
  readonly kind: RefKind;
  readonly id: string;
}

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
    const lens = at(file, option.id === undefined ? ['unit'] : option.path, facts);
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
      const uses = usesText(book, definition.kind, definition.id);
      // How many cases a rule holds in takes running them: it is told when the lens is looked at.
      if (uses === '' && definition.kind !== 'rule') continue;
      const part = facts.parts.find((one) => one.key === definition.id);
      const path: Path = part?.section !== undefined ? [part.section, definition.id] : ['id'];
      const entry = { kind: definition.kind, id: definition.id };
      const lens = at(file, path, usedBy(uses), entry);
      if (!lens) continue;
      lenses.push(
        entry.kind === 'rule' ? { range: lens.range, data: { uri: file.uri, rule: entry.id } } : lens,
      );
    }
  }
  return lenses;
}

const usedBy = (uses: string) => (uses === '' ? [] : [`used by ${uses}`]);

/** What a lens on a rule is of. */
export interface RuleLens {
  readonly uri: string;
  readonly rule: string;
}

/** `cases`: how many of the shop's cases each rule holds in. */
export function resolveRuleLens(
  { book }: Estimates,
  file: BookFile,
  lens: CodeLens,
  cases: ReadonlyMap<string, number>,
): CodeLens {
  const id = (lens.data as RuleLens).rule;
  const covering = cases.get(id) ?? 0;
  const covered =
    covering === 0 ? 'no case covers it' : `covered by ${covering} case${covering === 1 ? '' : 's'}`;
  const facts = [...usedBy(usesText(book, 'rule', id)), covered];
  return { range: lens.range, command: command(file, lens.range, facts, { kind: 'rule', id }) };
}

function at(file: BookFile, path: Path, facts: readonly string[], uses?: Uses): CodeLens | undefined {
  const range = rangeOf(file, path, true);
  return range && { range, command: command(file, range, facts, uses) };
}

function command(file: BookFile, range: Range, facts: readonly string[], uses?: Uses): Command {
  const title = facts.join(' · ');
  return uses
    ? { title, command: SHOW_USES, arguments: [file.uri, range.start, uses] }
    : { title, command: '' };
}
