/** Conditions of rules in words, for a hover and for paper. */
import type { RefKind } from '../../../schemas/declare.ts';
import type { Condition, Finding } from '../../../schemas/kinds/rules.ts';
import { list } from './say.ts';

/** How an entry is called; its id, when the book does not know it. */
export type NameOf = (kind: RefKind, id: string) => string;

const GROUPS = { all: 'all of', any: 'at least one of', none: 'none of' } as const;

const COOLERS: Record<NonNullable<Condition['cooler']>, string> = {
  'in-radiator': 'the cooler is inside the radiator',
  external: 'the cooler is in the air stream',
  both: 'there is a cooler inside the radiator and one in the air stream',
  plate: 'the cooler is a plate cooler',
};

const JUDGED: Record<NonNullable<Condition['judged']>, string> = {
  normal: 'is inside its limit',
  beyond: 'is outside its limit',
  unjudged: 'cannot be judged',
};

/**
 * One line for each thing that has to hold; what belongs to `all`, `any` and `none` is set in by two spaces:
 *
 * ```
 * Coolant in the fluid
 * at least one of:
 *   Torque converter is on the job
 *   the unit is Birch-6 or Cedar-8
 * ```
 */
export function conditionInWords(condition: Condition, nameOf: NameOf, findingOf: FindingOf): string[] {
  return linesOf(sayingsOf(condition, nameOf, findingOf), 0);
}

type FindingOf = (id: string) => Pick<Finding, 'kind'> | undefined;

interface Saying {
  readonly text: string;
  readonly inside?: readonly Saying[];
}

function sayingsOf(condition: Condition, nameOf: NameOf, findingOf: FindingOf): Saying[] {
  const single = [...findingWords(condition, nameOf, findingOf), ...factWords(condition, nameOf)];
  const sayings: Saying[] = single.map((text) => ({ text }));
  for (const [group, lead] of Object.entries(GROUPS)) {
    const conditions = condition[group as keyof typeof GROUPS];
    if (!conditions) continue;
    const inside = conditions.map((one) => asOne(sayingsOf(one, nameOf, findingOf)));
    // What holds together anyway needs no head of its own.
    if (group === 'all') sayings.push(...inside);
    else sayings.push({ text: `${lead}:`, inside });
  }
  return sayings;
}

/** Several keys of one condition hold together: where they stand in a list, they are kept together. */
function asOne(sayings: readonly Saying[]): Saying {
  const [only] = sayings;
  if (only && sayings.length === 1) return only;
  if (sayings.every((one) => !one.inside)) return { text: sayings.map((one) => one.text).join(' and ') };
  return { text: `${GROUPS.all}:`, inside: sayings };
}

function linesOf(sayings: readonly Saying[], depth: number): string[] {
  return sayings.flatMap(({ text, inside }) => [
    '  '.repeat(depth) + text,
    ...(inside ? linesOf(inside, depth + 1) : []),
  ]);
}

function findingWords(
  { finding: id, is, judged, ...bounds }: Condition,
  nameOf: NameOf,
  findingOf: FindingOf,
): string[] {
  if (id === undefined) return [];
  const scale = findingOf(id)?.kind === 'scale';
  const says = [
    is && `is ${is}`,
    bounds['at-least'] && `is ${bounds['at-least']} or ${scale ? 'worse' : 'more'}`,
    bounds['at-most'] && `is ${bounds['at-most']} or ${scale ? 'better' : 'less'}`,
    judged && JUDGED[judged],
  ].filter((one) => one !== undefined && one !== '');
  return [says.length === 0 ? nameOf('finding', id) : `${nameOf('finding', id)} ${says.join(' and ')}`];
}

function factWords(condition: Condition, nameOf: NameOf): string[] {
  const {
    role,
    operation,
    work,
    reuse,
    unit,
    trait,
    cooler,
    bypass,
    lining,
    drive,
    feature,
    record,
    option,
    rule,
    own,
  } = condition;
  return [
    role && `${nameOf('role', role)} is on the job`,
    operation && `the operation ${nameOf('operation', operation)} is on the job`,
    work && `work of the sort "${work}" is on the job`,
    reuse && `${nameOf('role', reuse)} is reused`,
    unit &&
      `the unit is ${list(
        unit.map((one) => nameOf('unit', one)),
        'or',
      )}`,
    trait && `the unit has the trait ${trait}`,
    cooler && COOLERS[cooler],
    bypass === undefined ? undefined : `the cooling circuit has ${bypass ? 'a' : 'no'} thermal bypass`,
    lining && `the converter lining is ${lining}`,
    drive && `the vehicle is ${list(drive, 'or')}`,
    feature && `the vehicle has ${feature}`,
    record && `the record ${nameOf('record', record)} is there and passes`,
    option && `the option is of the kind ${list(option, 'or')}`,
    rule && `the rule "${nameOf('rule', rule)}" holds`,
    ...Object.entries(own ?? {}).map(([field, wanted]) => `${nameOf('field', field)} is ${wanted}`),
  ].filter((one) => one !== undefined && one !== '') as string[];
}
