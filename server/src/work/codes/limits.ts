/** Pages on limits of unit families. */
import type { CodePage } from '../../../../schemas/problem.ts';

const TABLE = 'limits:\n  cooler-flow:\n    rows:\n';

export const LIMIT_CODES: readonly CodePage[] = [
  {
    code: 'limit-value',
    title: 'A limit that cannot be read',
    why: 'A table with a mistake judges nothing, so that a wrong figure never passes or fails anybody.',
    example: `${TABLE}      - { when: { fluid-temperature: 85-89 F }, least: 1.1 gal/min }      # two dots between the ends`,
    mend: 'Write amounts with units of the right sort, and ranges as 85..89 F.',
  },
  {
    code: 'limit-without-bound',
    title: 'A row without a limit',
    why: 'Every reading passes it.',
    example: `${TABLE}      - { when: { fluid-temperature: 85..89 F } }`,
    mend: 'Write `least` or `most`.',
  },
  {
    code: 'limit-row-unreachable',
    title: 'A row that is never reached',
    why: 'The first row that fits counts, and an earlier one always fits where this one would.',
    example: `${TABLE}      - { least: 0.6 gal/min }\n      - { when: { fluid-temperature: 85..89 F }, least: 1.1 gal/min }`,
    mend: 'Put the general row last.',
  },
  {
    code: 'limit-overlap',
    title: 'Rows that overlap',
    why: 'Where both fit the earlier one counts, which may not be the one that was meant.',
    example: `${TABLE}      - { when: { fluid-temperature: 85..95 F }, least: 1.1 gal/min }\n      - { when: { fluid-temperature: 90..99 F }, least: 1.2 gal/min }`,
    mend: 'Let each row begin where the one before it ends.',
  },
  {
    code: 'limit-hole',
    title: 'A gap between rows',
    why: 'A reading that falls into it cannot be judged.',
    example: `${TABLE}      - { when: { fluid-temperature: 65..70 F }, least: 0.6 gal/min }\n      - { when: { fluid-temperature: 80..85 F }, least: 1.0 gal/min }`,
    mend: 'Add the row that is missing, or say in the source why there is none.',
  },
  {
    code: 'limit-fact-unsaid',
    title: 'A row that asks for what the family does not tell',
    why: 'It can never be judged.',
    example: `${TABLE}      - { when: { cooler-material: steel }, least: 1.1 gal/min }\n# and the family has no \`cooler\``,
    mend: 'Describe it at the family.',
  },
];
