/** The parts order: what to buy from whom, at what cost, and which cores go back by when. For the shop only. */
import { type Decimal, round, sum, ZERO } from '../../../../schemas/values/decimal.ts';
import type { OptionEstimate } from '../../estimate/estimate.ts';
import type { CoreEntry, PricedLine } from '../../pricing/model.ts';
import { type Doc, list, type Part, present, type Row, section, text } from '../doc.ts';
import { docOf, type Sheet } from './context.ts';
import { ownOfLine } from './own.ts';

export function orderDoc(sheet: Sheet, option: OptionEstimate): Doc {
  const { printer, estimate } = sheet;
  const { say, money } = printer;
  const lines = option.priced.lines.filter(
    (line) => (line.kind === 'part' || line.kind === 'fill') && !line.suppliedByCustomer,
  );
  const suppliers = [...new Set(lines.map((line) => supplierOf(sheet, line)))].toSorted();
  const parts = suppliers.map((id) =>
    supplierPart(
      sheet,
      option,
      id,
      lines.filter((line) => supplierOf(sheet, line) === id),
    ),
  );
  const known = lines.flatMap((line) => (line.cost ? [line.cost.value] : []));
  const blocks =
    lines.length === 0
      ? [text(say('order.nothing'))]
      : [
          ...parts,
          text(
            `${say('order.all')}: ${money(sum(known))}${known.length < lines.length ? ` (${say('order.unknown')}: ${lines.length - known.length})` : ''}`,
            'strong',
          ),
        ];
  const title = option.id === undefined ? say('order') : option.name;
  return docOf(
    sheet,
    'order',
    present([section('done', title, blocks), text(estimate.job.note, 'small', say('bench.note'))]),
  );
}

function supplierOf({ source }: Sheet, line: PricedLine): string {
  return (line.id === undefined ? undefined : source.catalog.part(line.id)?.supplier) ?? '';
}

function supplierPart(sheet: Sheet, option: OptionEstimate, id: string, lines: readonly PricedLine[]): Part {
  const { printer, estimate } = sheet;
  const { say, money } = printer;
  const supplier = estimate.policy.shop.suppliers?.[id];
  const name = supplier?.name ?? (id || say('order.nobody'));
  const cost = sum(lines.map((line) => line.cost?.value ?? ZERO));
  const cores = option.priced.cores.supplier.filter((core) => (core.supplier ?? '') === id);
  return {
    block: 'part',
    title: say('order.from', { name }),
    blocks: present([
      text(
        [supplier?.phone, supplier?.account && say('order.account', { number: supplier.account })]
          .filter(Boolean)
          .join(' · '),
        'small',
      ),
      {
        block: 'table',
        caption: say('order.from', { name }),
        columns: [
          { title: say('order.part'), align: 'left' },
          { title: say('order.buy'), align: 'right', narrow: true },
          { title: say('order.each'), align: 'right', narrow: true },
          { title: say('order.cost'), align: 'right', narrow: true },
        ],
        rows: [
          ...lines.map((line) => lineRow(sheet, line)),
          { as: 'total', cells: [say('order.sum', { name }), '', '', money(cost)] },
        ],
      },
      cores.length > 0 ? text(say('order.cores'), 'strong') : undefined,
      list(cores.map((core) => coreText(sheet, core))),
      text(cores.length > 0 ? supplier?.terms : undefined, 'small', say('order.terms')),
    ]),
  };
}

function lineRow(sheet: Sheet, line: PricedLine): Row {
  const { printer, source } = sheet;
  const { say, money } = printer;
  const part = source.catalog.part(line.id!);
  const each =
    line.cost && !line.quantity.value.eq(ZERO) ? line.cost.value.div(line.quantity.value) : undefined;
  const number = part?.['supplier-number'] ?? line.id ?? '';
  const notes = [
    ...ownOfLine(sheet, line),
    part?.status === 'to-order' ? say('order.to-order') : undefined,
    part?.status === 'discontinued' ? say('order.gone') : undefined,
    part?.['lead-days'] === undefined
      ? undefined
      : say('order.lead', { days: say('calendar-days', { n: part['lead-days'] }) }),
    ...(line.numbers ?? []).map((one) => {
      const needs = source.catalog.part(one)?.['superseded-by']?.needs;
      return needs && say('order.needs', { text: needs });
    }),
  ].filter((one) => one !== undefined);
  return {
    as: 'row',
    cells: [
      line.name,
      bought(sheet, line),
      each ? money(round(each, 4)) : '',
      line.cost ? money(line.cost.value) : say('order.unknown'),
    ],
    aside: [say('part-number', { number }), line.condition && say(`condition.${line.condition}`)]
      .filter(Boolean)
      .join(' · '),
    note: notes.join('; ') || undefined,
  };
}

/** In what it is bought by: `2 cases (13 quarts)`. */
function bought({ printer, source }: Sheet, line: PricedLine): string {
  const sold = printer.counted(line.quantity.value, line.unit);
  const pack = line.id === undefined ? undefined : source.catalog.part(line.id)?.pack;
  if (!pack) return sold;
  const packs = upward(line.quantity.value.div(pack.of));
  return `${printer.counted(packs, pack.unit.id)} (${sold})`;
}

function upward(value: Decimal): Decimal {
  return round(value, 0, 'up');
}

function coreText({ printer }: Sheet, core: CoreEntry): string {
  const { say, money, date, number } = printer;
  const values = {
    n: number(core.quantity),
    name: `${core.name.replace(/^Core, /, '')} (${core.part})`,
    amount: money(core.deposit.value),
  };
  if (core.dueBy) return say('order.core.row', { ...values, date: date(core.dueBy) });
  if (core.days !== undefined)
    return say('order.core.days', { ...values, days: say('calendar-days', { n: core.days }) });
  return say('order.core.open', values);
}
