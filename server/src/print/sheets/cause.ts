/** Why it failed, as a chain: where it began, what that did, what the owner noticed, and what stops it. */
import type { OptionEstimate } from '../../estimate/estimate.ts';
import { type Fact, facts, type Section, section, text } from '../doc.ts';
import { pictureOf, type Sheet } from './context.ts';
import { reasonsFor } from './reasons.ts';

export async function causeSection(sheet: Sheet, option: OptionEstimate): Promise<Section | undefined> {
  const { estimate, printer, source } = sheet;
  const { say } = printer;
  const { cause, complaint } = estimate.job;
  if (!cause) return undefined;
  const [first, ...then] = sentences(cause.what);
  const began = cause.finding === undefined ? undefined : source.catalog.finding(cause.finding)?.name;
  const steps: readonly Fact[] = facts([
    [say('chain.began'), [began && `${began}.`, first].filter(Boolean).join(' ')],
    ...then.map((one): [string, string] => [say('chain.then'), one]),
    [say('chain.noticed'), complaint?.trim()],
    [say('chain.proof'), cause.evidence?.trim()],
    [say('chain.cure'), cureOf(sheet, option)],
  ]);
  const evidence = await Promise.all(
    (cause.pictures ?? [])
      .filter((one) => !shownAlready(sheet, one.picture))
      .map((one) => pictureOf(sheet, one.picture, one.say ?? say('yours'), one.say ?? cause.what)),
  );
  return section('why', say('why'), [
    { block: 'chain', steps },
    text(cause.outside ? say('chain.outside') : undefined, 'small'),
    text(cause['third-party'] ? say('chain.third') : undefined, 'small'),
    ...evidence.map((picture) => ({ block: 'picture' as const, picture })),
  ]);
}

/** The line that cures it and what is said of it; the proof that it lies elsewhere, where that is what is written. */
function cureOf(sheet: Sheet, option: OptionEstimate): string | undefined {
  const cured = sheet.estimate.job.cause?.cured;
  if (cured === undefined) return undefined;
  const line = option.priced.lines.find((one) => one.role === cured && one.kind !== 'core');
  if (line) return [`${line.name}.`, reasonsFor(sheet, line, option)[0]].filter(Boolean).join(' ');
  const { catalog } = sheet.source;
  return catalog.role(cured)?.name ?? catalog.finding(cured)?.name ?? catalog.record(cured)?.name ?? cured;
}

function shownAlready({ estimate }: Sheet, path: string): boolean {
  return Object.values(estimate.job.findings ?? {}).some(
    (one) => typeof one === 'object' && one.pictures?.some(({ picture }) => picture === path),
  );
}

function sentences(words: string): string[] {
  return words
    .trim()
    .replaceAll(/\s+/g, ' ')
    .split(/(?<=[.!?])\s+(?=\p{Lu})/u);
}
