/** The invoice: what was done, held against the estimate and against what was agreed to. */
import type { ExchangedEstimate } from '../../../../schemas/exchange/estimate.ts';
import { sum, ZERO } from '../../../../schemas/values/decimal.ts';
import type { OptionEstimate } from '../../estimate/estimate.ts';
import { limitOver } from '../../work/index.ts';
import { type Block, type Doc, facts, list, present, type Row, type Section, section, text } from '../doc.ts';
import { consentRow, legalSection } from './consent.ts';
import { docOf, type Sheet } from './context.ts';
import { heldSection } from './held.ts';
import { beforeTax, incompleteNote, linesTable } from './lines.ts';
import { fieldsOfRecord } from './records.ts';
import { warrantySection } from './warranty.ts';

export function invoiceDoc(sheet: Sheet, option: OptionEstimate, kept?: ExchangedEstimate): Doc {
  const { estimate, printer } = sheet;
  const { say } = printer;
  const { job } = estimate;
  const declined = job.teardown?.declined !== undefined ? estimate.teardown?.declined : undefined;
  const priced = declined ?? option.priced;
  const title = declined ? say('teardown.declined') : option.id === undefined ? say('done') : option.name;
  return docOf(
    sheet,
    'invoice',
    present([
      section('short', say('short'), [
        text(job.completed ? undefined : say('not-done'), 'strong'),
        text(job.complaint, 'quote', say('you-said')),
        text(job.cause?.what, 'lead', say('what-happened')),
      ]),
      section('done', say('done'), [
        incompleteNote(sheet, priced),
        linesTable(sheet, priced, { option, caption: title, paid: true }),
        text(say('invoice.sums'), 'strong'),
        sumsTable(sheet, { ...option, priced }),
        paymentsList(sheet),
      ]),
      declined === undefined ? heldSection(sheet, option, kept) : undefined,
      agreedSection(sheet, { ...option, priced }),
      recordsSection(sheet, option),
      coresSection(sheet, option),
      declined ? undefined : warrantySection(sheet, [option]),
      legalSection(sheet),
    ]),
    facts([
      [say('odometer-out'), job.vehicle?.['odometer-out'] && printer.quantity(job.vehicle['odometer-out'])],
      [say('completed'), job.completed && printer.date(job.completed)],
    ]),
  );
}

/** Parts and services each without tax, and tax: together they are the total. */
function sumsTable({ printer }: Sheet, { priced }: OptionEstimate): Block {
  const { say, money } = printer;
  const goods = priced.lines.filter(
    ({ category }) => category === 'parts' || category === 'fluids' || category === 'cores',
  );
  const tax = priced.tax.amount.value;
  const inside = (lines: typeof goods) =>
    sum(lines.map((line) => (priced.tax.included ? line.net.value.minus(line.tax) : line.net.value)));
  const parts = inside(goods);
  const row = (as: Row['as'], label: string, value: string): Row => ({ as, cells: [label, value] });
  return {
    block: 'table',
    caption: say('invoice.sums'),
    columns: [
      { title: say('invoice.sums'), align: 'left' },
      { title: say('amount'), align: 'right', narrow: true },
    ],
    rows: [
      row('row', say('sum.parts'), money(parts)),
      row('row', say('sum.services'), money(beforeTax(priced).minus(parts))),
      row('row', say('sum.tax'), money(tax)),
      row('total', say('total'), money(priced.total.value)),
    ],
  };
}

function paymentsList({ estimate, printer }: Sheet): Block | undefined {
  const rows = (estimate.job.deposits ?? []).map((one) =>
    [printer.date(one.on), printer.money(one.amount), one.how].filter(Boolean).join(', '),
  );
  const items = list(rows);
  return items && { block: 'part', title: printer.say('invoice.payments'), blocks: [items] };
}

/** Each consent, and the bill beside the last one that covers it. */
function agreedSection(sheet: Sheet, { priced }: OptionEstimate): Section | undefined {
  const { estimate, printer } = sheet;
  const { say, money } = printer;
  const given = estimate.job.authorizations ?? [];
  const rule = estimate.policy.jurisdiction?.authorization;
  const last = given.findLast((one) => (one.for ?? 'work') === 'work') ?? given.at(-1);
  if (!last) return section('agreed', say('consent'), [text(say('invoice.no-consent'), 'strong')]);
  const taxed = rule?.tax === 'included';
  const billed = taxed ? priced.total.value : beforeTax(priced);
  const { most } = rule
    ? limitOver(rule, last.amount, estimate.policy.shop.tax?.billing !== 'lump-sum')
    : { most: last.amount };
  const tax = say(taxed ? 'tax.with' : 'tax.without');
  return section('agreed', say('consent'), [
    list(given.map((one) => consentRow(sheet, one))),
    {
      block: 'facts',
      rows: facts([
        [`${say('invoice.agreed')} (${tax})`, money(last.amount)],
        [`${say('invoice.may-reach')} (${tax})`, most && money(most)],
        [`${say('invoice.billed')} (${tax})`, money(billed)],
      ]),
    },
    text(say(most && billed.gt(most) ? 'invoice.over' : 'invoice.within'), 'strong'),
    text(rule ? say('local-rules') : undefined, 'small'),
  ]);
}

/** What was measured, as a proof that it was done. */
function recordsSection(sheet: Sheet, option: OptionEstimate): Section | undefined {
  const { printer, source } = sheet;
  const passed = option.work.records.filter((record) => record.passes).map((record) => record.record);
  const rows = [...new Set(passed)].map((id) => {
    const fields = fieldsOfRecord(sheet, id).filter((field) => field.filled !== undefined);
    const of = (key: string) => fields.find((field) => field.key === key)?.filled;
    const told = fields
      .filter(({ key }) => key !== 'on' && key !== 'by')
      .map((field) => `${field.label} ${field.filled}`)
      .join(', ');
    const name = source.catalog.record(id)?.name ?? id;
    return [`${name}: ${[of('on'), of('by')].filter(Boolean).join(', ')}`, told].filter(Boolean).join('. ');
  });
  return section('proof', printer.say('invoice.records'), [list(rows)]);
}

function coresSection({ printer }: Sheet, { priced }: OptionEstimate): Section | undefined {
  const { say, money, date } = printer;
  const rows = priced.cores.customer.map((core) => {
    const values = { name: core.name, amount: money(core.open) };
    if (!core.returned.eq(ZERO))
      return say('core.back', {
        name: core.name,
        amount: money(core.credit.value),
        tax: money(core.taxBack.value),
      });
    return core.dueBy
      ? say('core.open', { ...values, date: date(core.dueBy) })
      : say('core.open-days', { ...values, days: say('calendar-days', { n: core.days ?? 0 }) });
  });
  return section('cores', say('invoice.cores'), [list(rows)]);
}
