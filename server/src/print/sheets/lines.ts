/** A priced sale line by line, as a customer reads it: what, why, in which condition, how many, how much. */
import type { Category } from '../../../../schemas/kinds/shared.ts';
import { type Decimal, sum, ZERO } from '../../../../schemas/values/decimal.ts';
import type { OptionEstimate } from '../../estimate/estimate.ts';
import type { Priced, PricedLine, Reduction } from '../../pricing/model.ts';
import { type Row, type Table, type Text, text } from '../doc.ts';
import type { Word } from '../words/index.ts';
import type { Sheet } from './context.ts';
import { ownOfLine } from './own.ts';
import { Reasons } from './reasons.ts';

/** As the law of many places divides a bill: parts, labor, and what is neither. */
export const DIVISIONS: readonly {
  readonly word: Word & ('parts' | 'labor' | 'charges');
  readonly of: readonly Category[];
}[] = [
  { word: 'parts', of: ['parts', 'fluids'] },
  { word: 'labor', of: ['labor', 'sublet'] },
  { word: 'charges', of: ['supplies', 'fees', 'cores'] },
];

/** A table of more rows is cut, with its total carried over. */
const LONG = 60;

export interface LineChoice {
  /** Says why each line is there. */
  readonly option?: OptionEstimate | undefined;
  readonly caption: string;
  /** Shows what has been paid and what is left. */
  readonly paid?: boolean;
}

/** What a line comes to before discounts on the whole job, which have rows of their own. */
export function ownPrice(line: PricedLine): Decimal {
  const spread = line.reductions.filter((one) => one.kind === 'job-discount').map((one) => one.amount.value);
  return line.net.value.plus(sum(spread));
}

export function linesTable(
  sheet: Sheet,
  priced: Priced,
  { option, caption, paid = false }: LineChoice,
): Table {
  const { say, money } = sheet.printer;
  const rows: Row[] = [];
  const reasons = new Reasons(sheet);
  for (const { word, of } of DIVISIONS) {
    const lines = priced.lines.filter((line) => of.includes(line.category) && isShown(line));
    if (lines.length === 0) continue;
    rows.push({ as: 'group', cells: [say(word)] });
    for (const line of lines) rows.push(lineRow(sheet, line, option && reasons.for(line, option), option));
    rows.push({
      as: 'subtotal',
      cells: [say('subtotal.of', { name: say(word) }), '', '', money(sum(lines.map(ownPrice)))],
    });
  }
  return {
    block: 'table',
    caption,
    columns: [
      { title: say('item'), align: 'left' },
      { title: say('quantity'), align: 'right', narrow: true },
      { title: say('each'), align: 'right', narrow: true },
      { title: say('amount'), align: 'right', narrow: true },
    ],
    rows: [...rows, ...totalRows(sheet, priced, paid)],
    carry: rows.length > LONG ? { forward: say('carried'), brought: say('brought'), money } : undefined,
  };
}

export function incompleteNote(sheet: Sheet, priced: Priced): Text | undefined {
  return priced.complete ? undefined : text(sheet.printer.say('not-complete'), 'strong');
}

/** What costs nothing and says nothing is left out: a core that is held, an included operation. */
function isShown(line: PricedLine): boolean {
  return line.kind !== 'core' || !line.amount.value.eq(ZERO);
}

/** Charges that are never more than one, and have no number of their own to show. */
const UNCOUNTED: ReadonlySet<PricedLine['kind']> = new Set(['supplies', 'minimum', 'warranty']);

function lineRow(
  sheet: Sheet,
  line: PricedLine,
  why: string | undefined,
  option: OptionEstimate | undefined,
): Row {
  const { printer } = sheet;
  const own = ownPrice(line);
  const bare = UNCOUNTED.has(line.kind) || line.includedIn !== undefined;
  const quantity = bare ? '' : printer.counted(line.quantity.value, line.unit);
  const each = bare || !line.each ? '' : printer.money(line.each.value);
  return {
    as: 'row',
    cells: [nameOf(sheet, line), quantity, each, printer.money(own)],
    aside: asideOf(sheet, line),
    note: notesOf(sheet, line, why, option).join(' ') || undefined,
    adds: own,
  };
}

