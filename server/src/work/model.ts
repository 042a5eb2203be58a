/**
 * What goes into the check of required work and what comes out.
 *
 * Everything here is plain data: the caller unfolds templates, looks up prices and passes the day in.
 */
import type { Job } from '../../../schemas/kinds/job.ts';
import type { Jurisdiction } from '../../../schemas/kinds/jurisdiction.ts';
import type { Caution, Operation, Work } from '../../../schemas/kinds/labor.ts';
import type { Part } from '../../../schemas/kinds/parts.ts';
import type {
  Finding,
  OPTION_KINDS,
  RecordKind,
  Replacement,
  Role,
  Rule,
} from '../../../schemas/kinds/rules.ts';
import type { Condition } from '../../../schemas/kinds/shared.ts';
import type { Warranty } from '../../../schemas/kinds/shop.ts';
import type { Unit } from '../../../schemas/kinds/units.ts';
import type { Path, Problem } from '../../../schemas/problem.ts';
import type { IsoDate } from '../../../schemas/values/dates.ts';
import type { Decimal } from '../../../schemas/values/decimal.ts';
import type { Quantity } from '../../../schemas/values/quantity.ts';
import type { SellingUnit } from '../../../schemas/values/selling.ts';

export type OptionKind = keyof typeof OPTION_KINDS;

/** The entries of a shop book that a check looks up. */
export interface Catalog {
  unit(id: string): Unit | undefined;
  role(id: string): Role | undefined;
  finding(id: string): Finding | undefined;
  record(id: string): RecordKind | undefined;
  caution(id: string): Caution | undefined;
  part(id: string): Part | undefined;
  operation(id: string): Operation | undefined;
  warranty(id: string): Warranty | undefined;
  /** What the book has that fills a role for a unit family, the best first: itself, as a kit that holds it, as work that includes it. */
  fillers(role: string, unit: string): readonly Filler[];
}

export interface Filler {
  readonly kind: 'part' | 'operation';
  readonly id: string;
}

/** The rules of a shop book, as read. `compile` makes a `RuleSet` of it. */
export interface RuleBook {
  readonly rules: ReadonlyMap<string, Rule>;
  readonly findings: ReadonlyMap<string, Finding>;
  readonly replacements: ReadonlyMap<string, Replacement>;
}

/** A role that a line fills, and through what. */
export interface Fills {
  readonly role: string;
  readonly quantity: Decimal;
  /** Of the part that fills it; undefined when nobody has said. */
  readonly condition?: Condition | undefined;
  /** The line itself, a part inside its kit, or work that its operation includes. */
  readonly how: 'itself' | 'contains' | 'includes';
  /** Part number or operation that fills it. */
  readonly via: string;
}

export interface Doing {
  readonly operation: string;
  readonly work: Work;
  readonly how: 'itself' | 'includes';
}

/** One line of the option that is checked, templates unfolded. `workLine` makes it from a line of a job. */
export interface WorkLine {
  readonly path: Path;
  readonly sort: 'part' | 'fill' | 'operation' | 'sublet' | 'fee' | 'other';
  /** Part number, operation or fee. */
  readonly id?: string | undefined;
  /** As printed. */
  readonly name: string;
  readonly fills: readonly Fills[];
  /** The operations it does: its own, and those that one includes. */
  readonly does: readonly Doing[];
  readonly condition?: Condition | undefined;
  readonly quantity: Decimal;
  readonly sellingUnit?: SellingUnit | undefined;
  /** Of a fill: what flush and flow test take. */
  readonly loss?: Quantity | undefined;
  /** The finding that calls for it. */
  readonly for?: string | undefined;
  readonly say?: string | undefined;
  readonly optional?: boolean | undefined;
  /** Brought by the customer. */
  readonly supplied?: boolean | undefined;
  /** Money, where the caller has priced the line: one, the whole line, its core charge. */
  readonly each?: Decimal | undefined;
  readonly amount?: Decimal | undefined;
  readonly core?: Decimal | undefined;
  readonly hours?: Decimal | undefined;
}

/** The fields of a job that a check reads; a whole `Job` will do. */
export type JobFacts = Pick<
  Job,
  | 'opened'
  | 'presented'
  | 'completed'
  | 'vehicle'
  | 'unit'
  | 'unit-number'
  | 'findings'
  | 'reuse'
  | 'cause'
  | 'waivers'
  | 'records'
  | 'authorizations'
>;

/** One option of a job. */
export interface WorkInput {
  readonly job: JobFacts;
  /** The lines of the job and of the option. */
  readonly lines: readonly WorkLine[];
  readonly option?: CheckedOption | undefined;
  /** The warranty plan that the option promises. */
  readonly plan?: { readonly id: string; readonly path: Path } | undefined;
  /** The job that this one follows, when it is a comeback. */
  readonly earlier?: EarlierJob | undefined;
  readonly law?: Jurisdiction | undefined;
  /** Labor of this option in money, for what a parts-only plan leaves to the customer. */
  readonly labor?: Decimal | undefined;
  /** How money reads in messages: ISO 4217 code and BCP 47 language tag. Plain digits when left out. */
  readonly currency?: { readonly code: string; readonly locale: string } | undefined;
}

export interface CheckedOption {
  readonly id: string;
  readonly path: Path;
  readonly kind: OptionKind;
  readonly name: string;
  readonly say?: string | undefined;
}

export interface EarlierJob {
  readonly id: string;
  /** The day its work was done. */
  readonly completed?: IsoDate | undefined;
  /** The odometer when it left, or when it came in. */
  readonly odometer?: Quantity | undefined;
  readonly plan?: string | undefined;
  /** Findings that it had, worse than normal. */
  readonly findings: readonly string[];
  readonly cause?: Job['cause'] | undefined;
}

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
