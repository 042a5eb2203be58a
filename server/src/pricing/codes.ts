/** The page of every problem that pricing can report. */
import type { CodePage } from '../../../schemas/problem.ts';
import { LABOR_CODES } from './codes-labor.ts';
import { MONEY_CODES } from './codes-money.ts';
import { PART_CODES } from './codes-parts.ts';

export const CODES: readonly CodePage[] = [...LABOR_CODES, ...PART_CODES, ...MONEY_CODES];
