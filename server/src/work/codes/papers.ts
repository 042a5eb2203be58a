/** Pages on consent, papers and words of legal weight. */
import type { CodePage } from '../../../../schemas/problem.ts';

export const PAPER_CODES: readonly CodePage[] = [
  {
    code: 'over-authorized',
    title: 'The job goes beyond what was authorized',
    why: 'Where consent has a limit, what lies above it need not be paid.',
    example:
      'authorizations:\n  - { on: 2026-03-05T10:20, by: the owner, how: signature, amount: 4000.00 }\n# and lines that come to 4350.00',
    mend: 'Ask, and write the new authorization with its total. Check your local rules.',
  },
  {
    code: 'not-authorized',
    title: 'The work is done and nobody authorized it',
    why: 'Without consent on record the bill may be worth nothing.',
    example: 'completed: 2026-03-12\nauthorizations: []',
    mend: 'Write who authorized it, when, how, and how much.',
  },
  {
    code: 'estimate-not-written',
    title: 'Authorized before the estimate was in writing',
    why: 'Above a certain sum the law wants the estimate on paper first.',
    example:
      'authorizations:\n  - { on: 2026-03-05T10:20, by: the owner, how: telephone, amount: 4000.00 }\n# and no `presented`',
    mend: 'Hand the estimate over and write the day in `presented`. Check your local rules.',
  },
  {
    code: 'authorization-incomplete',
    title: 'An authorization that does not say everything',
    why: 'What it has to record is named by law, so that it can be proven later.',
    example:
      'authorizations:\n  - { on: 2026-03-05T10:20, by: the owner, how: telephone, amount: 4000.00 }      # which number?',
    mend: 'Write what the message names. Check your local rules.',
  },
  {
    code: 'other-option-authorized',
    title: 'Another option was authorized than the one chosen',
    why: 'Consent was given to something else.',
    example:
      'chosen: exchange\nauthorizations:\n  - { option: overhaul, amount: 4000.00, by: the owner, how: signature, on: 2026-03-05T10:20 }',
    mend: 'Ask again, or correct `chosen`.',
  },
  {
    code: 'declined-on-job',
    title: 'Declined work is still on the job',
    why: 'The owner said no to it and would be charged for it.',
    example:
      'authorizations:\n  - { declined: [radiator-hoses], amount: 4000.00, by: the owner, how: signature, on: 2026-03-05T10:20 }\nlines:\n  - part: HOS-B6      # radiator hoses',
    mend: 'Take the line off, or write the new consent.',
  },
  {
    code: 'share-without-consent',
    title: 'The customer has not agreed to what the payer leaves',
    why: 'A payer decides after the unit is open. What it does not cover is then owed by someone who never said yes.',
    example: 'payers:\n  - { payer: covenant }      # covers no diagnosis and no fluid',
    mend: "Have the customer's share authorized before teardown.",
  },
  {
    code: 'paper-lacks',
    title: 'A paper lacks what the law wants on it',
    why: 'An estimate or an invoice that is not complete may not be enforceable, and may cost a fine.',
    example: 'teardown:\n  lines: [{ operation: teardown }]      # no reassembly price, no days, no notice',
    mend: 'Write what the message names. Check your local rules.',
  },
  {
    code: 'word-not-earned',
    title: 'A word of legal weight that the lines do not earn',
    why: 'Rebuilt, overhauled and remanufactured are promises. Law and trade say what has to be renewed before they may be used.',
    example:
      'options:\n  overhaul: { name: Rebuilt transmission, kind: overhaul }      # and no filter on the job',
    mend: 'Add what is missing, or call it a repair. Check your local rules.',
  },
  {
    code: 'condition-not-said',
    title: 'A part that does not say whether it is new',
    why: 'Many places want the word at every part. Where the law reads silence as new, a silent used part is a false promise.',
    example: 'parts:\n  TC-B6-R: { name: Torque converter, kind: converter }',
    mend: 'Write `condition` at the part or on the line.',
  },
];
