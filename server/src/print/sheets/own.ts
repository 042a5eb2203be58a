/** Fields that the shop declares, on the papers that they say. */
import { type Carrier, type OwnField, readOwn } from '../../../../schemas/kinds/own.ts';
import type { IsoDate } from '../../../../schemas/values/dates.ts';
import { type Decimal, dec } from '../../../../schemas/values/decimal.ts';
import type { Quantity } from '../../../../schemas/values/quantity.ts';
import { carried } from '../../estimate/own.ts';
import type { PricedLine } from '../../pricing/model.ts';
import type { OwnFact } from '../../work/own.ts';
import type { Fact } from '../doc.ts';
import type { Sheet } from './context.ts';

/** What the job, its customer and its unit family say in them, for the head of the paper. */
export function ownOfJob(sheet: Sheet): Fact[] {
  const { job, policy, unit } = sheet.estimate;
  const customer = typeof job.customer === 'string' ? policy.shop.customers?.[job.customer] : undefined;
  return [
    ...ownFacts(sheet, 'customer', customer?.own),
    ...ownFacts(sheet, 'unit', unit?.own),
    ...ownFacts(sheet, 'job', job.own),
  ];
}

/** What the part or the operation of a line says in them. */
export function ownFactsOfLine(sheet: Sheet, { kind, id }: Pick<PricedLine, 'kind' | 'id'>): Fact[] {
  const carrier = CARRIER_OF[kind];
  if (carrier === undefined || id === undefined) return [];
  const { catalog } = sheet.source;
  const entry = carrier === 'part' ? catalog.part(id) : catalog.operation(id);
  return ownFacts(sheet, carrier, entry?.own);
}

/** The same in a few words: `Shelf: B4`. */
export function ownOfLine(sheet: Sheet, line: Pick<PricedLine, 'kind' | 'id'>): string[] {
  return ownFactsOfLine(sheet, line).map(({ label, value }) => `${label}: ${value}`);
}

/** Of all that an option says in such fields, what the part or the operation of a line does. */
export function ownOf(own: readonly OwnFact[], { kind, id }: Pick<PricedLine, 'kind' | 'id'>): OwnFact[] {
  const carrier = CARRIER_OF[kind];
  return own.filter((one) => one.kind === carrier && one.id === id);
}

const CARRIER_OF: Partial<Record<PricedLine['kind'], Carrier>> = {
  part: 'part',
  fill: 'part',
  labor: 'operation',
};

function ownFacts(sheet: Sheet, carrier: Carrier, own: Readonly<Record<string, string>> | undefined): Fact[] {
  const { paper, estimate } = sheet;
  return carried(estimate.policy.shop, { kind: carrier, id: '', of: '', own })
    .filter(({ declared }) => declared.print?.includes(paper))
    .map(({ declared, typed }) => ({ label: declared.name, value: printed(sheet, declared, typed) }));
}

/** As the shop prints such values; as typed, where there is nothing to turn. */
function printed({ printer }: Sheet, declared: OwnField, typed: string): string {
  const read = readOwn(declared, typed);
  if (!read.ok) return typed;
  switch (declared.type) {
    case 'money':
      return printer.money(read.value as Decimal);
    case 'count':
      return printer.number(dec(String(read.value)));
    case 'quantity':
      return printer.quantity(read.value as Quantity);
    case 'date':
      return printer.date(read.value as IsoDate);
    case 'yes-no':
      return printer.say(read.value === true ? 'yes' : 'no');
    default:
      return typed;
  }
}
