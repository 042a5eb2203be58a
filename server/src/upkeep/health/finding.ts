/** What is found when a book is looked over, and what each sort of finding is called. */
import type { RefKind } from '../../../../schemas/declare.ts';
import type { Definition } from '../../book/facts.ts';
import { placeIn } from '../jobs.ts';
import type { Place } from '../report/report.ts';

/** In the order in which they cost money. */
export const CHECKS = {
  'below-cost': ['Sold below cost', 'The fixed price is lower than what the shop pays.'],
  'thin-margin': ['Under a floor', 'Gross profit or labor rate under the floors of shop.yaml.'],
  'never-priced': ['Never priced', 'On a job it would count as nothing.'],
  'broken-template': ['Templates that no longer come out', 'A job that takes one gets an error.'],
  replaced: ['Replaced numbers still named', 'The command `supersede` writes their successors.'],
  'old-price': ['Old prices', 'The last price is older than was asked for.'],
  'same-thing': [
    'The same thing under two numbers',
    'They look alike; keep one, or say `alternates` or `superseded-by`.',
  ],
  unused: ['Not used', 'Nothing in the book names it, and no rule asks for its role.'],
} as const;
export type Check = keyof typeof CHECKS;

export interface Finding {
  readonly check: Check;
  readonly kind: RefKind;
  readonly id: string;
  readonly name: string;
  readonly says: string;
  readonly at: Place;
}

export function findingOn(check: Check, definition: Definition, says: string): Finding {
  const { kind, id, facts, row } = definition;
  const name = (definition.value as { name?: unknown } | undefined)?.name;
  const part = facts.parts.find((one) => one.key === id);
  const path = part?.section === undefined ? ['id'] : [part.section, id];
  return {
    check,
    kind,
    id,
    name: typeof name === 'string' ? name : '',
    says,
    at: row === undefined ? placeIn(facts.file, path) : placeIn(facts.file, ['from']),
  };
}
