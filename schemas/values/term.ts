import { addMonths, type IsoDate } from './dates.ts';
import { compareQuantity, convert, type Quantity } from './quantity.ts';

/** "So many months or so many miles, whichever comes first", counted from a day and an odometer reading. */
export interface Term {
  readonly start: IsoDate;
  /** Left out: no limit in time. */
  readonly months?: number | undefined;
  readonly odometer?: Quantity | undefined;
  /** Left out, or without a reading to count from: no limit in distance. */
  readonly distance?: Quantity | undefined;
}

export interface TermEnd {
  /** The last day it is in force. */
  readonly date: IsoDate | undefined;
  /** The last reading it is in force, in the unit of the starting one. */
  readonly odometer: Quantity | undefined;
}

export interface TermState {
  readonly inForce: boolean;
  readonly expiredBy: readonly ('date' | 'distance')[];
  readonly end: TermEnd;
}

export function termEnd({ start, months, odometer, distance }: Term): TermEnd {
  return {
    date: months === undefined ? undefined : addMonths(start, months),
    odometer:
      odometer && distance
        ? { amount: odometer.amount.plus(convert(distance, odometer.unit).amount), unit: odometer.unit }
        : undefined,
  };
}

/** Whether a term is in force on a day and at a reading. Its last day and its last mile still count. */
export function whicheverFirst(
  term: Term,
  claim: { date: IsoDate; odometer?: Quantity | undefined },
): TermState {
  const end = termEnd(term);
  const expiredBy: ('date' | 'distance')[] = [];
  if (end.date !== undefined && claim.date > end.date) expiredBy.push('date');
  if (end.odometer && claim.odometer && compareQuantity(claim.odometer, end.odometer) > 0)
    expiredBy.push('distance');
  return { inForce: expiredBy.length === 0, expiredBy, end };
}
