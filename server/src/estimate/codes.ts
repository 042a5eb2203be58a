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
    example: bad,
    mend,
  }));
  return [...syntax, ...BOOK, ...OWN, ...PRICING, ...WORK].sort((a, b) => a.code.localeCompare(b.code));
}

export function pageOf(code: string): CodePage | undefined {
  return pages().find((page) => page.code === code);
}
