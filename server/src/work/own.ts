/** What a job and the entries on it say in fields of the shop. */
import { type Carrier, type OwnField, readOwn, readWanted } from '../../../schemas/kinds/own.ts';
import type { Path } from '../../../schemas/problem.ts';

export interface OwnFact {
  /** Id of the field. */
  readonly field: string;
  readonly declared: OwnField;
  readonly typed: string;
  /** The entry that has it. */
  readonly kind: Carrier;
  readonly id: string;
  /** What has it, as a reader would call it: `the job`, `Torque converter`. */
  readonly of: string;
  /** Where it is typed, when that is in the job. */
  readonly path?: Path | undefined;
}

/** Whether a value is what is wanted: the same however it is typed (`yes`, `true`), or inside a range. */
export function answers({ declared, typed }: OwnFact, wanted: string): boolean {
  const [value, test] = [readOwn(declared, typed), readWanted(declared, wanted)];
  return value.ok && test.ok && test.value(value.value);
}
