/** Book health as a report, as rows and as JSON. */

import type { Book } from '../../book/book.ts';
import { relative } from '../../book/paths.ts';
import { cell, plural, type Report } from '../report/report.ts';
import { CHECKS, type Check } from './finding.ts';
import type { Health } from './health.ts';

/** Rows of a table that a person reads; the others are in CSV and JSON. */
const MOST = 40;

export function healthReport(book: Book, { findings, undated }: Health, months: number): Report {
  const byCheck = Map.groupBy(findings, ({ check }) => check);
  const counts = (Object.keys(CHECKS) as Check[]).flatMap((check) => {
    const list = byCheck.get(check) ?? [];
    return list.length === 0 ? [] : [{ check, list }];
  });
  return {
    title: 'Book health',
    lead: [
      counts.length === 0
        ? 'Nothing to put in order.'
        : counts
            .map(({ check, list }) => `${CHECKS[check][0]}: ${list.length}`)
            .join('. ')
            .concat('.'),
      ...(undated > 0
        ? [
            `${plural(undated, 'part')} without a dated price: whether older than ${plural(months, 'month')} cannot be told. \`prices --from DATE\` dates them.`,
          ]
        : []),
    ],
    tables: counts.map(({ check, list }) => ({
      title: CHECKS[check][0],
      note:
        list.length > MOST
          ? `${CHECKS[check][1]} The first ${MOST} of ${list.length}; as CSV or JSON all of them.`
          : CHECKS[check][1],
      columns: [{ head: 'Id' }, { head: 'Name' }, { head: 'What' }, { head: 'Where' }],
      rows: list
        .slice(0, MOST)
        .map(({ id, name, says, at }) => [
          cell(id, at),
          cell(name),
          cell(says),
          cell(`${relative(book.root, at.uri)}:${at.line + 1}`),
        ]),
    })),
  };
}

export const HEALTH_COLUMNS = ['check', 'kind', 'id', 'name', 'what', 'file', 'line'] as const;

export function healthRows(
  book: Book,
  { findings }: Health,
): Record<(typeof HEALTH_COLUMNS)[number], string>[] {
  return findings.map(({ check, kind, id, name, says, at }) => ({
    check,
    kind,
    id,
    name,
    what: says,
    file: relative(book.root, at.uri),
    line: String(at.line + 1),
  }));
}
