/** What-if as a report, as rows and as JSON. */
import { type Decimal, dec, round, ZERO } from '../../../../schemas/values/decimal.ts';
import { relative } from '../../book/paths.ts';
import type { Estimates } from '../../estimate/estimates.ts';
import { placeIn } from '../jobs.ts';
import { moneyOf, signed } from '../lock/report.ts';
import { cell, plural, type Report, type Table } from '../report/report.ts';
import { crossingsOf } from './crossings.ts';
import type { Changed } from './settings.ts';
import { OVER, type WhatIf, type WhatIfRow } from './what-if.ts';

export function isMoved({ before, after }: WhatIfRow): boolean {
  return !before.total.eq(after.total) || !before.profit.eq(after.profit);
}

/** `about`: what is changed, in words. */
export function whatIfReport(estimates: Estimates, found: WhatIf, about: readonly string[]): Report {
  const { book } = estimates;
  const money = moneyOf([...book.shops()].map(({ uri }) => book.shopOf(uri)?.shop)[0]);
  const moved = found.rows.filter(isMoved);
  const held = found.rows.filter((row) => row.locked && !isMoved(row));
  const crossing = found.rows.filter((row) => crossingsOf(row).length > 0);
  const rates = [found.before.rate, found.after.rate];
  const each: Table = {
    title: found.over === 'templates' ? 'Templates' : 'Jobs',
    note:
      found.over === 'templates'
        ? undefined
        : 'An option that is not chosen yet counts when it is the first.',
    columns: [
      { head: found.over === 'templates' ? 'Template' : 'Job' },
      { head: 'Option' },
      { head: 'Total now', figure: true },
      { head: 'Then', figure: true },
      { head: 'Difference', figure: true },
      { head: 'Gross profit', figure: true },
      { head: 'Labor rate then', figure: true },
      { head: 'Watch' },
    ],
    rows: found.rows
      .filter((row) => isMoved(row) || crossingsOf(row).length > 0)
      .sort((a, b) => changeOf(b).abs().cmp(changeOf(a).abs()))
      .map((row) => {
        const print = moneyOf(book.shopOf(row.file.uri)?.shop);
        return [
          cell(row.name, placeIn(row.file, row.option === undefined ? ['id'] : ['options', row.option])),
          cell(row.option ?? ''),
          cell(print(row.before.total)),
          cell(print(row.after.total)),
          cell(signed(print, changeOf(row))),
          cell(signed(print, row.after.profit.minus(row.before.profit))),
          cell(row.after.rate ? print(row.after.rate) : ''),
          cell(crossingsOf(row).join('; ')),
        ];
      }),
    sum: [
      cell('All'),
      cell(''),
      cell(money(found.before.total)),
      cell(money(found.after.total)),
      cell(signed(money, found.after.total.minus(found.before.total))),
      cell(signed(money, found.after.profit.minus(found.before.profit))),
      cell(found.after.rate ? money(found.after.rate) : ''),
      cell(''),
    ],
  };
  return {
    title: 'What if',
    lead: [
      ...about,
      `Over ${OVER[found.over]}: ${found.rows.length}. ${moved.length === 0 ? 'None of them moves.' : `${moved.length} move; together ${signed(money, found.after.total.minus(found.before.total))}${percentOf(found.before.total, found.after.total)}, gross profit ${signed(money, found.after.profit.minus(found.before.profit))}.`}`,
      ...(rates[0] && rates[1] && !rates[0].eq(rates[1])
        ? [`An hour sold would bring ${money(rates[1])}; it brings ${money(rates[0])} now.`]
        : []),
      ...(held.length > 0
        ? [`${plural(held.length, 'job')} with locked prices ${held.length === 1 ? 'does' : 'do'} not move.`]
        : []),
      ...(crossing.length > 0
        ? [
            `${plural(crossing.length, 'job')} to watch: over a limit or under a floor. Check your local rules before a customer is charged more.`,
          ]
        : []),
    ],
    tables: [
      each,
      {
        title: 'Templates that cannot be priced by themselves',
        columns: [{ head: 'Template' }, { head: 'Why' }],
        rows: found.leftOut.map(({ name, why }) => [cell(name), cell(why)]),
      },
    ],
  };
}

/** Settings in words: `rates.bench.hourly in common/shop.yaml: 155.00 → 165.00`. */
export function changedInWords(root: string, changed: readonly Changed[]): string[] {
  const told = changed
    .slice(0, 8)
    .map(
      ({ uri, path, was, now }) =>
        `${path.join('.')} in ${relative(root, uri)}: ${was || 'nothing'} → ${now}`,
    );
  return changed.length > 8 ? [...told, `and ${changed.length - 8} more figures`] : told;
}

function changeOf({ before, after }: WhatIfRow): Decimal {
  return after.total.minus(before.total);
}

export function percentOf(was: Decimal, now: Decimal): string {
  if (was.eq(ZERO)) return '';
  const share = round(now.minus(was).div(was).times(dec('100')), 1);
  return ` (${share.gt(ZERO) ? '+' : ''}${share}%)`;
}

export const WHAT_IF_COLUMNS = [
  'name',
  'option',
  'locked',
  'total-before',
  'total-after',
  'total-difference',
  'profit-before',
  'profit-after',
  'profit-difference',
  'rate-before',
  'rate-after',
  'watch',
] as const;

export const WHAT_IF_FIGURES = WHAT_IF_COLUMNS.filter((name) => /^(?:total|profit|rate)-/.test(name));

export function whatIfRows({ rows }: WhatIf): Record<(typeof WHAT_IF_COLUMNS)[number], string>[] {
  return rows.map((row) => ({
    name: row.name,
    option: row.option ?? '',
    locked: row.locked ? 'yes' : 'no',
    'total-before': row.before.total.toString(),
    'total-after': row.after.total.toString(),
    'total-difference': changeOf(row).toString(),
    'profit-before': row.before.profit.toString(),
    'profit-after': row.after.profit.toString(),
    'profit-difference': row.after.profit.minus(row.before.profit).toString(),
    'rate-before': row.before.rate?.toString() ?? '',
    'rate-after': row.after.rate?.toString() ?? '',
    watch: crossingsOf(row).join('; '),
  }));
}

export function whatIfJson(found: WhatIf) {
  const sums = ({ total, profit, rate }: WhatIf['before']) => ({
    total: total.toString(),
    profit: profit.toString(),
    rate: rate?.toString() ?? null,
  });
  return {
    over: found.over,
    before: sums(found.before),
    after: sums(found.after),
    rows: whatIfRows(found).map(({ watch, ...row }, i) => ({ ...row, watch: crossingsOf(found.rows[i]!) })),
    leftOut: found.leftOut,
  };
}
