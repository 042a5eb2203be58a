/** What the owner can answer, every total worked out beforehand. */
import type { OptionEstimate } from '../../estimate/estimate.ts';
import { answerText } from '../answer/answer.ts';
import type { Extra, OptionAnswers } from '../answer/variants.ts';
import { type Choice, type Section, section } from '../doc.ts';
import type { Sheet } from './context.ts';

export async function pickSection(
  sheet: Sheet,
  answers: readonly OptionAnswers[],
): Promise<Section | undefined> {
  const { say } = sheet.printer;
  if (answers.length === 0) return undefined;
  const choices = await Promise.all(answers.map((one) => choice(sheet, one)));
  return section('pick', say('pick'), [
    {
      block: 'choose',
      intro: say('pick.intro'),
      choices,
      words: {
        option: say('pick.option'),
        extras: say('pick.extras'),
        total: say('pick.total'),
        name: say('pick.name'),
        answer: say('pick.answer'),
        copy: say('pick.copy'),
        copied: say('pick.copied'),
        list: say('pick.list'),
        none: say('pick.none'),
      },
    },
  ]);
}

async function choice(sheet: Sheet, { option, extras, variants }: OptionAnswers): Promise<Choice> {
  const { estimate, printer } = sheet;
  const { say, money } = printer;
  const full = option.priced.total.value;
  return {
    option: option.id ?? 'estimate',
    name: option.id === undefined ? say('estimate') : option.name,
    picked: option === (estimate.chosen ?? estimate.options[0]),
    extras: extras.map((extra, bit) => ({
      name: extra.name,
      note: [
        say('pick.saves', { amount: money(full.minus(variants[1 << bit]!.priced.total.value)) }),
        extra.lines.map(({ line }) => line.say?.trim()).find(Boolean),
        ...lostPlan(sheet, option, variants[1 << bit]!),
      ]
        .filter(Boolean)
        .join('. ')
        .replaceAll('..', '.'),
    })),
    variants: await Promise.all(
      variants.map(async (variant, mask) => {
        const left = extras.filter((_, bit) => mask & (1 << bit));
        return {
          total: money(variant.priced.total.value),
          effect: effectOf(sheet, option, variant, left),
          answer: await answerText(estimate, variant, left),
        };
      }),
    ),
  };
}

function effectOf(
  sheet: Sheet,
  option: OptionEstimate,
  variant: OptionEstimate,
  left: readonly Extra[],
): string {
  const { say, list } = sheet.printer;
  const picked =
    left.length === 0 ? say('pick.all') : say('pick.without', { names: list(left.map((one) => one.name)) });
  return [picked, ...lostPlan(sheet, option, variant)].join('. ');
}

/** The plan that an option promises and cannot keep without what was left out. */
function lostPlan({ estimate, printer }: Sheet, option: OptionEstimate, variant: OptionEstimate): string[] {
  if (option.work.warranty?.withheld || !variant.work.warranty?.withheld) return [];
  const { plan } = variant.work.warranty;
  return [
    printer.say('pick.effect.warranty', { plan: estimate.policy.shop.warranties?.[plan]?.name ?? plan }),
  ];
}
