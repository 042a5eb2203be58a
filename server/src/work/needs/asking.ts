/** Who asks for something, and in which words. */
import type { Jurisdiction } from '../../../../schemas/kinds/jurisdiction.ts';
import type { HeldRule } from '../fixpoint.ts';
import type { Asking, Reason, WorkLine } from '../model.ts';

export function askedByRule({ id, compiled: { rule }, reasons }: HeldRule): Asking {
  return {
    by: 'rule',
    id,
    name: rule.name ?? id,
    because: rule.because,
    say: rule.say,
    basis: rule.basis,
    source: rule.source,
    reasons,
  };
}

export function askedByOperation(operation: string, name: string, line: WorkLine, because: string): Asking {
  const reasons: Reason[] = [
    { kind: 'operation', id: operation, text: `${name} on the job`, path: line.path, because: [] },
  ];
  return { by: 'operation', id: operation, name, because, reasons };
}

export function askedByPlan(id: string, name: string, path: Reason['path']): Asking {
  const reasons: Reason[] = [{ kind: 'option', id, text: `warranty ${name} is promised`, path, because: [] }];
  return { by: 'warranty', id, name, because: `The warranty ${name} holds only with it.`, reasons };
}

export function askedByLaw(
  law: Jurisdiction,
  because: string,
  source: string | undefined,
  reason: Reason,
): Asking {
  return { by: 'law', id: law.id, name: law.name, because, basis: 'law', source, reasons: [reason] };
}

/** What the law asks for, a customer cannot decline. */
export function isLaw(asking: Asking): boolean {
  return asking.by === 'law' || asking.basis === 'law';
}

/** Whether a reason goes back to something that was found. */
export function comesFromFinding(reasons: readonly Reason[]): boolean {
  return reasons.some((reason) => reason.kind === 'finding' || comesFromFinding(reason.because));
}
