import type { CodePage } from '../../../schemas/problem.ts';

export const CODES: readonly CodePage[] = [];
