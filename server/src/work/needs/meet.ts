/** Whether the job has what is asked for: by a line, a kit, included work, a record, or a waiver. */
import type { Authorization, Waiver } from '../../../../schemas/kinds/job.ts';
import { type Decimal, sum, ZERO } from '../../../../schemas/values/decimal.ts';
import type { Facts, LineFill } from '../facts.ts';
import type { Asking, Catalog, Filler, Meeting, Requirement } from '../model.ts';
import { isLaw } from './asking.ts';
import type { Draft } from './collect.ts';
import { inOrder } from './order.ts';

type Judged = Pick<Requirement, 'state' | 'by'> & Partial<Pick<Requirement, 'found'>>;

export function meet(draft: Draft, facts: Facts, catalog: Catalog): Requirement {
  const judged = judgeDraft(draft, facts, catalog);
  const { kind, roles, record, finding, quantity, newOnly, asked, id } = draft;
  const fillers = judged.state === 'missing' ? fillersOf(draft, facts, catalog) : [];
  return { id, kind, roles, record, finding, quantity, newOnly, asked, fillers, ...judged };
}

/** What the book has that would meet it, each once. */
function fillersOf({ roles, newOnly }: Draft, facts: Facts, catalog: Catalog): Filler[] {
  const fillers = new Map<string, Filler>();
  for (const filler of roles.flatMap((role) => catalog.fillers(role, facts.input.job.unit))) {
    const condition = filler.kind === 'part' ? catalog.part(filler.id)?.condition : undefined;
    if (!newOnly || condition === undefined || condition === 'new')
      fillers.set(`${filler.kind} ${filler.id}`, filler);
  }
  return [...fillers.values()];
}

function judgeDraft(draft: Draft, facts: Facts, catalog: Catalog): Judged {
  switch (draft.kind) {
    case 'requires':
    case 'advises':
      return judgeRoles(draft, facts, catalog);
    case 'forbids':
      return standing(draft, facts, (facts.roles.get(draft.roles[0]!) ?? []).map(byLine));
    case 'reuse': {
      const path = facts.reused.get(draft.roles[0]!);
      return standing(
        draft,
        facts,
        path ? [{ how: 'reuse', path, text: 'the job says that it is reused' }] : [],
      );
    }
    case 'record':
      return judgeRecordAsked(draft, facts);
    case 'finding': {
      const path = findingPath(draft.finding!, facts);
      if (path) return { state: 'met', by: [{ how: 'finding', path, text: 'it has a reading' }] };
      return setAside(draft, facts) ?? { state: 'missing', by: [] };
    }
    case 'order':
      return { state: inOrder(draft.roles[0]!, draft.roles[1]!, facts) ? 'met' : 'broken', by: [] };
  }
}

function judgeRoles(draft: Draft, facts: Facts, catalog: Catalog): Judged {
  let found = ZERO;
  for (const role of draft.roles) {
    const fills = (facts.roles.get(role) ?? []).filter(
      (fill) => !draft.newOnly || isNew(fill, facts, catalog),
    );
    const count = sum(fills.map((fill) => fill.quantity));
    if (fills.length > 0 && enough(count, draft.quantity))
      return { state: 'met', by: fills.map(byLine), found: count };
    if (count.gt(found)) found = count;
  }
  const record = draft.roles.flatMap((role) => recordsOf(role, facts, catalog))[0];
  if (record) return { state: 'met', by: [record] };
  return { ...(setAside(draft, facts) ?? { state: 'missing', by: [] }), found };
}

function enough(count: Decimal, quantity: Decimal | undefined): boolean {
  return quantity ? count.gte(quantity) : count.gt(ZERO);
}

/** Work has no condition. A part whose condition nobody states is new only where the law reads silence so. */
function isNew(fill: LineFill, facts: Facts, catalog: Catalog): boolean {
  if (fill.condition === 'new' || catalog.role(fill.role)?.of === 'work') return true;
  return fill.condition === undefined && facts.input.law?.words?.['unstated-condition'] === 'new';
}

function byLine({ how, line, via }: LineFill): Meeting {
  if (how === 'contains') return { how, path: line.path, text: `${via} in ${line.name}` };
  return {
    how: how === 'includes' ? how : 'line',
    path: line.path,
    text: how === 'includes' ? `${via}, included in ${line.name}` : line.name,
  };
}

