import type { CodePage } from '../../../schemas/problem.ts';

/** Pages of what can be wrong with labor. */
export const LABOR_CODES: readonly CodePage[] = [
  {
    code: 'adder-refused',
    title: 'Add-on that does not belong to this vehicle',
    why: 'An add-on with a condition is time for something that the vehicle has. On a vehicle without it, the customer would pay for nothing.',
    example:
      'vehicle: {drive: rwd}\nlines:\n  - operation: rr-unit\n    adders: [four-wheel]   # when: {drive: [4wd, awd]}',
    mend: 'Take the add-on out, or correct what the job says of the vehicle.',
  },
  {
    code: 'adder-without-evidence',
    title: 'Judged add-on without evidence',
    why: 'Rust or an earlier repair is a judgment. Without a picture or a word why, it looks like a hidden factor to whoever pays.',
    example: 'lines:\n  - operation: rr-unit\n    adders: [rust]',
    mend: 'Give the line a `picture`, or say why in `reason`.',
  },
  {
    code: 'drive-not-said',
    title: 'How the vehicle is driven is not said',
    why: 'An add-on depends on it. Until the job says so, the add-on is neither counted by itself nor refused.',
    example: 'vehicle: {year: 2019}\nlines:\n  - operation: rr-unit',
    mend: 'Write `drive` under `vehicle`: fwd, rwd, 4wd or awd.',
  },
  {
    code: 'hours-missing',
    title: 'Operation without hours',
    why: 'It has neither hours for this unit family nor a flat price, so its own time is given away unnoticed.',
    example:
      "operations:\n  rr-unit:\n    name: Remove and refit the unit\n    work: removal\n    hours-by: {birch-6: 7.8}   # the job's unit is elm-6h",
    mend: 'Add the hours to the operation, or give the line hours with a reason.',
  },
  {
    code: 'includes-cycle',
    title: 'Operation that includes itself',
    why: 'When each of two operations includes the other, both would be free. Neither is, until one of them gives way.',
    example: 'operations:\n  overhaul: {includes: [reseal]}\n  reseal: {includes: [overhaul]}',
    mend: 'Take one of them out of `includes`.',
  },
  {
    code: 'labor-overlap',
    title: 'Shared access billed twice',
    why: 'The hours typed here are those of the operation on its own, access included, and the access is already billed with another operation on the job.',
    example:
      'lines:\n  - operation: rr-unit\n  - operation: converter\n    hours: 6.9\n    reason: flat-rate guide',
    mend: 'Leave `hours` out: access steps are then counted once. Or write only the extra time.',
  },
  {
    code: 'operation-included',
    title: 'Operation that another one covers',
    why: 'It costs nothing beside the operation that includes it. Listing both invites a second charge by hand.',
    example: 'lines:\n  - operation: overhaul   # includes: [reseal]\n  - operation: reseal',
    mend: 'Take the line out.',
  },
  {
    code: 'operation-twice',
    title: 'Operation on the job twice',
    why: 'Its own time is billed twice. Two templates that both bring it are the usual reason.',
    example: 'lines:\n  - operation: relearn\n  - operation: relearn',
    mend: 'Take one out, write how often it is done as `quantity`, or say in `reason` why it is done again.',
  },
  {
    code: 'operation-without-rate',
    title: 'Hours without a labor rate',
    why: 'Hours have no price without a rate.',
    example: 'operations:\n  flush: {name: Flush the cooler, work: cooling, hours: 0.8}',
    mend: 'Give the operation a `rate` of the shop, or a flat `price`.',
  },
  {
    code: 'override-without-reason',
    title: 'Book price or time replaced without a reason',
    why: 'Whoever reads the job next, at the counter or in a dispute, has to know why it differs from the book.',
    example: 'lines:\n  - part: TC-B6-R\n    price: 350.00',
    mend: 'Say why in `reason`, or leave the price out.',
  },
  {
    code: 'sublet-not-split',
    title: 'Work bought from others without its costs',
    why: 'Parts and labor are often taxed differently. Without the cost of each, nobody can say how the line is taxed or priced.',
    example: 'lines:\n  - sublet: Radiator repair\n    price: 372.00\n    reason: as agreed',
    mend: 'Write `labor-cost` and `parts-cost` from the bill of the other shop.',
  },
  {
    code: 'sublet-without-markup',
    title: 'Work bought from others sold at cost',
    why: 'The shop stands behind this work, and shop.yaml says nothing of what it adds for that.',
    example: 'lines:\n  - sublet: Radiator repair\n    labor-cost: 310.00',
    mend: 'Add `sublet: {markup: 20%}` to shop.yaml, or give the line a price with a reason.',
  },
];
