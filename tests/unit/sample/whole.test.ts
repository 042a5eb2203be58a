import { describe, expect, it } from 'vitest';
import { runCases } from '../../../server/src/estimate/cases.ts';
import { problemsOf } from '../../../server/src/estimate/problems.ts';
import { alarms, openSample } from './sample.ts';

const { book, estimates } = openSample();
const jobs = [...book.filesOf('job')];

describe('the sample book', () => {
  it('has at least ten complete jobs of different failures', () => {
    expect(jobs.length).toBeGreaterThanOrEqual(10);
  });

  it.each(jobs.map((file) => [String(file.value.id), file] as const))(
    'gives no false alarm on %s',
    (_, file) => {
      expect(alarms(estimates, file).map(({ problem }) => `${problem.code}: ${problem.message}`)).toEqual([]);
      expect(estimates.of(file)?.options.every((one) => one.priced.complete)).toBe(true);
    },
  );

  it('has nothing wrong but the drops at the edges of its price bands, which it is there to show', () => {
    const others = [...book.files()]
      .filter((file) => file.kind?.kind !== 'job')
      .flatMap((file) => problemsOf(estimates, file))
      .filter(({ problem }) => problem.severity !== 'information' && problem.severity !== 'hint');
    expect([...new Set(others.map(({ problem }) => problem.code))]).toEqual(['band-edge-drop']);
    expect(others).toHaveLength(4);
  });

  it('comes out as its own cases say', () => {
    const results = [...book.filesOf('cases')].flatMap((file) => [...runCases(estimates, file)]);
    expect(results.length).toBeGreaterThan(140);
    expect(results.filter((one) => one.mismatches.length > 0)).toEqual([]);
  });

  it('covers every rule with a case that it holds in', () => {
    const ids = [...book.registry.ids('rule')];
    const held = new Set<string>();
    for (const file of book.filesOf('cases')) {
      for (const result of runCases(estimates, file)) for (const id of result.rules) held.add(id);
    }
    expect(ids.filter((id) => !held.has(id))).toEqual([]);
  });
});
