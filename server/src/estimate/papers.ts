/** What is wrong with a job's papers: consent, and what the law wants an estimate or an invoice to hold. */
import type { Problem } from '../../../schemas/problem.ts';
import type { JobEstimate } from './estimate.ts';

export function paperProblems(_estimate: JobEstimate): Problem[] {
  return [];
}
