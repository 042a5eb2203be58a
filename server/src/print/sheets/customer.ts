/** The customer page: what was found, why it failed, what can be done, what it costs, what is promised. */
import { greatest, least } from '../../../../schemas/values/decimal.ts';
import type { OptionEstimate } from '../../estimate/estimate.ts';
import { answersOf } from '../answer/variants.ts';
import { type Block, type Doc, list, type Part, present, type Section, section, text } from '../doc.ts';
import { causeSection } from './cause.ts';
import { choicesSection } from './choices.ts';
import { consentSection, legalSection } from './consent.ts';
import { docOf, type Sheet } from './context.ts';
import { foundSection } from './found.ts';
import { incompleteNote, linesTable } from './lines.ts';
import { pickSection } from './pick.ts';
import { teardownSection } from './teardown.ts';
import { warrantySection } from './warranty.ts';

export async function customerDoc(sheet: Sheet): Promise<Doc> {
  const { estimate } = sheet;
  const option = estimate.chosen ?? estimate.options[0]!;
  // Once the work is done there is nothing left to choose.
  const answers = estimate.job.completed ? [] : answersOf(sheet.source);
  const blocks: readonly (Block | undefined)[] = [
    shortSection(sheet),
    await foundSection(sheet, option),
    await causeSection(sheet, option),
    choicesSection(sheet, offered(sheet)),
    await pickSection(sheet, answers),
    linesSection(sheet),
    declinedSection(sheet, option),
    cautionSection(sheet, option),
    teardownSection(sheet),
    warrantySection(sheet, offered(sheet)),
    consentSection(sheet),
    legalSection(sheet),
  ];
  return docOf(sheet, 'estimate', present(blocks));
}

/** The whole page in three sentences. */
function shortSection(sheet: Sheet): Section | undefined {
  const { estimate, printer } = sheet;
  const { say, money } = printer;
  const { job, options, chosen } = estimate;
  const totals = options.map((one) => one.priced.total.value);
  const only = options[0]!;
  const ways =
    chosen && options.length > 1
      ? say('ways.chosen', { name: chosen.name, total: money(chosen.priced.total.value) })
      : options.length > 1
        ? say('ways.several', {
            n: options.length,
            least: money(totals.reduce(least)),
            most: money(totals.reduce(greatest)),
          })
        : say('ways.one', {
            name: only.id ? only.name : say('estimate'),
            total: money(only.priced.total.value),
          });
  return section('short', say('short'), [
    text(job.complaint, 'quote', say('you-said')),
    text(job.cause?.what, 'lead', say('what-happened')),
    text(ways, 'lead', say('your-way')),
  ]);
}

/** Once one is chosen and agreed to, the others are history: they stay side by side and no longer line by line. */
function offered({ estimate }: Sheet): readonly OptionEstimate[] {
  const agreed = estimate.job.authorizations?.some((one) => (one.for ?? 'work') === 'work');
  return estimate.chosen && agreed ? [estimate.chosen] : estimate.options;
}

function linesSection(sheet: Sheet): Section | undefined {
  const { estimate, printer } = sheet;
  const parts = offered(sheet).map((option): Part => {
    const title = option.id === undefined ? printer.say('estimate') : option.name;
    const caption = printer.say('lines.of', { name: title });
    return {
      block: 'part',
      id: `lines-${option.id ?? 'all'}`,
      title,
      blocks: present([
        text(estimate.job.options?.[option.id ?? '']?.say, 'plain'),
        incompleteNote(sheet, option.priced),
        linesTable(sheet, option.priced, { option, caption, paid: option === estimate.chosen }),
      ]),
    };
  });
  return section('lines', printer.say('lines'), parts);
}

/** Work that was declined, on paper or when consent was given, and what that means. */
function declinedSection(sheet: Sheet, option: OptionEstimate): Section | undefined {
  const { estimate, printer, source } = sheet;
  const { say } = printer;
  const items = (estimate.job.waivers ?? []).map((waiver) => {
    const id = waiver.role ?? waiver.record ?? waiver.rule ?? '';
    const name =
      (waiver.role && source.catalog.role(waiver.role)?.name) ??
      (waiver.record && source.catalog.record(waiver.record)?.name) ??
      id;
    const asked = option.work.requirements
      .filter((one) => one.state === 'waived' && (one.roles.includes(id) || one.record === id))
      .flatMap((one) => one.asked.map((asking) => asking.say?.trim()));
    const by = say('declined.by', { by: waiver.by, date: printer.date(waiver.on), reason: waiver.reason });
    return [
      `${name}.`,
      by,
      ...new Set(asked.filter((one) => one !== undefined)),
      ...withheldBy(sheet, option, id),
    ].join(' ');
  });
  const roles = (estimate.job.authorizations ?? []).flatMap((one) => one.declined ?? []);
  for (const role of new Set(roles)) {
    const entry = source.catalog.role(role);
    items.push([`${entry?.name ?? role}.`, entry?.say?.trim()].filter(Boolean).join(' '));
  }
  return section('declined', say('declined'), [list(items)]);
}

function withheldBy({ estimate, printer }: Sheet, option: OptionEstimate, id: string): string[] {
  return option.work.withheld
    .filter(
      (one) => one.promised && one.asked.some((asking) => asking.reasons.some((reason) => reason.id === id)),
    )
    .map((one) =>
      printer.say('declined.effect', { plan: estimate.policy.shop.warranties?.[one.plan]?.name ?? one.plan }),
    );
}

/** What concerns whoever drives or parks it; cautions of the work itself stand on the bench sheet. */
function cautionSection(sheet: Sheet, option: OptionEstimate): Section | undefined {
  const { say } = sheet.printer;
  if (sheet.estimate.job.completed) return undefined;
  const items = option.work.cautions
    .filter((caution) => caution.from.some((from) => from.kind === 'rule'))
    .map((caution) => `${caution.text.trim()} ${say('follow-authority', { authority: caution.authority })}`);
  return section('cautions', say('cautions'), [list(items)]);
}
