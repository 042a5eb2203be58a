/** Pages on work that is missing, forbidden or declined. */
import type { CodePage } from '../../../../schemas/problem.ts';

export const NEED_CODES: readonly CodePage[] = [
  {
    code: 'missing-work',
    title: 'Required work is missing',
    why: 'A finding or a line of the job calls for it by a rule. An estimate without it is too low, or the unit comes back.',
    example: 'findings:\n  coolant-in-fluid: yes\nlines: []      # no converter, no plates, no seals',
    mend: 'Add one of the parts or operations named in the message. If the owner declines it, write a waiver with the reason, who and when.',
  },
  {
    code: 'advised-work',
    title: 'Recommended work is not on the job',
    why: 'A rule recommends it. The owner may leave it out, but should have heard of it.',
    example: 'findings:\n  coolant-in-fluid: yes\nlines: []      # the rule advises new radiator hoses',
    mend: 'Offer it as a line with `optional: yes`, or write a waiver so that the paper shows it was declined.',
  },
  {
    code: 'forbidden-work',
    title: 'Work that must not be done here',
    why: 'A rule forbids it for what was found: it does not cure the fault, or it does harm.',
    example: 'findings:\n  coolant-in-fluid: yes\nlines:\n  - operation: flush-and-return',
    mend: 'Take the line off. If it is agreed on all the same, write a waiver that names the rule.',
  },
  {
    code: 'forbidden-reuse',
    title: 'Something is reused that must not be',
    why: 'A rule wants a new one for what was found, however good the old one looks.',
    example: 'findings:\n  water-in-fluid: yes\nreuse: [torque-converter]',
    mend: 'Take it out of `reuse` and add the part.',
  },
  {
    code: 'missing-finding',
    title: 'Something has to be looked at or measured first',
    why: 'What is sold depends on it. Parts replaced before it is measured are replaced on a guess.',
    example: 'findings:\n  binds-in-turns: yes\nlines:\n  - part: TRANSFER-CASE      # no tire was measured',
    mend: 'Measure it and write the reading under `findings`.',
  },
  {
    code: 'wrong-order',
    title: 'Work is listed in the wrong order',
    why: 'The bench sheet follows the lines. What is done too early has to be done again.',
    example:
      'lines:\n  - operation: flush-cooler\n  - operation: fit-radiator      # the flush cleans lines that the old radiator fills again',
    mend: 'Move the line named in the message up.',
  },
  {
    code: 'required-but-optional',
    title: 'Required work is marked optional',
    why: 'The owner is told that it may be left out, although a rule requires it.',
    example: 'lines:\n  - part: TC-B6-R\n    optional: yes',
    mend: 'Take `optional` off the line, or write a waiver when it is declined.',
  },
  {
    code: 'rules-disagree',
    title: 'Rules ask for opposite things on this job',
    why: 'One rule requires what another forbids, so whatever the job does is wrong.',
    example:
      'rules:\n  a: { when: { finding: x }, requires: [{ role: cooler-flush }] }\n  b: { when: { finding: y }, forbids: [cooler-flush] }\n# and a job that has both x and y',
    mend: 'Give one of the two rules a condition that keeps it off such jobs.',
  },
  {
    code: 'rules-left-out',
    title: 'The job was checked without some rules',
    why: 'These rules have a mistake, so nobody knows whether the job is complete.',
    example:
      'rules:\n  a: { when: { finding: pan-debris, at-least: chips } }      # no such word on its scale',
    mend: 'Open the rules named beside the message and mend them.',
  },
  {
    code: 'unsigned-waiver',
    title: 'A waiver without a signature',
    why: 'Required work was declined. Without a signature it is one word against another when the unit fails.',
    example: 'waivers:\n  - { role: cooler, reason: price, by: the owner, on: 2026-03-05 }',
    mend: 'Have it signed and write `signed: yes`.',
  },
  {
    code: 'waiver-against-law',
    title: 'A waiver of something the law asks for',
    why: 'A customer can decline what a shop or a maker asks for, but not what the law does.',
    example: 'waivers:\n  - { record: external-check, reason: no time, by: the owner, on: 2026-03-05 }',
    mend: 'Take the waiver out and do what is asked. Check your local rules.',
  },
  {
    code: 'no-reason-to-replace',
    title: 'Replaced for a reason that is none',
    why: 'Makers name findings that alone do not condemn this part. Selling it for one of them invites a dispute.',
    example: 'findings:\n  fluid-discolored: yes\nlines:\n  - { part: TC-B6-R, for: fluid-discolored }',
    mend: 'Name the finding that is a reason, or take the part off.',
  },
  {
    code: 'reason-not-found',
    title: 'A line is for a finding that the job does not have',
    why: 'The owner reads why each line is there. Here the job itself says otherwise.',
    example: 'findings:\n  pump-worn: no\nlines:\n  - { part: PU-B6, for: pump-worn }',
    mend: 'Write the finding with its reading, or name the one that calls for the line.',
  },
  {
    code: 'core-at-risk',
    title: 'A core may earn no credit',
    why: 'What was found on the old part may cost its core credit. The owner should hear of it before choosing.',
    example:
      'findings:\n  case-broken: yes\noptions:\n  exchange: { lines: [{ part: EX-B6 }] }      # sold with a core charge',
    mend: 'Show the total with and without the credit, and ask the supplier.',
  },
  {
    code: 'wrong-fluid',
    title: 'Fluid of another class than the unit takes',
    why: 'Clutches are made to grip in one class of fluid. Another makes them shudder or slip.',
    example: 'unit: birch-6      # takes class B\nlines:\n  - { fill: dry, part: ATF-A }',
    mend: 'Use a fluid of the class that the unit family names.',
  },
  {
    code: 'fluid-class-unknown',
    title: 'A fluid that does not say its class',
    why: 'Whether it suits the unit cannot be checked.',
    example: 'parts:\n  ATF-X: { name: Fluid, kind: fluid }',
    mend: 'Write `fluid-class` at the part.',
  },
  {
    code: 'fluid-short',
    title: 'Not enough fluid',
    why: 'The unit comes back empty. Billing a pan service gives the rest away.',
    example: 'options:\n  overhaul: { lines: [{ fill: service, part: ATF-B }] }',
    mend: 'Write `fill: dry`, with `loss` for flush and flow test, or the quantity.',
  },
  {
    code: 'fluid-excess',
    title: 'More fluid than the unit takes',
    why: 'Usually a slip of the unit: quarts for liters, a case for a quart.',
    example: 'lines:\n  - { part: ATF-B, quantity: 130 }',
    mend: 'Check the quantity and the selling unit of the part.',
  },
];
