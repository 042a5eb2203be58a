/** Warranty plans whose words leave open what is covered. */
import type { Warranty } from '../../../../schemas/kinds/shop.ts';
import { list } from '../say.ts';
import { type EntryProblem, problemsOf } from './model.ts';

/** What owners most often believe to be covered, and shops not; with the words that settle it. */
const OPEN_QUESTIONS: readonly [string, RegExp][] = [
  ['the converter', /converter/i],
  ['cooler and lines', /cooler|cooling|radiator|\blines?\b/i],
  ['electronics and programming', /electr|solenoid|module|program/i],
  ['labor', /lab(?:o|ou)r|hours/i],
  ['towing', /tow/i],
];

const VAGUE = /\bonly\b|\beverything\b|\ball parts\b|\bfull(?:y)? covered\b|\blifetime\b/i;

export function unclearPlans(plans: Iterable<readonly [string, Warranty]>): EntryProblem[] {
  return [...plans].flatMap(([id, plan]) => {
    const problem = problemsOf('warranty', id);
    const { includes = [], excludes = [] } = plan;
    const said = [...includes, ...excludes].join('; ');
    const open = OPEN_QUESTIONS.filter(
      ([what, words]) => !(words.test(said) || (what === 'labor' && plan.covers)),
    ).map(([what]) => what);
    const vague = includes.findIndex((text) => VAGUE.test(text));
    if (includes.length > 0 && excludes.length > 0 && vague < 0) return [];
    const unsaid = [
      ...(includes.length > 0 ? [] : ['what is in']),
      ...(excludes.length > 0 ? [] : ['what is out']),
    ];
    const wording =
      vague < 0
        ? `${plan.name} does not say ${list(unsaid)}`
        : `"${includes[vague]}" can be read in more than one way`;
    const ask = open.length > 0 ? ` Say whether it covers ${list(open, 'or')}.` : '';
    const message = `${wording}, which is argued about on a claim. List both under \`includes\` and \`excludes\`.${ask}`;
    return [problem('warranty-unclear', 'warning', vague < 0 ? [] : ['includes', vague], message)];
  });
}
