/** A bill held against its estimate, line by line: the estimate as it was kept, or the prices that were locked with it. */
import type { ExchangedEstimate } from '../../../../schemas/exchange/estimate.ts';
import { dateOf, parseDate } from '../../../../schemas/values/dates.ts';
import { type Decimal, dec, sum, ZERO } from '../../../../schemas/values/decimal.ts';
import type { OptionEstimate } from '../../estimate/estimate.ts';
import type { Amount } from '../../pricing/amount.ts';
import type { PricedLine } from '../../pricing/model.ts';
import { present, type Row, type Section, section, type Table, text } from '../doc.ts';
import type { Sheet } from './context.ts';
import { ownPrice } from './lines.ts';

interface Pair {
  readonly name: string;
  readonly estimated: Decimal | undefined;
  readonly billed: Decimal | undefined;
  /** Nothing tells what was estimated: it is neither added nor the same. */
  readonly unkept?: boolean;
  readonly consent: Consent;
}

interface Held {
  readonly pairs: readonly Pair[];
  readonly total: Decimal | undefined;
  readonly said: string;
}

/** Three ways, by what was kept: the whole estimate, its prices, or nothing but what was agreed to. */
export function heldSection(
  sheet: Sheet,
  option: OptionEstimate,
  kept: ExchangedEstimate | undefined,
): Section | undefined {
  const { say } = sheet.printer;
  const held = (kept && byKept(sheet, option, kept)) ?? byLock(sheet, option) ?? byConsent(sheet, option);
  const known = held.pairs.every((pair) => !pair.unkept);
  const same =
    known &&
    held.pairs.every(({ estimated, billed }) => estimated && billed && estimated.eq(billed)) &&
    (held.total?.eq(option.priced.total.value) ?? true);
  return section(
    'held',
    say('invoice.held'),
    present([
      text(held.said, 'small'),
      same ? text(say('invoice.same'), 'strong') : undefined,
      table(sheet, option, held),
    ]),
  );
}

function table(sheet: Sheet, option: OptionEstimate, { pairs, total }: Held): Table {
  const { say, money } = sheet.printer;
  const cells = (estimated: Decimal | undefined, billed: Decimal | undefined, unkept = false) => [
    estimated ? money(estimated) : '',
    billed ? money(billed) : '',
    unkept ? '' : money((billed ?? ZERO).minus(estimated ?? ZERO)),
  ];
  const rows = pairs.map(({ name, estimated, billed, unkept, consent }): Row => {
    const moved = unkept
      ? undefined
      : !estimated
        ? say('held.added')
        : !billed
          ? say('held.dropped')
          : undefined;
    return {
      as: 'row',
      cells: [name, ...cells(estimated, billed, unkept), billed ? (consent.on ?? '') : ''],
      note: [moved, billed ? consent.trouble : undefined].filter(Boolean).join('; ') || undefined,
    };
  });
  const held = pairs.filter((pair) => !pair.unkept);
  const [was, is] = (['estimated', 'billed'] as const).map((key) =>
    sum(held.map((pair) => pair[key] ?? ZERO)),
  );
  if (held.length > 0) rows.push({ as: 'subtotal', cells: [say('held.sum'), ...cells(was, is), ''] });
  if (total)
    rows.push({ as: 'total', cells: [say('total'), ...cells(total, option.priced.total.value), ''] });
  return {
    block: 'table',
    caption: say('invoice.held'),
    columns: [
      { title: say('held.line'), align: 'left' },
      { title: say('invoice.estimated'), align: 'right', narrow: true },
      { title: say('invoice.billed'), align: 'right', narrow: true },
      { title: say('invoice.difference'), align: 'right', narrow: true },
      { title: say('held.agreed'), align: 'right', narrow: true },
    ],
    rows,
  };
}

/** Lines meet by what they are; two of the same are held together. */
function keyOf(line: {
  readonly kind: string;
  readonly id?: string | null | undefined;
  readonly name: string;
}): string {
  return `${line.kind}\n${line.id ?? line.name}`;
}

