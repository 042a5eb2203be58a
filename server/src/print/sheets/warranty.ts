/** The warranty in plain words: how long, what is covered and what not, how to claim, what it rests on. */
import type { Warranty } from '../../../../schemas/kinds/shop.ts';
import { termEnd } from '../../../../schemas/values/term.ts';
import type { OptionEstimate } from '../../estimate/estimate.ts';
import { type Block, list, type Part, present, type Section, section, text } from '../doc.ts';
import type { Printer } from '../locale.ts';
import type { Sheet } from './context.ts';

export function warrantySection(sheet: Sheet, options: readonly OptionEstimate[]): Section | undefined {
  const { estimate, printer } = sheet;
  const parts = options.map((option) => planPart(sheet, option, options.length > 1));
  const { shop } = estimate.policy;
  const giver =
    shop.name && shop.address
      ? printer.say('warranty.giver', { name: shop.name, address: shop.address.join(', ') })
      : undefined;
  const there = present(parts);
  return there.length === 0
    ? undefined
    : section('warranty', printer.say('warranty'), [...there, text(giver, 'small')]);
}

function planPart(
  { estimate, printer, source }: Sheet,
  option: OptionEstimate,
  several: boolean,
): Part | undefined {
  const { say } = printer;
  const plan = option.warranty === undefined ? undefined : estimate.policy.shop.warranties?.[option.warranty];
  if (!plan) return undefined;
  const withheld = option.work.withheld.find((one) => one.promised && one.plan === option.warranty);
  const records = (plan.requires ?? []).map((id) => source.catalog.record(id)?.name ?? id);
  const named = (
    word: 'warranty.includes' | 'warranty.excludes',
    items: readonly string[] | undefined,
  ): readonly Block[] => (items?.length ? present([text(say(word), 'strong'), list(items)]) : []);
  return {
    block: 'part',
    title: several ? say('warranty.of', { plan: plan.name, name: option.name }) : plan.name,
    blocks: present([
      text(withheld ? say('warranty.withheld') : undefined, 'strong'),
      text(
        withheld?.restoredBy.length
          ? say('warranty.restored', { names: printer.list(withheld.restoredBy) })
          : undefined,
      ),
      text(
        [designation(plan, printer), duration(plan, printer), ends(estimate, option, plan, printer)]
          .filter(Boolean)
          .join(' '),
      ),
      text(say(plan.covers === 'parts-only' ? 'warranty.parts-only' : 'warranty.parts-and-labor')),
      ...named('warranty.includes', plan.includes),
      ...named('warranty.excludes', plan.excludes),
      text(plan.claim, 'plain', say('warranty.claim')),
      text(records.length > 0 ? say('warranty.needs', { names: printer.list(records) }) : undefined, 'small'),
    ]),
  };
}

function designation(plan: Warranty, { say }: Printer): string {
  const words =
    plan.designation === 'full'
      ? say('warranty.full', { months: say('months', { n: plan.months }) })
      : say('warranty.limited');
  return `${words}.`;
}

function duration(plan: Warranty, { say, quantity }: Printer): string {
  const months = say('months', { n: plan.months });
  return plan.distance
    ? say('warranty.both', { months, distance: quantity(plan.distance) })
    : say('warranty.time', { months });
}

/** The day and the odometer it ends at; counted from the day promised while the work is not done. */
function ends(estimate: Sheet['estimate'], option: OptionEstimate, plan: Warranty, printer: Printer): string {
  const { job } = estimate;
  const start = job.completed ?? job.promised;
  if (!start) return '';
  const end =
    job.completed && option.work.warranty?.ends
      ? option.work.warranty.ends
      : termEnd({
          start,
          months: plan.months,
          odometer: job.vehicle?.['odometer-out'] ?? job.vehicle?.odometer,
          distance: plan.distance,
        });
  if (!end.date) return '';
  const date = printer.date(end.date);
  const told = end.odometer
    ? printer.say('warranty.ends.both', { date, odometer: printer.quantity(end.odometer) })
    : printer.say('warranty.ends.date', { date });
  return job.completed
    ? told
    : `${printer.say('warranty.if-promised', { date: printer.date(start) })} ${told}`;
}
