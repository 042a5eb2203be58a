/** What the columns of price files are called, so that a file can be taken in as it comes. */
import { columnOf, missingColumn } from '../../book/price-file.ts';

export const FIELDS = ['number', 'name', 'cost', 'list', 'core', 'unit', 'superseded-by'] as const;
export type Field = (typeof FIELDS)[number];

/** Which heading holds which field, as far as somebody has said. */
export type Headings = { readonly [F in Field]?: string | undefined };

/** Plain words of the trade, best first; compared without case, spaces and punctuation. */
const USUAL: Readonly<Record<Field, readonly string[]>> = {
  number: [
    'number',
    'part number',
    'part no',
    'part',
    'part #',
    'item number',
    'item no',
    'item',
    'catalog number',
    'article number',
    'article',
    'stock number',
    'sku',
    'code',
  ],
  name: ['name', 'description', 'part name', 'part description', 'item description', 'desc', 'title'],
  cost: [
    'cost',
    'your cost',
    'net',
    'net price',
    'your net',
    'your price',
    'dealer',
    'dealer net',
    'dealer cost',
    'dealer price',
    'jobber',
    'jobber price',
    'wholesale',
    'unit cost',
    'unit price',
    'price each',
    'price',
  ],
  list: ['list', 'list price', 'retail', 'retail price', 'suggested retail', 'suggested list'],
  core: ['core', 'core charge', 'core price', 'core deposit', 'core value', 'deposit'],
  unit: ['unit', 'per', 'uom', 'um', 'u m', 'unit of measure', 'selling unit', 'sold by', 'price per'],
  'superseded-by': [
    'superseded by',
    'supersedes to',
    'replaced by',
    'replacement',
    'replacement number',
    'new number',
    'new part number',
  ],
};

const bare = (heading: string): string => heading.toLowerCase().replace(/[^\p{L}\p{N}#]+/gu, '');
const usual = new Map(FIELDS.map((field) => [field, USUAL[field].map(bare)]));

/** Whether a row can be the one with the headings: it heads the number, and at least one figure or name. */
export function isHead(record: readonly string[], stated: Headings): boolean {
  const columns = columnsIn(record, stated);
  return columns.has('number') && columns.size > 1;
}

/** Column of each field: under the heading that was said, else under the best of the usual words. */
export function columnsIn(record: readonly string[], stated: Headings): Map<Field, number> {
  const columns = new Map<Field, number>();
  const taken = new Set<number>();
  const take = (field: Field, index: number): void => {
    if (index < 0 || taken.has(index)) return;
    columns.set(field, index);
    taken.add(index);
  };
  for (const field of FIELDS) if (stated[field] !== undefined) take(field, columnOf(record, stated[field]));
  const heads = record.map(bare);
  for (const field of FIELDS) {
    if (stated[field] !== undefined) continue;
    const index = usual
      .get(field)!
      .map((word) => heads.findIndex((one, at) => one === word && !taken.has(at)));
    take(field, index.find((at) => at >= 0) ?? -1);
  }
  return columns;
}

/** What keeps these headings from being read; undefined when nothing does. */
export function headingProblem(record: readonly string[], stated: Headings): string | undefined {
  for (const heading of Object.values(stated))
    if (heading !== undefined && columnOf(record, heading) < 0) return missingColumn(heading, record);
  const columns = columnsIn(record, stated);
  const seen = `It has: ${record.slice(0, 20).join(', ')}.`;
  if (!columns.has('number'))
    return `It cannot be told which column holds the part numbers. ${seen} Say it: number=HEADING.`;
  if (!['cost', 'list', 'core'].some((field) => columns.has(field as Field)))
    return `It cannot be told which column holds the cost. ${seen} Say it: cost=HEADING.`;
  return undefined;
}
