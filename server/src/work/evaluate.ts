/** Whether a condition holds of a job, and why. */
import type { AtomTest, FindingTest, Node, Test } from './conditions.ts';
import type { Facts, Stated } from './facts.ts';
import type { Catalog, Reason } from './model.ts';
import { answers, type OwnFact } from './own.ts';
import { compareReadings } from './readings.ts';

/** What has been found to follow so far, with the reasons it had when it first did. */
export interface Derived {
  readonly findings: Map<string, readonly Reason[]>;
  readonly rules: Map<string, readonly Reason[]>;
}

export function holds(node: Node, facts: Facts, derived: Derived): boolean {
  switch (node.op) {
    case 'test':
      return passes(node.test, facts, derived);
    case 'all':
      return node.nodes.every((inner) => holds(inner, facts, derived));
    case 'any':
      return node.nodes.some((inner) => holds(inner, facts, derived));
    case 'none':
      return !node.nodes.some((inner) => holds(inner, facts, derived));
    case 'broken':
      return false;
  }
}

function passes(test: Test, facts: Facts, derived: Derived): boolean {
  if (test.about !== 'finding') return test.ids.some((id) => has(test, id, facts, derived));
  if (facts.readings.get(test.id)?.some((stated) => passesReading(test, stated))) return true;
  return test.whenImplied && derived.findings.has(test.id);
}

export function passesReading(test: FindingTest, { reading, verdict }: Stated): boolean {
  if (test.is && compareReadings(reading, test.is) !== 0) return false;
  if (test.atLeast && compareReadings(reading, test.atLeast) < 0) return false;
  if (test.atMost && compareReadings(reading, test.atMost) > 0) return false;
  if (test.judged) return verdict.judged === test.judged;
  return Boolean(test.is || test.atLeast || test.atMost) || verdict.judged === 'beyond';
}

function has(test: AtomTest, id: string, facts: Facts, derived: Derived): boolean {
  const { input, unit } = facts;
  switch (test.about) {
    case 'role':
      return facts.roles.has(id);
    case 'operation':
      return facts.operations.has(id);
    case 'work':
      return facts.works.has(id as Parameters<typeof facts.works.has>[0]);
    case 'reuse':
      return facts.reused.has(id);
    case 'unit':
      return input.job.unit === id;
    case 'trait':
      return unit?.traits?.includes(id) ?? false;
    case 'cooler':
      return unit?.cooler?.kind === id;
    case 'bypass':
      return unit?.cooler !== undefined && (unit.cooler.bypass ? 'yes' : 'no') === id;
    case 'lining':
      return unit?.['converter-lining'] === id;
    case 'drive':
      return input.job.vehicle?.drive === id;
    case 'feature':
      return input.job.vehicle?.features?.includes(id) ?? false;
    case 'record':
      return facts.records.get(id)?.passes ?? false;
    case 'option':
      return input.option?.kind === id;
    case 'rule':
      return derived.rules.has(id);
    case 'own':
      return ownFact(test, id, facts) !== undefined;
  }
}

function ownFact({ is }: AtomTest, id: string, { input }: Facts): OwnFact | undefined {
  return input.own?.find((one) => one.field === id && is !== undefined && answers(one, is));
}

/** What made a condition hold: the facts it found, or those it found missing. Asked only of one that holds. */
export function reasonsFor(node: Node, facts: Facts, derived: Derived, catalog: Catalog): Reason[] {
  switch (node.op) {
    case 'test':
      return [reasonFor(node.test, facts, derived, catalog)];
    case 'all':
      return node.nodes.flatMap((inner) => reasonsFor(inner, facts, derived, catalog));
    case 'any': {
      const first = node.nodes.find((inner) => holds(inner, facts, derived));
      return first ? reasonsFor(first, facts, derived, catalog) : [];
    }
    case 'none':
      return node.nodes.flatMap((inner) => absences(inner, catalog));
    case 'broken':
      return [];
  }
}

