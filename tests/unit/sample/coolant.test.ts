/**
 * The coolant job of the sample, with everything: no warning. Without any one thing that is required: one warning,
 * which names it, says why, and names what would fill it.
 * Required work after coolant: GLY-01, GLY-03, GLY-04 (maker service manuals as cited in the sample's rules).
 */
import { describe, expect, it } from 'vitest';
import { type FileEdits, removeAt } from '../../../server/src/features/edits.ts';
import type { Requirement } from '../../../server/src/work/model.ts';
import { alarms, openSample } from './sample.ts';

const { book, estimates } = openSample();
const file = book.definition('job', 'J-1042')!.facts.file;

/** As it was when the estimate was handed over: what the work left on paper would prove that it was done. */
for (const key of ['records', 'completed', 'authorizations']) apply(removeAt(file, [key]));
const text = file.source.text();

const requirements = () => estimates.of(file)!.chosen!.work.requirements;
const same = (one: Requirement) => requirements().find((other) => other.id === one.id);

/** What the chosen option is asked for and has; where one of several would do, each of them is asked for by name as well. */
const met = requirements().filter(
  (one) => one.kind === 'requires' && one.state === 'met' && one.roles.length === 1,
);

function apply(edits: FileEdits): void {
  if (!edits) throw new Error('this cannot be removed');
  book.edit(
    file.uri,
    edits.map(({ range, newText }) => ({ range, text: newText })),
  );
}

/** Takes away every line that meets a requirement, one after the other. */
function takeAway(requirement: Requirement): void {
  for (let now = same(requirement); now?.state === 'met'; now = same(requirement))
    apply(removeAt(file, now.by[0]!.path));
}

describe('coolant in the fluid', () => {
  it('asks for what makers ask for', () => {
    const roles = met.flatMap((one) => one.roles);
    expect(roles).toEqual(
      expect.arrayContaining([
        'torque-converter',
        'friction-set',
        'filter',
        'radiator',
        'cooler-flush',
        'flow-test',
      ]),
    );
  });

  it.each(met.map((one) => [one.roles.join(' or '), one] as const))(
    'warns once when %s is taken away',
    (_, requirement) => {
      takeAway(requirement);
      const found = alarms(estimates, file).filter(
        ({ problem }) => JSON.stringify(problem.data?.roles) === JSON.stringify(requirement.roles),
      );
      book.put(file.uri, text);
      expect(found.length).toBe(1);
      const { problem } = found[0]!;
      expect(problem.code).toBe('missing-work');
      expect(problem.data?.fillers).not.toEqual([]);
      expect(
        requirement.asked.some((one) => problem.message.includes(one.because.trim().split('. ')[0]!)),
      ).toBe(true);
    },
  );

  it('is clean again when everything is back', () => {
    expect(alarms(estimates, file)).toEqual([]);
  });
});
