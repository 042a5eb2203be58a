/** What goes into the check of required work. Plain data: the caller unfolds templates, prices lines and passes days in. */
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
import type { Path } from '../../../schemas/problem.ts';
import type { IsoDate } from '../../../schemas/values/dates.ts';
import type { Decimal } from '../../../schemas/values/decimal.ts';
import type { Quantity } from '../../../schemas/values/quantity.ts';
import type { SellingUnit } from '../../../schemas/values/selling.ts';
import type { OwnFact } from './own.ts';

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
  /** What the job, its customer, its unit family and the entries of its lines say in fields of the shop. */
  readonly own?: readonly OwnFact[] | undefined;
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

export type * from './result.ts';
