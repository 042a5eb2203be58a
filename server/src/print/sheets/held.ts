/** A bill held against its estimate, line by line: the estimate as it was kept, or the prices that were locked with it. */
import type { ExchangedEstimate } from '../../../../schemas/exchange/estimate.ts';
import { type IsoDate, parseDate } from '../../../../schemas/values/dates.ts';
import { type Decimal, dec, sum, ZERO } from '../../../../schemas/values/decimal.ts';
import type { OptionEstimate } from '../../estimate/estimate.ts';
import type { PricedLine } from '../../pricing/model.ts';
import { present, type Row, type Section, section, text } from '../doc.ts';
import type { Sheet } from './context.ts';

interface Pair {
  readonly name: string;
  readonly estimated: Decimal | undefined;
  readonly billed: Decimal | undefined;
}

export function heldSection(
  sheet: Sheet,
  option: OptionEstimate,
  kept: ExchangedEstimate | undefined,
): Section | undefined {
  const { estimate, printer } = sheet;
  const { say } = printer;
  const { lock } = estimate.job;
  const pairs = kept ? byKept(option, kept) : lock ? byLock(sheet, option) : undefined;
  if (!pairs) return section('held', say('invoice.held'), [text(say('invoice.estimate-unknown'))]);
  const from = kept?.presented ?? kept?.pricedOn ?? lock?.on;
  const day = from === undefined ? undefined : parseDate(from);
  const date = day?.ok ? printer.date(day.value as IsoDate) : (from ?? '');
  const moved = pairs.filter((pair) => !(pair.estimated && pair.billed && pair.estimated.eq(pair.billed)));
  return section(
    'held',
    say('invoice.held'),
    present([
      text(say(kept ? 'held.by-file' : 'held.by-lock', { date }), 'small'),
      moved.length === 0 ? text(say('invoice.same'), 'strong') : undefined,
      table(sheet, pairs),
    ]),
  );
}

function table({ printer }: Sheet, pairs: readonly Pair[]) {
  const { say, money } = printer;
  const row = (
    as: Row['as'],
    name: string,
    estimated: Decimal | undefined,
    billed: Decimal | undefined,
  ): Row => ({
    as,
    cells: [
      name,
      estimated ? money(estimated) : '',
      billed ? money(billed) : '',
      money((billed ?? ZERO).minus(estimated ?? ZERO)),
    ],
    note:
      as === 'total' ? undefined : !estimated ? say('held.added') : !billed ? say('held.dropped') : undefined,
  });
  return {
    block: 'table' as const,
    caption: say('invoice.held'),
    columns: [
      { title: say('held.line'), align: 'left' as const },
      { title: say('invoice.estimated'), align: 'right' as const, narrow: true },
      { title: say('invoice.billed'), align: 'right' as const, narrow: true },
      { title: say('invoice.difference'), align: 'right' as const, narrow: true },
    ],
    rows: [
      ...pairs.map((pair) => row('row', pair.name, pair.estimated, pair.billed)),
      row(
        'total',
        say('held.sum'),
        sum(pairs.map((pair) => pair.estimated ?? ZERO)),
        sum(pairs.map((pair) => pair.billed ?? ZERO)),
      ),
    ],
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

function byKept(option: OptionEstimate, kept: ExchangedEstimate): Pair[] | undefined {
  const was =
    kept.options.find((one) => one.id === (option.id ?? null)) ??
    (kept.options.length === 1 ? kept.options[0] : undefined);
  if (!was) return undefined;
  const names = new Map<string, string>();
  const estimated = new Map<string, Decimal>();
  const billed = new Map<string, Decimal>();
  const add = (to: Map<string, Decimal>, line: Parameters<typeof keyOf>[0], value: Decimal) => {
    const key = keyOf(line);
    names.set(key, line.name);
    to.set(key, (to.get(key) ?? ZERO).plus(value));
  };
  for (const line of option.priced.lines) add(billed, line, line.net.value);
  for (const line of was.lines) add(estimated, line, dec(line.net));
  return [...names].map(([key, name]) => ({ name, estimated: estimated.get(key), billed: billed.get(key) }));
}

/** What was locked tells of parts: each at its price then, as often as it is billed now. */
function byLock({ estimate, source }: Sheet, option: OptionEstimate): Pair[] {
  const locked = estimate.job.lock?.parts ?? {};
  const goods = option.priced.lines.filter((line) => line.kind === 'part' || line.kind === 'fill');
  const pairs = goods.map((line): Pair => {
    const price = lockedPrice(locked, line);
    return { name: line.name, estimated: price?.times(line.quantity.value), billed: line.amount.value };
  });
  const there = new Set(
    estimate.options.flatMap((one) => one.priced.lines.flatMap((line) => [line.id, ...(line.numbers ?? [])])),
  );
  const gone = Object.entries(locked).filter(([id]) => !there.has(id));
  return [
    ...pairs,
    ...gone.map(
      ([id, { price }]): Pair => ({
        name: source.catalog.part(id)?.name ?? id,
        estimated: price,
        billed: undefined,
      }),
    ),
  ];
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
