/** What comes out of the check: what is asked for and why, and how the job stands to it. Plain data. */
import type { Rule } from '../../../schemas/kinds/rules.ts';
import type { Path, Problem } from '../../../schemas/problem.ts';
import type { IsoDate } from '../../../schemas/values/dates.ts';
import type { Decimal } from '../../../schemas/values/decimal.ts';
import type { Quantity } from '../../../schemas/values/quantity.ts';
import type { Filler } from './model.ts';

/** Why something holds: a fact of the job, or a rule and what made it hold. */
export interface Reason {
  readonly kind:
    | 'finding'
    | 'rule'
    | 'cause'
    | 'role'
    | 'operation'
    | 'work'
    | 'reuse'
    | 'unit'
    | 'trait'
    | 'vehicle'
    | 'record'
    | 'option'
    | 'own'
    | 'absent';
  readonly id: string;
  /** In a shop's words: `Coolant in the fluid: yes`. */
  readonly text: string;
  /** Of something absent: what would be there instead, when that is something a job can be given. */
  readonly wanted?: string | undefined;
  /** Where the job says so. */
  readonly path?: Path | undefined;
  /** What it follows from, for what the job does not say itself. */
  readonly because: readonly Reason[];
}

/** One voice that asks for something. Several that ask for the same thing make one requirement. */
export interface Asking {
  readonly by: 'rule' | 'operation' | 'warranty' | 'law';
  readonly id: string;
  readonly name: string;
  readonly because: string;
  readonly say?: string | undefined;
  readonly basis?: Rule['basis'] | undefined;
  readonly source?: string | undefined;
  readonly reasons: readonly Reason[];
}

export type RequirementKind = 'requires' | 'advises' | 'forbids' | 'reuse' | 'record' | 'finding' | 'order';

/**
 * `met`: done, or nothing forbidden is there. `missing`: asked for and not there. `broken`: there and not as it
 * must be (forbidden, reused, in the wrong order, a record that does not pass). `waived`: declined, on paper.
 */
export type RequirementState = 'met' | 'missing' | 'broken' | 'waived';

export interface Requirement {
  /** Kind and subject: the same on every run. */
  readonly id: string;
  readonly kind: RequirementKind;
  /** One of these roles is enough; for `order`, the earlier and the later one. Empty for records and findings. */
  readonly roles: readonly string[];
  readonly record?: string | undefined;
  readonly finding?: string | undefined;
  readonly quantity?: Decimal | undefined;
  /** How many are there, when a quantity is asked for. */
  readonly found?: Decimal | undefined;
  readonly newOnly: boolean;
  readonly state: RequirementState;
  /** What meets, breaks or waives it. */
  readonly by: readonly Meeting[];
  readonly asked: readonly Asking[];
  /** What would meet it for this unit family. */
  readonly fillers: readonly Filler[];
}

export interface Meeting {
  readonly how:
    | 'line'
    | 'contains'
    | 'includes'
    | 'record'
    | 'finding'
    | 'reuse'
    | 'waiver'
    | 'declined'
    | 'option';
  readonly path: Path;
  readonly text: string;
}

/** How a reading stands to what is normal. */
export interface Verdict {
  readonly judged: 'normal' | 'beyond' | 'unjudged';
  /** Why it cannot be judged. */
  readonly why?: 'no-limit' | 'condition-missing' | 'not-testable' | undefined;
  /** Findings or facts of the unit whose reading is missing. */
  readonly missing?: readonly string[] | undefined;
  /** The limit that was used, or the reason it was not, in words. */
  readonly text: string;
  readonly least?: Quantity | undefined;
  readonly most?: Quantity | undefined;
}

/** A finding of the job as it was understood. */
export interface FindingFact {
  readonly id: string;
  readonly name: string;
  readonly path: Path;
  /** As typed; undefined when it only follows from others. */
  readonly reading?: string | undefined;
  readonly verdict: Verdict;
  /** A negative answer of a test that cannot see everything. */
  readonly caveat?: string | undefined;
  /** Where it follows from other findings or rules. */
  readonly because: readonly Reason[];
}

export interface ShownCaution {
  readonly id: string;
  readonly text: string;
  readonly authority: string;
  /** What brings it up: lines, findings, records, rules. */
  readonly from: readonly {
    readonly kind: 'operation' | 'finding' | 'record' | 'rule';
    readonly id: string;
    readonly path?: Path | undefined;
  }[];
}

export interface WithheldPlan {
  readonly plan: string;
  /** Whether the option promises it. */
  readonly promised: boolean;
  readonly asked: readonly Asking[];
  /** What would restore it, in words: work to add, records to fill. Empty when nothing on this job would. */
  readonly restoredBy: readonly string[];
}

/** A figure of a record: typed, or worked out from what was typed. */
export interface Figure {
  readonly name: string;
  readonly quantity: Quantity;
  /** `1200 s / (30 s + 10 s)`. */
  readonly working: string;
}

export interface RecordReport {
  readonly record: string;
  readonly path: Path;
  readonly passes: boolean;
  readonly figures: readonly Figure[];
  readonly faults: readonly RecordFault[];
}

export interface RecordFault {
  /** Not filled in yet, or filled in and not as it must be. */
  readonly sort: 'unfilled' | 'fails';
  readonly path: Path;
  readonly text: string;
}

export interface CoreAtRisk {
  readonly role: string;
  readonly path: Path;
  readonly part: string;
  /** The deposit that may not come back. */
  readonly amount?: Decimal | undefined;
  readonly asked: readonly Asking[];
}

export interface WarrantyReport {
  readonly plan: string;
  readonly withheld: boolean;
  /** Records it requires that are not there or do not pass. */
  readonly unproven: readonly string[];
  /** Last day and last odometer reading, once the work is done. */
  readonly ends?:
    | { readonly date?: IsoDate | undefined; readonly odometer?: Quantity | undefined }
    | undefined;
  /** Labor that the customer would pay on a claim. */
  readonly laborNotCovered?: Decimal | undefined;
}

export interface ComebackReport {
  readonly earlier: string;
  readonly inForce: boolean;
  readonly expiredBy: readonly ('date' | 'distance')[];
  readonly coversLabor: boolean;
  /** Findings both jobs have. */
  readonly sameFindings: readonly string[];
  readonly sameCause: boolean;
}

export interface WorkResult {
  readonly findings: readonly FindingFact[];
  /** Rules that hold, and why. */
  readonly rules: readonly { readonly id: string; readonly reasons: readonly Reason[] }[];
  readonly requirements: readonly Requirement[];
  readonly cautions: readonly ShownCaution[];
  readonly withheld: readonly WithheldPlan[];
  readonly records: readonly RecordReport[];
  readonly coresAtRisk: readonly CoreAtRisk[];
  readonly warranty?: WarrantyReport | undefined;
  readonly comeback?: ComebackReport | undefined;
  /** Roles that rules asked for and this unit family does not have. */
  readonly notAsked: readonly { readonly role: string; readonly rule: string }[];
  readonly problems: readonly Problem[];
}
