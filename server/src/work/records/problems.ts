/** Records that are on the job and do not pass, or are not filled in. */
import type { Problem } from '../../../../schemas/problem.ts';
import type { Facts } from '../facts.ts';
import type { Catalog, RecordReport } from '../model.ts';
import { list } from '../say.ts';

/** The latest of each kind; what an earlier one said has been done again. */
export function recordProblems(facts: Facts, catalog: Catalog): Problem[] {
  return [...facts.records.values()].flatMap((report) => {
    const kind = catalog.record(report.record);
    const name = kind?.name ?? report.record;
    return [...unfilled(report, name, facts), ...failing(report, name)];
  });
}

function unfilled(report: RecordReport, name: string, facts: Facts): Problem[] {
  const faults = report.faults.filter((fault) => fault.sort === 'unfilled');
  if (faults.length === 0) return [];
  return [
    {
      code: 'record-unfinished',
      severity: facts.input.job.completed ? 'warning' : 'information',
      message: `${name} is not finished: ${list(faults.map((fault) => fault.text))}.`,
      path: report.path,
    },
  ];
}

function failing(report: RecordReport, name: string): Problem[] {
  return report.faults
    .filter((fault) => fault.sort === 'fails')
    .map(({ text, path }): Problem => {
      return { code: 'record-fails', severity: 'error', message: `${name} does not pass: ${text}.`, path };
    });
}