function nameOf({ printer }: Sheet, line: PricedLine): string {
  if (line.kind === 'warranty') return printer.say('warranty-line', { name: line.name });
  if (line.kind === 'core') return printer.say('core-of', { name: line.name.replace(/^Core, /, '') });
  return line.name;
}

/** Brand, number and condition: `No. TC-B6-R · rebuilt`. */
function asideOf(sheet: Sheet, line: PricedLine): string | undefined {
  const { printer, estimate } = sheet;
  const { say } = printer;
  const goods = isGoods(line);
  const silence = estimate.policy.jurisdiction?.words?.['unstated-condition'];
  return (
    [
      brandOf(sheet, line),
      goods && line.kind !== 'other' && line.id ? say('part-number', { number: line.id }) : undefined,
      line.numbers && line.numbers.length > 1
        ? say('replaces-number', { number: line.numbers[0]! })
        : undefined,
      goods ? conditionOf(silence, line, printer) : undefined,
      ...ownOfLine(sheet, line),
      line.optional ? say('optional') : undefined,
      line.suppliedByCustomer ? say('supplied') : undefined,
    ]
      .filter(Boolean)
      .join(' · ') || undefined
  );
}

/** A kit goes by brand and number, where its brand does not tell the supplier. */
function brandOf({ source, estimate }: Sheet, line: PricedLine): string | undefined {
  const part = line.kind === 'part' && line.id !== undefined ? source.catalog.part(line.id) : undefined;
  if (part?.kind !== 'kit' || part.brand === undefined) return undefined;
  const supplier = part.supplier === undefined ? undefined : estimate.policy.shop.suppliers?.[part.supplier];
  return supplier?.name.includes(part.brand) ? undefined : part.brand;
}

export function isGoods(line: PricedLine): boolean {
  return (
    line.category === 'parts' ||
    line.category === 'fluids' ||
    (line.kind === 'sublet' && line.category === 'sublet' && line.condition !== undefined)
  );
}

/** The word for a part's condition. Where the law reads silence as new, silence is printed as new. */
function conditionOf(
  silence: 'new' | 'missing' | undefined,
  line: PricedLine,
  { say }: Sheet['printer'],
): string | undefined {
  if (line.condition) return say(`condition.${line.condition}`);
  if (line.suppliedByCustomer || line.category === 'fluids') return undefined;
  return silence === 'new' ? say('condition.counts-new') : say('condition.unsaid');
}

function notesOf(
  sheet: Sheet,
  line: PricedLine,
  why: string | undefined,
  option: OptionEstimate | undefined,
): string[] {
  const { printer, estimate, source } = sheet;
  const { say, money, percent } = printer;
  const notes: string[] = [];
  if (why) notes.push(why);
  if (line.includedIn) {
    const covering = source.catalog.operation(line.includedIn)?.name ?? line.includedIn;
    notes.push(say('covered-by', { name: covering }));
  }
  if (line.kind === 'part' && line.id) notes.push(...kitNotes(sheet, line.id));
  if (line.kind === 'supplies') {
    const rule = estimate.policy.shop.supplies;
    if (rule) {
      const base = printer.list(rule.on.map((one) => say(`category.${one}`)));
      notes.push(say('supplies-basis', { rate: percent(rule.rate), base }));
      if (rule.maximum) notes.push(say('supplies-cap', { amount: money(rule.maximum) }));
    }
  }
  const subcontractor = subcontractorOf(sheet, line);
  if (subcontractor) notes.push(say('sublet-by', { name: subcontractor }));
  if (line.kind === 'fee' && line.id && estimate.policy.shop.fees?.[line.id]?.waste) {
    const number = estimate.policy.shop['epa-id'];
    if (number) notes.push(`${say('epa-id', { number })}.`);
  }
  if (line.kind === 'core') notes.push(...coreNotes(sheet, line, option));
  for (const one of line.reductions) {
    if (isOwn(one))
      notes.push(`${say('line-discount', { name: one.name, amount: money(one.amount.value) })}.`);
  }
  const payers = line.owners.flatMap((owner) =>
    owner.payer === undefined || owner.net.eq(ZERO) ? [] : [estimate.policy.shop.payers?.[owner.payer]],
  );
  for (const payer of payers) {
    if (payer?.kind === 'shop' || payer?.kind === 'warranty')
      notes.push(`${say('warranty-work', { name: payer.name })}.`);
  }
  return notes.map(sentence);
}

