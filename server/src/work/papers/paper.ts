/** An estimate, a teardown estimate or an invoice as far as the law looks at it. */
import type { Job } from '../../../../schemas/kinds/job.ts';
import type { Condition } from '../../../../schemas/kinds/shared.ts';
import type { Shop } from '../../../../schemas/kinds/shop.ts';
import type { Path } from '../../../../schemas/problem.ts';
import type { Decimal } from '../../../../schemas/values/decimal.ts';

export type PaperKind = 'estimate' | 'teardown-estimate' | 'invoice';

export interface PaperLine {
  readonly path: Path;
  /** As printed. */
  readonly name: string;
  readonly sort: 'part' | 'service' | 'sublet' | 'fee';
  /** Undefined when it has no price. */
  readonly amount?: Decimal | undefined;
  readonly condition?: Condition | undefined;
  readonly fluid?: boolean | undefined;
  readonly supplied?: boolean | undefined;
  /** Conditions of what a kit holds. */
  readonly contents?: readonly (Condition | undefined)[] | undefined;
  /** Who did what was bought from another shop. */
  readonly supplier?: string | undefined;
  readonly waste?: boolean | undefined;
  readonly underWarranty?: boolean | undefined;
  /** Of a teardown: only when the owner declines. */
  readonly ifDeclined?: boolean | undefined;
}

export interface Paper {
  readonly kind: PaperKind;
  /** Given to the customer already: what it lacks can no longer be added quietly. */
  readonly handedOver: boolean;
  readonly shop: Pick<Shop, 'name' | 'address' | 'registration' | 'epa-id'>;
  /** The customer's name. */
  readonly customer?: string | undefined;
  readonly job: Pick<
    Job,
    'opened' | 'promised' | 'completed' | 'complaint' | 'vehicle' | 'authorizations' | 'teardown'
  >;
  readonly lines: readonly PaperLine[];
  /** The job follows an earlier one whose warranty is in force. */
  readonly claim?: boolean | undefined;
  /** A charge for shop supplies: its sum as printed, and what it is counted on. */
  readonly supplies?:
    | { readonly amount?: Decimal | undefined; readonly basis: readonly string[] }
    | undefined;
  readonly totals?:
    | {
        /** Of every category, without tax. */
        readonly subtotals: readonly Decimal[];
        readonly tax: Decimal;
        readonly total: Decimal;
        /** Parts and labor as one sum. */
        readonly lumpSum: boolean;
      }
    | undefined;
}
