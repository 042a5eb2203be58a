/** The talk sheet: what to film and what to say for each finding, in order, with the healthy thing beside it. */
import type { OptionEstimate } from '../../estimate/estimate.ts';
import type { FindingFact } from '../../work/model.ts';
import { type Doc, facts, list, present, type Step, section, text } from '../doc.ts';
import { marksOf } from '../video.ts';
import { docOf, type Sheet, writtenOf } from './context.ts';
import { limitText, readingText, statedFindings } from './found.ts';

export function talkDoc(sheet: Sheet, option: OptionEstimate): Doc {
  const { estimate, printer } = sheet;
  const { say, money } = printer;
  const marks = marksOf(estimate, (id) => id);
  const place = (fact: FindingFact) =>
    marks.find((one) => one.finding === fact.id)?.seconds ?? Number.POSITIVE_INFINITY;
  const shots = statedFindings(option).toSorted((a, b) => place(a) - place(b));
  const ways = estimate.options.map((one) =>
    say('talk.way', {
      name: one.id === undefined ? say('estimate') : one.name,
      total: money(one.priced.total.value),
      days: one.days === undefined ? '' : say('days', { n: one.days }),
      warranty: (one.warranty && estimate.policy.shop.warranties?.[one.warranty]?.name) ?? say('no-warranty'),
    }).replaceAll(', ,', ','),
  );
  return docOf(
    sheet,
    'talk',
    present([
      section('shots', say('talk.shots'), [
        { block: 'steps', steps: shots.map((fact) => shot(sheet, fact)) },
      ]),
      section('why', say('talk.cause'), [
        text(estimate.job.cause?.what, 'lead'),
        text(estimate.job.cause?.evidence, 'plain', say('chain.proof')),
        text(say('talk.end'), 'small'),
      ]),
      section('ways', say('talk.ways'), [list(ways)]),
    ]),
  );
}

function shot(sheet: Sheet, fact: FindingFact): Step {
  const { source, printer, estimate } = sheet;
  const { say } = printer;
  const entry = source.catalog.finding(fact.id);
  const written = writtenOf(estimate, fact.id);
  const component = written.component ?? entry?.component;
  const reading = readingText(sheet, fact);
  const film = [
    component && say('talk.film.component', { component: source.catalog.role(component)?.name ?? component }),
    entry?.kind === 'measurement' ? say('talk.film.reading', { reading }) : undefined,
    ...(written.pictures ?? []).map((one) => one.say),
  ].filter(Boolean);
  return {
    title: fact.name,
    aside: written.video ?? '',
    facts: facts([
      [say('talk.film'), film.join('; ')],
      [say('talk.say'), written.say?.trim() ?? entry?.say?.trim()],
      [say('talk.beside'), [limitText(printer, fact), entry?.healthy?.trim()].filter(Boolean).join('. ')],
      [say('talk.proof'), written.test ?? entry?.test?.trim()],
      [say('talk.mark'), written.video],
    ]),
    fields: [],
    cautions: (entry?.cautions ?? []).flatMap((id) => {
      const caution = source.catalog.caution(id);
      return caution ? [{ text: caution.text.trim(), authority: caution.authority }] : [];
    }),
  };
}
