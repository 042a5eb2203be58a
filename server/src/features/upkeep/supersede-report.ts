/** What writing successors does, and what it leaves to a person. */
import { ONE } from '../../../../schemas/values/decimal.ts';
import { cell, plural, type Report } from '../../upkeep/report/report.ts';
import type { Supersession } from './supersede.ts';

export function supersessionReport({ successions }: Supersession): Report {
  const places = successions.reduce((count, { replaced }) => count + replaced.length, 0);
  return {
    title: 'Replaced numbers',
    lead: [
      successions.length === 0
        ? 'No number that has been replaced is named anywhere but in its own chain.'
        : `${plural(successions.length, 'replaced number')} still named; ${places === 0 ? 'nothing to write' : `successors to write in ${plural(places, 'job, template or kit', 'jobs, templates and kits')}`}.`,
    ],
    tables: [
      {
        title: 'To write',
        columns: [{ head: 'Number' }, { head: 'Successor' }, { head: 'In' }, { head: 'See to' }],
        rows: successions
          .filter(({ replaced }) => replaced.length > 0)
          .map(({ from, to, factor, needs, kit, replaced }) => [
            cell(from),
            cell(factor.eq(ONE) ? to : `${to}, ${factor} for one`),
            cell(replaced.join(', ')),
            cell([...needs, ...(kit ? ['it is a kit: take lines out that it holds'] : [])].join('; ')),
          ]),
      },
      {
        title: 'Left as they are',
        columns: [{ head: 'Number' }, { head: 'In' }, { head: 'Why' }],
        rows: successions.flatMap(({ from, left }) =>
          left.map(({ where, why, at }) => [cell(from), cell(where, at), cell(why)]),
        ),
      },
    ],
  };
}
