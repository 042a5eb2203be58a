/** What a record is held against, and how its fields are called in a sentence. */
import type { Finding } from '../../../../schemas/kinds/rules.ts';
import type { Unit } from '../../../../schemas/kinds/units.ts';
import type { LimitTable } from '../limits.ts';

export interface RecordContext {
  readonly unit: Unit | undefined;
  /** From the job, when the record does not repeat it. */
  readonly unitNumber: string | undefined;
  readonly finding: (id: string) => Finding | undefined;
  readonly limitOf: (finding: string) => LimitTable | undefined;
}

/** `fluid-temperature` in a sentence. */
export function spoken(field: string): string {
  return FIELD_WORDS[field] ?? field.replaceAll('-', ' ');
}

const FIELD_WORDS: Readonly<Record<string, string>> = {
  on: 'the date',
  by: 'who did it',
  proof: 'a picture or printout',
};

export function nameOf(context: RecordContext, finding: string): string {
  return context.finding(finding)?.name ?? finding;
}
