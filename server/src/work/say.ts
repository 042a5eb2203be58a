/** How a chain of reasons reads in a sentence. */
import type { Path } from '../../../schemas/problem.ts';
import type { Decimal } from '../../../schemas/values/decimal.ts';
import { formatMoney } from '../../../schemas/values/money.ts';
import { roleName } from './evaluate.ts';
import type { Asking, Catalog, Filler, Reason, WorkInput } from './model.ts';

/** What is found weighs more than what is on the job, and that more than what the unit is. */
const WEIGHT: Readonly<Record<Reason['kind'], number>> = {
  finding: 0,
  cause: 0,
  rule: 1,
  role: 2,
  operation: 2,
  reuse: 2,
  work: 3,
  record: 3,
  option: 4,
  own: 4,
  vehicle: 5,
  unit: 6,
  trait: 6,
  absent: 7,
};

/** What a reason goes back to tells how much it weighs. */
function weightOf({ kind, because }: Reason): number {
  return because.length > 0 ? Math.min(...because.map(weightOf)) : WEIGHT[kind];
}

function byWeight(reasons: readonly Reason[]): Reason[] {
  return reasons.toSorted((a, b) => weightOf(a) - weightOf(b));
}

/** What is not there is worth telling only where nothing else is. */
function telling(reasons: readonly Reason[]): Reason[] {
  const there = reasons.filter((reason) => weightOf(reason) < WEIGHT.absent);
  return byWeight(there.length > 0 ? there : reasons);
}

/** `Bearing failed: yes → Metal has gone through the unit`. */
function chainOf(reason: Reason): string {
  const from = telling(reason.because)[0];
  return from && weightOf(from) < WEIGHT.absent ? `${chainOf(from)} → ${reason.text}` : reason.text;
}

const MOST_REASONS = 2;
const MOST_FILLERS = 3;

/** `Coolant in the fluid: yes → Coolant spoils converters`. */
export function chain(asking: Asking): string {
  const reasons = telling(asking.reasons).slice(0, MOST_REASONS).map(chainOf).join(' and ');
  if (asking.by !== 'rule') return reasons || asking.name;
  return reasons ? `${reasons} → ${asking.name}` : asking.name;
}

/** The chain of the first voice and its reason, and the names of the others. */
export function why(asked: readonly Asking[]): string {
  const [first, ...others] = asked.toSorted((a, b) => weightOfAsking(a) - weightOfAsking(b));
  if (!first) return '';
  const also = others.length > 0 ? ` Also asked for by ${list(others.map((asking) => asking.name))}.` : '';
  return `${chain(first)}. ${sentence(first.because)}${also}`;
}

function weightOfAsking({ by, reasons }: Asking): number {
  return (by === 'rule' ? 0 : 10) + Math.min(WEIGHT.absent, ...reasons.map(weightOf));
}

/** The first sentence of a longer text. */
function sentence(text: string): string {
  const flat = text.trim().replaceAll(/\s+/g, ' ');
  const first = /^.*?[.!?](?=\s|$)/.exec(flat)?.[0] ?? flat;
  return /[.!?]$/.test(first) ? first : `${first}.`;
}

/** An amount as the shop prints it. */
export function money(amount: Decimal, { currency }: WorkInput): string {
  return currency ? formatMoney(amount, currency.code, currency.locale) : amount.toString();
}

export function list(names: readonly string[], word = 'and'): string {
  if (names.length < 2) return names.join('');
  return `${names.slice(0, -1).join(', ')} ${word} ${names.at(-1)}`;
}

export function roleNames(roles: readonly string[], catalog: Catalog, word = 'or'): string {
  return list(
    roles.map((role) => roleName(catalog, role)),
    word,
  );
}

/** `TC-B6-R (Torque converter, rebuilt) or TC-B6-N (Torque converter, new)`. */
export function fillerNames(fillers: readonly Filler[], catalog: Catalog): string {
  const named = fillers.slice(0, MOST_FILLERS).map(({ kind, id }) => {
    const name = kind === 'part' ? catalog.part(id)?.name : catalog.operation(id)?.name;
    return name ? `${id} (${name})` : id;
  });
  return list(named, 'or');
}

/** Where the job says what a requirement goes back to: what was found before anything else. */
export function placeOf(asked: readonly Asking[]): Path {
  for (const kinds of [['finding'], undefined]) {
    for (const asking of asked) {
      const path = firstPath(asking.reasons, kinds);
      if (path) return path;
    }
  }
  return ['unit'];
}

function firstPath(reasons: readonly Reason[], kinds: readonly string[] | undefined): Path | undefined {
  for (const reason of byWeight(reasons)) {
    if (reason.path && (!kinds || kinds.includes(reason.kind))) return reason.path;
    const inner = firstPath(reason.because, kinds);
    if (inner) return inner;
  }
  return undefined;
}

/** Rules and findings behind a requirement, for an editor to show beside it. */
export function relatedOf(
  asked: readonly Asking[],
): { kind: 'rule' | 'finding'; id: string; message: string }[] {
  const related = new Map<string, { kind: 'rule' | 'finding'; id: string; message: string }>();
  const visit = (reasons: readonly Reason[]): void => {
    for (const { kind, id, text, because } of reasons) {
      if (kind === 'finding' || kind === 'rule') related.set(`${kind} ${id}`, { kind, id, message: text });
      visit(because);
    }
  };
  for (const asking of asked) {
    if (asking.by === 'rule') {
      related.set(`rule ${asking.id}`, { kind: 'rule', id: asking.id, message: sentence(asking.because) });
    }
    visit(asking.reasons);
  }
  return [...related.values()];
}
