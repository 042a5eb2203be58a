/** What a job's templates are unfolded with: the catalog, and whether a condition holds of the job. */
import type { Job } from '../../../schemas/kinds/job.ts';
import { applies } from '../pricing/applies.ts';
import { heldFindings } from '../work/index.ts';
import type { BookCatalog } from './catalog.ts';
import type { UnfoldLookup } from './unfold.ts';

/** `held`: the findings of the job with all that they imply. */
export function unfoldingOf(
  job: Job,
  catalog: BookCatalog,
  held: ReadonlySet<string> = heldFindings(job, catalog.rules(), catalog),
): UnfoldLookup {
  const { drive, features } = job.vehicle ?? {};
  const sale = { unit: job.unit, vehicle: { drive, features }, findings: held };
  return {
    template: (id) => catalog.template(id),
    part: (id) => catalog.part(id),
    operation: (id) => catalog.operation(id),
    holds: (when) =>
      applies({ sale, unit: job.unit === undefined ? undefined : catalog.unit(job.unit) }, when),
  };
}
