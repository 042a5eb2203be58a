/** Unit families on hover: capacities in the shop's units, limits with their source. */
import type { Limit, Unit } from '../../../schemas/kinds/units.ts';
import type { Quantity } from '../../../schemas/values/quantity.ts';
import type { Block } from './hover-blocks.ts';
import { usedBy, type View } from './hover-view.ts';

export function unitBlocks(view: View, id: string, unit: Unit): Block[] {
  const { capacities = {}, cooler } = unit;
  const { includes, ...fills } = capacities;
  const volumes = Object.entries(fills).flatMap(([fill, quantity]) =>
    quantity ? [[fill.replaceAll('-', ' '), volumeText(view, quantity as Quantity)] as const] : [],
  );
  return [
    { is: 'title', text: unit.name, id },
    {
      is: 'facts',
      rows: [
        ['Layout', unit.layout],
        ['Gears', unit.gears === undefined ? 'continuously variable' : String(unit.gears)],
        ['Traits', unit.traits?.join(', ')],
        ['Fluid class', unit['fluid-class']],
        ...volumes.map(([fill, volume]) => [`Fluid, ${fill}`, volume] as const),
        ['The dry figure counts', includes?.join(', ')],
        ['Converter lining', unit['converter-lining']],
        [
          'Cooler',
          cooler &&
            [cooler.kind, cooler.material, cooler.bypass && 'with a thermal bypass']
              .filter(Boolean)
              .join(', '),
        ],
        ['Found in', unit.applications?.map(vehicleText).join('; ')],
        ['For the owner', unit.say],
      ],
    },
    ...limitsTable(view, unit),
    ...usedBy(view, 'unit', id),
  ];
}

function vehicleText(match: Readonly<Record<string, string | undefined>>): string {
  return Object.values(match).filter(Boolean).join(' ');
}

/** In the shop's units, and as written when that differs. */
function volumeText({ printer }: View, quantity: Quantity): string {
  const own = `${quantity.amount} ${quantity.unit.symbol}`;
  const shown = printer.quantity(quantity);
  return shown.replace('\u00a0', ' ') === own ? own : `${shown} (${own})`;
}

function limitsTable(view: View, { limits = {} }: Unit): Block[] {
  const rows = Object.entries(limits).flatMap(([finding, limit]) =>
    limit.rows.map((row, i) => [
      i === 0 ? view.name('finding', finding) : '',
      ...limitCells(view, row),
      i === 0 ? (limit.source ?? '') : '',
    ]),
  );
  return rows.length === 0 ? [] : [{ is: 'table', head: ['Limit', 'When', 'Least', 'Most', 'Source'], rows }];
}

export function limitTable(view: View, limit: Limit): Block[] {
  return [
    { is: 'table', head: ['When', 'Least', 'Most'], rows: limit.rows.map((row) => limitCells(view, row)) },
    { is: 'facts', rows: [['Source', limit.source]] },
  ];
}

function limitCells(view: View, { when = {}, least, most }: Limit['rows'][number]): string[] {
  const conditions = Object.entries(when).map(([key, value]) => `${view.name('finding', key)} ${value}`);
  return [conditions.join(', ') || 'always', least ?? '', most ?? ''];
}
