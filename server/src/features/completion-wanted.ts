/** What the job at hand lacks: offered before all else. */
import type { Context } from './completion-context.ts';

export interface Wanted {
  readonly role: ReadonlySet<string>;
  readonly record: ReadonlySet<string>;
  readonly finding: ReadonlySet<string>;
}

export function wantedBy({ ask, file, levels }: Context): Wanted {
  const wanted = { role: new Set<string>(), record: new Set<string>(), finding: new Set<string>() };
  const estimate = ask.estimates.of(file);
  if (!estimate) return wanted;
  const here = levels[1]?.step;
  const own = estimate.options.filter((one) => levels[0]?.step === 'options' && one.id === here);
  for (const option of own.length > 0 ? own : estimate.options) {
    for (const one of option.work.requirements) {
      if (one.state !== 'missing') continue;
      if (one.kind === 'requires' || one.kind === 'advises')
        for (const role of one.roles) wanted.role.add(role);
      if (one.record !== undefined) wanted.record.add(one.record);
      if (one.finding !== undefined) wanted.finding.add(one.finding);
    }
  }
  return wanted;
}
