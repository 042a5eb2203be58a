/** Parts on hover: what it is, what it costs and why, what took its place, what is in it. */
import type { Part } from '../../../schemas/kinds/parts.ts';
import type { BookFile } from '../book/file.ts';
import { chainOf } from '../pricing/supersession.ts';
import type { Block } from './hover-blocks.ts';
import { treeTable } from './hover-tree.ts';
import { pictureBlocks, usedBy, type View } from './hover-view.ts';

export function partBlocks(view: View, id: string, part: Part, home: BookFile | undefined): Block[] {
  const { printer } = view;
  const supplier = view.pricer.catalog.part(id)?.supplier;
  return [
    { is: 'title', text: part.name, id },
    {
      is: 'facts',
      rows: [
        ['Condition', part.condition],
        ['Kind', part.kind],
        ['Role', part.role && view.named('role', part.role)],
        ['Fits', view.list('unit', part.fits) ?? 'every unit family'],
        ['Cost', view.money(part.cost)],
        ['List price', view.money(part.list)],
        ['Core charge', view.money(part.core)],
        ['Sold by the', part.unit?.id],
        ['Bought by the', part.pack && `${part.pack.unit.id} of ${part.pack.of}`],
        ['Fluid class', part['fluid-class']],
        ['Supplier', supplier && view.name('supplier', supplier)],
        ['Status', part.status],
        ['Lead time', part['lead-days'] === undefined ? undefined : `${part['lead-days']} days`],
        ['Alternates', part.alternates?.join(', ')],
      ],
    },
    ...pictureBlocks(view, home, part.picture, part.name),
    ...priceBlocks(view, id),
    ...historyBlocks(view, part),
    ...chainBlocks(view, id),
    ...contentBlocks(view, part),
    ...usedBy(view, 'part', id),
    ...(part.note ? [{ is: 'text', text: part.note } as const] : []),
  ];

  function historyBlocks({ money, pricer }: View, { prices }: Part): Block[] {
    if (!prices) return [];
    const show = money.bind(view);
    const rows = prices.map((row) => [
      printer.date(row.from),
      row.until ? printer.date(row.until) : '',
      show(row.cost) ?? '',
      show(row.list) ?? '',
      show(row.price) ?? '',
      show(row.core) ?? '',
      row.from <= pricer.policy.on && (row.until === undefined || row.until >= pricer.policy.on)
        ? 'in force'
        : '',
    ]);
    return [{ is: 'table', head: ['From', 'Until', 'Cost', 'List', 'Price', 'Core', ''], rows }];
  }
}

function priceBlocks(view: View, id: string): Block[] {
  const { amounts, problems } = view.pricer.part(id);
  const wrong = problems.find((problem) => problem.code === 'price-missing');
  return [
    ...treeTable(amounts, view.printer, view.whereIs),
    ...(wrong ? [{ is: 'text', text: wrong.message } as const] : []),
  ];
}

function chainBlocks(view: View, id: string): Block[] {
  const { catalog, policy } = view.pricer;
  const chain = chainOf(catalog, id, policy.on);
  const before = [...view.book.registry.users('part', id)].flatMap((facts) =>
    facts.definitions
      .filter((one) => one.kind === 'part' && (one.value as Part | undefined)?.['superseded-by']?.part === id)
      .map((one) => one.id),
  );
  const blocks: Block[] = [];
  if (chain && chain.numbers.length > 1) {
    const factor = chain.factor.toString() === '1' ? '' : `; ${chain.factor} of the new for one of the old`;
    const needs = chain.needs.length > 0 ? `. Needs: ${chain.needs.join('; ')}` : '';
    blocks.push({ is: 'text', text: `Superseded: ${chain.numbers.join(' → ')}${factor}${needs}.` });
  }
  if (before.length > 0) blocks.push({ is: 'text', text: `Takes the place of ${before.join(', ')}.` });
  return blocks;
}

function contentBlocks(view: View, part: Part): Block[] {
  if (!part.contents) return [];
  const rows = part.contents.map(({ part: number, role, quantity }) => [
    String(quantity ?? '1'),
    number ?? '',
    number ? view.name('part', number) : role ? view.name('role', role) : '',
  ]);
  return [{ is: 'table', head: ['Holds', 'Part', ''], rows }];
}
