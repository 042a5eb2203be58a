/** How much an option lacks, as one number: the same above the option, in the status bar and in the preview. */
import type { OptionEstimate } from '../estimate/estimate.ts';

/** Errors and warnings about what is required. What is only advised, or due before the vehicle leaves, is not counted. */
export function missingIn({ work }: OptionEstimate): number {
  return work.problems.filter(
    ({ severity, data }) =>
      data?.requirement !== undefined && (severity === 'error' || severity === 'warning'),
  ).length;
}
