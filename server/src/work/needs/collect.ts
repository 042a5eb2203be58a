/** Everything that rules, operations, warranty and law ask of a job, the same thing asked for once. */
import type { Need } from '../../../../schemas/kinds/rules.ts';
import { type Decimal, greatest, ONE } from '../../../../schemas/values/decimal.ts';
import type { Facts } from '../facts.ts';
import type { HeldRule } from '../fixpoint.ts';
import type { Asking, Catalog, Reason, RequirementKind, WorkResult } from '../model.ts';
import { askedByLaw, askedByOperation, askedByPlan, askedByRule, comesFromFinding, isLaw } from './asking.ts';

/** Something asked for, before it is known whether the job has it. */
export interface Draft {
  readonly id: string;
  readonly kind: RequirementKind;
  readonly roles: readonly string[];
  readonly record?: string | undefined;
  readonly finding?: string | undefined;
  quantity?: Decimal | undefined;
  newOnly: boolean;
  readonly asked: Asking[];
  /** Who asks although the unit is only put back together. */
  inEarnest: boolean;
}

type Subject = Pick<Draft, 'kind' | 'roles'> &
  Partial<Pick<Draft, 'record' | 'finding' | 'quantity' | 'newOnly'>>;

export interface Collected {
  readonly drafts: ReadonlyMap<string, Draft>;
  readonly notAsked: WorkResult['notAsked'];
}

export function collect(facts: Facts, held: readonly HeldRule[], catalog: Catalog): Collected {
  const drafts = new Map<string, Draft>();
  const notAsked: { role: string; rule: string }[] = [];
  const putBack = facts.input.option?.kind === 'put-back';

  const ask = (subject: Subject, asking: Asking): void => {
    const id = `${subject.kind}:${subject.record ?? subject.finding ?? subject.roles.join('|')}`;
    const inEarnest = !putBack || isLaw(asking) || !comesFromFinding(asking.reasons);
    const draft = drafts.get(id);
    if (!draft) {
      drafts.set(id, { newOnly: false, ...subject, id, asked: [asking], inEarnest });
      return;
    }
    draft.asked.push(asking);
    draft.newOnly ||= subject.newOnly ?? false;
    draft.inEarnest ||= inEarnest;
    if (subject.quantity)
      draft.quantity = draft.quantity ? greatest(draft.quantity, subject.quantity) : subject.quantity;
  };

  const askForRoles = (kind: 'requires' | 'advises', need: Need, asking: Asking): void => {
    const wanted = [...new Set([...(need.role ? [need.role] : []), ...(need['any-of'] ?? [])])];
    const roles = wanted.filter((role) => !lacks(facts, catalog, role));
    if (roles.length === 0) notAsked.push(...wanted.map((role) => ({ role, rule: asking.id })));
    else
      ask(
        { kind, roles: roles.toSorted(), quantity: need.quantity, newOnly: need.condition === 'new' },
        asking,
      );
  };

  for (const rule of held) askedOfRule(rule, facts, ask, askForRoles);
  askedOfOperations(facts, catalog, ask, askForRoles);
  askedOfPlan(facts, catalog, ask);
  askedOfLaw(facts, ask);
  return { drafts, notAsked };
}

/** A family that lists what it has is asked for no other part. */
function lacks({ unit }: Facts, catalog: Catalog, role: string): boolean {
  return Boolean(unit?.components && catalog.role(role)?.of === 'part' && !unit.components.includes(role));
}

type Ask = (subject: Subject, asking: Asking) => void;
type AskForRoles = (kind: 'requires' | 'advises', need: Need, asking: Asking) => void;

function askedOfRule(held: HeldRule, facts: Facts, ask: Ask, askForRoles: AskForRoles): void {
  const { rule } = held.compiled;
  const asking = askedByRule(held);
  for (const need of rule.requires ?? []) askForRoles('requires', need, asking);
  for (const need of rule.advises ?? []) askForRoles('advises', need, asking);
  for (const role of rule.forbids ?? []) ask({ kind: 'forbids', roles: [role] }, asking);
  for (const role of rule['forbids-reuse'] ?? []) ask({ kind: 'reuse', roles: [role] }, asking);
  for (const record of rule['needs-record'] ?? []) ask({ kind: 'record', roles: [], record }, asking);
  for (const finding of rule['needs-finding'] ?? []) ask({ kind: 'finding', roles: [], finding }, asking);
  for (const { first, next } of rule.order ?? []) {
    const later = facts.roles.get(next)?.[0];
    if (!later) continue;
    if (facts.roles.has(first)) ask({ kind: 'order', roles: [first, next] }, asking);
    else askForRoles('requires', { role: first }, asking);
  }
}

function askedOfOperations(facts: Facts, catalog: Catalog, ask: Ask, askForRoles: AskForRoles): void {
  for (const [id, line] of facts.operations) {
    const operation = catalog.operation(id);
    if (!operation) continue;
    for (const { role, quantity } of operation.parts ?? []) {
      const asking = askedByOperation(id, operation.name, line, 'That work cannot be done without it.');
      askForRoles('requires', { role, quantity: (quantity ?? ONE).times(line.quantity) }, asking);
    }
    if (operation.record) {
      const asking = askedByOperation(id, operation.name, line, 'That work has to leave it on paper.');
      ask({ kind: 'record', roles: [], record: operation.record }, asking);
    }
  }
}

function askedOfPlan({ input: { plan } }: Facts, catalog: Catalog, ask: Ask): void {
  const entry = plan && catalog.warranty(plan.id);
  if (!entry) return;
  const asking = askedByPlan(plan.id, entry.name, plan.path);
  for (const record of entry.requires ?? []) ask({ kind: 'record', roles: [], record }, asking);
}

function askedOfLaw({ input: { law }, works }: Facts, ask: Ask): void {
  const rule = law?.['before-removal'];
  const removal = works.get('removal');
  if (!law || !rule || !removal) return;
  const reason: Reason = {
    kind: 'work',
    id: 'removal',
    text: `${removal.name} on the job`,
    path: removal.path,
    because: [],
  };
  const asking = askedByLaw(law, 'It has to be on record before the unit is taken out.', rule.source, reason);
  for (const record of rule.records) ask({ kind: 'record', roles: [], record }, asking);
}
