/** Who agreed to what, what more needs asking, a place to sign, and the lines of the law. */
import type { Authorization } from '../../../../schemas/kinds/job.ts';
import type { OptionEstimate } from '../../estimate/estimate.ts';
import { limitOver } from '../../work/index.ts';
import { list, type Section, section, text } from '../doc.ts';
import type { Sheet } from './context.ts';
import { beforeTax } from './lines.ts';

export function consentSection(sheet: Sheet): Section | undefined {
  const { estimate, printer } = sheet;
  const { say } = printer;
  const { job } = estimate;
  const rows = (job.authorizations ?? []).map((one) => consentRow(sheet, one));
  const option = estimate.chosen ?? estimate.options[0]!;
  const open = !job.completed;
  return section('consent', say('consent'), [
    list(rows),
    text(limitText(sheet, option)),
    text(open ? say('consent.ask') : undefined, 'strong'),
    open
      ? {
          block: 'sign',
          lines: [
            say('sign.option'),
            say('sign.declined'),
            say('sign.total'),
            say('sign.name'),
            say('sign.signature'),
            say('sign.date'),
          ],
        }
      : undefined,
  ]);
}

export function consentRow({ estimate, printer, source }: Sheet, one: Authorization): string {
  const { say } = printer;
  const option =
    one.option === undefined ? undefined : (estimate.job.options?.[one.option]?.name ?? one.option);
  const declined = (one.declined ?? []).map((role) => source.catalog.role(role)?.name ?? role);
  return [
    say('consent.row', {
      date: printer.dateTime(one.on),
      by: one.by,
      amount: printer.money(one.amount),
      what: say(`for.${one.for ?? 'work'}`),
      how: say(`how.${one.how}`),
    }),
    option && say('consent.option', { name: option }),
    declined.length > 0 && say('consent.declined', { names: printer.list(declined) }),
    one.contact && say('consent.contact', { contact: one.contact }),
    one['taken-by'] && say('consent.taken', { name: one['taken-by'] }),
  ]
    .filter(Boolean)
    .join(' ');
}

/** How far the bill may go before the owner is asked again, where the law of the place says. */
function limitText({ estimate, printer }: Sheet, option: OptionEstimate): string | undefined {
  const { say } = printer;
  const rule = estimate.policy.jurisdiction?.authorization;
  if (!rule) return undefined;
  const taxed = rule.tax === 'included';
  const itemised = estimate.policy.shop.tax?.billing !== 'lump-sum';
  const agreed = (estimate.job.authorizations ?? []).findLast((one) => (one.for ?? 'work') === 'work');
  const base = agreed?.amount ?? (taxed ? option.priced.total.value : beforeTax(option.priced));
  const { most, excess } = limitOver(rule, base, itemised);
  if (most === undefined) return undefined;
  if (excess.eq(most.minus(most))) return `${say('consent.no-excess')} ${say('local-rules')}`;
  const limit = say('consent.limit', {
    amount: printer.money(most),
    tax: say(taxed ? 'tax.with' : 'tax.without'),
  });
  return `${limit} ${say('local-rules')}`;
}

export function legalSection({ estimate, printer }: Sheet): Section | undefined {
  const { say } = printer;
  const { shop, jurisdiction } = estimate.policy;
  const lines = [...(jurisdiction?.legal ?? []), ...(shop.legal ?? [])].map((line) => line.trim());
  const number = shop['epa-id'];
  const profile =
    jurisdiction &&
    say('legal.profile', { name: jurisdiction.name, date: printer.date(jurisdiction['as-of']) });
  const rules = [profile, say('local-rules')].filter(Boolean).join(' ');
  return section('legal', say('legal'), [
    list(lines),
    text(number === undefined ? undefined : say('epa-id', { number }), 'small'),
    text(rules, 'small'),
  ]);
}
