/** What was found, each finding beside what is normal. */
import type { Finding as FindingEntry } from '../../../../schemas/kinds/rules.ts';
import { convert, type Quantity } from '../../../../schemas/values/quantity.ts';
import type { OptionEstimate } from '../../estimate/estimate.ts';
import type { FindingFact } from '../../work/model.ts';
import { lastNormalStep, readReading } from '../../work/readings.ts';
import {
  type Block,
  type Drawing,
  type Finding,
  facts,
  list,
  type Picture,
  type Section,
  section,
} from '../doc.ts';
import { rulerDrawing, scaleDrawing } from '../draw/gauge.ts';
import type { Printer } from '../locale.ts';
import { fileName } from '../source.ts';
import { endOf, fragment, type Mark, marksOf } from '../video.ts';
import { pictureOf, type Sheet, writtenOf } from './context.ts';

export async function foundSection(sheet: Sheet, option: OptionEstimate): Promise<Section | undefined> {
  const stated = statedFindings(option);
  const told = stated.filter((fact) => fact.verdict.judged !== 'normal');
  const sound = stated.filter((fact) => fact.verdict.judged === 'normal');
  const { printer } = sheet;
  const marks = marksOf(sheet.estimate, (id) => sheet.source.catalog.finding(id)?.name ?? id);
  const blocks: Block[] = [];
  for (const [i, fact] of told.entries()) blocks.push(await findingBlock(sheet, fact, i + 1, marks));
  const rows = sound.map((fact) => {
    const said = writtenOf(sheet.estimate, fact.id).say?.trim();
    const row = printer.say('in-order.row', { name: fact.name, reading: readingText(sheet, fact) });
    return said ? `${row}. ${said}` : row;
  });
  const rest = list(rows);
  return section('found', printer.say('found'), [
    ...blocks,
    rest && { block: 'part', title: printer.say('in-order'), blocks: [rest] },
  ]);
}

/** Findings that somebody wrote down on this job, in its order; what only follows from others is not shown. */
export function statedFindings(option: OptionEstimate): FindingFact[] {
  return option.work.findings.filter((fact) => fact.reading !== undefined && fact.path[0] === 'findings');
}

async function findingBlock(
  sheet: Sheet,
  fact: FindingFact,
  number: number,
  marks: readonly Mark[],
): Promise<Finding> {
  const { printer, estimate, source } = sheet;
  const entry = source.catalog.finding(fact.id);
  const written = writtenOf(estimate, fact.id);
  const mark = marks.find((one) => one.finding === fact.id);
  return {
    block: 'finding',
    id: `finding-${number}`,
    number,
    title: fact.name,
    verdict: verdictOf(sheet, fact, entry),
    pictures: await picturesOf(sheet, fact, entry),
    drawing: entry && drawingOf(sheet, fact, entry),
    say: written.say?.trim() ?? entry?.say?.trim(),
    facts: facts([
      [printer.say('healthy.words'), healthyOf(sheet, fact, entry)],
      [printer.say('tested-by'), [written.test ?? entry?.test, fact.caveat].filter(Boolean).join(' ')],
      [
        printer.say('tested-on'),
        written.on &&
          printer.say('by-on', { by: written.by ?? '', date: printer.date(written.on) }).replace(/^, /, ''),
      ],
    ]),
    video:
      mark && estimate.job.video
        ? {
            href: fragment(fileName(estimate.job.video), mark.seconds),
            label: printer.say('watch-at', { time: mark.time }),
            play: source.hasVideo
              ? fragment(fileName(estimate.job.video), mark.seconds, endOf(mark, marks))
              : undefined,
          }
        : undefined,
  };
}

function verdictOf(sheet: Sheet, fact: FindingFact, entry: FindingEntry | undefined): string {
  const { say } = sheet.printer;
  if (entry?.kind === 'yes-no') return fact.verdict.judged === 'normal' ? say('found.no') : say('found.yes');
  const judged = fact.verdict.judged === 'unjudged' ? say('found.unjudged') : say('found.beyond');
  return `${readingText(sheet, fact)}: ${judged}`;
}

/** The reading as printed: in the shop's units and language. */
export function readingText({ source, printer }: Sheet, fact: FindingFact): string {
  const entry = source.catalog.finding(fact.id);
  const read = entry && fact.reading !== undefined ? readReading(entry, fact.reading) : undefined;
  if (!read?.ok) return fact.reading ?? '';
  if (read.value.kind === 'measurement') return printer.quantity(read.value.quantity);
  if (read.value.kind === 'scale') return fact.reading ?? '';
  return printer.say(read.value.yes ? 'yes' : 'no');
}

function healthyOf(sheet: Sheet, fact: FindingFact, entry: FindingEntry | undefined): string | undefined {
  if (entry?.kind !== 'measurement') return entry?.healthy?.trim();
  return limitText(sheet.printer, fact) ?? entry.healthy?.trim();
}

/** `at least 1.1 gal/min`; undefined when there is no limit. */
export function limitText(printer: Printer, { verdict }: Pick<FindingFact, 'verdict'>): string | undefined {
  const { least, most } = verdict;
  if (least && most)
    return printer.say('between', { least: printer.quantity(least), most: printer.quantity(most) });
  if (least) return printer.say('at-least', { least: printer.quantity(least) });
  return most && printer.say('at-most', { most: printer.quantity(most) });
}

async function picturesOf(
  sheet: Sheet,
  fact: FindingFact,
  entry: FindingEntry | undefined,
): Promise<Picture[]> {
  const { printer, estimate } = sheet;
  const yours = await Promise.all(
    (writtenOf(estimate, fact.id).pictures ?? []).map((one) =>
      pictureOf(
        sheet,
        one.picture,
        one.say ?? printer.say('yours'),
        `${printer.say('yours')}: ${one.say ?? fact.name}`,
      ),
    ),
  );
  if (yours.length === 0 || !entry?.picture) return yours;
  const alt = `${printer.say('healthy')}: ${entry.healthy ?? entry.name}`;
  const healthy = await pictureOf(sheet, entry.picture, printer.say('healthy'), alt, fact.id);
  return [...yours, ...(healthy.image ? [healthy] : [])];
}

function drawingOf(sheet: Sheet, fact: FindingFact, entry: FindingEntry): Drawing | undefined {
  const { printer } = sheet;
  const read = fact.reading === undefined ? undefined : readReading(entry, fact.reading);
  if (!read?.ok) return undefined;
  const labels = { normal: printer.say('gauge.normal'), yours: printer.say('gauge.yours') };
  if (read.value.kind === 'scale') {
    const words = entry.scale ?? [];
    const normal = lastNormalStep(entry);
    return scaleDrawing({
      words,
      normal,
      reading: read.value.step,
      labels,
      text: printer.say('scale.text', {
        name: fact.name,
        reading: words[read.value.step] ?? '',
        first: words[0] ?? '',
        last: words.at(-1) ?? '',
        normal: words[normal] ?? '',
      }),
    });
  }
  const { least, most } = fact.verdict;
  if (read.value.kind !== 'measurement' || (!least && !most)) return undefined;
  const { quantity } = read.value;
  const place = (one: Quantity) => Number(convert(one, quantity.unit).amount.toString());
  return rulerDrawing({
    reading: place(quantity),
    least: least && place(least),
    most: most && place(most),
    readingText: printer.quantity(quantity),
    leastText: least && printer.quantity(least),
    mostText: most && printer.quantity(most),
    words: labels,
    text: printer.say('gauge.text', {
      name: fact.name,
      reading: printer.quantity(quantity),
      normal: limitText(printer, fact) ?? '',
    }),
  });
}
