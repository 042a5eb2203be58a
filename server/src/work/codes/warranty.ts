/** Pages on warranty plans. */
import type { CodePage } from '../../../../schemas/problem.ts';

export const WARRANTY_CODES: readonly CodePage[] = [
  {
    code: 'withheld-warranty',
    title: 'A warranty is promised that cannot be given',
    why: 'A rule withholds the plan as the job stands, for example because the outside cause is not repaired.',
    example:
      'warranty: plan-24\nwaivers:\n  - { role: radiator, reason: price, by: the owner, on: 2026-03-05, signed: yes }',
    mend: 'Do what would restore it, as the message says, or promise another plan.',
  },
  {
    code: 'cause-not-cured',
    title: 'The cause outside the unit is left in place',
    why: 'The new unit will fail as the old one did.',
    example: 'cause: { what: The radiator leaks inside, outside: yes, cured: radiator }\nlines: []',
    mend: 'Add what cures it, or write where else it was cured and how that is known.',
  },
  {
    code: 'labor-not-covered',
    title: 'A plan that covers parts only',
    why: 'On a claim the owner pays for the labor again, which is often the larger half.',
    example: 'options:\n  used: { kind: used, warranty: parts-90 }',
    mend: 'Show the amount on the option before it is chosen.',
  },
  {
    code: 'warranty-without-start',
    title: 'A warranty by distance without a reading to count from',
    why: 'Nobody can say when it ends.',
    example: 'completed: 2026-03-12\nwarranty: plan-24      # 24 months or 24,000 miles',
    mend: 'Write `odometer-out` at the vehicle.',
  },
  {
    code: 'warranty-unclear',
    title: 'A plan that does not say what is in and what is out',
    why: 'A cooler or a converter is then argued about on the day of the claim.',
    example: 'warranties:\n  plan-12: { name: 12 months, months: 12, includes: [transmission only] }',
    mend: 'List both under `includes` and `excludes`, in words an owner understands.',
  },
  {
    code: 'warranty-does-not-tell',
    title: 'A written warranty that does not tell what it has to',
    why: 'The law names what a written warranty on consumer goods tells before the sale.',
    example: 'warranties:\n  plan-12: { name: 12 months, months: 12 }      # nothing on how to claim',
    mend: 'Write what the message names at the plan. Check your local rules.',
  },
];
