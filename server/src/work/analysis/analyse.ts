/** Mistakes in findings, rules, records and limits, found when they are written and not when a job fails. */

import type { RuleBook } from '../model.ts';
import { circles } from './circles.ts';
import { contradictions } from './contradictions.ts';
import { findingDeclarations, recordDeclarations, replacementDeclarations } from './findings.ts';
import { catalogGaps } from './gaps.ts';
import { limitTables } from './limits.ts';
import type { Deriving, World } from './logic.ts';
import type { AnalysisCatalog, EntryProblem } from './model.ts';
import { type Analysed, analysedRules, appliesTo, isSetAside, neverHolds } from './rules.ts';
import { sameRules } from './same.ts';
import { unreachableRules } from './unreachable.ts';
import { conditionValues } from './values.ts';
import { unclearPlans } from './warranty.ts';

export function analyse(book: RuleBook, catalog: AnalysisCatalog): EntryProblem[] {
  const rules = analysedRules(book);
  const world = worldOf(book, rules, catalog);
  const live = rules.filter((rule) => !rule.circling && !isSetAside(rule, world));
  return [
    ...findingDeclarations(book.findings),
    ...recordDeclarations(catalog.records(), book.findings),
    ...replacementDeclarations(book.replacements),
    ...limitTables(catalog.units(), book.findings),
    ...unclearPlans(catalog.warranties()),
    ...conditionValues(book),
    ...circles(book, rules),
    ...unreachableRules(live, world),
    ...contradictions(live, world),
    ...sameRules(live),
    ...catalogGaps(live, world, catalog),
  ];
}

function worldOf(book: RuleBook, rules: readonly Analysed[], catalog: AnalysisCatalog): World {
  const units = [...catalog.units()];
  const implied = new Set([
    ...[...book.findings.values()].flatMap((finding) => finding.implies ?? []),
    ...[...book.rules.values()].flatMap((rule) => rule.implies ?? []),
  ]);
  const everywhere = rules.filter((rule) =>
    units.length > 0 ? units.every(([, unit]) => appliesTo(rule, unit)) : !rule.replaced,
  );
  const deriving = everywhere.flatMap(({ id, rule, conjunctions, circling }): Deriving[] =>
    conjunctions && rule.implies && !circling ? [{ id, conjunctions, implies: rule.implies }] : [],
  );
  const never = new Set<string>();
  const world: World = { units, findings: book.findings, deriving, implied, never };
  // A rule that asks for one which never holds never holds either.
  for (let grown = true; grown; ) {
    const found = rules.filter((rule) => !never.has(rule.id) && neverHolds(rule, world));
    for (const { id } of found) never.add(id);
    grown = found.length > 0;
  }
  return world;
}
