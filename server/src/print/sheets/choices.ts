/** Options side by side: total, time, warranty, and where the money goes. */
import { type Decimal, greatest, sum, ZERO } from '../../../../schemas/values/decimal.ts';
import type { OptionEstimate } from '../../estimate/estimate.ts';
import type { Priced, PricedLine } from '../../pricing/model.ts';
import { designationOf } from '../../work/papers/disclosures.ts';
import { type Card, type Chart, facts, type Section, section, text } from '../doc.ts';
import { barsDrawing } from '../draw/bars.ts';
import type { Word } from '../words/index.ts';
import type { Sheet } from './context.ts';

/** `lined`: the options that the page lists line by line. */
export function choicesSection(sheet: Sheet, lined: readonly OptionEstimate[]): Section | undefined {
  const { estimate, printer } = sheet;
  const several = estimate.options.length > 1;
  return section(several ? 'choices' : 'money', printer.say(several ? 'choices' : 'money-goes'), [
    several
      ? {
          block: 'cards',
          cards: estimate.options.map((option) => card(sheet, option, lined.includes(option))),
        }
      : undefined,
    several ? text(printer.say('money-goes'), 'strong') : undefined,
    chart(sheet),
  ]);
}

function card(sheet: Sheet, option: OptionEstimate, lined: boolean): Card {
  const { estimate, printer } = sheet;
  const { say, money } = printer;
  return {
    id: `option-${option.id}`,
    title: option.name,
    mark: option === estimate.chosen ? say('chosen') : undefined,
    figure: money(option.priced.total.value),
    figureLabel: say('total'),
    text: estimate.job.options?.[option.id ?? '']?.say?.trim(),
    facts: facts([
      [say('choice.days'), option.days === undefined ? undefined : say('days', { n: option.days })],
      [say('choice.warranty'), warrantyText(sheet, option)],
      [say('choice.cores'), coreText(sheet, option)],
    ]),
    link: lined ? { href: `#lines-${option.id}`, label: say('see-lines') } : undefined,
  };
}

function warrantyText({ estimate, printer }: Sheet, option: OptionEstimate): string {
  const { say, money } = printer;
  const plan = option.warranty === undefined ? undefined : estimate.policy.shop.warranties?.[option.warranty];
  if (!plan) return say('no-warranty');
  if (option.work.warranty?.withheld) return `${plan.name}: ${say('warranty.withheld')}`;
  const open = option.work.warranty?.laborNotCovered;
  const name = `${plan.name} (${plan.designation === 'full' ? designationOf(plan) : say('warranty.limited')})`;
  return open ? `${name}. ${say('labor-open', { amount: money(open) })}` : name;
}

function coreText({ printer, source }: Sheet, option: OptionEstimate): string {
  const { say, money } = printer;
  const cores = option.priced.cores.customer;
  const of = (policy: string) => cores.filter((core) => core.policy === policy);
  const deposit = (policy: string) => sum(of(policy).map((core) => core.deposit.value));
  const handed = option.priced.lines.some(
    (line) => line.kind === 'core' && line.reductions.some((one) => one.kind === 'core-handed-over'),
  );
  const risks = option.work.coresAtRisk.map((risk) =>
    say('core-risk', { name: source.catalog.part(risk.part)?.name ?? risk.part }),
  );
  return [
    deposit('charged').gt(ZERO) ? say('cores.charged', { amount: money(deposit('charged')) }) : '',
    handed ? say('cores.exchanged') : '',
    deposit('when-late').gt(ZERO) ? say('cores.late', { amount: money(deposit('when-late')) }) : '',
    ...risks,
  ]
    .filter(Boolean)
    .join(' ');
}

/** What a bar is divided into; every line falls in one. Tax comes last. */
const SHARES: readonly { readonly word: Word; readonly has: (line: PricedLine) => boolean }[] = [
  { word: 'money.parts', has: ({ category }) => category === 'parts' || category === 'fluids' },
  { word: 'money.labor', has: ({ category }) => category === 'labor' || category === 'sublet' },
  { word: 'money.warranty', has: ({ kind }) => kind === 'warranty' },
  { word: 'money.other', has: () => true },
];

function sharesOf(priced: Priced): Decimal[] {
  const left = new Set(priced.lines);
  const shares = SHARES.map(({ has }) => {
    const own = [...left].filter(has);
    for (const line of own) left.delete(line);
    return sum(own.map((line) => line.net.value));
  });
  // With prices that hold the tax, it is in the shares already.
  return [...shares, priced.tax.included ? ZERO : priced.tax.amount.value];
}

function chart(sheet: Sheet): Chart {
  const { estimate, printer } = sheet;
  const { say, money } = printer;
  const names = [...SHARES.map(({ word }) => say(word)), say('money.tax')];
  const options = estimate.options.map((option) => ({
    name: option.id === undefined ? say('estimate') : option.name,
    total: money(option.priced.total.value),
    shares: sharesOf(option.priced),
  }));
  const used = names.map((_, i) => options.some(({ shares }) => !shares[i]!.eq(ZERO)));
  const text = options
    .map(({ name, total, shares }) =>
      say('money.text', {
        name,
        total,
        shares: printer.list(
          names.flatMap((one, i) => (shares[i]!.eq(ZERO) ? [] : [`${one} ${money(shares[i]!)}`])),
        ),
      }),
    )
    .join(' ');
  const bars = options.map(({ name, total, shares }) => ({
    name,
    total,
    parts: shares.map((share) => Number(greatest(share, ZERO).toString())),
  }));
  return {
    block: 'chart',
    drawing: barsDrawing(bars, names, text),
    table: {
      block: 'table',
      caption: say('money-goes'),
      columns: [
        { title: '', align: 'left' },
        ...options.map(({ name }) => ({ title: name, align: 'right' as const })),
      ],
      rows: [
        ...names.flatMap((name, i) =>
          used[i]
            ? [{ as: 'row' as const, cells: [name, ...options.map(({ shares }) => money(shares[i]!))] }]
            : [],
        ),
        { as: 'total', cells: [say('total'), ...options.map(({ total }) => total)] },
      ],
    },
  };
}
