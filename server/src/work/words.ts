/** Words of legal weight: a unit may be called rebuilt only when the lines earn it, and remanufactured only from a factory. */
import type { Jurisdiction } from '../../../schemas/kinds/jurisdiction.ts';
import type { Problem } from '../../../schemas/problem.ts';
import { roleName } from './evaluate.ts';
import type { Facts } from './facts.ts';
import type { Catalog, CheckedOption, WorkLine } from './model.ts';
import { list } from './say.ts';

/** Participles only: "rebuild the valve body" names work, "a rebuilt unit" makes a claim. */
const CLAIMS = /\b(factory[- ]rebuilt|re-?built|overhauled|re-?manufactured|re-?conditioned|refurbished)\b/gi;
const WHOLE_UNIT =
  /\b(rebuild|overhaul)(?:ing)?\b(?:\s+(?:of|the|your|this|automatic))*\s+(?:unit|transmission|transaxle|gearbox)\b|\b(?:unit|transmission|transaxle|gearbox)\s+(rebuild|overhaul)\b/gi;
const PARTICIPLES: Readonly<Record<string, string>> = { overhaul: 'overhauled', rebuild: 'rebuilt' };
const DENIED = /\b(?:not|never|no|isn't|without)\s+(?:been\s+|be\s+|a\s+|being\s+)?$/i;
const FACTORY: ReadonlySet<string> = new Set(['remanufactured', 'factory rebuilt']);

/** Words of a text that claim a condition, in lower case and without those it denies. */
export function claimsIn(text: string): string[] {
  const claims = new Set<string>();
  for (const pattern of [CLAIMS, WHOLE_UNIT]) {
    for (const match of text.matchAll(pattern)) {
      if (DENIED.test(text.slice(0, match.index))) continue;
      const word = (match[1] ?? match[2] ?? '').toLowerCase();
      claims.add(PARTICIPLES[word] ?? word.replace('factory-', 'factory ').replace('re-', 're'));
    }
  }
  return [...claims];
}

export function wordProblems(facts: Facts, catalog: Catalog): Problem[] {
  const { option, law, lines } = facts.input;
  return [
    ...(option ? optionClaims(option, facts, catalog) : []),
    ...lines.flatMap(lineClaims),
    ...(law ? unstatedConditions(law, lines) : []),
  ];
}

function optionClaims(option: CheckedOption, facts: Facts, catalog: Catalog): Problem[] {
  const words = claimsIn(`${option.name}. ${option.say ?? ''}`);
  const ownUnit = option.kind !== 'exchange' && option.kind !== 'used';
  const problems: Problem[] = [];
  if (ownUnit && words.some((word) => FACTORY.has(word))) {
    problems.push({
      code: 'word-not-earned',
      severity: 'warning',
      message: `"${words.find((word) => FACTORY.has(word))}" is for units rebuilt at a factory whose business it is; this option is done here. Call it overhauled, if the lines earn it.`,
      path: [...option.path, 'name'],
    });
  }
  if (option.kind === 'overhaul' && /\bexchange\b/i.test(option.name)) {
    problems.push({
      code: 'word-not-earned',
      severity: 'warning',
      message:
        '"Exchange" means another unit than the customer\'s own; this option overhauls theirs. Change the name or the kind.',
      path: [...option.path, 'name'],
    });
  }
  if (ownUnit && (option.kind === 'overhaul' || words.length > 0)) {
    problems.push(...unearned(option, words[0] ?? 'overhauled', facts, catalog));
  }
  return problems;
}

/** What the law wants on the job before its word may be used; a part only when the family has it. */
function unearned(option: CheckedOption, word: string, facts: Facts, catalog: Catalog): Problem[] {
  const rule = facts.input.law?.words?.rebuilt;
  if (!rule) return [];
  const components = facts.unit?.components;
  const has = (role: string) => !components || catalog.role(role)?.of === 'work' || components.includes(role);
  const lacking = rule.needs.filter((role) => has(role) && !facts.roles.has(role));
  if (lacking.length === 0) return [];
  const names = list(lacking.map((role) => roleName(catalog, role)));
  return [
    {
      code: 'word-not-earned',
      severity: 'warning',
      message: `${facts.input.law!.name} lets a unit be called ${word} only with ${names} on the job as well. Add ${lacking.length > 1 ? 'them' : 'it'}, or call the option a repair. Check your local rules.`,
      path: [...option.path, option.kind === 'overhaul' ? 'kind' : 'name'],
      data: { roles: lacking, word },
    },
  ];
}

/** A part's text and its condition have to tell the same. */
function lineClaims(line: WorkLine): Problem[] {
  if (line.sort === 'operation' || line.sort === 'fee' || line.condition === undefined) return [];
  const words = claimsIn(`${line.name}. ${line.say ?? ''}`);
  const wrong = words.find((word) => !fits(word, line.condition!));
  if (!wrong) return [];
  return [
    {
      code: 'word-not-earned',
      severity: 'warning',
      message: `${line.name} is called ${wrong}, but its condition is ${line.condition}. Make the two agree.`,
      path: line.path,
    },
  ];
}

function fits(word: string, condition: NonNullable<WorkLine['condition']>): boolean {
  if (FACTORY.has(word)) return condition === 'remanufactured';
  return condition !== 'new' && condition !== 'used';
}

/** A part whose condition nobody states. Where the law reads silence as new, that is a promise. */
function unstatedConditions(law: Jurisdiction, lines: readonly WorkLine[]): Problem[] {
  const reading = law.words?.['unstated-condition'];
  if (!reading) return [];
  return lines.filter(isPartWithoutCondition).map((line): Problem => {
    const must = reading === 'missing';
    return {
      code: 'condition-not-said',
      severity: must ? 'error' : 'information',
      message: must
        ? `${line.name} does not say whether it is new, used, rebuilt, reconditioned or remanufactured, and ${law.name} asks for it. Write its condition.`
        : `${line.name} does not say its condition. In ${law.name} it then counts as new: write the condition if it is not.`,
      path: line.path,
    };
  });
}

/** Fluids and what a customer brings are not sold as new or used. */
export function isPartWithoutCondition(line: WorkLine): boolean {
  return (
    line.sort === 'part' &&
    line.condition === undefined &&
    !line.supplied &&
    line.sellingUnit?.unit === undefined
  );
}
