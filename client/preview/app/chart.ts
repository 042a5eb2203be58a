/**
 * Where the money goes: a bar for each option, all on one scale, so that lengths compare.
 *
 * Slices differ by tone and by hatching, and carry their words, so that nothing hangs on color. The same numbers
 * stand in the table below.
 */
import type { SaleView, Slice } from '../../../server/src/features/client/estimate-view.ts';
import type { Words } from '../words.ts';
import { drawn, element, put } from './element.ts';

const WIDTH = 600;
const ROW = 44;
const BAR = 20;
/** In the order of the legend; the number picks tone and hatching in the style sheet. */
const ORDER: readonly Slice['of'][] = [
  'parts',
  'fluids',
  'labor',
  'sublet',
  'cores',
  'supplies',
  'fees',
  'tax',
];

let drawings = 0;

export function chart(sales: readonly SaleView[], words: Words): HTMLElement {
  const longest = Math.max(...sales.map((sale) => sale.size));
  if (!(longest > 0)) return element('div');
  const id = `chart-${drawings++}`;
  const used = ORDER.filter((of) => sales.some((sale) => sale.slices.some((slice) => slice.of === of)));
  const height = ROW * sales.length;
  const spoken = sales
    .map((sale) =>
      put(
        words.chartOf,
        sale.name,
        sale.slices.map((slice) => `${words[slice.of]} ${slice.text}`).join(', '),
      ),
    )
    .join('. ');
  return element(
    'figure',
    { class: 'chart' },
    element('figcaption', {}, words.chart),
    drawn(
      'svg',
      { viewBox: `0 0 ${WIDTH} ${height}`, role: 'img', 'aria-labelledby': `${id}-title ${id}-desc` },
      drawn('title', { id: `${id}-title` }, words.chart),
      drawn('desc', { id: `${id}-desc` }, spoken),
      drawn('defs', {}, ...used.map((of) => hatching(id, of))),
      ...sales.flatMap((sale, i) => bar(id, sale, i * ROW, sale.size / longest, words)),
    ),
    element(
      'ul',
      { class: 'legend', 'aria-hidden': 'true' },
      ...used.map((of) => element('li', {}, swatch(id, of), words[of])),
    ),
  );
}

function bar(id: string, sale: SaleView, top: number, length: number, words: Words): SVGElement[] {
  let left = 0;
  const rects = sale.slices.flatMap(({ of, share, text }) => {
    const width = share * length * WIDTH;
    const at = { x: left, y: top + ROW - BAR - 4, width, height: BAR };
    left += width;
    return [
      drawn('rect', { ...at, class: `tone tone-${ORDER.indexOf(of)}` }),
      drawn(
        'rect',
        { ...at, fill: `url(#${id}-${of})`, class: 'hatch' },
        drawn('title', {}, `${words[of]} ${text}`),
      ),
    ];
  });
  return [
    drawn('text', { x: 0, y: top + ROW - BAR - 9, class: 'name' }, sale.name),
    drawn('text', { x: WIDTH, y: top + ROW - BAR - 9, 'text-anchor': 'end', class: 'name' }, sale.total.text),
    ...rects,
  ];
}

/** Lines at an angle of their own for each slice. */
function hatching(id: string, of: Slice['of']): SVGElement {
  const at = ORDER.indexOf(of);
  const gap = 5 + (at % 3) * 2;
  const lines = at % 4 === 0 ? [] : [drawn('line', { x1: 0, y1: 0, x2: 0, y2: gap, class: 'hatch-line' })];
  return drawn(
    'pattern',
    {
      id: `${id}-${of}`,
      width: gap,
      height: gap,
      patternUnits: 'userSpaceOnUse',
      patternTransform: `rotate(${at * 45})`,
    },
    ...lines,
  );
}

function swatch(id: string, of: Slice['of']): SVGElement {
  const size = { width: 14, height: 14 };
  return drawn(
    'svg',
    { ...size, viewBox: '0 0 14 14' },
    drawn('rect', { ...size, class: `tone tone-${ORDER.indexOf(of)}` }),
    drawn('rect', { ...size, fill: `url(#${id}-${of})`, class: 'hatch' }),
  );
}
