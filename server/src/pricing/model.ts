/** What goes into pricing and what comes out. Money is in the policy's currency, hours are hours sold or worked. */
import type { Job, JobDiscount, JobPayer } from '../../../schemas/kinds/job.ts';
import type { Jurisdiction } from '../../../schemas/kinds/jurisdiction.ts';
import type { Operation, Step } from '../../../schemas/kinds/labor.ts';
import type { Line, TemplateLine } from '../../../schemas/kinds/lines.ts';
import type { Part } from '../../../schemas/kinds/parts.ts';
import type { Category, Condition, Coverage, DRIVES } from '../../../schemas/kinds/shared.ts';
import type { Customer, Shop } from '../../../schemas/kinds/shop.ts';
import type { Unit } from '../../../schemas/kinds/units.ts';
import type { Path, Problem } from '../../../schemas/problem.ts';
import type { IsoDate } from '../../../schemas/values/dates.ts';
import type { Decimal } from '../../../schemas/values/decimal.ts';
import type { Amount } from './amount.ts';

/** The entries that pricing looks up. A file-wide supplier is expected to be filled in on its parts. */
export interface Catalog {
  part(id: string): Part | undefined;
  operation(id: string): Operation | undefined;
  step(id: string): Step | undefined;
  unit(id: string): Unit | undefined;
}

/** The rules that a sale is priced by. */
export interface Policy {
  /** Already laid over what it extends. */
  readonly shop: Shop;
  readonly jurisdiction?: Jurisdiction | undefined;
  /** Prices and rates in force on this day count. */
  readonly on: IsoDate;
  /** ISO 4217; its minor unit is what money is rounded to. */
  readonly currency: string;
}

/** A line as written, templates already unfolded. */
export type JobLine = Exclude<Line, TemplateLine>;

export interface SaleLine {
  /** In the job file. */
  readonly path: Path;
  readonly line: JobLine;
  /** The template that it comes from, and its place there. */
  readonly from?: { readonly template: string; readonly path: Path } | undefined;
}

export type Drive = keyof typeof DRIVES;

/** One thing to price: an option of a job, its teardown. */
export interface Sale {
  readonly lines: readonly SaleLine[];
  /** Id of the unit family. */
  readonly unit?: string | undefined;
  readonly vehicle?: {
    readonly drive?: Drive | undefined;
    readonly features?: readonly string[] | undefined;
  };
  /** Findings that hold; what add-ons and fees ask for. */
  readonly findings?: ReadonlySet<string> | undefined;
  readonly payers?: readonly JobPayer[] | undefined;
  readonly discounts?: readonly JobDiscount[] | undefined;
  readonly deposits?: Job['deposits'];
  readonly cores?: Job['cores'];
  readonly lock?: Job['lock'];
  /** When the job names one: for its exemption and its standing discount. */
  readonly customer?: Customer | undefined;
  /** Id of the warranty plan that goes with it. */
  readonly warranty?: string | undefined;
  /** The day the work was authorized: supplier cores are counted from it. The pricing date, when left out. */
  readonly authorized?: IsoDate | undefined;
  /** The day the work was done: customer cores are counted from it. */
  readonly completed?: IsoDate | undefined;
}

export type ChargeKind =
  | 'part'
  | 'fill'
  | 'labor'
  | 'sublet'
  | 'fee'
  | 'other'
  | 'core'
  | 'supplies'
  | 'minimum'
  | 'warranty';

/** Something taken off a line, with who bears it. */
export interface Reduction {
  readonly kind:
    | 'line-discount'
    | 'job-discount'
    | 'credited'
    | 'core-handed-over'
    | 'payer-terms'
    | 'tax-not-due';
  readonly name: string;
  readonly amount: Amount;
  readonly fundedBy: 'shop' | 'third-party' | 'customer';
  /** Tax is counted as if it had not been taken off. */
  readonly taxed: boolean;
  /** Position among the sale's discounts, for `job-discount`. */
  readonly discount?: number;
}

/** Who owes which part of a line. `payer` is left out for the customer. */
export interface Owner {
  readonly payer?: string;
  readonly net: Decimal;
  /** The part of it that tax is counted on. */
  readonly taxable: Decimal;
  readonly tax: Decimal;
}

