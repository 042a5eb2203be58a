/** The inside sheet: cost, gross profit, effective rate, each beside the shop's floor. For the shop only. */
import { type Decimal, round, ZERO } from '../../../../schemas/values/decimal.ts';
import type { OptionEstimate } from '../../estimate/estimate.ts';
import { type Doc, list, present, type Row, type Section, section, type Table, text } from '../doc.ts';
import { docOf, type Sheet } from './context.ts';
import { ownPrice } from './lines.ts';

export function insideDoc(sheet: Sheet): Doc {
  const { estimate, printer } = sheet;
  const problems = estimate.problems
    .filter((one) => one.severity === 'error' || one.severity === 'warning')
    .map((one) => one.message);
  return docOf(
    sheet,
    'inside',
    present([
      ...estimate.options.map((option) => optionSection(sheet, option)),
      section('problems', printer.say('inside.problems'), [list([...new Set(problems)])]),
    ]),
  );
}

function optionSection(sheet: Sheet, option: OptionEstimate): Section | undefined {
  const { printer } = sheet;
  const { say, money, number } = printer;
  const { inside, sharedSteps } = option.priced;
  const title = option.id === undefined ? say('inside') : say('inside.of', { name: option.name });
  return section(`inside-${option.id ?? 'all'}`, title, [
    figures(sheet, option),
    text(inside.costKnown ? undefined : say('inside.unknown'), 'strong'),
    lineTable(sheet, option),
    sharedSteps.length > 0 ? text(say('inside.saved'), 'strong') : undefined,
    list(
      sharedSteps.map((step) =>
        say('inside.saved.row', {
          name: step.name,
          hours: number(step.hours),
          amount: money(step.saved.value),
        }),
      ),
    ),
  ]);
}

function figures({ estimate, printer }: Sheet, { priced }: OptionEstimate): Table {
  const { say, money, percent, number } = printer;
  const { inside } = priced;
  const floors = estimate.policy.shop.floors;
  const cents = (value: Decimal) => money(round(value, 2));
  const row = (label: string, value: string | undefined, below?: string): Row[] =>
    value === undefined ? [] : [{ as: 'row', cells: [label, value], note: below }];
  const floor = (
    value: Decimal | undefined,
    least: Decimal | undefined,
    print: (value: Decimal) => string,
  ) =>
    value && least
      ? say(value.lt(least) ? 'inside.below' : 'inside.floor', { floor: print(least) })
      : undefined;
  const share = inside.profitShare?.value;
  const rate = inside.effectiveRate?.value;
  return {
    block: 'table',
    caption: say('inside.figures'),
    columns: [
      { title: say('inside.figures'), align: 'left' },
      { title: '', align: 'right', narrow: true },
    ],
    rows: [
      ...row(say('inside.sale'), money(inside.sale.value)),
      ...row(say('inside.cost'), cents(inside.cost.value)),
      ...row(say('inside.profit'), cents(inside.profit.value)),
      ...row(
        say('inside.share'),
        share && percent(round(share, 4)),
        floor(share, floors?.['gross-profit'], percent),
      ),
      ...row(say('inside.hour'), inside.profitPerHour && cents(inside.profitPerHour.value)),
      ...row(say('inside.labor'), money(inside.laborSale.value)),
      ...row(say('inside.hours'), number(inside.hoursSold.value)),
      ...row(say('inside.rate'), rate && cents(rate), floor(rate, floors?.['effective-rate'], money)),
    ],
  };
}

function lineTable({ printer }: Sheet, { priced }: OptionEstimate): Table {
  const { say, money } = printer;
  const cents = (value: Decimal) => money(round(value, 2));
  const lines = priced.lines.filter((line) => line.kind !== 'core');
  return {
    block: 'table',
    caption: say('inside.line'),
    columns: [
      { title: say('inside.line'), align: 'left' },
      { title: say('inside.sold'), align: 'right', narrow: true },
      { title: say('inside.cost'), align: 'right', narrow: true },
      { title: say('inside.profit'), align: 'right', narrow: true },
    ],
    rows: lines.map((line): Row => {
      const cost = line.cost?.value;
      return {
        as: 'row',
        cells: [
          line.name,
          money(line.net.value),
          cost ? cents(cost) : say('order.unknown'),
          cost ? cents(line.net.value.minus(cost)) : '',
        ],
        note: ownPrice(line).eq(line.net.value)
          ? undefined
          : `${say('inside.sold')} ${money(ownPrice(line))}`,
        adds: ZERO,
      };
    }),
  };
}
