/** The check of one option of a job: what is required, forbidden, advised, recorded, withheld, and why. */
import type { Problem } from '../../../schemas/problem.ts';
import { causeProblems } from './cause.ts';
import { cautionFigures, cautionsOf } from './cautions.ts';
import { comebackProblems, comebackReport } from './comeback.ts';
import type { RuleSet } from './compile.ts';
import { coreProblems, coresAtRisk } from './cores.ts';
import { gatherFacts } from './facts.ts';
import { findingFacts, findingProblems } from './findings.ts';
import { follow } from './fixpoint.ts';
import { fluidProblems } from './fluids.ts';
import type { Catalog, WorkInput, WorkResult } from './model.ts';
import { collect } from './needs/collect.ts';
import { meet } from './needs/meet.ts';
import { requirementProblems } from './needs/problems.ts';
import { waiverProblems } from './needs/waivers.ts';
import { recordProblems } from './records/problems.ts';
import { lineReasonProblems, replacementProblems } from './replacements.ts';
import { list } from './say.ts';
import { warrantyProblems, warrantyReport } from './warranty.ts';
import { withheldPlans } from './withheld.ts';
import { wordProblems } from './words.ts';

export function check(input: WorkInput, rules: RuleSet, catalog: Catalog): WorkResult {
  const facts = gatherFacts(input, catalog, rules.limitOf);
  const { derived, held } = follow(facts, rules, catalog);
  const { drafts, notAsked } = collect(facts, held, catalog);
  const requirements = [...drafts.values()].map((draft) => meet(draft, facts, catalog));
  const withheld = withheldPlans(facts, held, requirements, catalog);
  const cautions = cautionsOf(facts, held, requirements, catalog);
  const cores = coresAtRisk(facts, held);
  const comeback = comebackReport(facts, catalog);
  return {
    findings: findingFacts(facts, derived, catalog),
    rules: held.map(({ id, reasons }) => ({ id, reasons })),
    requirements,
    cautions,
    withheld: withheld.plans,
    records: facts.reports,
    coresAtRisk: cores,
    warranty: warrantyReport(facts, requirements, withheld.plans, catalog),
    comeback,
    notAsked,
    problems: [
      ...leftOut(rules),
      ...findingProblems(facts, derived, rules, catalog),
      ...requirementProblems(requirements, facts, catalog),
      ...waiverProblems(requirements, withheld.plans, facts, catalog),
      ...recordProblems(facts, catalog),
      ...fluidProblems(facts, catalog),
      ...replacementProblems(facts, derived, rules.book.replacements.values(), requirements, catalog),
      ...lineReasonProblems(facts, derived, catalog),
      ...causeProblems(facts, derived, requirements, catalog),
      ...withheld.problems,
      ...warrantyProblems(facts, catalog),
      ...comebackProblems(comeback, facts, catalog),
      ...coreProblems(cores, facts),
      ...wordProblems(facts, catalog),
      ...cautionFigures(facts, cautions, catalog),
    ],
  };
}

/** A job that some rule was not asked about is not known to be complete. */
function leftOut({ leftOut: rules }: RuleSet): Problem[] {
  if (rules.length === 0) return [];
  const names = list(rules.slice(0, 3).map(({ id }) => id));
  const more = rules.length > 3 ? ` and ${rules.length - 3} more` : '';
  return [
    {
      code: 'rules-left-out',
      severity: 'warning',
      message: `This job is checked without the rules ${names}${more}, which have mistakes of their own. Mend them first.`,
      path: ['unit'],
      related: rules.slice(0, 3).map(({ id, why }) => ({
        kind: 'rule',
        id,
        message: why === 'circle' ? 'its conditions go round in a circle' : 'its condition has a mistake',
      })),
    },
  ];
}
