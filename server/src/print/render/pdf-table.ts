/** Tables of a PDF: leaves with their carried totals, heads on every page. */
import type { Content, CustomTableLayout, TableCell } from 'pdfmake/interfaces.js';
import { leavesOf } from '../carry.ts';
import type { Block, Row, Table } from '../doc.ts';
import { INK } from '../draw/svg.ts';
import { LINE, printable, SOFT, words } from './pdf-parts.ts';

const LAYOUT: CustomTableLayout = {
  hLineWidth: (i, node) => (i === 0 || i === node.table.body.length ? 0 : i === 1 ? 0.9 : 0.4),
  vLineWidth: () => 0,
  hLineColor: (i) => (i === 1 ? INK : LINE),
  paddingLeft: (i) => (i === 0 ? 0 : 8),
  paddingRight: () => 0,
  paddingTop: () => 2.5,
  paddingBottom: () => 2.5,
};

export function table(one: Table): Content {
  const leaves = leavesOf(one);
  return {
    stack: leaves.map(
      (leaf, i): Content => ({
        ...(i < leaves.length - 1 ? { pageBreak: 'after' as const } : {}),
        margin: [0, 3, 0, 3],
        layout: LAYOUT,
        table: {
          headerRows: 1,
          dontBreakRows: true,
          keepWithHeaderRows: 1,
          widths: one.columns.map((_, column) => (column === 0 ? '*' : 'auto')),
          body: [
            one.columns.map(
              ({ title, align }): TableCell => ({
                text: printable(title),
                alignment: align,
                fontSize: 8,
                color: SOFT,
              }),
            ),
            ...[leaf.brought, ...leaf.rows, leaf.carried].flatMap((row) => (row ? [rowCells(row, one)] : [])),
          ],
        },
      }),
    ),
  };
}

/** Holds a table of several leaves, whose first one needs a page of its own. */
export function isLeafed(one: Block): boolean {
  if (one.block === 'table') return leavesOf(one).length > 1;
  return (one.block === 'section' || one.block === 'part') && one.blocks.some(isLeafed);
}

function rowCells(row: Row, { columns }: Table): TableCell[] {
  if (row.as === 'group')
    return [
      {
        text: printable(row.cells[0] ?? ''),
        bold: true,
        fontSize: 10.5,
        colSpan: columns.length,
        margin: [0, 5, 0, 0],
      },
      ...columns.slice(1).map((): TableCell => ({ text: '' })),
    ];
  const total = row.as === 'total';
  const style = total ? { bold: true, fontSize: 11 } : {};
  const summed = row.as !== 'row';
  const label = summed && columns.length > 2 ? ({ alignment: 'right' } as const) : {};
  const first: TableCell = {
    stack: [
      {
        text: [
          { text: printable(row.cells[0] ?? ''), ...style },
          ...(row.aside === undefined
            ? []
            : [{ text: `  ${printable(row.aside)}`, color: SOFT, fontSize: 8.5 }]),
        ],
      },
      ...(row.note === undefined ? [] : [words(row.note, { fontSize: 8, color: SOFT })]),
    ],
    ...label,
  };
  return [
    first,
    ...columns.slice(1).map(
      ({ align }, i): TableCell => ({
        text: printable(row.cells[i + 1] ?? ''),
        alignment: align,
        noWrap: align === 'right',
        ...style,
      }),
    ),
  ];
}