function reasonFor(test: Test, facts: Facts, derived: Derived, catalog: Catalog): Reason {
  if (test.about === 'finding') {
    const stated = facts.readings.get(test.id)?.find((one) => passesReading(test, one));
    return stated ? statedReason(stated) : impliedReason(test.id, test.finding.name, derived);
  }
  const id = test.ids.find((one) => has(test, one, facts, derived)) ?? test.ids[0]!;
  return atomReason(test, id, facts, derived, catalog);
}

export function statedReason({ id, finding, text, verdict, path }: Stated): Reason {
  const how = finding.kind === 'measurement' && verdict.judged === 'beyond' ? `, ${verdict.text}` : '';
  return { kind: 'finding', id, text: `${finding.name}: ${text}${how}`, path, because: [] };
}

function impliedReason(id: string, name: string, derived: Derived): Reason {
  return { kind: 'finding', id, text: name, because: derived.findings.get(id) ?? [] };
}

function atomReason(test: AtomTest, id: string, facts: Facts, derived: Derived, catalog: Catalog): Reason {
  const { input, unit } = facts;
  const reason = (kind: Reason['kind'], text: string, path?: Reason['path']): Reason => {
    return { kind, id, text, path, because: [] };
  };
  switch (test.about) {
    case 'role': {
      const fill = facts.roles.get(id)?.[0];
      return reason('role', `${roleName(catalog, id)} on the job`, fill?.line.path);
    }
    case 'operation': {
      const name = catalog.operation(id)?.name ?? id;
      return reason('operation', `${name} on the job`, facts.operations.get(id)?.path);
    }
    case 'work': {
      const line = facts.works.get(id as Parameters<typeof facts.works.get>[0]);
      return reason(
        'work',
        `${id.replaceAll('-', ' ')} work on the job${line ? ` (${line.name})` : ''}`,
        line?.path,
      );
    }
    case 'reuse':
      return reason('reuse', `${roleName(catalog, id)} is reused`, facts.reused.get(id));
    case 'record':
      return reason('record', `${catalog.record(id)?.name ?? id} is on record`, facts.records.get(id)?.path);
    case 'option':
      return reason('option', `the option is of the kind ${id}`, input.option?.path);
    case 'own': {
      const fact = ownFact(test, id, facts);
      const whose = fact && fact.kind !== 'job' ? ` (${fact.of})` : '';
      return reason('own', `${fact?.declared.name ?? id}: ${fact?.typed ?? ''}${whose}`, fact?.path);
    }
    case 'rule':
      return { ...reason('rule', `rule ${id}`), because: derived.rules.get(id) ?? [] };
    case 'drive':
    case 'feature':
      return reason('vehicle', `the vehicle: ${id}`, ['vehicle']);
    case 'unit':
      return reason('unit', `the unit is a ${unit?.name ?? id}`, ['unit']);
    default:
      return reason('trait', `the unit: ${test.about === 'trait' ? id : `${test.about} ${id}`}`, ['unit']);
  }
}

function absences(node: Node, catalog: Catalog): Reason[] {
  if (node.op === 'broken') return [];
  if (node.op !== 'test')
    return node.op === 'none' ? [] : node.nodes.flatMap((inner) => absences(inner, catalog));
  const { test } = node;
  if (test.about === 'finding') {
    return [{ kind: 'absent', id: test.id, text: `no finding ${test.finding.name}`, because: [] }];
  }
  return test.ids.map((id) => {
    const wanted = wantedName(test.about, id, catalog);
    return { kind: 'absent', id, text: `no ${wanted ?? `${test.about} ${id}`}`, wanted, because: [] };
  });
}

/** What a job could be given so that it is no longer absent. */
function wantedName(about: AtomTest['about'], id: string, catalog: Catalog): string | undefined {
  if (about === 'role') return `${roleName(catalog, id)} on the job`;
  if (about === 'operation') return `${catalog.operation(id)?.name ?? id} on the job`;
  if (about === 'record') return `passing record ${catalog.record(id)?.name ?? id}`;
  return undefined;
}

export function roleName(catalog: Pick<Catalog, 'role'>, id: string): string {
  return catalog.role(id)?.name ?? id;
}
