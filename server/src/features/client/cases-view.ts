/** The shop's own tests, for a test explorer. */
import type { Range } from 'vscode-languageserver-types';
import type { BookFile } from '../../book/file.ts';
import { runCases } from '../../estimate/cases.ts';
import type { Estimates } from '../../estimate/estimates.ts';
import { rangeOf } from '../spot.ts';

export interface CaseView {
  readonly id: string;
  readonly name: string | undefined;
  readonly range: Range | undefined;
}

export interface CaseOutcome {
  readonly id: string;
  /** Empty when everything is as expected. */
  readonly failures: readonly {
    readonly field: string;
    readonly message: string;
    readonly expected: string;
    readonly actual: string;
    readonly range: Range | undefined;
  }[];
}

/** The cases of a file in the order of the text, those that cannot be read included. */
export function casesView(file: BookFile): CaseView[] {
  return [...file.facts()].flatMap(({ parts }) =>
    parts
      .filter((part) => part.section === 'cases')
      .map((part) => {
        const name = (part.value as { name?: unknown } | undefined)?.name;
        return {
          id: part.key,
          name: typeof name === 'string' ? name : undefined,
          range: rangeOf(file, ['cases', part.key], true),
        };
      }),
  );
}

export function caseOutcomes(estimates: Estimates, file: BookFile, ids?: readonly string[]): CaseOutcome[] {
  const wanted = ids && new Set(ids);
  const ran = new Map<string, CaseOutcome>();
  for (const { id, mismatches } of runCases(estimates, file)) {
    if (wanted && !wanted.has(id)) continue;
    ran.set(id, {
      id,
      failures: mismatches.map(({ path, message, expected, actual }) => ({
        field: String(path.at(-1)),
        message,
        expected,
        actual,
        range: rangeOf(file, ['cases', id, ...path]),
      })),
    });
  }
  return [...ran.values()];
}