/** Taken off this line itself; a core handed over has words of its own. */
function isOwn({ kind }: Reduction): boolean {
  return kind === 'line-discount' || kind === 'credited' || kind === 'payer-terms';
}

function kitNotes({ source, printer }: Sheet, id: string): string[] {
  const part = source.catalog.part(id);
  if (!part?.contents?.length) return [];
  const held = part.contents.map((one) => ({
    name:
      (one.part === undefined ? undefined : source.catalog.part(one.part)?.name) ??
      (one.role === undefined ? undefined : source.catalog.role(one.role)?.name) ??
      one.part ??
      one.role ??
      '',
    condition: one.part === undefined ? undefined : source.catalog.part(one.part)?.condition,
  }));
  const conditions = new Set(held.map((one) => one.condition ?? part.condition));
  const notes = [printer.say('kit-of', { names: held.map((one) => one.name).join(', ') })];
  if (conditions.size > 1) notes.push(printer.say('mixed-parts'));
  return notes;
}

/** Who did work that was bought from another shop: a name on paper only where the law asks for it. */
function subcontractorOf({ estimate, source }: Sheet, line: PricedLine): string | undefined {
  if (line.kind !== 'sublet') return undefined;
  const { jurisdiction, shop } = estimate.policy;
  const asked = [jurisdiction?.estimate, jurisdiction?.invoice].some((paper) =>
    paper?.must.includes('subcontractors'),
  );
  if (!asked) return undefined;
  const typed = line.line && 'sublet' in line.line ? line.line.supplier : undefined;
  const id =
    typed ?? (line.id === undefined ? undefined : source.catalog.operation(line.id)?.sublet?.supplier);
  return id === undefined ? undefined : shop.suppliers?.[id]?.name;
}

function coreNotes(
  { printer, estimate }: Sheet,
  line: PricedLine,
  option: OptionEstimate | undefined,
): string[] {
  const { say, money } = printer;
  const handed = line.reductions.find((one) => one.kind === 'core-handed-over');
  if (handed) return [say('core-handed', { amount: money(handed.amount.value) })];
  const entry = option?.priced.cores.customer.find((core) => core.part === line.id);
  const days = entry?.days ?? estimate.policy.shop.estimates?.['core-days'];
  return days === undefined ? [] : [say('core-back', { days: say('calendar-days', { n: days }) })];
}

export function totalRows({ printer }: Sheet, priced: Priced, paid: boolean): Row[] {
  const { say, money, percent } = printer;
  const rows: Row[] = priced.discounts.map((one) => ({
    as: 'subtotal',
    cells: [say('discount', { name: one.name }), '', '', money(ZERO.minus(one.amount.value))],
  }));
  const { tax } = priced;
  const total: Row = { as: 'total', cells: [say('total'), '', '', money(priced.total.value)] };
  if (tax.included) {
    rows.push(total);
    for (const row of tax.rows) {
      const name = say('tax.inside', { name: row.name, rate: percent(row.rate) });
      rows.push({ as: 'subtotal', cells: [name, '', '', money(row.amount.value)] });
    }
  } else {
    rows.push({ as: 'subtotal', cells: [say('before-tax'), '', '', money(beforeTax(priced))] });
    for (const row of tax.rows) {
      const base = money(tax.taxable.value);
      const name = say('tax.row', { name: row.name, rate: percent(row.rate), base });
      rows.push({ as: 'subtotal', cells: [name, '', '', money(row.amount.value)] });
    }
    rows.push(total);
  }
  if (priced.shares.length > 1) {
    for (const share of priced.shares)
      rows.push({
        as: 'subtotal',
        cells: [say('paid-by', { name: share.name }), '', '', money(share.total.value)],
      });
  }
  if (paid && !priced.paid.value.eq(ZERO)) {
    rows.push(
      { as: 'subtotal', cells: [say('paid'), '', '', money(ZERO.minus(priced.paid.value))] },
      { as: 'total', cells: [say('balance'), '', '', money(priced.balance.value)] },
    );
  }
  return rows;
}

/** With prices that hold the tax already, what is left when it is taken out. */
export function beforeTax(priced: Priced): Decimal {
  return priced.total.value.minus(priced.tax.amount.value);
}

function sentence(words: string): string {
  return /[.!?]$/.test(words) ? words : `${words}.`;
}
