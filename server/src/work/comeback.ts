/** A job that follows an earlier one: what was promised then, and whether the same thing has failed again. */
import type { Problem } from '../../../schemas/problem.ts';
import type { Facts } from './facts.ts';
import type { Catalog, ComebackReport } from './model.ts';
import { list } from './say.ts';
import { planInForce } from './warranty.ts';

export function comebackReport(facts: Facts, catalog: Catalog): ComebackReport | undefined {
  const { earlier, job } = facts.input;
  if (!earlier) return undefined;
  const plan = earlier.plan === undefined ? undefined : catalog.warranty(earlier.plan);
  const claim = { date: job.opened, odometer: job.vehicle?.odometer };
  const state =
    plan && earlier.completed
      ? planInForce(plan, { completed: earlier.completed, odometer: earlier.odometer }, claim)
      : undefined;
  const here = [...facts.readings].filter(([, readings]) =>
    readings.some((one) => one.verdict.judged === 'beyond'),
  );
  const sameFindings = here.map(([id]) => id).filter((id) => earlier.findings.includes(id));
  return {
    earlier: earlier.id,
    inForce: state?.inForce ?? false,
    expiredBy: state?.expiredBy ?? [],
    coversLabor: Boolean(state?.inForce) && plan?.covers !== 'parts-only',
    sameFindings,
    sameCause: sameFindings.length > 0 && sameCause(job.cause, earlier.cause),
  };
}

type Cause = Facts['input']['job']['cause'];

function sameCause(now: Cause, then: Cause): boolean {
  if (!now || !then) return false;
  if (now.finding !== undefined && then.finding !== undefined) return now.finding === then.finding;
  const plain = (text: string) =>
    text
      .toLowerCase()
      .replaceAll(/[^\p{L}\p{N}]+/gu, ' ')
      .trim();
  return plain(now.what) === plain(then.what);
}

export function comebackProblems(
  report: ComebackReport | undefined,
  facts: Facts,
  catalog: Catalog,
): Problem[] {
  if (!report) return [];
  const { job } = facts.input;
  const names = list(report.sameFindings.map((id) => catalog.finding(id)?.name ?? id));
  if (report.sameCause) {
    return [
      {
        code: 'same-cause-again',
        severity: 'warning',
        message: `${report.earlier} had the same finding (${names}) and names the same cause, yet it has come back. Look for what was missed, and write a new cause.`,
        path: ['cause'],
        onKey: true,
        related: [{ kind: 'job', id: report.earlier, message: 'the earlier job' }],
      },
    ];
  }
  if (report.sameFindings.length === 0 || job.cause) return [];
  return [
    {
      code: 'comeback-without-cause',
      severity: 'warning',
      message: `${report.earlier} had the same finding (${names}). Write the cause of failure, so that it is not the same repair again.`,
      path: ['follows'],
      related: [{ kind: 'job', id: report.earlier, message: 'the earlier job' }],
    },
  ];
}
