/** The page of every problem that the check of work can report. */
import type { CodePage } from '../../../schemas/problem.ts';
import { LIMIT_CODES } from './codes/limits.ts';
import { NEED_CODES } from './codes/needs.ts';
import { PAPER_CODES } from './codes/papers.ts';
import { READING_CODES } from './codes/readings.ts';
import { RULE_CODES } from './codes/rules.ts';
import { WARRANTY_CODES } from './codes/warranty.ts';

export const CODES: readonly CodePage[] = [
  ...NEED_CODES,
  ...READING_CODES,
  ...WARRANTY_CODES,
  ...PAPER_CODES,
  ...RULE_CODES,
  ...LIMIT_CODES,
];
