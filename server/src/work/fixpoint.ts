/** Asks the rules of a job until nothing new follows, one stratum after the other. */
import type { Finding } from '../../../schemas/kinds/rules.ts';
import type { CompiledRule, RuleSet } from './compile.ts';
import { unitAtoms } from './conditions.ts';
import { type Derived, holds, reasonsFor, statedReason } from './evaluate.ts';
import type { Facts } from './facts.ts';
import type { Catalog, Reason } from './model.ts';
import { atomKey } from './triggers.ts';

export interface HeldRule {
  readonly id: string;
  readonly compiled: CompiledRule;
  readonly reasons: readonly Reason[];
}

export interface Followed {
  readonly derived: Derived;
  /** By id. */
  readonly held: readonly HeldRule[];
}

export function follow(facts: Facts, set: RuleSet, catalog: Catalog): Followed {
  const derived: Derived = { findings: new Map(), rules: new Map() };
  const waiting: Set<number>[] = Array.from({ length: set.strata }, () => new Set());
  const held: HeldRule[] = [];
  const wait = (indexes: readonly number[] | undefined) => {
    for (const index of indexes ?? []) waiting[set.rules[index]!.stratum]!.add(index);
  };
  const imply = (id: string, because: readonly Reason[]) => {
    if (derived.findings.has(id)) return;
    derived.findings.set(id, because);
    wait(set.lookingAt.get(atomKey('finding', id)));
    const finding = set.book.findings.get(id);
    if (finding) implyAll(finding, [{ kind: 'finding', id, text: finding.name, because }]);
  };
  const implyAll = (finding: Finding, because: readonly Reason[]) => {
    for (const implied of finding.implies ?? []) imply(implied, because);
  };

  wait(set.always);
  for (const key of keysOfJob(facts)) wait(set.setOffBy.get(key));
  for (const stated of facts.readings.values()) {
    const worse = stated.find((one) => one.verdict.judged === 'beyond');
    if (worse) implyAll(worse.finding, [statedReason(worse)]);
  }
  for (const stratum of waiting) {
    while (stratum.size > 0) {
      const round = [...stratum].toSorted((a, b) => a - b).map((index) => set.rules[index]!);
      stratum.clear();
      // All of a round are asked before any of them counts, so that reasons do not depend on order.
      const fresh = round
        .filter((rule) => !derived.rules.has(rule.id) && applies(rule, facts))
        .filter((rule) => holds(rule.when, facts, derived))
        .map((compiled) => ({
          id: compiled.id,
          compiled,
          reasons: reasonsFor(compiled.when, facts, derived, catalog),
        }));
      for (const { id, reasons } of fresh) {
        derived.rules.set(id, reasons);
        wait(set.lookingAt.get(atomKey('rule', id)));
      }
      for (const { id, compiled, reasons } of fresh) {
        const because: Reason[] = [{ kind: 'rule', id, text: `rule ${id}`, because: reasons }];
        for (const implied of compiled.rule.implies ?? []) imply(implied, because);
      }
      held.push(...fresh);
    }
  }
  return { derived, held: held.toSorted((a, b) => (a.id < b.id ? -1 : 1)) };
}

/** The word of the unit family is the last one. */
function applies(rule: CompiledRule, { unit }: Facts): boolean {
  return unit?.rules?.[rule.id]?.applies ?? !rule.replaced;
}

function* keysOfJob(facts: Facts): Iterable<string> {
  const { input, unit } = facts;
  for (const id of facts.readings.keys()) yield atomKey('finding', id);
  for (const id of facts.roles.keys()) yield atomKey('role', id);
  for (const id of facts.operations.keys()) yield atomKey('operation', id);
  for (const id of facts.works.keys()) yield atomKey('work', id);
  for (const id of facts.reused.keys()) yield atomKey('reuse', id);
  for (const [id, report] of facts.records) if (report.passes) yield atomKey('record', id);
  if (unit) for (const [about, id] of unitAtoms(unit, input.job.unit)) yield atomKey(about, id);
  else yield atomKey('unit', input.job.unit);
  const { drive, features } = input.job.vehicle ?? {};
  if (drive) yield atomKey('drive', drive);
  for (const id of features ?? []) yield atomKey('feature', id);
  if (input.option) yield atomKey('option', input.option.kind);
}