function byKept(sheet: Sheet, option: OptionEstimate, kept: ExchangedEstimate): Held | undefined {
  const was =
    kept.options.find((one) => one.id === (option.id ?? null)) ??
    (kept.options.length === 1 ? kept.options[0] : undefined);
  if (!was) return undefined;
  const names = new Map<string, { name: string; consent: Consent }>();
  const estimated = new Map<string, Decimal>();
  const billed = new Map<string, Decimal>();
  const add = (to: Map<string, Decimal>, line: Parameters<typeof keyOf>[0], value: Decimal) => {
    const key = keyOf(line);
    to.set(key, (to.get(key) ?? ZERO).plus(value));
    return key;
  };
  for (const line of option.priced.lines)
    names.set(add(billed, line, line.net.value), {
      name: line.name,
      consent: consentFor(sheet, option, line),
    });
  for (const line of was.lines) {
    const key = add(estimated, line, dec(line.net));
    if (!names.has(key)) names.set(key, { name: line.name, consent: {} });
  }
  const from = parseDate(kept.presented ?? kept.pricedOn);
  const date = from.ok ? sheet.printer.date(from.value) : (kept.presented ?? kept.pricedOn);
  return {
    pairs: [...names].map(([key, { name, consent }]) => ({
      name,
      estimated: estimated.get(key),
      billed: billed.get(key),
      consent,
    })),
    total: dec(was.total),
    said: sheet.printer.say('held.by-file', { date }),
  };
}

/** Each line at the prices that were kept, as often and for as many hours as it is billed. */
function byLock(sheet: Sheet, option: OptionEstimate): Held | undefined {
  const { estimate, source, printer } = sheet;
  const { lock } = estimate.job;
  if (!lock) return undefined;
  const parts = lock.parts ?? {};
  const pairs = option.priced.lines.filter(isBilled).map((line): Pair => {
    const goods = line.kind === 'part' || line.kind === 'fill';
    const estimated = goods
      ? lockedPrice(parts, line)?.times(line.quantity.value)
      : usesLock(line.amount)
        ? line.amount.value
        : undefined;
    const unkept = estimated === undefined && !goods;
    const consent = consentFor(sheet, option, line);
    return { name: line.name, estimated, billed: line.amount.value, unkept, consent };
  });
  const there = new Set(
    estimate.options.flatMap((one) => one.priced.lines.flatMap((line) => [line.id, ...(line.numbers ?? [])])),
  );
  const gone = Object.entries(parts).filter(([id]) => !there.has(id));
  return {
    pairs: [
      ...pairs,
      ...gone.map(
        ([id, { price }]): Pair => ({
          name: source.catalog.part(id)?.name ?? id,
          estimated: price,
          billed: undefined,
          consent: {},
        }),
      ),
    ],
    total: lock.totals?.[option.id ?? 'job'],
    said: printer.say('held.by-lock', { date: printer.date(lock.on) }),
  };
}

/** Nothing was kept: the lines as billed, each with the consent that covers it. */
function byConsent(sheet: Sheet, option: OptionEstimate): Held {
  const pairs = option.priced.lines.filter(isBilled).map(
    (line): Pair => ({
      name: line.name,
      estimated: undefined,
      billed: line.amount.value,
      unkept: true,
      consent: consentFor(sheet, option, line),
    }),
  );
  return { pairs, total: undefined, said: sheet.printer.say('invoice.estimate-unknown') };
}

/** A deposit that the old part has paid is none. */
function isBilled(line: PricedLine): boolean {
  return line.includedIn === undefined && !ownPrice(line).eq(ZERO);
}

/** Whether a price that was kept went into it. */
function usesLock({ source, of }: Amount): boolean {
  return (source !== undefined && 'path' in source && source.path[0] === 'lock') || of.some(usesLock);
}

function lockedPrice(
  locked: Readonly<Record<string, { readonly price: Decimal }>>,
  line: PricedLine,
): Decimal | undefined {
  const id = [line.id, ...(line.numbers ?? [])].find(
    (one) => one !== undefined && Object.hasOwn(locked, one),
  );
  return id === undefined ? undefined : locked[id]?.price;
}

/** Which consent covers a line: when it was given, and what speaks against it. */
interface Consent {
  readonly on?: string | undefined;
  readonly trouble?: string | undefined;
}

/** The last consent to the work covers what it did not decline; a diagnosis and a teardown have their own before it. */
function consentFor({ estimate, source, printer }: Sheet, option: OptionEstimate, line: PricedLine): Consent {
  const given = estimate.job.authorizations ?? [];
  const work = given.findLast((one) => (one.for ?? 'work') === 'work');
  const operation =
    line.kind === 'labor' && line.id !== undefined ? source.catalog.operation(line.id) : undefined;
  const before = given.findLast((one) => one.for !== undefined && one.for === operation?.work);
  const consent = before ?? work;
  if (!consent) return { trouble: printer.say('held.no-consent') };
  const on = printer.shortDate(dateOf(consent.on));
  const role = line.role ?? operation?.role;
  if (consent === work && role !== undefined && work.declined?.includes(role))
    return { trouble: printer.say('held.declined', { date: on }) };
  if (consent === work && work.option !== undefined && option.id !== undefined && work.option !== option.id)
    return { trouble: printer.say('held.other-option', { date: on }) };
  return { on };
}
