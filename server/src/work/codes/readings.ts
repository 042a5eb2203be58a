/** Pages on findings, readings and records. */
import type { CodePage } from '../../../../schemas/problem.ts';

export const READING_CODES: readonly CodePage[] = [
  {
    code: 'bad-reading',
    title: 'A reading that cannot be read',
    why: 'Rules cannot look at it, so the job is checked as if nothing had been found.',
    example: 'findings:\n  pan-debris: chips      # its scale is clean, paste, flakes, pieces',
    mend: 'Write yes or no, a word of the scale, or an amount with its unit, as the finding asks.',
  },
  {
    code: 'reading-without-condition',
    title: 'A reading whose condition is not written down',
    why: 'The limit depends on it: cold fluid flows less, so a flow says nothing without its temperature.',
    example: 'findings:\n  cooler-flow: 0.9 gal/min',
    mend: 'Write the condition: { value: 0.9 gal/min, at: { fluid-temperature: 86 F } }.',
  },
  {
    code: 'not-testable',
    title: 'A reading outside the conditions of its limit',
    why: 'The table of the unit family has no figure for it, and a guess would pass or fail by chance.',
    example:
      'findings:\n  cooler-flow: { value: 0.5 gal/min, at: { fluid-temperature: 50 F } }      # the table starts at 65 F',
    mend: 'Take the reading again inside the table.',
  },
  {
    code: 'no-limit',
    title: 'A reading that nothing judges',
    why: 'A rule wants to know whether it is normal, but the unit family has no limit for it.',
    example: 'findings:\n  end-play: 0.030 in\n# the unit family has no `limits: { end-play: ... }`',
    mend: 'Add the limit to the unit family, with its source.',
  },
  {
    code: 'below-sensitivity',
    title: 'A negative test is not zero',
    why: 'The test sees nothing below its sensitivity, and less than that can still do harm.',
    example: 'findings:\n  coolant-in-fluid: no      # the kit sees 300 mg/kg and more',
    mend: 'Nothing, if the test is good enough for the question. Otherwise send a sample to a laboratory.',
  },
  {
    code: 'findings-disagree',
    title: 'A finding is written as normal, but it follows from others',
    why: 'One of the two is wrong. The job is checked as if the finding were there.',
    example: 'findings:\n  bearing-failed: yes      # implies metal-inside\n  metal-inside: no',
    mend: 'Correct the reading that is wrong.',
  },
  {
    code: 'missing-record',
    title: 'A record is asked for and not on file',
    why: 'It proves that the work was done and done right. Without it a warranty claim is lost, here or at the supplier.',
    example: 'completed: 2026-03-12\nrecords: []      # no cooler flow test',
    mend: 'Add the record, with its readings and its day. While the job is open this is only a reminder.',
  },
  {
    code: 'record-unfinished',
    title: 'A record with gaps',
    why: 'What it proves hangs on what is not filled in.',
    example: 'records:\n  - { record: flow-test, on: 2026-03-11, volume: 1 qt }      # no duration',
    mend: 'Fill in what the message names.',
  },
  {
    code: 'record-fails',
    title: 'A record that does not pass',
    why: 'A figure is outside its limit, so the work has to be done again before the vehicle leaves.',
    example: 'records:\n  - { record: level-check, fluid-temperature: 60 C }      # the window is 35 to 45 C',
    mend: 'Do the work again and add a new record; the latest one counts.',
  },
  {
    code: 'caution-figure',
    title: 'A figure from which a caution counts',
    why: 'The authority named in the message limits it. Whether that limit holds for this use is theirs to say.',
    example: 'records:\n  - { record: cooler-flush, air-pressure: 50 psi }',
    mend: 'Read what the authority says. A maker may call for such a figure in a procedure of its own.',
  },
  {
    code: 'cause-not-found',
    title: 'The cause is a finding that the job does not have',
    why: 'A cause without a finding has no evidence.',
    example: 'cause: { what: The radiator leaks inside, finding: radiator-leaks-inside }\nfindings: {}',
    mend: 'Write the finding with its reading, or name another.',
  },
  {
    code: 'cause-without-picture',
    title: 'Earlier work by someone else is blamed without a picture',
    why: 'The other shop will deny it, and the part that shows it goes to scrap.',
    example: 'cause: { what: A clamp was left on the cooler line, third-party: yes }',
    mend: 'Add a picture under `pictures` of the cause.',
  },
  {
    code: 'same-cause-again',
    title: 'A comeback with the same finding and the same cause',
    why: 'The cause was named and cured the last time, and it failed again. It was not the cause, or not all of it.',
    example:
      'follows: J-1001\nfindings: { planet-damaged: yes }\ncause: { what: Low lube flow }      # as in J-1001',
    mend: 'Look further, and write what was missed.',
  },
  {
    code: 'comeback-without-cause',
    title: 'A comeback with the same finding and no cause',
    why: 'Without a cause the same repair is done again.',
    example: 'follows: J-1001\nfindings: { planet-damaged: yes }',
    mend: 'Write the cause of failure.',
  },
];