/** A line of the priced sale. One job line can give two (a part and its core, the parts and labor of a sublet). */
export interface PricedLine {
  readonly kind: ChargeKind;
  /** Place in the job; empty for what is put on by itself (supplies, automatic fees, minimums). */
  readonly path: Path;
  readonly line: JobLine | undefined;
  readonly from: SaleLine['from'];
  readonly name: string;
  /** Part number, operation id or fee id as sold. */
  readonly id: string | undefined;
  /** For superseded parts: the number as written, then each that took its place; the last is sold. */
  readonly numbers: readonly string[] | undefined;
  readonly category: Category;
  readonly coverage: Coverage;
  readonly taxClass: string;
  /** What it is to a rule. */
  readonly role: string | undefined;
  readonly condition: Condition | undefined;
  readonly quantity: Amount;
  /** How one is counted: `each`, `quart`, `hour`. */
  readonly unit: string;
  /** Price of one; undefined where a line has none of its own (hours at several rates, nothing to charge). */
  readonly each: Amount | undefined;
  /** The whole line before anything is taken off; never below zero. */
  readonly amount: Amount;
  readonly reductions: readonly Reduction[];
  /** The amount less its reductions. */
  readonly net: Amount;
  /** Tax on the line, all rates; its lines add up to the tax of the sale. */
  readonly tax: Decimal;
  readonly taxable: Decimal;
  readonly owners: readonly Owner[];
  /** Labor: hours worked, and those of them that are sold. */
  readonly hours: Amount;
  readonly hoursSold: Decimal;
  /** Labor: access steps that this line carries. */
  readonly steps: readonly string[];
  /** Labor: the operation on the job that covers this one, which therefore costs nothing. */
  readonly includedIn: string | undefined;
  /** What it costs the shop; undefined when nobody has said. Inside only. */
  readonly cost: Amount | undefined;
  readonly suppliedByCustomer: boolean;
  readonly optional: boolean;
}

export interface PricedDiscount {
  readonly name: string;
  readonly path: Path;
  readonly fundedBy: 'shop' | 'third-party';
  readonly amount: Amount;
  /** How it falls on categories; adds up to the amount. */
  readonly spread: ReadonlyMap<Category, Decimal>;
}

export interface TaxRow {
  readonly name: string;
  readonly rate: Decimal;
  readonly amount: Amount;
}

export interface PricedTax {
  readonly taxable: Amount;
  readonly rows: readonly TaxRow[];
  readonly amount: Amount;
  /** Prices hold the tax already: it is part of the subtotal. */
  readonly included: boolean;
}

/** What one pays. The customer is the share without `payer`. Shares add up to the total. */
export interface Share {
  readonly payer?: string;
  readonly name: string;
  /** Lines owned, before tax. */
  readonly net: Amount;
  readonly tax: Decimal;
  /** Taken over from (customer) or left to (payer) the customer. */
  readonly deductible: Decimal;
  readonly overLimit: Decimal;
  readonly total: Amount;
  readonly paid: Amount;
  readonly balance: Amount;
}

/** One core on one ledger. */
export interface CoreEntry {
  readonly path: Path;
  readonly part: string;
  readonly name: string;
  readonly policy: 'charged' | 'exchanged' | 'when-late' | 'held';
  readonly quantity: Decimal;
  readonly each: Decimal;
  /** The deposit; for `when-late`, what falls due if it does not come back. */
  readonly deposit: Amount;
  /** Tax that was charged on it. */
  readonly tax: Decimal;
  /** Days to bring it back, and the last day when the first is known. */
  readonly days: number | undefined;
  readonly dueBy: IsoDate | undefined;
  readonly supplier?: string | undefined;
  readonly returned: Decimal;
  /** Credited for what came back, and the tax that goes back with it. */
  readonly credit: Amount;
  readonly taxBack: Amount;
  /** Of credit and tax, what has been handed over already. */
  readonly settled: Decimal;
  /** Deposit that has not been credited. */
  readonly open: Decimal;
}

/** An access step that several operations need: counted once. */
export interface SharedStep {
  readonly step: string;
  readonly name: string;
  readonly hours: Decimal;
  readonly carriedBy: Path;
  readonly alsoNeededBy: readonly Path[];
  /** What counting it again for each of the others would have cost. */
  readonly saved: Amount;
}

/** Figures for the shop only. */
export interface Inside {
  /** Sale without tax and cores, with what third parties pay back. */
  readonly sale: Amount;
  readonly cost: Amount;
  /** False when some cost is not known: profit is then overstated. */
  readonly costKnown: boolean;
  readonly profit: Amount;
  /** Undefined when nothing is sold. */
  readonly profitShare: Amount | undefined;
  readonly profitPerHour: Amount | undefined;
  readonly laborSale: Amount;
  readonly hoursSold: Amount;
  /** Labor sale divided by hours sold (not by hours paid). */
  readonly effectiveRate: Amount | undefined;
}

export interface Priced {
  /** In the order of the job; what is put on by itself comes last. */
  readonly lines: readonly PricedLine[];
  /** By category, after line discounts and credits and before job discounts. All seven are there. */
  readonly subtotals: ReadonlyMap<Category, Amount>;
  readonly discounts: readonly PricedDiscount[];
  /** Net of all lines. */
  readonly subtotal: Amount;
  readonly tax: PricedTax;
  readonly total: Amount;
  /** The customer first, then payers in the job's order. */
  readonly shares: readonly Share[];
  readonly cores: { readonly customer: readonly CoreEntry[]; readonly supplier: readonly CoreEntry[] };
  readonly paid: Amount;
  /** Total less money received and core credits not yet handed over. */
  readonly balance: Amount;
  readonly hoursSold: Amount;
  readonly sharedSteps: readonly SharedStep[];
  readonly inside: Inside;
  /** False when something on the job is not known to the book or has no price: the total is then too low. */
  readonly complete: boolean;
  readonly problems: readonly Problem[];
}
