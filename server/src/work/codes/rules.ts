/** Pages on rules, findings and records that cannot work as they are written. */
import type { CodePage } from '../../../../schemas/problem.ts';

export const RULE_CODES: readonly CodePage[] = [
  {
    code: 'condition-without-finding',
    title: 'A value without a finding',
    why: 'The condition does not say what should have this value, so the rule is left out.',
    example: 'when: { at-least: flakes }',
    mend: 'Write `finding` beside it.',
  },
  {
    code: 'condition-value',
    title: 'A value that the finding cannot have',
    why: 'The condition could never be met as it was meant, so the rule is left out.',
    example:
      'when: { finding: pan-debris, at-least: chips }      # its scale is clean, paste, flakes, pieces',
    mend: 'Write yes or no, a word of the scale, or an amount in a unit that fits.',
  },
  {
    code: 'need-without-role',
    title: 'A need that does not say what',
    why: 'Nothing can meet it.',
    example: 'requires: [{ quantity: 2 }]',
    mend: 'Write `role`, or several under `any-of`.',
  },
  {
    code: 'unreachable-rule',
    title: 'A rule that never holds',
    why: 'Its conditions exclude each other, or no unit family fits them. What it should have asked for is never asked.',
    example: 'when: { all: [{ finding: pan-debris, is: clean }, { finding: pan-debris, at-least: flakes }] }',
    mend: 'Correct the condition, or take the rule out.',
  },
  {
    code: 'rule-circle',
    title: 'A rule that hangs on its own opposite',
    why: 'Through `none` it would hold exactly when it does not, so it cannot be asked and is left out.',
    example: 'rules:\n  a: { when: { none: [{ rule: b }] } }\n  b: { when: { rule: a } }',
    mend: 'Take one of the rules out of the condition of another.',
  },
  {
    code: 'replaced-in-circle',
    title: "Rules that stand in each other's place",
    why: 'Each would switch the other off. All of them stay on.',
    example: 'rules:\n  a: { instead-of: b }\n  b: { instead-of: a }',
    mend: 'Take one `instead-of` out.',
  },
  {
    code: 'rules-contradict',
    title: 'Rules that ask for opposite things',
    why: 'A job that meets both cannot be done right.',
    example:
      'rules:\n  a: { when: { finding: x }, requires: [{ role: cooler-flush }] }\n  b: { when: { finding: x, trait: bypass }, forbids: [cooler-flush] }',
    mend: 'Give the first rule a condition that leaves out the jobs of the second.',
  },
  {
    code: 'rules-may-contradict',
    title: 'Rules that would contradict each other on one job',
    why: 'Nothing in their conditions keeps them apart, so one day a job may meet both.',
    example:
      'rules:\n  a: { when: { finding: x }, requires: [{ role: cooler-flush }] }\n  b: { when: { finding: y }, forbids: [cooler-flush] }',
    mend: 'Add `none` to one of them, if both can be found on one unit.',
  },
  {
    code: 'same-rule',
    title: 'Two rules that say the same',
    why: 'The next change will be made in one of them only.',
    example:
      'rules:\n  a: { when: { finding: x }, requires: [{ role: filter }] }\n  b: { when: { all: [{ finding: x }] }, requires: [{ role: filter }] }',
    mend: 'Take one of them out.',
  },
  {
    code: 'catalog-gap',
    title: 'A rule asks for something the book does not sell',
    why: 'A job on that family would be told of missing work and could not add it.',
    example:
      'rules:\n  a: { when: { unit: [dogwood-v] }, requires: [{ role: cvt-belt }] }      # no part has this role',
    mend: 'Add a part or an operation with the role that fits the family, or list its `components` without it.',
  },
  {
    code: 'role-not-sold',
    title: 'A condition on a role that the book does not sell',
    why: 'Only a sublet or free line that names the role itself can meet it.',
    example: 'when: { role: thermal-bypass }',
    mend: 'Give a part or an operation the role, or check its spelling.',
  },
  {
    code: 'finding-without-dimension',
    title: 'A measurement that does not say what it measures',
    why: 'Its readings cannot be read.',
    example: 'findings:\n  end-play: { name: End play, kind: measurement }',
    mend: 'Write `dimension`.',
  },
  {
    code: 'finding-without-scale',
    title: 'A scale without words',
    why: 'No reading could be on it.',
    example: 'findings:\n  pan-debris: { name: Metal in the pan, kind: scale }',
    mend: 'Write `scale` with its words from best to worst.',
  },
  {
    code: 'scale-word-twice',
    title: 'A word that is on the scale twice',
    why: 'How bad it is depends on which of the two is meant.',
    example: 'scale: [clean, paste, clean]',
    mend: 'Take one out.',
  },
  {
    code: 'scale-word-unknown',
    title: 'The last normal word is not on the scale',
    why: 'Without it no reading can be told to be normal.',
    example: 'scale: [clean, paste, flakes]\nnormal: dust',
    mend: 'Write one of the words of the scale.',
  },
  {
    code: 'finding-field-unused',
    title: 'A field that this kind of finding does not use',
    why: 'It has no effect, though it looks as if it had.',
    example: 'findings:\n  coolant-in-fluid: { kind: yes-no, scale: [none, some] }',
    mend: 'Take it out, or change the kind.',
  },
  {
    code: 'record-field-unknown',
    title: 'A field or figure that the record does not have',
    why: 'It can never be filled in or counted.',
    example: 'records:\n  cooler-flush: { needs: [minutes] }      # the field is called duration',
    mend: 'Write a field of the record, or a figure of its arithmetic.',
  },
  {
    code: 'record-bound',
    title: 'A least or most that cannot be read',
    why: 'Nothing is held against it.',
    example: 'least: { fluid-temperature: 140 psi }',
    mend: 'Write an amount in a unit of the field.',
  },
  {
    code: 'record-measures',
    title: 'A record that should measure what has no measure',
    why: 'Only findings of the kind measurement have readings in a record.',
    example: 'records:\n  vacuum-test: { measures: [valve-bore-worn] }      # a yes-no finding',
    mend: 'Name a measurement.',
  },
  {
    code: 'record-not-judged',
    title: 'A test without a limit to judge it',
    why: 'Its figure is written down and held against nothing.',
    example: 'records:\n  flow-test: { counted: flow-test }',
    mend: 'Name under `measures` the finding whose limit the unit families have.',
  },
  {
    code: 'reason-both-ways',
    title: 'A finding that is a reason and none',
    why: 'The two lists are there to tell them apart.',
    example: 'accepted: [converter-blue]\nnot-accepted: [converter-blue]',
    mend: 'Take it out of one of them.',
  },
];
