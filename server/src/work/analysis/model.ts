/** What the analysis of rules looks at, and what it tells. */
import type { RefKind } from '../../../../schemas/declare.ts';
import type { RecordKind } from '../../../../schemas/kinds/rules.ts';
import type { Warranty } from '../../../../schemas/kinds/shop.ts';
import type { Unit } from '../../../../schemas/kinds/units.ts';
import type { Path, Problem } from '../../../../schemas/problem.ts';
import type { Catalog } from '../model.ts';

export interface AnalysisCatalog extends Pick<Catalog, 'role' | 'part' | 'operation' | 'fillers'> {
  units(): Iterable<readonly [string, Unit]>;
  records(): Iterable<readonly [string, RecordKind]>;
  warranties(): Iterable<readonly [string, Warranty]>;
}

export type EntryKind = Extract<RefKind, 'rule' | 'finding' | 'record' | 'unit' | 'warranty'> | 'replacement';

/** A problem of an entry of the book; its path is inside the entry. */
export interface EntryProblem {
  readonly kind: EntryKind;
  readonly id: string;
  readonly problem: Problem;
}

/** Problems of one entry, for short. */
export function problemsOf(kind: EntryKind, id: string) {
  return (
    code: string,
    severity: Problem['severity'],
    path: Path,
    message: string,
    related?: Problem['related'],
  ): EntryProblem => ({
    kind,
    id,
    problem: { code, severity, message, path, ...(related ? { related } : {}) },
  });
}