/** Work that left a passing record has been done, whether or not a line sells it. */
function recordsOf(role: string, facts: Facts, catalog: Catalog): Meeting[] {
  if (facts.records.size === 0 || catalog.role(role)?.of !== 'work') return [];
  return catalog.fillers(role, facts.input.job.unit).flatMap((filler) => {
    const operation = filler.kind === 'operation' ? catalog.operation(filler.id) : undefined;
    if (operation?.role !== role || operation.record === undefined) return [];
    const report = facts.records.get(operation.record);
    return report?.passes
      ? [{ how: 'record', path: report.path, text: operation.name } satisfies Meeting]
      : [];
  });
}

function judgeRecordAsked(draft: Draft, facts: Facts): Judged {
  const report = facts.records.get(draft.record!);
  if (report?.passes) return { state: 'met', by: [{ how: 'record', path: report.path, text: 'it passes' }] };
  const waived = setAside(draft, facts);
  if (waived) return waived;
  if (!report) return { state: 'missing', by: [] };
  return { state: 'broken', by: [{ how: 'record', path: report.path, text: 'it does not pass' }] };
}

function findingPath(id: string, facts: Facts) {
  const stated = facts.input.job.findings?.[id] !== undefined ? ['findings', id] : undefined;
  return (
    stated ?? [...(facts.readings.get(id) ?? []), ...facts.superseded].find((one) => one.id === id)?.path
  );
}

/** Something that must not be there: fine without, broken with, unless it was agreed on paper. */
function standing(draft: Draft, facts: Facts, there: readonly Meeting[]): Judged {
  if (there.length === 0) return { state: 'met', by: [] };
  return setAside(draft, facts) ?? { state: 'broken', by: there };
}

/** Declined: by waiver, in an authorization, or because the unit is only put back together. */
function setAside(draft: Draft, facts: Facts): Judged | undefined {
  if (!draft.inEarnest && facts.input.option) {
    const text = 'put back together without repair';
    return { state: 'waived', by: [{ how: 'option', path: facts.input.option.path, text }] };
  }
  if (draft.asked.some(isLaw)) return undefined;
  const byRule = waiversOf(draft.asked, facts);
  const bySubject = draft.record ? waiverOfRecord(draft.record, facts) : declinedRoles(draft, facts);
  const by = byRule ?? bySubject;
  return by && { state: 'waived', by };
}

/** Waivers of rules, one for every voice that asks. */
function waiversOf(asked: readonly Asking[], facts: Facts): Meeting[] | undefined {
  const waived = asked.map((asking) =>
    asking.by === 'rule' ? waiverWhere(facts, (waiver) => waiver.rule === asking.id) : undefined,
  );
  return waived.every((meeting) => meeting !== undefined) ? waived : undefined;
}

function waiverOfRecord(record: string, facts: Facts): Meeting[] | undefined {
  const waiver = waiverWhere(facts, (one) => one.record === record);
  return waiver && [waiver];
}

/** Where one of several roles is enough, each of them has to be declined. What is forbidden is not declined by role. */
function declinedRoles(draft: Draft, facts: Facts): Meeting[] | undefined {
  if (draft.kind !== 'requires' && draft.kind !== 'advises') return undefined;
  const declined = draft.roles.map(
    (role) => waiverWhere(facts, (waiver) => waiver.role === role) ?? declinedAtAuthorization(role, facts),
  );
  return declined.every((meeting) => meeting !== undefined) ? declined : undefined;
}

function waiverWhere(facts: Facts, matches: (waiver: Waiver) => boolean): Meeting | undefined {
  const waivers = facts.input.job.waivers ?? [];
  const index = waivers.findIndex(matches);
  const waiver = waivers[index];
  return (
    waiver && {
      how: 'waiver',
      path: ['waivers', index],
      text: `declined by ${waiver.by} on ${waiver.on}: ${waiver.reason}`,
    }
  );
}

function declinedAtAuthorization(role: string, { input }: Facts): Meeting | undefined {
  const authorizations = input.job.authorizations ?? [];
  const concerns = (one: Authorization) =>
    (one.option === undefined || one.option === input.option?.id) && one.declined?.includes(role);
  const index = authorizations.findIndex(concerns);
  const found = authorizations[index];
  return (
    found && {
      how: 'declined',
      path: ['authorizations', index],
      text: `declined by ${found.by} on ${found.on}`,
    }
  );
}
