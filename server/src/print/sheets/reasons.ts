/** Why a line is on the job, in the owner's words: the line's own, else those of whatever asks for it. */
import type { OptionEstimate } from '../../estimate/estimate.ts';
import type { PricedLine } from '../../pricing/model.ts';
import type { Requirement } from '../../work/model.ts';
import type { Sheet } from './context.ts';

/** The reasons of one table: what has been said of one line is not said of the next again, if there is more to say. */
export class Reasons {
  readonly #sheet: Sheet;
  readonly #said = new Set<string>();

  constructor(sheet: Sheet) {
    this.#sheet = sheet;
  }

  for(line: PricedLine, option: OptionEstimate): string | undefined {
    const reasons = reasonsFor(this.#sheet, line, option);
    const fresh = reasons.find((reason) => !this.#said.has(reason)) ?? reasons[0];
    if (fresh !== undefined) this.#said.add(fresh);
    return fresh;
  }
}

/** All there is to say of a line, the best first. */
export function reasonsFor({ source, printer }: Sheet, line: PricedLine, option: OptionEstimate): string[] {
  const { catalog } = source;
  if (line.kind === 'core' || line.kind === 'supplies' || line.kind === 'warranty') return [];
  const own = line.line?.say;
  if (own) return [own.trim()];
  const operation = line.kind === 'labor' && line.id ? catalog.operation(line.id)?.say : undefined;
  const asked = requirementsFor(line, option);
  const direct = asked.filter((one) => line.role !== undefined && one.roles.includes(line.role));
  const called = line.line?.for;
  return [
    operation,
    ...direct.flatMap(saidFor),
    line.role === undefined ? undefined : catalog.role(line.role)?.say,
    ...asked.filter((one) => !direct.includes(one)).flatMap(saidFor),
    called === undefined
      ? undefined
      : printer.say('because-of', { name: catalog.finding(called)?.name ?? called }),
  ]
    .map((one) => one?.trim() ?? '')
    .filter((one) => one !== '');
}

function saidFor({ asked }: Requirement): (string | undefined)[] {
  return asked.map((asking) => asking.say);
}

/** What the line answers. */
function requirementsFor({ path }: PricedLine, option: OptionEstimate): Requirement[] {
  if (path.length === 0) return [];
  const key = JSON.stringify(path);
  return option.work.requirements.filter(
    ({ kind, by }) =>
      (kind === 'requires' || kind === 'advises') && by.some((one) => JSON.stringify(one.path) === key),
  );
}
