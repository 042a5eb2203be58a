/** Why a line is on the job, in the owner's words: the line's own, else those of whatever asks for it. */
import type { OptionEstimate } from '../../estimate/estimate.ts';
import type { PricedLine } from '../../pricing/model.ts';
import type { Requirement } from '../../work/model.ts';
import type { Sheet } from './context.ts';

export function reasonFor(sheet: Sheet, line: PricedLine, option: OptionEstimate): string | undefined {
  const { catalog } = sheet.source;
  if (line.kind === 'core' || line.kind === 'supplies' || line.kind === 'warranty') return undefined;
  const own = line.line?.say?.trim();
  if (own) return own;
  const asked = requirementsFor(line, option).flatMap((one) => one.asked.map((asking) => asking.say?.trim()));
  const say =
    asked.find(Boolean) ??
    (line.id && line.kind === 'labor' ? catalog.operation(line.id)?.say?.trim() : undefined);
  if (say) return say;
  const called = line.line?.for;
  if (called) return sheet.printer.say('because-of', { name: catalog.finding(called)?.name ?? called });
  return line.role === undefined ? undefined : catalog.role(line.role)?.say?.trim();
}

/** What the line answers: of the rules, those that a finding calls first. */
function requirementsFor(line: PricedLine, option: OptionEstimate): Requirement[] {
  const key = JSON.stringify(line.path);
  if (line.path.length === 0) return [];
  return option.work.requirements
    .filter(
      (one) =>
        (one.kind === 'requires' || one.kind === 'advises') &&
        one.by.some((by) => JSON.stringify(by.path) === key),
    )
    .toSorted((a, b) => rank(a, line) - rank(b, line));
}

/** A template's lines share a place: what is asked for by the line's own role comes first. */
function rank(requirement: Requirement, line: PricedLine): number {
  const own = line.role !== undefined && requirement.roles.includes(line.role) ? 0 : 2;
  return own + (requirement.asked.some((asking) => asking.by === 'rule') ? 0 : 1);
}
