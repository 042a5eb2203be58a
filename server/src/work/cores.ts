/** Core charges whose credit is in doubt because of what was found. */
import type { Problem } from '../../../schemas/problem.ts';
import type { Facts } from './facts.ts';
import type { HeldRule } from './fixpoint.ts';
import type { Asking, CoreAtRisk } from './model.ts';
import { askedByRule } from './needs/asking.ts';
import { money, relatedOf, why } from './say.ts';

/** Lines sold with a core charge, of the roles that rules name. */
export function coresAtRisk(facts: Facts, held: readonly HeldRule[]): CoreAtRisk[] {
  const risks = new Map<string, Asking[]>();
  for (const rule of held) {
    for (const role of rule.compiled.rule['risks-core'] ?? [])
      risks.set(role, [...(risks.get(role) ?? []), askedByRule(rule)]);
  }
  return [...risks].flatMap(([role, asked]) =>
    (facts.roles.get(role) ?? [])
      .filter((fill) => fill.how === 'itself' && fill.line.core !== undefined)
      .map(({ line, via }) => ({ role, path: line.path, part: via, amount: line.core, asked })),
  );
}

export function coreProblems(cores: readonly CoreAtRisk[], facts: Facts): Problem[] {
  return cores.map(({ path, part, amount, asked }) => ({
    code: 'core-at-risk',
    severity: 'warning',
    message: `The core of ${part} may earn no credit${amount ? `: ${money(amount, facts.input)} may not come back` : ''}. ${why(asked)} Show the owner the total with and without the credit.`,
    path,
    related: relatedOf(asked),
    ...(amount ? { data: { core: amount.toString() } } : {}),
  }));
}
