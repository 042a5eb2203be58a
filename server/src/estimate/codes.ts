/** The page of every code that a problem can have, from every layer. */
import type { CodePage } from '../../../schemas/problem.ts';
import { CODES as BOOK } from '../book/codes.ts';
import { CODES as PRICING } from '../pricing/codes.ts';
import { SYNTAX_CODES as SYNTAX } from '../syntax/problems.ts';
import { CODES as WORK } from '../work/index.ts';

const OWN: readonly CodePage[] = [
  {
    code: 'template-cycle',
    title: 'Templates use one another in a circle',
    why: 'A template that comes back to itself would never end, so none of its lines are on the estimate.',
    example: 'a.template.yaml:  lines: [{template: b}]\nb.template.yaml:  lines: [{template: a}]',
    mend: 'Take one of the template lines out.',
  },
  {
    code: 'template-line',
    title: 'A template line does not hold with the values given',
    why: 'The line cannot be read once the parameters are filled in, so it is left out and the estimate lacks it.',
    example: 'lines:\n  - template: overhaul\n    with: { fluid-quarts: plenty }',
    mend: 'Give the parameter a value of the sort the line needs, or mend the line in the template.',
  },
  {
    code: 'template-change',
    title: 'A change to a template line changes nothing',
    why: 'The template brings no such line to this job, or the line has no such field. What was meant to differ does not.',
    example: 'lines:\n  - template: coolant-overhaul\n    change: { FR-B7: { quantity: 2 } }',
    mend: 'Name the line by its part or operation, as the template gives it with these parameters.',
  },
  {
    code: 'template-condition',
    title: 'A template line hangs on how the vehicle is driven',
    why: 'The job does not say how its vehicle is driven, so nobody can tell whether the line belongs on it; it is left out.',
    example:
      'template:  lines: [{ operation: remove-transfer-case, when: { drive: [4wd] } }]\njob:       vehicle: { make: Marsh }',
    mend: 'Write `drive` of the vehicle.',
  },
  {
    code: 'template-for-others',
    title: 'A template is used on a job that it is not meant for',
    why: 'A template made for one unit family may bring parts and work that fit no other.',
    example: 'template:  when: { unit: [birch-6] }\njob:       unit: alder-4',
    mend: 'Take the template that is meant for the unit; or write the lines out, and change what does not fit.',
  },
  {
    code: 'template-parameter',
    title: 'A parameter of a template is missing or wrong',
    why: 'Lines that use it cannot be priced.',
    example: 'lines:\n  - template: converter-clutch\n    with: { convertor: TC-1 }',
    mend: 'Write a value for each parameter that has no default, under "with:", by the name the template gives it.',
  },
];

export function pages(): readonly CodePage[] {
  const syntax = SYNTAX.map(({ code, title, explanation, bad, mend }) => ({
    code,
    title,
    why: explanation,
    example: excerpt(bad),
    mend,
  }));
  return [...syntax, ...BOOK, ...OWN, ...PRICING, ...WORK].sort((a, b) => a.code.localeCompare(b.code));
}

const MOST_LINES = 12;
const WIDEST = 100;

/** What is wrong with some files is their size: of those the beginning is shown. */
function excerpt(example: string): string {
  const lines = example
    .split('\n')
    .map((line) => (line.length > WIDEST ? `${line.slice(0, WIDEST - 1)}…` : line));
  return lines.length > MOST_LINES ? [...lines.slice(0, MOST_LINES), '…'].join('\n') : lines.join('\n');
}

export function pageOf(code: string): CodePage | undefined {
  return pages().find((page) => page.code === code);
}
