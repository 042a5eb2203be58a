/** Whether an add-on or a fee applies to this vehicle and job. */
import type { Adder } from '../../../schemas/kinds/labor.ts';
import type { Unit } from '../../../schemas/kinds/units.ts';
import type { Sale } from './model.ts';

type When = NonNullable<Adder['when']>;

/** `unknown`: it hangs on how the vehicle is driven, and the job does not say. */
export type Answer = 'yes' | 'no' | 'unknown';

/** What a condition is held against. */
export interface Circumstances {
  readonly sale: Pick<Sale, 'vehicle' | 'findings' | 'unit'>;
  readonly unit: Unit | undefined;
}

export function applies(context: Circumstances, when: When): Answer {
  const { vehicle, findings, unit: family } = context.sale;
  const drive = vehicle?.drive;

  const certain =
    (when.feature === undefined || vehicle?.features?.includes(when.feature) === true) &&
    (when.unit === undefined || (family !== undefined && when.unit.includes(family))) &&
    (when.trait === undefined || context.unit?.traits?.includes(when.trait) === true) &&
    (when.finding === undefined || findings?.has(when.finding) === true);
  if (!certain) return 'no';

  if (when.drive === undefined && when['not-drive'] === undefined) return 'yes';
  if (drive === undefined) return 'unknown';
  const driven = when.drive === undefined || when.drive.includes(drive);
  return driven && when['not-drive']?.includes(drive) !== true ? 'yes' : 'no';
}

/** The condition in words: `4wd or awd; skid-plate`. */
export function inWords(when: When): string {
  const words = [
    when.drive?.join(' or '),
    when['not-drive'] && `not ${when['not-drive'].join(' or ')}`,
    when.feature,
    when.unit?.join(' or '),
    when.trait,
    when.finding,
  ];
  return words.filter((word) => word !== undefined).join('; ');
}
